package pane

import (
	"io"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

type (
	length      = quantity.Of[quantity.Length]
	temperature = quantity.Of[quantity.Temperature]
	fraction    = quantity.Of[quantity.Fraction]
	duration    = quantity.Of[quantity.Duration]
)

// buildThroughput is what the line is and how fast it runs.
func (p *Line) buildThroughput() []fyne.CanvasObject {
	speed := lineField(p, "/line/screw_speed", func(d *project.Project) *quantity.Of[quantity.Rotation] { return &d.Line.ScrewSpeed })
	p.first = speed
	return []fyne.CanvasObject{
		section(p.text("pane.line.output"), control.NewPairs(8, speed,
			lineField(p, "/line/die_pressure", func(d *project.Project) *quantity.Of[quantity.Pressure] { return &d.Line.DiePressure })),
			control.NewCaption(p.text("pane.line.outputs_remark")), p.outputTable().object(),
			p.lines(func() []string { return p.throughputOpen() }), p.facts(func() []fact { return p.throughputFacts() }),
			p.captions(func() []string { return p.pullerRule() })),
		section(p.text("pane.line.zones"), control.NewCaption(p.text("pane.line.zones_remark")), p.zoneTable().object()),
		p.machineCard(),
	}
}

// machineCard is what stays the same from one project to the next.
func (p *Line) machineCard() fyne.CanvasObject {
	m := func(d *project.Project) *project.Machine { return &d.Line.Machine }
	name := newText(&p.base, "/line/machine/name", p.text("field.line.machine.name"), func(d *project.Project) *string { return &m(d).Name })
	return control.NewCard(p.text("pane.line.machine"), "", control.NewColumn(8, name,
		control.NewPairs(8,
			lineField(p, "/line/machine/melt_volume", func(d *project.Project) *quantity.Of[quantity.Volume] { return &m(d).MeltVolume }),
			lineField(p, "/line/machine/die_bore", func(d *project.Project) *length { return &m(d).DieBore }),
			lineField(p, "/line/machine/roller", func(d *project.Project) *length { return &m(d).Roller }),
			lineField(p, "/line/machine/screw_diameter", func(d *project.Project) *length { return &m(d).ScrewDiameter }),
			lineField(p, "/line/machine/length_ratio", func(d *project.Project) *quantity.Of[quantity.Factor] { return &m(d).LengthRatio }),
			lineField(p, "/line/machine/channel_depth", func(d *project.Project) *length { return &m(d).ChannelDepth }),
			lineField(p, "/line/machine/lead", func(d *project.Project) *length { return &m(d).Lead }),
			lineField(p, "/line/machine/metering_length", func(d *project.Project) *length { return &m(d).MeteringLength })),
		control.NewCaption(p.text("pane.line.screens_remark")), p.screenTable().object(),
		control.NewPairs(8,
			lineField(p, "/line/machine/screen_volume", func(d *project.Project) *quantity.Of[quantity.Volume] { return &m(d).ScreenVolume }),
			lineField(p, "/line/machine/screen_mass", func(d *project.Project) *quantity.Of[quantity.Mass] { return &m(d).ScreenMass })),
		control.NewPairs(8,
			lineField(p, "/line/machine/oven_floor", func(d *project.Project) *fraction { return &m(d).OvenFloor }),
			lineField(p, "/line/machine/scale_step", func(d *project.Project) *quantity.Of[quantity.Mass] { return &m(d).ScaleStep })),
		p.facts(func() []fact { return p.machineFacts() }),
		container.NewHBox(widget.NewButton(p.text("pane.line.load_machine"), p.loadMachine), widget.NewButton(p.text("pane.line.save_machine"), p.saveMachine))))
}

// outputTable holds what was caught in timed intervals.
func (p *Line) outputTable() *rowsTable[project.Output] {
	return newRowsTable(&p.base, rowsOptions[project.Output]{
		place: "/line/outputs", label: p.text("pane.line.outputs"), most: project.MostRows("/line/outputs"), shown: 5,
		list: func(d *project.Project) *[]project.Output { return &d.Line.Outputs },
		columns: []column[project.Output]{
			numberColumn[project.Output](p.text("pane.line.number"), 50),
			quantityColumn(&p.base, "time", p.text("pane.line.time"), 100, "s", func(o *project.Output) *duration { return &o.Time }),
			quantityColumn(&p.base, "mass", p.text("pane.line.mass"), 100, "g", func(o *project.Output) *quantity.Of[quantity.Mass] { return &o.Mass }),
			computedColumn[project.Output](p.text("pane.line.kg_per_hour"), 90, func(index int) control.Cell {
				rows := p.view.Sheet.Line.Outputs
				if index >= len(rows) || !rows[index].Known {
					return control.Cell{}
				}
				return muted(p.words().Column(rows[index].KgH, 3))
			}),
		},
	})
}

// zoneTable holds the set points of the heated zones.
func (p *Line) zoneTable() *rowsTable[temperature] {
	return newRowsTable(&p.base, rowsOptions[temperature]{
		place: "/line/zones", label: p.text("pane.line.zones"), most: project.MostRows("/line/zones"), shown: 5,
		list: func(d *project.Project) *[]temperature { return &d.Line.Zones },
		columns: []column[temperature]{
			numberColumn[temperature](p.text("pane.line.number"), 50),
			quantityColumn(&p.base, "", p.text("pane.line.set_point"), 200, "°C", func(q *temperature) *temperature { return q }),
		},
	})
}

// screenTable holds the openings of the screens, in the order of the flow.
func (p *Line) screenTable() *rowsTable[length] {
	return newRowsTable(&p.base, rowsOptions[length]{
		place: "/line/machine/screens", label: p.text("pane.line.screens"), most: project.MostRows("/line/machine/screens"), shown: 3,
		list: func(d *project.Project) *[]length { return &d.Line.Machine.Screens },
		columns: []column[length]{
			numberColumn[length](p.text("pane.line.number"), 50),
			byMesh(quantityColumn(&p.base, "", p.text("pane.line.opening"), 200, "um", func(q *length) *length { return q })),
		},
	})
}

// result is a figure of the blend at work.
func (p *Line) result(f bench.Figure) bench.Result {
	if results := p.view.Results(); results != nil {
		return results.Result(f)
	}
	return bench.Result{}
}

// throughputTexts say where the throughput comes from.
var throughputTexts = map[string]string{
	"measured": "pane.line.throughput_measured", "entered": "pane.line.throughput_entered", "drag": "pane.line.throughput_drag",
}

// throughputOpen says what is missing while there is no throughput or no puller speed.
func (p *Line) throughputOpen() []string {
	switch {
	case p.view.Results() == nil:
		return []string{p.text("pane.no_blend")}
	case !p.result(bench.Throughput).Known():
		return []string{p.text("pane.line.throughput_open")}
	case !p.result(bench.PullerSpeed).Known():
		return []string{p.text("pane.line.puller_open")}
	}
	return nil
}

func (p *Line) throughputFacts() []fact {
	from := ""
	if id, known := throughputTexts[p.view.Sheet.Line.ThroughputFrom]; known {
		from = below(p.text(id))
	}
	upper := below(p.text("pane.line.conductivity_upper"))
	if sheet := p.lineSheet(); sheet != nil && sheet.Maxwell.Known() {
		upper += below(p.words().Say("pane.line.conductivity_maxwell", map[string]any{"Value": digits(sheet.Maxwell.Value, "", 3)}))
	}
	swollen := bench.Result{}
	if sheet := p.lineSheet(); sheet != nil {
		swollen = sheet.Swollen
	}
	return []fact{
		p.factWith("figure.throughput", p.result(bench.Throughput), from),
		p.fact("figure.puller_speed", p.result(bench.PullerSpeed)),
		p.factWith("pane.line.swollen", swollen, below(p.text("pane.line.swollen_remark"))),
		p.factWith("figure.draw_down", p.result(bench.DrawDown), below(p.text("pane.line.draw_down_usual"))),
		p.fact("figure.residence_time", p.result(bench.ResidenceTime)),
		p.fact("figure.heat_per_kg", p.result(bench.HeatPerKg)),
		p.factWith("figure.conductivity", p.result(bench.Conductivity), upper),
	}
}

// pullerRule says what a strand that is too thin or too thick asks of the puller.
func (p *Line) pullerRule() []string {
	if !p.result(bench.PullerSpeed).Known() {
		return nil
	}
	return []string{p.text("pane.line.puller_rule")}
}

func (p *Line) machineFacts() []fact {
	return []fact{
		p.factWith("pane.line.screen_change", p.view.Sheet.Line.ScreenChange, below(p.text("pane.line.screen_change_remark"))),
		p.factWith("pane.line.screen_top", p.view.Sheet.Line.ScreenTop, below(p.text("pane.line.screen_top_remark"))),
	}
}

// machineFiles are the endings of files of machines.
var machineFiles = []string{".json"}

// saveMachine writes the machine into a file of its own, for other projects.
func (p *Line) saveMachine() {
	p.desk.Export(p.text("pane.line.machine_file"), func(out io.Writer) error {
		data, err := project.EncodeMachine(p.view.Project.Line.Machine)
		if err != nil {
			return err
		}
		_, err = out.Write(data)
		return err
	})
}

// loadMachine takes a machine out of a file, in one edit. One that is refused changes
// nothing, and is said.
func (p *Line) loadMachine() {
	title := p.text("pane.line.load_machine")
	p.desk.OpenText(title, machineFiles, project.MaxBytes+1, func(name, text string) {
		m, err := project.DecodeMachine([]byte(text))
		if err != nil {
			p.desk.Ask(title, p.words().Say("pane.line.machine_refused", map[string]any{"File": name, "Reason": err}), []string{p.text("dialog.close")}, func(int) {})
			return
		}
		_ = p.desk.Edit(title, "/line/machine/name", func(d *project.Project) error {
			d.Line.Machine = m
			return nil
		}) // a machine that decodes is a valid one
	})
}
