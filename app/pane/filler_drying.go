package pane

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// trayTable is the table of the tares.
type trayTable = rowsTable[quantity.Of[quantity.Mass]]

// buildDrying is the log of the oven and what follows from it.
func (p *Filler) buildDrying(i int) []fyne.CanvasObject {
	run := p.run
	log := p.dryingLog(i, run)
	p.first = runField(p, i, run, "oven_temperature", func(r *material.DryingRun) *quantity.Of[quantity.Temperature] { return &r.OvenTemperature })
	p.trays = p.trayTable(i, run)
	var choice []fyne.CanvasObject
	if len(powderIn(p.view.Project, i).Drying.Runs) > 1 {
		choice = append(choice, p.runChooser(i))
	}
	return []fyne.CanvasObject{
		section(p.text("pane.filler.drying_log"), append(choice, p.lines(func() []string {
			if len(p.runIn(p.view.Project, i, run).Readings) == 0 {
				return []string{p.text("pane.filler.drying_empty")}
			}
			return nil
		}), log.object(), p.lines(func() []string { return p.runWords(i, run) }))...),
		section(p.text("pane.filler.drying_target"),
			benchField(p, i, "/drying/target", func(d *material.Powder) *quantity.Of[quantity.Fraction] { return &d.Drying.Target }),
			p.lines(func() []string { return p.targetWords(i) }),
			p.useBox(i, "/drying/set_aside", "pane.filler.use_moisture", func(d *material.Powder) *bool { return &d.Drying.SetAside })),
		pairs(p.text("pane.filler.drying_conditions"), p.first,
			runField(p, i, run, "layer", func(r *material.DryingRun) *quantity.Of[quantity.Length] { return &r.Layer }),
			runField(p, i, run, "room_temperature", func(r *material.DryingRun) *quantity.Of[quantity.Temperature] { return &r.RoomTemperature }),
			runField(p, i, run, "room_humidity", func(r *material.DryingRun) *quantity.Of[quantity.Fraction] { return &r.RoomHumidity }),
			runField(p, i, run, "dry_mass", func(r *material.DryingRun) *quantity.Of[quantity.Mass] { return &r.DryMass })),
		section(p.text("pane.filler.trays"), control.NewCaption(p.text("pane.filler.trays_remark")), p.trays.object()),
		section(p.text("pane.filler.fits"), p.lines(func() []string { return p.fitWords(i, run) })),
		section(p.text("pane.filler.shift"), control.NewPairs(8,
			benchField(p, i, "/drying/other_temperature", func(d *material.Powder) *quantity.Of[quantity.Temperature] { return &d.Drying.OtherTemperature }),
			benchField(p, i, "/drying/other_layer", func(d *material.Powder) *quantity.Of[quantity.Length] { return &d.Drying.OtherLayer }),
			benchField(p, i, "/drying/activation_energy", func(d *material.Powder) *quantity.Of[quantity.MolarEnergy] { return &d.Drying.ActivationEnergy }),
			benchField(p, i, "/drying/layer_exponent", func(d *material.Powder) *quantity.Of[quantity.Factor] { return &d.Drying.LayerExponent })),
			p.lines(func() []string { return p.shiftWords(i) })),
		p.runCard(i),
	}
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
	return widget.NewButton(p.text("pane.filler.add_run"), func() {
		at := len(powderIn(p.view.Project, i).Drying.Runs)
		err := p.desk.Edit(p.text("pane.filler.add_run"), benchPlace(i, "/drying/runs"), func(d *project.Project) error {
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

// runCard names the run, adds another or takes it out.
func (p *Filler) runCard(i int) fyne.CanvasObject {
	run := p.run
	remove := widget.NewButton(p.text("pane.filler.remove_run"), func() {
		_ = p.desk.Edit(p.text("pane.filler.remove_run"), benchPlace(i, "/drying/runs"), func(d *project.Project) error {
			runs := &powderIn(d, i).Drying.Runs
			if run < len(*runs) {
				*runs = slices.Delete(slices.Clone(*runs), run, run+1)
			}
			return nil
		}) // taking out is never refused
	})
	name := newText(&p.base, benchPlace(i, fmt.Sprintf("/drying/runs/%d/name", run)), p.text("field.run.name"),
		func(d *project.Project) *string { return &p.runIn(d, i, run).Name })
	return section(p.text("pane.filler.run"), name, container.NewHBox(p.addRun(i), remove))
}

func (p *Filler) runName(run *material.DryingRun, k int) string {
	if run.Name != "" {
		return run.Name
	}
	return p.words().Say("pane.filler.run_number", map[string]any{"Number": k + 1})
}

// trayTable holds the tares, one row a tray.
func (p *Filler) trayTable(i, run int) *trayTable {
	return newRowsTable(&p.base, rowsOptions[quantity.Of[quantity.Mass]]{
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
	})
}

// dryingLog is the table of the weighings.
func (p *Filler) dryingLog(i, run int) *rowsTable[material.DryingReading] {
	row := func(index int) *bench.DryingRow {
		sheet := p.sheet(i)
		if sheet == nil || run >= len(sheet.Drying.Runs) || index >= len(sheet.Drying.Runs[run].Rows) {
			return &bench.DryingRow{}
		}
		return &sheet.Drying.Runs[run].Rows[index]
	}
	columns := []column[material.DryingReading]{
		quantityColumn(&p.base, "time", p.text("pane.filler.time"), 66, "min",
			func(r *material.DryingReading) *quantity.Of[quantity.Duration] { return &r.Time }),
	}
	trays := max(1, len(p.runIn(p.view.Project, i, run).Trays))
	for k := range trays {
		title := p.text("pane.filler.mass")
		if trays > 1 {
			title = p.words().Say("pane.filler.tray_number", map[string]any{"Number": k + 1})
		}
		columns = append(columns, listColumn(&p.base, "masses", k, title, 76, "g",
			func(r *material.DryingReading) *[]quantity.Of[quantity.Mass] { return &r.Masses }))
	}
	number := func(v float64, there bool, decimals int) control.Cell {
		if !there {
			return control.Cell{}
		}
		return muted(p.words().Fixed(v, decimals))
	}
	columns = append(columns,
		computedColumn[material.DryingReading](p.text("pane.filler.wet_percent"), 58, func(index int) control.Cell {
			return number(row(index).WetPercent, row(index).HasMoisture, 2)
		}),
		computedColumn[material.DryingReading](p.text("pane.filler.dry_percent"), 58, func(index int) control.Cell {
			return number(row(index).DryPercent, row(index).HasMoisture, 2)
		}),
		computedColumn[material.DryingReading](p.text("pane.filler.residual"), 58, func(index int) control.Cell {
			return number(row(index).ResidualG, row(index).HasResidual, 2)
		}))
	return newRowsTable(&p.base, rowsOptions[material.DryingReading]{
		place: benchPlace(i, fmt.Sprintf("/drying/runs/%d/readings", run)), label: p.text("pane.filler.drying_log"),
		most: project.MostRows("/materials/*/powder/drying/runs/*/readings"), shown: 10, columns: columns,
		file:    p.text("pane.filler.drying_file"),
		rowNote: func(index int) string { return p.remark(row(index).Remark) },
		list: func(d *project.Project) *[]material.DryingReading {
			return &p.runIn(d, i, run).Readings
		},
	})
}

// runSheet is the outcome of a run; nil when it is gone.
func (p *Filler) runSheet(i, run int) *bench.RunSheet {
	sheet := p.sheet(i)
	if sheet == nil || run >= len(sheet.Drying.Runs) {
		return nil
	}
	return &sheet.Drying.Runs[run]
}

// runWords says how wet the powder was and is.
func (p *Filler) runWords(i, run int) []string {
	s := p.runSheet(i, run)
	if s == nil {
		return nil
	}
	both := func(id string, wet, dry bench.Result) string {
		if !wet.Known() {
			return ""
		}
		return p.words().Say(id, map[string]any{"Wet": p.withInterval(wet), "Dry": p.withInterval(dry)})
	}
	var lines []string
	if sheet := p.sheet(i); len(sheet.Drying.Runs) > 1 {
		id := "pane.filler.run_other"
		if sheet.Drying.Used == run {
			id = "pane.filler.run_used"
		}
		lines = append(lines, p.text(id))
	}
	lines = append(lines,
		both("pane.filler.initial", s.Initial, s.InitialDry), both("pane.filler.now", s.Now, s.NowDry),
		p.toldFinely("pane.filler.dry_mass", s.DryMass), both("pane.filler.floor", s.Floor, s.FloorDry))
	if s.Constant.Known {
		id := "pane.filler.not_constant"
		if s.Constant.Reached {
			id = "pane.filler.constant"
		}
		lines = append(lines, p.words().Say(id, map[string]any{
			"Change": wording.Number{Value: max(s.Constant.ChangePercent, -s.Constant.ChangePercent), Unit: "%", Digits: 2}, "Gap": wording.Number{Value: s.Constant.GapH * 60, Unit: "min"},
		}))
	}
	return append(lines, p.toldFinely("pane.filler.extrapolated", s.Extrapolated))
}

// fitWords says what the two laws come to, and which is used.
func (p *Filler) fitWords(i, run int) []string {
	s := p.runSheet(i, run)
	if s == nil {
		return nil
	}
	var lines []string
	for k, name := range []string{"pane.filler.lewis", "pane.filler.page"} {
		fit := &s.Fits[k]
		if !fit.Known {
			lines = append(lines, p.words().Say("pane.filler.no_fit", map[string]any{"Law": wording.ID(name), "Why": wording.ID("fit." + fit.Why)}))
			continue
		}
		id := "pane.filler.fit_lewis"
		if k == 1 {
			id = "pane.filler.fit_page"
		}
		lines = append(lines, p.words().Say(id, map[string]any{
			"K": p.withInterval(fit.K), "N": p.bare(fit.N), "End": p.finely(fit.End),
			"Residual": wording.Number{Value: fit.ResidualG, Unit: "g", Digits: 2}, "Freedom": fit.Freedom,
		}))
		if s.Better == k {
			lines = append(lines, p.words().Say("pane.filler.fit_used", map[string]any{"Law": wording.ID(name)}))
		}
		if fit.OpenEnded {
			lines = append(lines, p.text("pane.filler.fit_open"))
		}
	}
	return lines
}

// targetWords says how dry the powder must be and how long that takes.
func (p *Filler) targetWords(i int) []string {
	u := p.use(p.view)
	if !u.Target.Known() {
		return []string{p.text("pane.filler.target_open")}
	}
	id := "pane.filler.target_limit"
	if u.TargetFrom == "entered" {
		id = "pane.filler.target_entered"
	}
	values := map[string]any{"Target": shown(u.Target, 2), "Blend": p.view.Results().Name}
	lines := []string{p.words().Say(id, values)}
	switch {
	case u.Beyond:
		lines = append(lines, p.text("pane.filler.target_beyond"))
	case u.Time.Known():
		lines = append(lines, p.told("pane.filler.target_time", u.Time))
		if u.Left.Value > 0 {
			lines = append(lines, p.told("pane.filler.target_left", u.Left))
		} else {
			lines = append(lines, p.text("pane.filler.target_reached"))
		}
		if u.Extrapolated {
			lines = append(lines, p.text("pane.filler.target_extrapolated"))
		}
	}
	return lines
}

// shiftWords says what another oven or layer would take.
func (p *Filler) shiftWords(i int) []string {
	sheet := p.sheet(i)
	if sheet == nil {
		return nil
	}
	u := p.use(p.view)
	lines := []string{
		p.told("pane.filler.shift_energy", sheet.Drying.Energy), p.words().Say("pane.filler.shift_exponent", map[string]any{"Value": p.bare(sheet.Drying.Exponent), "Basis": wording.ID("basis." + sheet.Drying.Exponent.Basis.String())}),
	}
	if u.Shifted.Known() {
		lines = append(lines, p.told("pane.filler.shifted", u.Shifted))
	}
	return append(lines, p.text("pane.filler.shift_remark"))
}
