package figure

import (
	"strconv"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// FlowTest shows the rate of each reading of a melt-flow test with their mean and its
// interval, beside those of the test of the plain polymer that it is held against.
func FlowTest(p *project.Project, s *bench.Sheet, test int, w *wording.Words) Picture {
	out := Picture{Title: w.Text("picture.flow_test.title"), Alt: w.Text("picture.flow_test.alt"), Empty: w.Text("picture.flow_test.empty")}
	if test < 0 || test >= len(s.FlowTests) {
		return out
	}
	sheet := &s.FlowTests[test]
	panel := Panel{X: Axis{Label: w.Text("picture.flow_test.reading")}, Y: Axis{Label: rateAt(&p.Melt.Tests[test], w), Unit: wording.Unit(sheet.Mean.Unit)}}
	last := panel.addReadings(sheet, flowTestName(p, test, w), 1, Disc, w)
	if sheet.Plain >= 0 {
		last = max(last, panel.addReadings(&s.FlowTests[sheet.Plain], flowTestName(p, sheet.Plain, w), 0, Square, w))
	}
	if len(panel.Points) == 0 {
		return out
	}
	panel.X.Min, panel.X.Max, panel.X.Ticks = 0.5, float64(last)+0.5, counted(last)
	panel.Y.Min, panel.Y.Max = panel.rates()
	out.Legend = readingsLegend(&panel, w)
	out.Panels = []Panel{panel}
	return out
}

// addReadings draws the readings of a test and their mean with its interval; those that
// do not count are crosses. It returns the number of the last reading.
func (p *Panel) addReadings(s *bench.FlowTestSheet, name string, colour int, marker Marker, w *wording.Words) (last int) {
	points := Points{Name: name, Colour: colour, Marker: marker}
	out := Points{Name: w.Text("picture.flow_test.left_out"), Colour: InkMuted, Marker: Cross}
	for i, row := range s.Rows {
		if !row.Known {
			continue
		}
		into := &points
		if row.Remark.ID != "" {
			into = &out
		}
		into.X, into.Y = append(into.X, float64(i+1)), append(into.Y, row.Rate)
		last = i + 1
	}
	for _, some := range []Points{points, out} {
		if len(some.X) > 0 {
			p.Points = append(p.Points, some)
		}
	}
	if mean := s.Mean; mean.Known() {
		x := []float64{0.5, float64(last) + 0.5}
		p.Lines = append(p.Lines, Line{X: x, Y: []float64{mean.Value, mean.Value}, Colour: colour, Dash: true})
		if !mean.Certain() {
			p.Bands = append(p.Bands, Band{X: x, Low: []float64{mean.Low, mean.Low}, High: []float64{mean.High, mean.High}, Colour: colour})
		}
	}
	return last
}

// rates is an axis that holds every reading and every interval, and reaches at least a
// tenth to either side of each mean: even readings shall look even.
func (p *Panel) rates() (low, high float64) {
	const around = 0.1
	low, high = p.Points[0].Y[0], p.Points[0].Y[0]
	for _, points := range p.Points {
		for _, y := range points.Y {
			low, high = min(low, y), max(high, y)
		}
	}
	for _, line := range p.Lines {
		low, high = min(low, (1-around)*line.Y[0]), max(high, (1+around)*line.Y[0])
	}
	for _, band := range p.Bands {
		low, high = min(low, band.Low[0]), max(high, band.High[0])
	}
	return max(0, low), high
}

// counted are the ticks of readings, which have whole numbers; not all, where there are many.
func counted(last int) []Tick {
	const most = 12
	step := (last + most - 1) / most
	var ticks []Tick
	for i := step; i <= last; i += step {
		ticks = append(ticks, Tick{Value: float64(i), Label: strconv.Itoa(i)})
	}
	return ticks
}

// readingsLegend names the tests, the readings that are left out, and the mean.
func readingsLegend(p *Panel, w *wording.Words) []LegendItem {
	var list []LegendItem
	named := map[string]bool{}
	for _, points := range p.Points {
		if points.Marker != Cross || !named[points.Name] {
			list = append(list, LegendItem{Text: points.Name, Swatch: SwatchPoint, Colour: points.Colour, Marker: points.Marker})
		}
		named[points.Name] = true
	}
	if len(p.Lines) > 0 {
		list = append(list, LegendItem{Text: w.Text("picture.flow_test.mean"), Swatch: SwatchDash, Colour: p.Lines[0].Colour})
	}
	return list
}

// rateAt names the rate with the conditions that it holds for, as far as they were entered.
func rateAt(t *project.FlowTest, w *wording.Words) string {
	temperature, second := t.Temperature.Pretty(w.DecimalComma()), t.Load.Pretty(w.DecimalComma())
	if t.Procedure == project.Strand {
		second = t.ScrewSpeed.Pretty(w.DecimalComma())
	}
	switch {
	case temperature != "" && second != "":
		return w.Say("picture.flow_test.rate_both", map[string]any{"Temperature": temperature, "Second": second})
	case temperature != "" || second != "":
		return w.Say("picture.flow_test.rate_one", map[string]any{"Condition": temperature + second})
	}
	return w.Text("picture.flow_test.rate")
}

// flowTestName is what a test is called, its number while it has no name.
func flowTestName(p *project.Project, test int, w *wording.Words) string {
	if name := p.Melt.Tests[test].Name; name != "" {
		return name
	}
	return w.Say("pane.melt.test_number", map[string]any{"Number": test + 1})
}
