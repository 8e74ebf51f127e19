package pane

import (
	"fmt"
	"io"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/figure"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/report"
)

// buildRuns is the log of one run at a time.
func (p *Line) buildRuns() []fyne.CanvasObject {
	add := p.runs.adder()
	runs := p.view.Project.Line.Runs
	if len(runs) == 0 {
		p.first = nil
		return []fyne.CanvasObject{section(p.text("pane.line.runs"), control.NewCaption(p.text("pane.line.runs_empty")), container.NewHBox(add, p.emptySheet()))}
	}
	run := p.runs.at
	chooser := []fyne.CanvasObject{container.NewHBox(add, p.runs.remover(run)), container.NewHBox(p.emptySheet(), p.sheetOf(run))}
	if len(runs) > 1 {
		chooser = append([]fyne.CanvasObject{p.runs.newChooser()}, chooser...)
	}
	return []fyne.CanvasObject{
		section(p.text("pane.line.runs"), chooser...),
		section(p.text("pane.line.clock"), p.clock(), p.eventButtons(run), p.eventTable(run).object(),
			p.lines(func() []string { return p.stableWords(run) }), p.useStable(run)),
		p.named(func() string { return p.runName(run) }, p.runFields(run)),
		section(p.text("pane.line.run_zones"), p.runZones(run).object()),
		section(p.text("pane.line.photos"), control.NewCaption(p.text("pane.line.photos_remark")), p.photoTable(run).object()),
		section(p.text("pane.line.run_notes"), newText(&p.base, p.runs.placeOf(run, "notes"), p.text("field.line_run.notes"), func(d *project.Project) *string { return &p.runs.in(d, run).Notes })),
	}
}

// emptySheet is the button for a sheet of the blend at work, to print and to fill in.
func (p *Line) emptySheet() *widget.Button {
	b := widget.NewButton(p.text("pane.line.empty_sheet"), func() { p.exportSheet(p.view.Chosen, -1) })
	if p.view.Blend() == nil {
		b.Disable()
	}
	return b
}

// sheetOf is the button for a sheet of a run as it was recorded; that of the blend at work
// while the run names none.
func (p *Line) sheetOf(run int) *widget.Button {
	return widget.NewButton(p.text("pane.line.run_sheet"), func() {
		blend := p.view.Project.BlendByID(p.runs.shown(run).Blend)
		if blend < 0 {
			blend = p.view.Chosen
		}
		p.exportSheet(blend, run)
	})
}

func (p *Line) exportSheet(blend, run int) {
	if blend < 0 {
		return
	}
	v, words, now := p.view, p.words(), p.desk.Now()
	p.desk.Export(words.Text("pane.line.sheet_file"), func(out io.Writer) error {
		return report.RunSheet(out, v.Project, v.Sheet, blend, run, now, words)
	})
}

// newRuns are the runs of the log. A new one is of the blend at work, set as the line is.
func (p *Line) newRuns() entries[project.LineRun] {
	return entries[project.LineRun]{
		base: &p.base, place: "/line/runs", list: func(d *project.Project) *[]project.LineRun { return &d.Line.Runs },
		name: p.runName, show: func() { p.Show(p.view) },
		texts: entryTexts{one: "pane.line.run", add: "pane.line.add_run", remove: "pane.line.remove_run"},
		fresh: func(d *project.Project) project.LineRun {
			r := project.LineRun{Date: p.desk.Now().Format(time.DateOnly), ScrewSpeed: d.Line.ScrewSpeed, Pressure: d.Line.DiePressure}
			if blend := p.view.Blend(); blend != nil {
				r.Blend = blend.ID
			}
			for _, zone := range d.Line.Zones {
				r.Zones = append(r.Zones, project.ZoneReading{Set: zone})
			}
			return r
		},
	}
}

// runName is what a run is called, its number while it has no name.
func (p *Line) runName(run int) string {
	if name := p.runs.shown(run).Name; name != "" {
		return name
	}
	return p.words().Say("pane.line.run_number", map[string]any{"Number": run + 1})
}

// runFields are what was set and seen in a run.
func (p *Line) runFields(run int) fyne.CanvasObject {
	place := func(member string) string { return p.runs.placeOf(run, member) }
	at := func(d *project.Project) *project.LineRun { return p.runs.in(d, run) }
	text := func(member string, of func(*project.LineRun) *string) fyne.CanvasObject {
		return newText(&p.base, place(member), p.text("field.line_run."+member), func(d *project.Project) *string { return of(at(d)) })
	}
	look := func(member string) fieldLook {
		return fieldLook{label: p.text("field.line_run." + member), hint: p.text("hint.line_run." + member)}
	}
	return control.NewPairs(8,
		text("name", func(r *project.LineRun) *string { return &r.Name }),
		newHintedText(&p.base, place("date"), p.text("field.line_run.date"), p.text("hint.line_run.date"), func(d *project.Project) *string { return &at(d).Date }),
		p.choiceField(place("blend"), p.text("field.line_run.blend"), p.blendChoices(),
			func(d *project.Project) string { return string(at(d).Blend) }, func(d *project.Project, v string) { at(d).Blend = project.BlendID(v) }),
		text("spool", func(r *project.LineRun) *string { return &r.Spool }),
		text("lots", func(r *project.LineRun) *string { return &r.Lots }),
		text("cooling", func(r *project.LineRun) *string { return &r.Cooling }),
		newQuantity(&p.base, place("screw_speed"), look("screw_speed"), func(d *project.Project) *quantity.Of[quantity.Rotation] { return &at(d).ScrewSpeed }),
		newQuantity(&p.base, place("puller"), look("puller"), func(d *project.Project) *quantity.Of[quantity.Speed] { return &at(d).Puller }),
		newQuantity(&p.base, place("current"), look("current"), func(d *project.Project) *quantity.Of[quantity.Current] { return &at(d).Current }),
		newQuantity(&p.base, place("pressure"), look("pressure"), func(d *project.Project) *quantity.Of[quantity.Pressure] { return &at(d).Pressure }))
}

// runZones holds the zones as they were set and as they were.
func (p *Line) runZones(run int) *rowsTable[project.ZoneReading] {
	return newRowsTable(&p.base, rowsOptions[project.ZoneReading]{
		place: fmt.Sprintf("/line/runs/%d/zones", run), label: p.text("pane.line.run_zones"), most: project.MostRows("/line/runs/*/zones"), shown: 5,
		list: func(d *project.Project) *[]project.ZoneReading { return &p.runs.in(d, run).Zones },
		columns: []column[project.ZoneReading]{
			numberColumn[project.ZoneReading](p.text("pane.line.number"), 50),
			quantityColumn(&p.base, "set", p.text("pane.line.set_point"), 120, "°C", func(z *project.ZoneReading) *temperature { return &z.Set }),
			quantityColumn(&p.base, "actual", p.text("pane.line.actual"), 120, "°C", func(z *project.ZoneReading) *temperature { return &z.Actual }),
		},
	})
}

// eventTable holds what happened, with its time after the start.
func (p *Line) eventTable(run int) *rowsTable[project.RunEvent] {
	var choices []control.Choice
	for _, kind := range project.EventKinds() {
		choices = append(choices, control.Choice{Value: string(kind), Text: figure.EventName(kind, p.words())})
	}
	return newRowsTable(&p.base, rowsOptions[project.RunEvent]{
		place: fmt.Sprintf("/line/runs/%d/events", run), label: p.text("pane.line.events"), most: project.MostRows("/line/runs/*/events"), shown: 6,
		list: func(d *project.Project) *[]project.RunEvent { return &p.runs.in(d, run).Events }, file: p.text("pane.line.events_file"),
		columns: []column[project.RunEvent]{
			quantityColumn(&p.base, "time", p.text("pane.line.event_time"), 80, "min", func(e *project.RunEvent) *duration { return &e.Time }),
			choiceColumn("kind", p.text("pane.line.event"), 130, choices,
				func(e *project.RunEvent) string { return string(e.Kind) }, func(e *project.RunEvent, v string) { e.Kind = project.EventKind(v) }),
			textColumn("text", p.text("pane.line.remark"), 150, func(e *project.RunEvent) *string { return &e.Text }),
		},
	})
}

// photoTable holds the paths of photos.
func (p *Line) photoTable(run int) *rowsTable[string] {
	return newRowsTable(&p.base, rowsOptions[string]{
		place: fmt.Sprintf("/line/runs/%d/photos", run), label: p.text("pane.line.photos"), most: project.MostRows("/line/runs/*/photos"), shown: 3,
		list:    func(d *project.Project) *[]string { return &p.runs.in(d, run).Photos },
		columns: []column[string]{textColumn("", p.text("pane.line.photo"), 320, func(s *string) *string { return s })},
	})
}
