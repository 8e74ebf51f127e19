package pane

import (
	"fmt"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/material"
)

// Filler is the pane of the powders: the card of each, and its bench.
type Filler struct {
	base
	*sections[fillerSection]
	chosen  material.ID
	run     int // drying run that is shown; -1 until one is chosen
	step    int // step of preparation that is shown
	advised int // bore whose sieves are shown, counted from one; 0 for the printer's

	powders *control.SelectField
	chooser fyne.CanvasObject
	sources *control.Column
	log     *dryingLog // nil while it is not shown
	steps   *stepList  // nil while they are not shown
}

// fillerSection is a part of the pane.
type fillerSection string

// The parts, in the order of the work.
const (
	sectionProperties  fillerSection = "properties"
	sectionDrying      fillerSection = "drying"
	sectionStorage     fillerSection = "storage"
	sectionPreparation fillerSection = "preparation"
	sectionSieving     fillerSection = "sieving"
	sectionClogging    fillerSection = "clogging"
	sectionGrain       fillerSection = "grain"
)

// fillerSections lists the parts with the catalogue IDs of their names.
var fillerSections = []sectionTitle[fillerSection]{
	{sectionProperties, "pane.filler.tab_properties"},
	{sectionDrying, "pane.filler.tab_drying"},
	{sectionStorage, "pane.filler.tab_storage"},
	{sectionPreparation, "pane.filler.tab_preparation"},
	{sectionSieving, "pane.filler.tab_sieving"},
	{sectionClogging, "pane.filler.tab_clogging"},
	{sectionGrain, "pane.filler.tab_grain"},
}

// NewFiller makes the pane.
func NewFiller(desk Desk) *Filler {
	p := &Filler{base: newBase(bench.PaneFiller, desk), run: -1, sources: control.NewColumn(6)}
	p.chooser = p.newChooser()
	p.sections = newSections(&p.base, p.text("pane.filler.sections"), fillerSections, p.markOf, func() { p.Show(p.view) })
	picture := p.newPicture(p.draw)
	p.split = control.NewSplit(p.column, control.NewCard("", "", picture))
	return p
}

// draw is the picture of the part that is open.
func (p *Filler) draw(v View) figure.Picture {
	i, w := v.Project.MaterialByID(p.chosen), p.words()
	sheet := v.Sheet.Powder(i)
	if sheet == nil || p.section == sectionProperties {
		return figure.Card(v.Project, i, w)
	}
	m, results := &v.Project.Materials[i], v.Results()
	switch p.section {
	case sectionDrying:
		return figure.Drying(sheet, p.run, p.use(v), w)
	case sectionStorage:
		return figure.Storage(m, sheet, w)
	case sectionPreparation:
		return figure.Preparation(m, sheet, w)
	case sectionSieving:
		return figure.Sieving(m, sheet, w)
	case sectionClogging:
		if results == nil || results.Powder != i {
			return figure.Clogging(&bench.BlendSheet{Powder: -1}, w)
		}
		return figure.Clogging(results, w)
	}
	return figure.Grain(sheet, w)
}

// use is what the blend at work asks of the oven in the run that is shown, if its
// first powder is the chosen one.
func (p *Filler) use(v View) bench.DryingUse {
	results := v.Results()
	if results == nil || results.Powder != v.Project.MaterialByID(p.chosen) {
		return bench.DryingUse{}
	}
	if p.run >= 0 && p.run < len(results.DryingRuns) {
		return results.DryingRuns[p.run]
	}
	return results.Drying
}

func (p *Filler) choose(id material.ID) {
	p.chosen, p.run, p.step = id, -1, 0
	p.Show(p.view)
}

// Show brings the pane up to date.
func (p *Filler) Show(v View) {
	if v.Project.MaterialByID(p.chosen) < 0 {
		p.chosen = firstPowder(v)
	}
	p.take(v, p.keyOf(v), p.build)
	p.log.follow(p)
	p.powders.SetChoices(p.choices())
	p.powders.Sync()
	p.tabs.Sync()
	p.refresh()
	p.steps.follow(p) // when its table knows which rows are steps now
}

// keyOf changes when other inputs are needed.
func (p *Filler) keyOf(v View) string {
	i := v.Project.MaterialByID(p.chosen)
	key := fmt.Sprint(p.chosen, i, v.Project.Currency, p.section)
	if i < 0 {
		return key
	}
	powder := &v.Project.Materials[i].Powder
	switch p.section {
	case sectionDrying:
		if sheet := v.Sheet.Powder(i); p.run < 0 && sheet != nil {
			p.run = sheet.Drying.Used
		}
		p.run = max(0, min(p.run, len(powder.Drying.Runs)-1))
		key += fmt.Sprint(p.run, max(1, len(powder.Drying.Runs)))
	}
	return key
}

// firstPowder is a powder of the blend at work, else the first of the project.
func firstPowder(v View) material.ID {
	if blend := v.Blend(); blend != nil {
		for _, part := range blend.Parts {
			if i := v.Project.MaterialByID(part.Material); i >= 0 && v.Project.Materials[i].Kind == material.Filler {
				return part.Material
			}
		}
	}
	for _, m := range v.Project.Materials {
		if m.Kind == material.Filler {
			return m.ID
		}
	}
	return ""
}

func (p *Filler) build() {
	p.log, p.steps = nil, nil
	i := p.view.Project.MaterialByID(p.chosen)
	if i < 0 {
		p.column.SetObjects(p.chooser)
		return
	}
	objects := []fyne.CanvasObject{p.chooser, p.tabs}
	if p.section != sectionProperties { // where the table needs the room
		objects[0] = section("", p.powders)
	}
	objects = append(objects, p.buildSection(i)...)
	p.fill(objects)
}

func (p *Filler) buildSection(i int) []fyne.CanvasObject {
	switch p.section {
	case sectionDrying:
		return p.buildDrying(i)
	case sectionStorage:
		return p.buildStorage(i)
	case sectionPreparation:
		return p.buildPreparation(i)
	case sectionSieving:
		return p.buildSieving(i)
	case sectionClogging:
		return p.buildClogging(i)
	case sectionGrain:
		return p.buildGrain(i)
	}
	return p.buildProperties(i)
}
