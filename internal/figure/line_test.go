package figure

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

const (
	oliveSample  = "olive-stone-pla"
	musselSample = "mussel-shell-petg"
)

// linePictures are those of melt and line for one blend.
func linePictures(p *project.Project, s *bench.Sheet, chosen int, w *wording.Words) map[string]Picture {
	return map[string]Picture{
		"throughput": Throughput(p, s, chosen, w), "spreading": Spreading(s, chosen, w),
		"changes": Changes(p, s, chosen, bench.WashoutPlug, w), "pipe in front": Changes(p, s, chosen, bench.WashoutPipe, w),
		"flow test": FlowTest(p, s, 0, w), "window": TemperatureWindow(p, s, chosen, w),
	}
}

// TestLinePicturesOfNothing: without inputs each says in words what to enter.
func TestLinePicturesOfNothing(t *testing.T) {
	w := wording.New("en")
	p := project.New("EUR")
	for name, picture := range linePictures(&p, bench.Evaluate(&p), -1, w) {
		assert.Empty(t, picture.Panels, name)
		assert.NotEmpty(t, picture.Empty, name)
		assert.NotEmpty(t, picture.Alt, name)
		assert.NotEmpty(t, picture.Title, name)
	}
}

// TestLinePicturesOfTheSamples: all draw something, except what the sample lacks.
func TestLinePicturesOfTheSamples(t *testing.T) {
	w := wording.New("en")
	p, s := evaluated(t, oliveSample, nil)
	for name, picture := range linePictures(p, s, 2, w) {
		require.NotEmpty(t, picture.Panels, name)
	}
	p, s = evaluated(t, musselSample, nil)
	assert.Empty(t, Spreading(s, 1, w).Panels, "no sieves, so nothing tells the grains")
	assert.Len(t, Changes(p, s, 1, bench.WashoutPlug, w).Panels[0].Points, 1, "its samples")
}

// TestThroughputMeetsTheDiameter: at the speed to set, the curve has the nominal
// diameter.
func TestThroughputMeetsTheDiameter(t *testing.T) {
	p, s := evaluated(t, oliveSample, func(p *project.Project) { p.Spool.Readings = nil })
	panel := Throughput(p, s, 2, wording.New("en")).Panels[0]
	set := s.Blends[2].Result(bench.PullerSpeed).Value
	assert.InDelta(t, set, panel.Marks[0].X, 1e-9)
	line := panel.Lines[0]
	for i := range line.X {
		assert.InEpsilon(t, 1.75*1.75*set, line.Y[i]*line.Y[i]*line.X[i], 1e-9, "the same mass flow everywhere")
	}
	assert.Equal(t, []float64{1.70, 1.70}, rounded(panel.Bands[0].Low))
}

func rounded(list []float64) []float64 {
	out := make([]float64, len(list))
	for i, v := range list {
		out[i] = float64(int(v*1000+0.5)) / 1000
	}
	return out
}

// TestChangesMarkTheLawInFront: the moment to wind is that of the law in front, whose
// curve is the solid one.
func TestChangesMarkTheLawInFront(t *testing.T) {
	p, s := evaluated(t, oliveSample, nil)
	w := wording.New("en")
	for _, front := range bench.WashoutModels() {
		panel := Changes(p, s, 2, front, w).Panels[0]
		solid := 0
		for i, model := range bench.WashoutModels() {
			if !panel.Lines[i].Dash {
				solid++
				assert.Equal(t, front, model)
			}
		}
		assert.Equal(t, 1, solid)
		for _, purge := range s.Blends[2].Line.Purges {
			if purge.Model == front && purge.T95.Value <= panel.X.Max {
				assert.InDelta(t, purge.T95.Value, panel.Marks[0].X, 1e-9, front)
			}
		}
	}
}

// TestWindowShowsWhatIsSet: a mark for melt, each zone and nozzle, and a window that
// lies within the polymer's range and below the onset.
func TestWindowShowsWhatIsSet(t *testing.T) {
	p, s := evaluated(t, oliveSample, nil)
	panel := TemperatureWindow(p, s, 2, wording.New("en")).Panels[0]
	marks := func(p *Panel) (list []string) {
		for _, m := range p.Marks {
			list = append(list, fmt.Sprintf("%.0f %s", m.X, m.Label))
		}
		return list
	}
	assert.Equal(t, []string{"190 melt, 3 K below the upper end", "165 zone 1", "180 zone 2", "190 zone 3", "185 zone 4", "200 nozzle"}, marks(&panel))
	window := panel.Bars[len(panel.Bars)-1]
	assert.InDelta(t, 180, window.Low, 1e-9)
	assert.Less(t, window.High, 200.0)
	assert.True(t, window.Strong)

	p, s = evaluated(t, oliveSample, func(p *project.Project) { p.Materials[1].Onset = quantity.MustParse[quantity.Temperature]("185 °C") })
	for _, bar := range TemperatureWindow(p, s, 2, wording.New("en")).Panels[0].Bars {
		assert.False(t, bar.Strong, "no window is left")
	}

	p, s = evaluated(t, oliveSample, func(p *project.Project) {
		p.Melt.Temperature = quantity.MustParse[quantity.Temperature]("200 °C")
		p.Line.Zones[2], p.Line.Zones[1] = p.Line.Zones[0], quantity.Of[quantity.Temperature]{}
	})
	panel = TemperatureWindow(p, s, 2, wording.New("en")).Panels[0]
	assert.Equal(t, []string{"200 melt, 7 K too hot", "165 zones 1, 3", "185 zone 4", "200 nozzle"}, marks(&panel), "those that are set alike share a mark")
}

// TestFlowTestShowsItsPlainTest: the readings of the test and of the one that it is held
// against, those that do not count as crosses, and each mean with its interval.
func TestFlowTestShowsItsPlainTest(t *testing.T) {
	p, s := evaluated(t, oliveSample, func(p *project.Project) { p.Melt.Tests[1].Rows[2].Bubbles = true })
	picture := FlowTest(p, s, 1, wording.New("en"))
	panel := picture.Panels[0]
	require.Len(t, panel.Points, 3)
	assert.Len(t, panel.Points[0].X, 4, "one piece has bubbles")
	assert.Equal(t, []float64{3}, panel.Points[1].X)
	assert.Equal(t, Cross, panel.Points[1].Marker)
	assert.Len(t, panel.Points[2].X, 5)
	assert.Equal(t, "Plain, dried", panel.Points[2].Name)
	assert.Equal(t, "Rate at 190 °C and 2.16 kg", panel.Y.Label)
	require.Len(t, panel.Lines, 2)
	assert.InDelta(t, (4.38+4.52+4.46+4.40)/4, panel.Lines[0].Y[0], 1e-9, "the mean is of those that count")
	require.Len(t, panel.Bands, 2)
	assert.Less(t, panel.Bands[0].Low[0], panel.Lines[0].Y[0])
	assert.Len(t, picture.Legend, 4)
	assert.LessOrEqual(t, panel.Y.Min, 0.9*panel.Lines[1].Y[0], "even readings look even")
}

// TestFlowTestOfFewReadings: one reading has a mean and no interval; a strand names its
// screw speed, and conditions that were not entered are not named.
func TestFlowTestOfFewReadings(t *testing.T) {
	w := wording.New("en")
	p, s := evaluated(t, oliveSample, func(p *project.Project) {
		test := &p.Melt.Tests[0]
		test.Procedure, test.Rows = project.Strand, test.Rows[:1]
		test.ScrewSpeed = quantity.MustParse[quantity.Rotation]("15 rpm")
		p.Melt.Tests[1].Load, p.Melt.Tests[1].Temperature = quantity.Of[quantity.Mass]{}, quantity.Of[quantity.Temperature]{}
	})
	panel := FlowTest(p, s, 0, w).Panels[0]
	assert.Len(t, panel.Lines, 1)
	assert.Empty(t, panel.Bands)
	assert.Equal(t, "Rate at 190 °C and 15 rpm", panel.Y.Label)
	assert.Equal(t, "Rate", FlowTest(p, s, 1, w).Panels[0].Y.Label)
	assert.Len(t, counted(50), 10, "not every reading is numbered where there are many")
	assert.Len(t, counted(5), 5)
}

// BenchmarkMeltAndLine is one edit with Melt and Line filled in: everything is evaluated
// anew, and what each of their pictures shows is worked out. The bar is 5 ms.
func BenchmarkMeltAndLine(b *testing.B) {
	p, _ := evaluated(b, oliveSample, nil)
	w := wording.New("en")
	for b.Loop() {
		s := bench.Evaluate(p)
		Flow(s, 2, w)
		RunLog(p, 0, w)
		linePictures(p, s, 2, w)
	}
}

// TestRegrindIsAsOftenInTheHeatAsItIsFedBack: a bar for each number of passes, all of them
// together the whole of the polymer, and those beyond the limit marked.
func TestRegrindIsAsOftenInTheHeatAsItIsFedBack(t *testing.T) {
	_, s := evaluated(t, oliveSample, nil)
	bars := Regrind(s, 3, wording.New("en")).Panels[0].Bars
	require.Len(t, bars, 6)
	all := 0.0
	for i, bar := range bars {
		all += bar.Likely
		assert.Equal(t, i >= 3, bar.Sub != "", "beyond three passes: %s", bar.Label)
	}
	assert.InDelta(t, 100, all, 1e-9)
	assert.InDelta(t, 80, bars[0].Likely, 1e-9)
	assert.Empty(t, Regrind(s, 2, wording.New("en")).Panels, "no regrind in that blend")
	flow := Flow(s, 3, wording.New("en")).Panels[0].Bars
	assert.Len(t, flow, len(Flow(s, 2, wording.New("en")).Panels[0].Bars)+1, "regrind is one more reason why the melt runs faster")
}
