package pane

import (
	"fmt"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// buildSpreading is how the powder comes onto the pellets, and how evenly into the
// strand.
func (p *Line) buildSpreading() []fyne.CanvasObject {
	s := func(d *project.Project) *project.Spreading { return &d.Line.Spreading }
	diameter := lineField(p, "/line/spreading/pellet_diameter", func(d *project.Project) *length { return &s(d).PelletDiameter })
	p.first = diameter
	objects := []fyne.CanvasObject{
		section(p.text("pane.line.on_pellets"), p.lines(func() []string { return p.spreadWords() }), p.facts(func() []fact { return p.spreadFacts() })),
		section(p.text("pane.line.pellets"), control.NewPairs(8, diameter,
			lineField(p, "/line/spreading/pellet_length", func(d *project.Project) *length { return &s(d).PelletLength }),
			lineField(p, "/line/spreading/ground", func(d *project.Project) *fraction { return &s(d).Ground }),
			lineField(p, "/line/spreading/ground_size", func(d *project.Project) *length { return &s(d).GroundSize }),
			lineField(p, "/line/spreading/coverage", func(d *project.Project) *fraction { return &s(d).Coverage }),
			lineField(p, "/line/spreading/adhesion_size", func(d *project.Project) *length { return &s(d).AdhesionSize }),
			lineField(p, "/line/spreading/feed_period", func(d *project.Project) *duration { return &s(d).FeedPeriod }),
			newNumber(&p.base, "/line/spreading/passes", func(d *project.Project) *int { return &s(d).Passes })),
			p.bulkFields(), p.facts(func() []fact { return p.pelletFacts() })),
	}
	if p.view.Blend() != nil {
		objects = append(objects, p.evennessCard(p.view.Chosen))
	}
	return objects
}

// bulkFields are the densities as poured of the polymer and of the powder.
func (p *Line) bulkFields() fyne.CanvasObject {
	var fields []fyne.CanvasObject
	for _, i := range polymers(p.view) {
		fields = append(fields, newNamedProperty(&p.base, i, "bulk_density", p.words().Say("pane.line.poured", map[string]any{"Material": p.materialName(i)})))
	}
	if results := p.view.Results(); results != nil && results.Powder >= 0 {
		i := results.Powder
		fields = append(fields, newNamedProperty(&p.base, i, "bulk_density", p.words().Say("pane.line.poured", map[string]any{"Material": p.materialName(i)})))
	}
	return control.NewPairs(8, fields...)
}

// evennessCard is what was found of lumps and loadings in strand of a blend.
func (p *Line) evennessCard(blend int) fyne.CanvasObject {
	at := func(d *project.Project) *project.Evenness {
		if blend < len(d.Blends) {
			return &d.Blends[blend].Evenness
		}
		return &project.Evenness{}
	}
	place := func(member string) string { return fmt.Sprintf("/blends/%d/evenness/%s", blend, member) }
	look := func(member string) fieldLook {
		return fieldLook{label: p.text("field.evenness." + member), hint: p.text("hint.evenness." + member)}
	}
	lumps := control.NewNumberField(control.NumberOptions{
		ID: place("lumps"), Label: p.text("field.evenness.lumps"), Min: 0, Max: mostLumps,
		Refusal: p.words().Say("refused.whole_number", map[string]any{"Low": 0, "High": mostLumps}),
		Number: func() (int, bool) {
			e := at(p.view.Project)
			return e.Lumps, e.Lumps > 0 || e.Searched.Given()
		},
		OnCommit: func(n int) error {
			return p.edit(place("lumps"), p.text("field.evenness.lumps"), func(d *project.Project) error { at(d).Lumps = n; return nil })
		},
		OnClear: func() error {
			return p.edit(place("lumps"), p.text("field.evenness.lumps"), func(d *project.Project) error { at(d).Lumps = 0; return nil })
		},
	})
	p.inputs.Add(lumps)
	return p.named(func() string {
		return p.words().Say("pane.line.evenness", map[string]any{"Blend": p.view.Results().Name})
	},
		control.NewPairs(8,
			newQuantity(&p.base, place("searched"), look("searched"), func(d *project.Project) *quantity.Of[quantity.Mass] { return &at(d).Searched }),
			lumps,
			newQuantity(&p.base, place("sample_mass"), look("sample_mass"), func(d *project.Project) *quantity.Of[quantity.Mass] { return &at(d).SampleMass })),
		p.facts(func() []fact { return p.lumpFacts() }),
		control.NewCaption(p.text("pane.line.loadings_remark")),
		newRowsTable(&p.base, rowsOptions[fraction]{
			place: place("loadings"), label: p.text("pane.line.loadings"), most: project.MostRows("/blends/*/evenness/loadings"), shown: 4,
			list: func(d *project.Project) *[]fraction { return &at(d).Loadings },
			columns: []column[fraction]{
				numberColumn[fraction](p.text("pane.line.number"), 50),
				quantityColumn(&p.base, "", p.text("pane.line.loading"), 200, "%", func(q *fraction) *fraction { return q }),
			},
		}).object(),
		p.facts(func() []fact { return p.loadingFacts() }))
}

// mostLumps is how many lumps the document takes.
const mostLumps = 1000000

// spreadWords are the answers in words, or what is missing for them.
func (p *Line) spreadWords() []string {
	results := p.view.Results()
	switch {
	case results == nil:
		return []string{p.text("pane.no_blend")}
	case !results.Filled:
		return []string{p.text("pane.line.no_powder")}
	case len(results.Line.Answer) == 0:
		return []string{p.text("pane.line.spread_open")}
	}
	var list []string
	for _, a := range results.Line.Answer {
		list = append(list, p.words().Say(a.Message()))
	}
	return list
}

func (p *Line) spreadFacts() []fact {
	sheet := p.lineSheet()
	if sheet == nil {
		return nil
	}
	why := ""
	if p.result(bench.PickUpLimitWhole).Known() {
		why = below(p.text("pane.line.by_layer"))
		if sheet.ByAdhesion {
			why = below(p.text("pane.line.by_adhesion"))
		}
	}
	return []fact{
		p.factWith("figure.pick_up_limit_whole_pellets", p.result(bench.PickUpLimitWhole), why),
		p.factWith("figure.pick_up_limit", p.result(bench.PickUpLimit), ""),
		p.factWith("pane.line.ground_needed", sheet.GroundNeeded, ""),
		p.factWith("pane.line.coat_whole", sheet.CoatWhole, ""), p.factWith("pane.line.coat", p.result(bench.CoatThickness), ""),
		p.factWith("figure.random_mix_rsd", p.result(bench.RandomMixRSD), below(p.text("pane.line.random_remark"))),
	}
}

func (p *Line) pelletFacts() []fact {
	sheet := p.lineSheet()
	if sheet == nil {
		return nil
	}
	parting := ""
	if sheet.Parting {
		parting = below(p.text("pane.line.parting"))
	}
	sizes := ""
	if sheet.PartingBySize {
		sizes = below(p.text("pane.line.parting_by_size"))
	}
	return []fact{
		p.factWith("pane.line.surface_whole", sheet.Whole, ""), p.factWith("pane.line.surface_ground", sheet.Ground, ""),
		p.factWith("pane.line.surface_mixed", sheet.Mixed, sizes), p.factWith("pane.line.hopper", sheet.Hopper, parting),
		p.factWith("pane.line.swing", sheet.Swing, below(p.text("pane.line.swing_remark"))),
	}
}

func (p *Line) lumpFacts() []fact {
	return []fact{
		p.fact("figure.lumps_per_metre", p.result(bench.LumpsPerMetre)),
		p.fact("figure.lump_chance_per_print", p.result(bench.LumpChancePerPrint)),
	}
}

// belowTexts remark on a spread below that of a random mix.
var belowTexts = map[bench.BelowRandom]string{
	bench.MaybeBelow: "evenness.maybe_below", bench.CertainlyLess: "evenness.below",
}

func (p *Line) loadingFacts() []fact {
	sheet := p.lineSheet()
	if sheet == nil {
		return nil
	}
	e := &sheet.Evenness
	less := ""
	if id := belowTexts[e.Below]; id != "" {
		less = below(p.text(id))
	}
	return []fact{
		p.factWith("pane.line.mean_loading", e.Mean, ""), p.factWith("pane.line.loading_rsd", e.RSD, less),
		p.factWith("pane.line.random_as_large", e.Random, ""),
		p.factWith("pane.line.lacey", e.Lacey, below(p.text("pane.line.lacey_remark"))),
		p.factWith("pane.line.samples_needed", e.Needed, ""),
	}
}
