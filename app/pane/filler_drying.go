package pane

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// buildDrying is the log of the oven and what follows from it.
func (p *Filler) buildDrying(i int) []fyne.CanvasObject {
	run := p.run
	p.first = runField(p, i, run, "oven_temperature", func(r *material.DryingRun) *quantity.Of[quantity.Temperature] { return &r.OvenTemperature })
	p.log = &dryingLog{powder: i, run: run}
	return []fyne.CanvasObject{
		p.logCard(i, run),
		section(p.text("pane.filler.drying_target"),
			benchField(p, i, "/drying/target", func(d *material.Powder) *quantity.Of[quantity.Fraction] { return &d.Drying.Target }),
			p.facts(func() []fact { return p.targetFacts(i, run) }), p.lines(func() []string { return p.targetWords() }),
			p.useBox(i, "/drying/set_aside", "pane.filler.use_moisture", func(d *material.Powder) *bool { return &d.Drying.SetAside })),
		section(p.text("pane.filler.drying_mass"), p.lines(func() []string { return p.massOpen(i, run) }), p.facts(func() []fact { return p.massFacts(i, run) })),
		pairs(p.text("pane.filler.drying_conditions"), p.first,
			runField(p, i, run, "layer", func(r *material.DryingRun) *quantity.Of[quantity.Length] { return &r.Layer }),
			runField(p, i, run, "room_temperature", func(r *material.DryingRun) *quantity.Of[quantity.Temperature] { return &r.RoomTemperature }),
			runField(p, i, run, "room_humidity", func(r *material.DryingRun) *quantity.Of[quantity.Fraction] { return &r.RoomHumidity }),
			runField(p, i, run, "dry_mass", func(r *material.DryingRun) *quantity.Of[quantity.Mass] { return &r.DryMass })),
		section(p.text("pane.filler.trays"), control.NewCaption(p.text("pane.filler.trays_remark")), p.trayTable(i, run).object()),
		section(p.text("pane.filler.fits"), control.NewCaption(p.text("pane.filler.fits_remark")),
			p.facts(func() []fact { return p.fitFacts(i, run) }), p.lines(func() []string { return p.fitWords(i, run) })),
		section(p.text("pane.filler.shift"), control.NewPairs(8,
			benchField(p, i, "/drying/other_temperature", func(d *material.Powder) *quantity.Of[quantity.Temperature] { return &d.Drying.OtherTemperature }),
			benchField(p, i, "/drying/other_layer", func(d *material.Powder) *quantity.Of[quantity.Length] { return &d.Drying.OtherLayer }),
			benchField(p, i, "/drying/activation_energy", func(d *material.Powder) *quantity.Of[quantity.MolarEnergy] { return &d.Drying.ActivationEnergy }),
			benchField(p, i, "/drying/layer_exponent", func(d *material.Powder) *quantity.Of[quantity.Factor] { return &d.Drying.LayerExponent })),
			p.facts(func() []fact { return p.shiftFacts(i) }), p.lines(func() []string { return p.shiftWords(i) }),
			control.NewCaption(p.text("pane.filler.shift_remark"))),
		p.runCard(i),
	}
}

// logCard is the log of a run with what it says of the powder.
func (p *Filler) logCard(i, run int) fyne.CanvasObject {
	var objects []fyne.CanvasObject
	if len(powderIn(p.view.Project, i).Drying.Runs) > 1 {
		objects = append(objects, p.runChooser(i), p.captions(func() []string { return p.runWords(i, run) }))
	}
	objects = append(objects, p.lines(func() []string {
		if len(p.runIn(p.view.Project, i, run).Readings) == 0 {
			return []string{p.text("pane.filler.drying_empty")}
		}
		return nil
	}), p.log.of(p).object(), control.NewCaption(p.text("pane.filler.drying_units")), p.facts(func() []fact { return p.runFacts(i, run) }))
	card := control.NewCard(p.text("pane.filler.drying_log"), "", control.NewColumn(8, objects...))
	card.SetExtra(p.addRun(i))
	return card
}

// runIn is a run of the document. The first edit of the first one makes it;
// while there is none, there is nothing in it.
func (p *Filler) runIn(d *project.Project, i, run int) *material.DryingRun {
	powder := powderIn(d, i)
	if powder == nil {
		return &material.DryingRun{}
	}
	if len(powder.Drying.Runs) == 0 && d != p.view.Project { // in an edit
		powder.Drying.Runs = []material.DryingRun{{}}
	}
	if run >= len(powder.Drying.Runs) {
		return &material.DryingRun{}
	}
	return &powder.Drying.Runs[run]
}

// runField makes a field for a quantity of a run.
func runField[D quantity.Dim](p *Filler, i, run int, member string, at func(*material.DryingRun) *quantity.Of[D]) *control.Field {
	place := benchPlace(i, fmt.Sprintf("/drying/runs/%d/%s", run, member))
	look := fieldLook{label: p.text("field.run." + member), hint: p.text("hint.run." + member)}
	return newQuantity(&p.base, place, look, func(d *project.Project) *quantity.Of[D] { return at(p.runIn(d, i, run)) })
}

// addRun is the button for another run: trays and conditions are those of the last.
func (p *Filler) addRun(i int) *widget.Button {
	add := widget.NewButton(p.text("pane.filler.add_run"), func() {
		at := len(powderIn(p.view.Project, i).Drying.Runs)
		err := p.desk.Edit(p.text("pane.filler.add_run"), benchPlace(i, fmt.Sprintf("/drying/runs/%d", at)), func(d *project.Project) error {
			runs := &powderIn(d, i).Drying.Runs
			run := material.DryingRun{}
			if n := len(*runs); n > 0 {
				last := (*runs)[n-1]
				run.OvenTemperature, run.Layer = last.OvenTemperature, last.Layer
				run.RoomTemperature, run.RoomHumidity = last.RoomTemperature, last.RoomHumidity
				run.Trays = slices.Clone(last.Trays)
			}
			*runs = append(*runs, run)
			return nil
		})
		if err == nil {
			p.run = at
			p.Show(p.view)
			p.base.Lead(benchPlace(i, fmt.Sprintf("/drying/runs/%d/readings", at))) // its first weighing comes next
		}
	})
	p.whileRuns(i, add)
	return add
}

// whileRuns lets a button be pressed only while there are runs: the first one
// begins with its first weighing.
func (p *Filler) whileRuns(i int, button *widget.Button) {
	p.remarks = append(p.remarks, func() {
		powder := powderIn(p.view.Project, i)
		if none := powder == nil || len(powder.Drying.Runs) == 0; none != button.Disabled() {
			if none {
				button.Disable()
			} else {
				button.Enable()
			}
		}
	})
}

// runChooser is the list of runs, with the name of the one shown.
func (p *Filler) runChooser(i int) fyne.CanvasObject {
	runs := p.view.Project.Materials[i].Powder.Drying.Runs
	var choices []control.Choice
	for k := range runs {
		choices = append(choices, control.Choice{Value: fmt.Sprint(k), Text: p.runName(&runs[k], k)})
	}
	chooser := control.NewSelectField(control.SelectOptions{
		Label: p.text("pane.filler.run"), Choices: choices, Wide: true,
		Value: func() string { return fmt.Sprint(p.run) },
		OnCommit: func(value string) error {
			_, _ = fmt.Sscan(value, &p.run) // a number of the list
			p.Show(p.view)
			return nil
		},
	})
	return chooser
}

// runCard names the run, or takes it out.
func (p *Filler) runCard(i int) fyne.CanvasObject {
	run := p.run
	remove := widget.NewButton(p.text("pane.filler.remove_run"), func() {
		_ = p.desk.Edit(p.text("pane.filler.remove_run"), benchPlace(i, fmt.Sprintf("/drying/runs/%d", run)), func(d *project.Project) error {
			runs := &powderIn(d, i).Drying.Runs
			if run < len(*runs) {
				*runs = slices.Delete(slices.Clone(*runs), run, run+1)
			}
			return nil
		}) // taking out is never refused
	})
	name := newText(&p.base, benchPlace(i, fmt.Sprintf("/drying/runs/%d/name", run)), p.text("field.run.name"),
		func(d *project.Project) *string { return &p.runIn(d, i, run).Name })
	p.whileRuns(i, remove)
	return section(p.text("pane.filler.run"), name, container.NewHBox(remove))
}

func (p *Filler) runName(run *material.DryingRun, k int) string {
	if run.Name != "" {
		return run.Name
	}
	return p.words().Say("pane.filler.run_number", map[string]any{"Number": k + 1})
}

// trayTable holds the tares, one row a tray. A tray is more than its tare: it has a
// mass in each reading of the log, by its number.
func (p *Filler) trayTable(i, run int) *rowsTable[quantity.Of[quantity.Mass]] {
	p.log.trays = newRowsTable(&p.base, rowsOptions[quantity.Of[quantity.Mass]]{
		place: benchPlace(i, fmt.Sprintf("/drying/runs/%d/trays", run)), label: p.text("pane.filler.trays"),
		most: project.MostRows("/materials/*/powder/drying/runs/*/trays"), shown: 4,
		columns: []column[quantity.Of[quantity.Mass]]{
			numberColumn[quantity.Of[quantity.Mass]](p.text("pane.filler.tray"), 50),
			quantityColumn(&p.base, "", p.text("pane.filler.tare"), 150, "g",
				func(q *quantity.Of[quantity.Mass]) *quantity.Of[quantity.Mass] { return q }),
		},
		list: func(d *project.Project) *[]quantity.Of[quantity.Mass] {
			return &p.runIn(d, i, run).Trays
		},
		keeps: true,
		onOrder: func(d *project.Project, were int, from []int) {
			orderMasses(p.runIn(d, i, run), were, from)
		},
		rowNote: func(index int) string {
			if trays := p.runIn(p.view.Project, i, run).Trays; index < len(trays) && !trays[index].Given() {
				return p.words().Say("pane.filler.no_tare", map[string]any{"Number": index + 1})
			}
			return ""
		},
	})
	return p.log.trays
}
