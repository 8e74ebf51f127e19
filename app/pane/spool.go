package pane

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// Spool is the pane of the strand: its diameter, and how many metres that makes.
type Spool struct {
	base
	readings *control.Grid
	summary  *control.Text
	length   *control.Text
	left     *control.Text
}

// usualSpools are the net masses that are sold most, and usualDiameters the strands.
var (
	usualSpools    = []string{"250 g", "500 g", "750 g", "1 kg", "2.3 kg"}
	usualDiameters = []string{"1.75 ± 0.05 mm", "2.85 ± 0.05 mm"}
)

// NewSpool makes the pane.
func NewSpool(desk Desk) *Spool {
	p := &Spool{base: newBase(bench.PaneSpool, desk)}
	p.summary = control.NewText("", control.Plain)
	p.length = control.NewText("", control.Plain)
	p.left = control.NewText("", control.Plain)
	picture := p.newPicture(func(v View) figure.Picture { return figure.Length(v.Project, v.Sheet, v.Chosen, desk.Words()) })
	p.split = control.NewSplit(p.column, control.NewCard("", "", picture))
	return p
}

// Commit hands on what is typed in the table.
func (p *Spool) Commit() {
	if p.readings != nil {
		p.readings.Commit()
	}
}

// Has reports whether the pane has an input or a reading for a place.
func (p *Spool) Has(place string) bool {
	return p.base.Has(place) || strings.HasPrefix(place, "/spool/readings")
}

// Lead focuses the field or the reading of a place.
func (p *Spool) Lead(place string) bool {
	var row int
	if _, err := fmt.Sscanf(place, "/spool/readings/%d", &row); err == nil || place == "/spool/readings" {
		p.readings.FocusCell(row, 1)
		return true
	}
	return p.base.Lead(place)
}

// Show brings the pane up to date.
func (p *Spool) Show(v View) {
	p.take(v, "built", p.build)
	p.readings.Sync()
	p.summary.SetText(p.summaryText())
	p.length.SetText(p.lengthText())
	p.left.SetText(p.leftText())
	p.refresh()
}

func (p *Spool) build() {
	spool := func(d *project.Project) *project.Spool { return &d.Spool }
	p.first = newQuantity(&p.base, "/spool/diameter", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Length] { return &spool(d).Diameter })
	net := newQuantity(&p.base, "/spool/net_mass", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Mass] { return &spool(d).NetMass })
	p.readings = p.newReadings()
	p.column.SetObjects(
		section(p.text("pane.spool.strand"), p.first,
			usual(&p.base, usualDiameters, "/spool/diameter", func(d *project.Project) *quantity.Of[quantity.Length] { return &spool(d).Diameter }),
			control.NewPairs(8, newQuantity(&p.base, "/spool/tolerance", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Length] { return &spool(d).Tolerance }),
				newQuantity(&p.base, "/spool/gauge", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Length] { return &spool(d).Gauge }))),
		section(p.text("pane.spool.readings"), p.summary, p.readings),
		section(p.text("pane.spool.spool"), net,
			usual(&p.base, usualSpools, "/spool/net_mass", func(d *project.Project) *quantity.Of[quantity.Mass] { return &spool(d).NetMass }),
			p.length),
		section(p.text("pane.spool.used"),
			control.NewPairs(8, newQuantity(&p.base, "/spool/empty_mass", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Mass] { return &spool(d).EmptyMass }),
				newQuantity(&p.base, "/spool/weighed", fieldLook{}, func(d *project.Project) *quantity.Of[quantity.Mass] { return &spool(d).Weighed })),
			p.left),
	)
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

// newReadings is the table of caliper readings, with an empty row at its end.
func (p *Spool) newReadings() *control.Grid {
	list := func() []quantity.Of[quantity.Length] { return p.view.Project.Spool.Readings }
	return control.NewGrid(control.GridOptions{
		ID: "/spool/readings", Label: p.text("pane.spool.readings"),
		Columns: []control.GridColumn{
			{Title: p.text("pane.spool.readings_number"), Width: 50, Align: fyne.TextAlignTrailing},
			{Title: p.text("pane.spool.reading"), Width: 200, Editable: true},
		},
		Rows:    func() int { return len(list()) + 1 },
		MaxRows: 5,
		Cell: func(row, col int) control.Cell {
			switch {
			case col == 0:
				return control.Cell{Text: strconv.Itoa(row + 1), State: control.CellMuted}
			case row < len(list()):
				return control.Cell{Text: list()[row].Pretty(p.words().DecimalComma())}
			}
			return control.Cell{}
		},
		OnEdit:  p.editReading,
		OnPaste: p.pasteReadings,
	})
}

// editReading changes one reading; an emptied one is taken out.
func (p *Spool) editReading(row, _ int, text string) error {
	place := fmt.Sprintf("/spool/readings/%d", row)
	return p.edit(place, p.text("field.spool.readings"), func(d *project.Project) error {
		q, err := readLength(text)
		if err != nil {
			return err
		}
		list := d.Spool.Readings
		switch {
		case row >= len(list) && q.Given():
			d.Spool.Readings = append(list, q)
		case row < len(list) && q.Given():
			list[row] = q
		case row < len(list):
			d.Spool.Readings = append(list[:row:row], list[row+1:]...)
		}
		return nil
	})
}

// readLength reads a diameter; a bare number is in millimetres, the unit of calipers.
func readLength(text string) (quantity.Of[quantity.Length], error) {
	return parseLike(text, quantity.MustParse[quantity.Length]("1.75 mm"))
}

// pasteReadings puts a column in, from the active row down, in one edit. What
// cannot be read is shown in place; the rest is taken.
func (p *Spool) pasteReadings(row, col int, cells [][]string) {
	label := p.words().Say("edit.paste", map[string]any{"Field": p.text("pane.spool.readings")})
	refused := map[int]error{}
	err := p.desk.Edit(label, fmt.Sprintf("/spool/readings/%d", row), func(d *project.Project) error {
		at := row
		for _, line := range cells {
			text := ""
			if len(line) > 0 {
				text = line[0]
			}
			q, err := readLength(text)
			if err != nil {
				refused[at] = err
				at++
				continue
			}
			if !q.Given() {
				continue
			}
			for len(d.Spool.Readings) < at {
				at = len(d.Spool.Readings)
			}
			if at < len(d.Spool.Readings) {
				d.Spool.Readings[at] = q
			} else {
				d.Spool.Readings = append(d.Spool.Readings, q)
			}
			at++
		}
		return nil
	})
	if err != nil {
		p.readings.Refuse(row, 1, cells[0][0], err.Error())
	}
	for at, why := range refused {
		p.readings.Refuse(min(at, len(p.view.Project.Spool.Readings)), 1, cells[at-row][0], p.words().Error(why))
	}
}

// summaryText says what the readings come to.
func (p *Spool) summaryText() string {
	r, some := bench.Readings(p.view.Project)
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
