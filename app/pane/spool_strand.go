package pane

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// usualSpools are the net masses that are sold most, and usualDiameters the strands.
var (
	usualSpools    = []string{"250 g", "500 g", "750 g", "1 kg", "2.3 kg"}
	usualDiameters = []string{"1.75 ± 0.05 mm", "2.85 ± 0.05 mm"}
)

// mostReadings is how many caliper readings the document accepts.
const mostReadings = 10000

// buildStrand is the strand of all spools: its diameter, and how many metres that makes.
func (p *Spool) buildStrand() []fyne.CanvasObject {
	spool := func(d *project.Project) *project.Spool { return &d.Spool }
	p.first = newQuantity(&p.base, "/spool/diameter", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Length] { return &spool(d).Diameter })
	net := newQuantity(&p.base, "/spool/net_mass", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Mass] { return &spool(d).NetMass })
	return []fyne.CanvasObject{
		section(p.text("pane.spool.strand"), p.first,
			usual(&p.base, usualDiameters, "/spool/diameter", func(d *project.Project) *quantity.Of[quantity.Length] { return &spool(d).Diameter }),
			control.NewPairs(8, newQuantity(&p.base, "/spool/tolerance", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Length] { return &spool(d).Tolerance }),
				newQuantity(&p.base, "/spool/gauge", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Length] { return &spool(d).Gauge }))),
		section(p.text("pane.spool.readings"), p.lines(p.summaryLines), p.newReadings().object()),
		section(p.text("pane.spool.spool"), net,
			usual(&p.base, usualSpools, "/spool/net_mass", func(d *project.Project) *quantity.Of[quantity.Mass] { return &spool(d).NetMass }),
			p.lines(func() []string { return []string{p.lengthText()} })),
		section(p.text("pane.spool.used"),
			control.NewPairs(8, newQuantity(&p.base, "/spool/empty_mass", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Mass] { return &spool(d).EmptyMass }),
				newQuantity(&p.base, "/spool/weighed", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Mass] { return &spool(d).Weighed })),
			p.lines(func() []string { return []string{p.leftText()} })),
	}
}

// usual is a row of buttons for usual values.
func usual[D quantity.Dim](b *base, values []string, place string, at func(*project.Project) *quantity.Of[D]) fyne.CanvasObject {
	row := container.NewHBox()
	for _, value := range values {
		q := quantity.MustParse[D](value)
		button := widget.NewButton(q.Pretty(b.words().DecimalComma()), func() {
			_ = b.edit(place, b.text(labelOf(place)), func(p *project.Project) error {
				*at(p) = q
				return nil
			}) // a usual value is a valid one
		})
		row.Add(button)
	}
	return container.NewHScroll(row)
}

// newReadings is the table of caliper readings. A bare number is in millimetres,
// the unit of calipers.
func (p *Spool) newReadings() *rowsTable[quantity.Of[quantity.Length]] {
	type reading = quantity.Of[quantity.Length]
	return newRowsTable(&p.base, rowsOptions[reading]{
		place: "/spool/readings", label: p.text("field.spool.readings"),
		columns: []column[reading]{
			numberColumn[reading](p.text("pane.spool.readings_number"), 50),
			quantityColumn(&p.base, "", p.text("pane.spool.reading"), 200, "mm", func(q *reading) *reading { return q }),
		},
		list:  func(d *project.Project) *[]reading { return &d.Spool.Readings },
		most:  mostReadings,
		shown: 5,
		file:  p.text("pane.spool.readings_file"),
	})
}

// readings are what the caliper readings come to, worked out once for a view.
func (p *Spool) readings() (r bench.ReadingsSummary, some bool) {
	if p.summed.of != p.view.Sheet {
		p.summed.summary, p.summed.some = bench.Readings(p.view.Project)
		p.summed.of = p.view.Sheet
	}
	return p.summed.summary, p.summed.some
}

// summaryLines say what the readings come to, and which of them are odd.
func (p *Spool) summaryLines() []string {
	list := []string{p.summaryText()}
	r, some := p.readings()
	if !some {
		return list
	}
	mm := func(v float64) wording.Number { return wording.Number{Value: v * 1e3, Unit: "mm", Digits: 4} }
	if !math.IsNaN(r.ToleranceLow) {
		list = append(list, p.words().Say("pane.spool.readings_hold", map[string]any{"Low": mm(r.ToleranceLow), "High": mm(r.ToleranceHigh)}))
	}
	for _, number := range r.Odd {
		list = append(list, p.words().Say("pane.spool.reading_odd", map[string]any{"Number": number, "Diameter": p.view.Project.Spool.Readings[number-1]}))
	}
	return list
}

// summaryText says what the readings come to.
func (p *Spool) summaryText() string {
	r, some := p.readings()
	if !some {
		return p.text("pane.spool.no_readings")
	}
	mm := func(v float64) wording.Number { return wording.Number{Value: v * 1e3, Unit: "mm", Digits: 5} }
	return p.words().Say("pane.spool.readings_summary", map[string]any{
		"Count": r.N, "Mean": mm(r.Mean), "Spread": wording.Number{Value: r.SD * 1e3, Unit: "mm", Digits: 2}, "Square": mm(r.RootMeanSquare),
	})
}

func (p *Spool) lengthText() string { return p.lengthOf("pane.spool.length", bench.LengthPerSpool) }

func (p *Spool) leftText() string { return p.lengthOf("pane.spool.remaining", bench.RemainingLength) }

// lengthOf says a length with its interval, as far as it is known.
func (p *Spool) lengthOf(id string, f bench.Figure) string {
	results := p.view.Results()
	if results == nil || !results.Result(f).Known() {
		return ""
	}
	return p.words().Say(id, map[string]any{"Length": p.withInterval(results.Result(f)), "Blend": results.Name})
}
