package bench_test

import (
	"bytes"
	"context"
	"math"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/assets"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/trace"
	"fillwright/internal/wording"
)

// storyLog is the sample log as its generator makes it.
func storyLog(t *testing.T) []byte {
	t.Helper()
	out, err := exec.Command("go", "run", "../../testdata/traces", "story").Output()
	require.NoError(t, err)
	return out
}

func summaryOf(t *testing.T, log []byte, lowM, highM float64) trace.Summary {
	t.Helper()
	g, err := trace.GuessLayout(log[:min(len(log), trace.GuessBytes)])
	require.NoError(t, err)
	s, err := trace.Summarise(context.Background(), bytes.NewReader(log), g.Layout, trace.Reading{TypicalM: g.TypicalM}, trace.Wanted{LowM: lowM, HighM: highM})
	require.NoError(t, err)
	return s
}

func TestTraceSheetTellsTheStory(t *testing.T) {
	asked := bench.TraceAsked{NominalM: 1.75e-3, ToleranceM: 0.05e-3, SpeedMS: 2.71 / 60, PrintM: 30, Turning: bench.TurningParts(20.0/60, 0.04, 2.71/60)}
	low, high := asked.Limits()
	sheet := bench.NewTraceSheet(summaryOf(t, storyLog(t), low, high), asked, false)
	require.Len(t, sheet.Lumps, 2)
	assert.InDelta(t, 5230*2.71/60, sheet.Lumps[0].AtM, 0.05)
	assert.True(t, sheet.Lumps[0].Blocks && sheet.Lumps[0].Out)
	assert.InDelta(t, 3105*2.71/60, sheet.Lumps[1].AtM, 0.1)
	assert.InDelta(t, -0.17e-3, sheet.Lumps[1].HeightM, 0.02e-3)
	require.Len(t, sheet.Waves, 1)
	assert.InEpsilon(t, 3.0, sheet.Waves[0].PeriodS, 0.002)
	assert.InEpsilon(t, 9e-6, sheet.Waves[0].AmplitudeM, 0.02)
	require.Len(t, sheet.Waves[0].Matches, 1)
	assert.Equal(t, bench.TurningScrew, sheet.Waves[0].Matches[0].Turning.Key)
	assert.Empty(t, sheet.Steps)
	drift := sheet.Figures[bench.TraceDrift]
	assert.Less(t, drift.Low, -19.9)
	assert.Greater(t, drift.High, -20.2)
	assert.InDelta(t, 14699*0.5*2.71/60, sheet.Figures[bench.TraceLength].Value, 1e-6)
	assert.Equal(t, "trace_holds", sheet.Verdict.ID)
	assert.Equal(t, "trace_wave_screw", sheet.Remarks[len(sheet.Remarks)-1].ID)
	chance := sheet.Figures[bench.TraceBlocking]
	assert.InDelta(t, 100*(1-math.Exp(-30/(14699*0.5*2.71/60))), chance.Value, 1e-6)
	assert.Less(t, chance.Low, chance.Value)
}

// Whatever is not known, no figure is NaN, and what needs it is left out.
func TestTraceSheetWithoutTargetSpeedOrTime(t *testing.T) {
	sheet := bench.NewTraceSheet(summaryOf(t, []byte("1.74\n1.76\n1.75\n1.78\n1.73\n1.75\n1.77\n1.74\n1.76\n1.72\n"), 0, 0), bench.TraceAsked{}, false)
	assert.Equal(t, "trace_no_tolerance", sheet.Verdict.ID)
	for _, f := range []bench.TraceFigure{bench.TraceCpk, bench.TraceLength, bench.TraceOut, bench.TraceFlow, bench.TraceBlocking} {
		assert.NotContains(t, sheet.Figures, f)
	}
	for f, r := range sheet.Figures {
		assert.True(t, r.Known(), f)
	}
	assert.Equal(t, "trace_no_metres", sheet.Remarks[0].ID)
}

// Ten readings of the reference: Cp = Cpk = 0.91287 against ±0.05; the length of 1 kg of
// 1.277538 g/cm³ is 325.400 m, so that the log is taken for as much.
func TestTraceSheetOfTenReadings(t *testing.T) {
	asked := bench.TraceAsked{NominalM: 1.75e-3, ToleranceM: 0.05e-3, LengthM: 325.4}
	sheet := bench.NewTraceSheet(summaryOf(t, []byte("1.74\n1.76\n1.75\n1.78\n1.73\n1.75\n1.77\n1.74\n1.76\n1.72\n"), 1.7e-3, 1.8e-3), asked, false)
	assert.InDelta(t, 0.91287, sheet.Figures[bench.TraceCpk].Value, 5e-6)
	assert.InDelta(t, 0.91287, sheet.Figures[bench.TraceCp].Value, 5e-6)
	assert.InDelta(t, 325.4, sheet.Figures[bench.TraceLength].Value, 1e-9)
	assert.InDelta(t, math.Sqrt(3.0628), sheet.Figures[bench.TraceSquare].Value, 1e-9)
	assert.Equal(t, "trace_perhaps", sheet.Verdict.ID)
}

// A strand that keeps its diameter but not the right one is told apart from one that
// does not keep it.
func TestTraceVerdicts(t *testing.T) {
	for _, c := range []struct {
		mean, sd float64
		want     string
	}{{1.75, 0.008, "trace_holds_well"}, {1.75, 0.0155, "trace_holds"}, {1.79, 0.008, "trace_off_centre"}, {1.735, 0.0155, "trace_off_centre"}, {1.75, 0.03, "trace_fails"}, {1.75, 0.0165, "trace_perhaps"}} {
		s := trace.Summary{MeanM: c.mean * 1e-3, SDM: c.sd * 1e-3, MeanSquareM2: c.mean * c.mean * 1e-6, Effective: 1000}
		s.Readings = 1000
		sheet := bench.NewTraceSheet(s, bench.TraceAsked{NominalM: 1.75e-3, ToleranceM: 0.05e-3}, true)
		assert.Equal(t, c.want, sheet.Verdict.ID, "%+v", c)
	}
}

// The handbook's example of 50 readings (limits 8 and 20, mean 16, s 2), as if in mm: Cpk
// 0.6667, and the exact bound of it.
func TestTraceSheetOfTheHandbooksCapability(t *testing.T) {
	s := trace.Summary{MeanM: 16e-3, SDM: 2e-3, MeanSquareM2: 260e-6, Effective: 50}
	s.Readings = 50
	sheet := bench.NewTraceSheet(s, bench.TraceAsked{NominalM: 14e-3, ToleranceM: 6e-3, Bound: true}, true)
	assert.InDelta(t, 0.52961323, sheet.Figures[bench.TraceCpkLeast].Value, 1e-7)
	assert.InDelta(t, 0.5055513, sheet.Figures[bench.TraceCpk].Low, 1e-7)
	assert.InDelta(t, 1.1971259, sheet.Figures[bench.TraceCp].High, 1e-7)
}

func TestTraceSheetTellsSteps(t *testing.T) {
	s := trace.Summary{Axis: trace.BySecond, Effective: 5000, Steps: []trace.Step{{At: 100, HeightM: 20e-6}, {At: 300, HeightM: -30e-6}}}
	s.Readings = 5000
	sheet := bench.NewTraceSheet(s, bench.TraceAsked{SpeedMS: 0.05}, false)
	require.Len(t, sheet.Remarks, 2)
	assert.Equal(t, "trace_step_thicker", sheet.Remarks[0].ID)
	assert.Equal(t, wording.Number{Value: 5, Unit: "m", Digits: 4}, sheet.Remarks[0].Values["Place"])
	assert.Equal(t, "trace_step_thinner", sheet.Remarks[1].ID)
}

// Where many rows could not be read the verdict is that, and no capability.
func TestTraceOfMixedSigns(t *testing.T) {
	log := "t;d\n0,0;1,75\n0.5;1.76\n1,0;1,74\n1,5;1,75\n2,0\t1,76\n2,5;1,75\n3,0;1,77\n"
	s := summaryOf(t, []byte(log), 1.7e-3, 1.8e-3)
	assert.EqualValues(t, 5, s.Readings)
	assert.InDelta(t, 1.752e-3, s.MeanM, 1e-9, "what could be read was read right")
	sheet := bench.NewTraceSheet(s, bench.TraceAsked{NominalM: 1.75e-3, ToleranceM: 5e-5}, false)
	assert.Equal(t, "trace_mostly_left_out", sheet.Verdict.ID)
}

// Common practice: spools are wound to ±0.05 mm or better, and inlets of printers have
// 2 mm, so that a lump of 0.3 mm stops the print there.
func TestTraceOfCommonPractice(t *testing.T) {
	asked := bench.TraceAsked{NominalM: 1.75e-3, ToleranceM: quantity.MustParse[quantity.Length]("0.05 mm").SI()}
	s := trace.Summary{MeanM: 1.75e-3, SDM: 1e-5, MeanSquareM2: 3.0625e-6, Effective: 500, Lumps: []trace.Lump{{PeakM: 2.05e-3, HeightM: 0.3e-3}}}
	s.Readings = 500
	sheet := bench.NewTraceSheet(s, asked, false)
	assert.True(t, sheet.Lumps[0].Blocks)
	assert.Equal(t, "trace_holds_well", sheet.Verdict.ID)
}

// The logs of the samples are what their generator makes, and what the samples keep of them
// is what they say.
func TestLogsOfTheSamplesAreThoseOfTheGenerator(t *testing.T) {
	for kind, file := range map[string]string{"story": "olive-10-spool-1", "hand": "mussel-10-spool-1"} {
		want, err := exec.Command("go", "run", "../../testdata/traces", kind).Output()
		require.NoError(t, err)
		got, err := assets.Samples.ReadFile("samples/logs/" + file + ".csv")
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got))
	}
	for _, name := range []string{"olive-stone-pla", "mussel-shell-petg"} {
		data, err := assets.Samples.ReadFile("samples/" + name + ".json")
		require.NoError(t, err)
		p, _, err := project.Decode(data)
		require.NoError(t, err)
		made := &p.Spool.Made[0]
		log, err := assets.Samples.ReadFile("samples/" + made.Trace.File)
		require.NoError(t, err)
		low, high := bench.TraceAskedOf(&p, made, bench.Evaluate(&p)).Limits()
		d, err := bench.ReadTrace(context.Background(), bytes.NewReader(log), bench.RecordedLayout(&made.Trace), low, high, nil)
		require.NoError(t, err)
		assert.Equal(t, bench.TraceKeptSame, d.Kept(&made.Trace, low, high), name)
	}
}
