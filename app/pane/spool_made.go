package pane

import (
	"fmt"
	"io"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/report"
	"fillwright/internal/wording"
)

type mass = quantity.Of[quantity.Mass]

// newMade are the spools of the ledger. A new one is of the blend at work, wound today.
func (p *Spool) newMade() entries[project.MadeSpool] {
	return entries[project.MadeSpool]{
		base: &p.base, place: "/spool/made", list: func(d *project.Project) *[]project.MadeSpool { return &d.Spool.Made },
		name: p.spoolName, show: func() { p.Show(p.view) },
		texts: entryTexts{one: "pane.spool.made_one", add: "pane.spool.add_made", remove: "pane.spool.remove_made"},
		fresh: func(d *project.Project) project.MadeSpool {
			m := project.MadeSpool{Date: p.desk.Now().Format(time.DateOnly), Mass: d.Spool.NetMass, EmptyMass: d.Spool.EmptyMass}
			if blend := p.view.Blend(); blend != nil {
				m.Blend = blend.ID
			}
			return m
		},
	}
}

// spoolName is what a spool is called, its number while it has no name.
func (p *Spool) spoolName(i int) string {
	if i >= len(p.view.Sheet.Spools) {
		return "" // it was just taken out
	}
	return figure.SpoolName(p.view.Sheet, i, p.words())
}

// madeChooser is the head of the parts that show one spool of the ledger.
func (p *Spool) madeChooser(buttons ...fyne.CanvasObject) []fyne.CanvasObject {
	row := []fyne.CanvasObject{container.NewHBox(buttons...)}
	if len(p.view.Project.Spool.Made) > 1 {
		row = append([]fyne.CanvasObject{p.made.newChooser()}, row...)
	}
	return row
}

// buildMade is one spool of the ledger at a time, and the totals of all.
func (p *Spool) buildMade() []fyne.CanvasObject {
	add := p.made.adder()
	if len(p.view.Project.Spool.Made) == 0 {
		p.first = nil
		return []fyne.CanvasObject{section(p.text("pane.spool.made"), control.NewCaption(p.text("pane.spool.made_empty")), container.NewHBox(add))}
	}
	i := p.made.at
	return []fyne.CanvasObject{
		section(p.text("pane.spool.made"), p.madeChooser(add, p.made.remover(i))...),
		p.named(func() string { return p.spoolName(i) }, p.madeFields(i)),
		section(p.text("pane.spool.left"), p.leftFields(i), p.facts(func() []fact { return p.madeFacts(i) }), p.lines(func() []string { return p.madeRemarks(i) })),
		section(p.text("pane.spool.prints"), p.printTable(i).object()),
		section(p.text("pane.spool.keeping"), p.keepingFields(i)),
		section(p.text("pane.spool.label"), control.NewCaption(p.text("pane.spool.label_remark")), p.labelButtons(i)),
		section(p.text("pane.spool.totals"), p.lines(p.totals)),
	}
}

// madeFields say what a spool is.
func (p *Spool) madeFields(i int) fyne.CanvasObject {
	place := func(member string) string { return p.made.placeOf(i, member) }
	at := func(d *project.Project) *project.MadeSpool { return p.made.in(d, i) }
	name := newText(&p.base, place("name"), p.text("field.made_spool.name"), func(d *project.Project) *string { return &at(d).Name })
	p.first = name
	return control.NewPairs(8, name,
		newHintedText(&p.base, place("date"), p.text("field.made_spool.date"), p.text("hint.made_spool.date"), func(d *project.Project) *string { return &at(d).Date }),
		p.choiceField(place("blend"), p.text("field.made_spool.blend"), p.blendChoices(),
			func(d *project.Project) string { return string(at(d).Blend) }, func(d *project.Project, v string) { at(d).Blend = project.BlendID(v) }),
		newText(&p.base, place("lot"), p.text("field.made_spool.lot"), func(d *project.Project) *string { return &at(d).Lot }))
}

// madeLook is how a quantity of a spool is shown.
func (p *Spool) madeLook(member string) fieldLook {
	return fieldLook{label: p.text("field.made_spool." + member), hint: p.text("hint.made_spool." + member)}
}

// leftFields are what tells how much is on a spool.
func (p *Spool) leftFields(i int) fyne.CanvasObject {
	at := func(d *project.Project) *project.MadeSpool { return p.made.in(d, i) }
	weight := func(member string, of func(*project.MadeSpool) *mass) fyne.CanvasObject {
		return newQuantity(&p.base, p.made.placeOf(i, member), p.madeLook(member), func(d *project.Project) *mass { return of(at(d)) })
	}
	return control.NewPairs(8,
		weight("mass", func(m *project.MadeSpool) *mass { return &m.Mass }),
		weight("empty_mass", func(m *project.MadeSpool) *mass { return &m.EmptyMass }),
		weight("weighed", func(m *project.MadeSpool) *mass { return &m.Weighed }),
		newQuantity(&p.base, p.made.placeOf(i, "outer"), p.madeLook("outer"), func(d *project.Project) *length { return &at(d).Outer }),
		newQuantity(&p.base, "/print/mass", p.lookOf("/print/mass"), func(d *project.Project) *mass { return &d.Print.Mass }))
}

// keepingFields say how a spool is dried and kept.
func (p *Spool) keepingFields(i int) fyne.CanvasObject {
	at := func(d *project.Project) *project.MadeSpool { return p.made.in(d, i) }
	return control.NewPairs(8,
		newQuantity(&p.base, p.made.placeOf(i, "dry_temperature"), p.madeLook("dry_temperature"), func(d *project.Project) *temperature { return &at(d).DryTemperature }),
		newQuantity(&p.base, p.made.placeOf(i, "dry_time"), p.madeLook("dry_time"), func(d *project.Project) *duration { return &at(d).DryTime }),
		newText(&p.base, p.made.placeOf(i, "storage"), p.text("field.made_spool.storage"), func(d *project.Project) *string { return &at(d).Storage }),
		newText(&p.base, p.made.placeOf(i, "notes"), p.text("field.made_spool.notes"), func(d *project.Project) *string { return &at(d).Notes }))
}

// labelButtons write the label of a spool.
func (p *Spool) labelButtons(i int) fyne.CanvasObject {
	export := func(file string, write func(io.Writer, View) error) func() {
		return func() {
			v := p.view
			p.desk.Export(p.text(file), func(out io.Writer) error { return write(out, v) })
		}
	}
	return container.NewHBox(
		widget.NewButton(p.text("pane.spool.label_pdf"), export("pane.spool.label_pdf_file", func(out io.Writer, v View) error {
			return report.SpoolLabelPDF(out, v.Project, v.Sheet, i, p.desk.Now(), p.words())
		})),
		widget.NewButton(p.text("pane.spool.label_png"), export("pane.spool.label_png_file", func(out io.Writer, v View) error {
			return report.SpoolLabelPNG(out, v.Project, v.Sheet, i, p.words())
		})))
}

// printTable holds the prints that were made from a spool.
func (p *Spool) printTable(i int) *rowsTable[project.PrintTaken] {
	return newRowsTable(&p.base, rowsOptions[project.PrintTaken]{
		place: fmt.Sprintf("/spool/made/%d/prints", i), label: p.text("pane.spool.prints"), most: project.MostRows("/spool/made/*/prints"), shown: 4,
		list: func(d *project.Project) *[]project.PrintTaken { return &p.made.in(d, i).Prints }, file: p.text("pane.spool.prints_file"),
		columns: []column[project.PrintTaken]{
			textColumn("name", p.text("pane.spool.print"), 150, func(t *project.PrintTaken) *string { return &t.Name }),
			textColumn("date", p.text("pane.spool.print_date"), 100, func(t *project.PrintTaken) *string { return &t.Date }),
			quantityColumn(&p.base, "mass", p.text("pane.spool.print_mass"), 100, "g", func(t *project.PrintTaken) *mass { return &t.Mass }),
		},
	})
}

// madeSheet is what is told of a spool; nil when it is gone.
func (p *Spool) madeSheet(i int) *bench.SpoolSheet {
	if i >= len(p.view.Sheet.Spools) {
		return nil
	}
	return &p.view.Sheet.Spools[i]
}

// madeFacts is what a spool comes to.
func (p *Spool) madeFacts(i int) []fact {
	sheet := p.madeSheet(i)
	if sheet == nil {
		return nil
	}
	var list []fact
	for _, f := range bench.SpoolFigures() {
		if r, known := sheet.Results[f]; known {
			list = append(list, p.fact("spool.figure."+string(f), r))
		}
	}
	return list
}

func (p *Spool) madeRemarks(i int) []string {
	sheet := p.madeSheet(i)
	if sheet == nil {
		return nil
	}
	var list []string
	for _, r := range sheet.Told() {
		list = append(list, p.words().Say(r.Message()))
	}
	return list
}

// totals adds the ledger up for each blend.
func (p *Spool) totals() []string {
	var list []string
	for _, t := range p.view.Sheet.Totals {
		name := p.text("pane.spool.no_blend")
		if t.Blend >= 0 {
			name = p.view.Sheet.Blends[t.Blend].Name
		}
		values := map[string]any{
			"Blend": name, "Count": t.Spools,
			"Mass": wording.Number{Value: t.Mass.Value, Unit: "g", Digits: 4}, "Left": wording.Number{Value: t.Left.Value, Unit: "g", Digits: 4},
		}
		line := p.words().Say("pane.spool.total", values)
		if t.LeftUnknown > 0 {
			line += " " + p.words().Say("pane.spool.total_unknown", map[string]any{"Count": t.LeftUnknown})
		}
		list = append(list, line)
	}
	return list
}
