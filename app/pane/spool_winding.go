package pane

import (
	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// buildWinding is the reel, what it takes, and whether the strand bears its core.
func (p *Spool) buildWinding() []fyne.CanvasObject {
	reel := func(d *project.Project) *project.Reel { return &d.Spool.Reel }
	size := func(member string, of func(*project.Reel) *length) *control.Field {
		return newQuantity(&p.base, "/spool/reel/"+member, p.lookOf("/spool/reel/"+member), func(d *project.Project) *length { return of(reel(d)) })
	}
	core := size("core", func(r *project.Reel) *length { return &r.Core })
	p.first = core
	return []fyne.CanvasObject{
		section(p.text("pane.spool.reel"), control.NewPairs(8, core,
			size("outer", func(r *project.Reel) *length { return &r.Outer }),
			size("width", func(r *project.Reel) *length { return &r.Width }),
			newQuantity(&p.base, "/spool/reel/packing", p.lookOf("/spool/reel/packing"), func(d *project.Project) *quantity.Of[quantity.Fraction] { return &reel(d).Packing })),
			control.NewCaption(p.text("pane.spool.known_remark")),
			control.NewPairs(8,
				newQuantity(&p.base, "/spool/reel/known_mass", p.lookOf("/spool/reel/known_mass"), func(d *project.Project) *mass { return &reel(d).KnownMass }),
				size("known_outer", func(r *project.Reel) *length { return &r.KnownOuter })),
			p.facts(p.windingFacts)),
		section(p.text("pane.spool.bend"), control.NewCaption(p.text("pane.spool.bend_remark")), p.bendTable().object(),
			control.NewPairs(8,
				newQuantity(&p.base, "/spool/bend/safety", p.lookOf("/spool/bend/safety"), func(d *project.Project) *quantity.Of[quantity.Factor] { return &d.Spool.Bend.Safety }),
				newQuantity(&p.base, "/spool/bend/elongation", p.lookOf("/spool/bend/elongation"), func(d *project.Project) *quantity.Of[quantity.Fraction] { return &d.Spool.Bend.Elongation })),
			p.lines(p.bendVerdict), p.facts(p.bendFacts)),
	}
}

// bendTable holds the pieces that were bent around mandrels.
func (p *Spool) bendTable() *rowsTable[project.BendTest] {
	blends := append([]control.Choice{{Value: "", Text: p.text("pane.spool.any_blend")}}, p.blendChoices()...)
	return newRowsTable(&p.base, rowsOptions[project.BendTest]{
		place: "/spool/bend/tests", label: p.text("pane.spool.bend"), most: project.MostRows("/spool/bend/tests"), shown: 4,
		list: func(d *project.Project) *[]project.BendTest { return &d.Spool.Bend.Tests }, file: p.text("pane.spool.bend_file"),
		columns: []column[project.BendTest]{
			quantityColumn(&p.base, "mandrel", p.text("pane.spool.mandrel"), 85, "mm", func(t *project.BendTest) *length { return &t.Mandrel }),
			wholeColumn("pieces", p.text("pane.spool.pieces"), 60, 1, 10000, func(t *project.BendTest) *int { return &t.Pieces }),
			wholeColumn("broken", p.text("pane.spool.broken"), 60, 0, 10000, func(t *project.BendTest) *int { return &t.Broken }),
			quantityColumn(&p.base, "age", p.text("pane.spool.age"), 70, "d", func(t *project.BendTest) *duration { return &t.Age }),
			choiceColumn("blend", p.text("pane.spool.bent_blend"), 110, blends,
				func(t *project.BendTest) string { return string(t.Blend) }, func(t *project.BendTest, v string) { t.Blend = project.BlendID(v) }),
		},
	})
}

// packingFrom says where the packing comes from.
var packingFrom = map[string]string{"entered": "pane.spool.packing_entered", "known": "pane.spool.packing_known", "usual": "pane.spool.packing_usual"}

func (p *Spool) windingFacts() []fact {
	results := p.view.Results()
	if results == nil {
		return nil
	}
	reel := &p.view.Sheet.Reel
	return []fact{
		p.factWith("pane.spool.packing", reel.Packing, below(p.text(packingFrom[reel.PackingFrom]))),
		p.fact("pane.spool.capacity", results.Winding.Capacity),
		p.fact("pane.spool.capacity_mass", results.Winding.CapacityMass),
	}
}

func (p *Spool) bend() *bench.BendSheet {
	if results := p.view.Results(); results != nil {
		return &results.Winding.Bend
	}
	return &bench.BendSheet{}
}

func (p *Spool) bendVerdict() []string {
	b := p.bend()
	if b.Verdict.ID == "" {
		return nil
	}
	list := []string{p.words().Say(b.Verdict.Message())}
	if b.From == "tests" && !b.Aged {
		list = append(list, p.text("pane.spool.bend_again"))
	}
	return list
}

func (p *Spool) bendFacts() []fact {
	b := p.bend()
	return []fact{
		p.fact("pane.spool.core_strain", b.CoreStrain),
		p.fact("pane.spool.survived", b.Mandrel),
		p.fact("pane.spool.may_break", b.MayBreak),
		p.fact("pane.spool.safe_core", b.SafeCore),
	}
}
