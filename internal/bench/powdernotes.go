package bench

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// benchNotes is one powder of a blend while notes are taken of it.
type benchNotes struct {
	*notebook
	plan  *powderPlan
	m     *material.Material
	sheet *PowderSheet
	first bool // the powder whose sizes, moisture and preparation the blend shows
}

// powderNotes notes what the bench of each powder says and lacks.
func (n *notebook) powderNotes(sheets []PowderSheet) {
	for i := range n.plan.parts {
		k := n.plan.parts[i].powder
		if k < 0 || !n.composed {
			continue
		}
		b := &benchNotes{
			notebook: n, plan: &n.model.powders[k], m: n.material(i), sheet: &sheets[k], first: k == n.plan.powder,
		}
		b.dryingNotes()
		b.storageNotes()
		b.preparationNotes()
		b.sievingNotes()
		b.grainNotes()
		b.cloggingNotes(n.plan.shareOf(k, n.x, &n.st))
	}
	n.clogOfAll()
}

// looseNotes notes what the bench says of powders that no finished blend holds: an
// oven that is too hot is too hot for them too. No figure waits for them.
func looseNotes(p *project.Project, m *Model, s *Sheet) []Note {
	held := map[int]bool{}
	for i := range m.blends {
		if _, composed := m.nominalState(&m.blends[i]); !composed {
			continue
		}
		for _, part := range m.blends[i].parts {
			held[part.powder] = true
		}
	}
	n := &notebook{project: p, model: m, x: m.best(), powder: -1}
	for k := range m.powders {
		if held[k] {
			continue
		}
		b := &benchNotes{notebook: n, plan: &m.powders[k], m: &p.Materials[m.powders[k].material], sheet: &s.Powders[k]}
		b.dryingNotes()
		b.storageNotes()
		b.preparationNotes()
		b.sievingNotes()
		b.grainNotes()
	}
	for i := range n.notes {
		n.notes[i].Blocks = nil
	}
	return n.notes
}

// at is the place of something below the powder's bench.
func (b *benchNotes) at(format string, args ...any) string {
	return project.MaterialPointer(b.plan.material, "powder") + fmt.Sprintf(format, args...)
}

// note adds a note of the Filler pane that names the powder.
func (b *benchNotes) note(severity Severity, field, id string, values map[string]any, blocks ...Figure) {
	if values == nil {
		values = map[string]any{}
	}
	values["Powder"] = nameOf(b.m)
	b.add(severity, PaneFiller, field, id, values, b.own(blocks)...)
}

// ofFirst are the figures that a blend takes from its first powder alone.
var ofFirst = []Figure{PowderMoisture, DryingTime, PreparationYield, PreparedCost, SizeD10, SizeD50, SizeD90, TopSize, PackingLimit}

// own leaves out figures that the blend takes from another powder.
func (b *benchNotes) own(blocks []Figure) []Figure {
	if b.first {
		return blocks
	}
	return slices.DeleteFunc(slices.Clone(blocks), func(f Figure) bool { return slices.Contains(ofFirst, f) })
}

// storageNotes: what the powder takes up when it is left open.
func (b *benchNotes) storageNotes() {
	s := &b.m.Powder.Storage
	if s.Humidity.Given() && s.Humidity.SI() > 0.9 {
		b.note(Info, b.at("/storage/humidity"), "humid_store", map[string]any{"Humidity": s.Humidity})
	}
	if !leftOpen(s) {
		return
	}
	sheet := &b.sheet.Storage
	switch {
	case sheet.From == "":
		field, id := b.airMissing(s)
		b.note(Caution, field, id, map[string]any{"Time": s.OpenTime, "Temperature": s.Temperature}, b.waterFigures()...)
	case !sheet.EquilibriumDry.Known():
		b.note(Caution, b.at("/storage/equilibrium"), "storage_impossible", map[string]any{"Time": s.OpenTime}, b.waterFigures()...)
	case sheet.After.Known():
		b.leftOpen(s, sheet)
	}
}

// leftOpen notes what the air did to powder that was left open. Only what took up
// water has to be mended.
func (b *benchNotes) leftOpen(s *material.Storage, sheet *StorageSheet) {
	before := b.plan.start(b.x) * 100
	severity, id := Caution, "left_open"
	if sheet.After.Value <= before*(1+1e-9) {
		severity, id = Info, "left_open_dries"
	}
	b.note(severity, b.at("/storage/open_time"), id, map[string]any{
		"Time": s.OpenTime, "Before": number(before, "%", 2), "After": number(sheet.After.Value, "%", 2),
		"Low": number(sheet.After.Low, "%", 2), "High": number(sheet.After.High, "%", 2),
		"Equilibrium": number(sheet.Equilibrium.Value, "%", 2),
	})
}

// airMissing is what is missing to tell what the powder takes up from the air, and
// where it is entered. The air alone says nothing of powder that is not like wood.
func (b *benchNotes) airMissing(s *material.Storage) (field, id string) {
	law := s.Monolayer.Given() && s.GABC.Given() && s.GABK.Given()
	switch {
	case !likeWood(b.m) && !law:
		return b.at("/storage/equilibrium"), "storage_measure"
	case !s.Humidity.Given():
		return b.at("/storage/humidity"), "storage_air_missing"
	case !s.Temperature.Given():
		return b.at("/storage/temperature"), "storage_air_missing"
	}
	return b.at("/storage/equilibrium"), "storage_air_beyond"
}

// waterFigures wait for the moisture of the powder.
func (b *benchNotes) waterFigures() []Figure {
	if b.notebook.plan == nil {
		return nil
	}
	return append(b.flowFigures(MeltFlowWater), BlendMoisture, PowderMoisture)
}

// preparationNotes: what the chain lacks.
func (b *benchNotes) preparationNotes() {
	chain := b.plan.bench.chain
	if chain == nil {
		if b.first {
			b.note(Info, b.at("/preparation/steps"), "preparation_missing", nil, PreparationYield, PreparedCost)
		}
		return
	}
	for i := range chain.steps {
		b.stepNotes(i, &chain.steps[i])
	}
	if field, missing := b.unpriced(chain); field != "" {
		b.note(Caution, field, "preparation_unpriced", map[string]any{"Fields": missing}, b.preparedFigures()...)
	}
}

// preparedFigures wait for the cost of a usable kilogram: without a price on the card
// everything that the powder costs does.
func (b *benchNotes) preparedFigures() []Figure {
	if b.m.Price.Given() || b.m.Powder.Preparation.SetAside {
		return []Figure{PreparedCost}
	}
	return append(costFigures(), MaterialCostPerKg, PreparedCost)
}

// stepNotes: what one step lacks, and what cannot be or is odd in it.
func (b *benchNotes) stepNotes(i int, s *stepPlan) {
	if s.kind == material.Extract && !b.has("safety_solvent") {
		b.add(Caution, PaneFiller, b.at("/preparation/steps/%d/kind", i), "safety_solvent", nil)
	}
	about := func(member, id string, blocks ...Figure) {
		b.note(Caution, b.at("/preparation/steps/%d/%s", i, member), id, map[string]any{"Row": i + 1, "Step": b.stepName(i)}, blocks...)
	}
	switch {
	case s.from() == "":
		about(s.missing(), "step_yield_missing", append(b.preparedFigures(), PreparationYield)...)
	case !s.possible(b.x):
		about(s.entered(b.x), "step_yield_impossible", append(b.preparedFigures(), PreparationYield)...)
	case s.gains(b.x):
		about(s.entered(b.x), "step_gains")
	}
}

// stepName is what the maker calls a step, or its kind; one without a kind counts as
// the maker's own.
func (b *benchNotes) stepName(i int) any {
	s := &b.m.Powder.Preparation.Steps[i]
	if s.Name != "" {
		return s.Name
	}
	return wording.ID("step." + string(cmp.Or(s.Kind, material.OwnStep)))
}

// unpriced names what the cost of a usable kilogram waits for, and the first place.
func (b *benchNotes) unpriced(chain *chainPlan) (field string, missing []wording.ID) {
	prep := b.at("/preparation")
	energy, time := chain.energyBasis() == Estimated, false
	for i := range chain.steps {
		energy = energy || chain.steps[i].energy >= 0
		time = time || chain.steps[i].time >= 0
	}
	for _, f := range []struct {
		missing bool
		field   string
		name    wording.ID
	}{
		{chain.wet < 0 && chain.paysPerRun(), prep + "/wet_mass", "field.preparation.wet_mass"},
		{chain.wetPrice < 0, prep + "/wet_price", "field.preparation.wet_price"},
		{chain.transport < 0, prep + "/transport", "field.preparation.transport"},
		{chain.energyPrice < 0 && energy, "/cost/energy_price", "field.cost.energy_price"},
		{chain.labour < 0 && time, "/cost/labour", "field.cost.labour"},
	} {
		if f.missing {
			if field == "" {
				field = f.field
			}
			missing = append(missing, f.name)
		}
	}
	return field, missing
}

// grainNotes: weighings that cannot be.
func (b *benchNotes) grainNotes() {
	g := &b.m.Powder.Grain
	x := b.x
	if b.model.derived[b.plan.number(numDensity)].of != nil && !finite(x[b.plan.number(numDensity)]) {
		b.noGrain(g)
	}
	bulk, tapped := x[b.plan.number(numBulk)], x[b.plan.number(numTapped)]
	switch limit := x[b.plan.number(numPacking)]; {
	case finite(bulk) && finite(tapped) && tapped < bulk:
		b.note(Caution, b.at("/grain/tapped_volume"), "tapped_looser", nil)
	case b.model.derived[b.plan.number(numPacking)].of != nil && !finite(limit):
		b.note(Caution, b.at("/grain/tapped_volume"), "packing_impossible", nil)
	case limit > math.Pi/math.Sqrt(18):
		b.note(Info, b.at("/grain/tapped_volume"), "packing_dense", map[string]any{"Packing": number(limit*100, "%", 3)})
	}
	if _, known := liquidDensity(g); !known {
		b.note(Caution, b.at("/grain/liquid_density"), "liquid_unknown", nil)
	}
}

// noGrain notes why the weighings give no density of the grain: they do not without the
// water in the powder either, or that is too much. Where the liquid is at fault, the
// note of that tells it.
func (b *benchNotes) noGrain(g *material.Grain) {
	liquid, known := liquidDensity(g)
	if !known {
		return
	}
	dry := filler.Displacement{FilledKg: g.Full.SI(), PowderKg: g.Powder.SI(), TogetherKg: g.FullWithPowder.SI(), LiquidKgM3: liquid}
	if _, err := dry.GrainDensity(); err != nil {
		b.note(Caution, b.at("/grain/full_with_powder"), "grain_impossible", nil)
		return
	}
	b.note(Caution, b.at("/grain/moisture"), "grain_too_wet", map[string]any{"Moisture": g.Moisture})
}

// liquidDensity is that which was entered, else that of water as warm as it was; not
// known where that is too warm or too cold. 0 while neither is given.
func liquidDensity(g *material.Grain) (kgM3 float64, known bool) {
	if typed, given := g.LiquidDensity.Estimate(); given {
		return typed.Value, true
	}
	temperature, given := g.LiquidTemperature.Estimate()
	if !given {
		return 0, true
	}
	kgM3 = filler.WaterDensity(temperature.Value)
	return kgM3, finite(kgM3)
}
