package bench

import (
	"fmt"

	"fillwright/internal/project"
)

// missingFor is what would tell a limit that is not known, and the field where it is
// entered.
func missingFor(p *project.Project, m *Model, blend int, rule *limitRule) (what Answer, field string) {
	b := &m.blends[blend]
	powder, polymer := m.powderMaterial(blend), -1
	if b.main >= 0 {
		polymer = b.parts[b.main].body
	}
	say := func(id, field string) (Answer, string) { return Answer{ID: id}, field }
	for i := range b.parts {
		if b.parts[i].density < 0 && rule.id != LimitLineHeat && rule.id != LimitPrintHeat && rule.id != LimitTopSize {
			return Answer{"limit_missing_density", map[string]any{"Material": nameOf(&p.Materials[b.parts[i].body])}},
				project.MaterialPointer(b.parts[i].body, "density")
		}
	}
	if polymer < 0 && rule.needsPolymer() {
		return say("limit_missing_polymer", fmt.Sprintf("/blends/%d/parts", blend))
	}
	switch rule.id {
	case LimitClog, LimitTopSize:
		return missingGrains(p, m, b, powder, rule.id)
	case LimitPickUp:
		if m.line.pelletD < 0 || m.line.pelletL < 0 {
			return say("limit_missing_pellets", "/line/spreading/pellet_diameter")
		}
		return say("limit_missing_sieves", project.MaterialPointer(m.lacking(b, powder, func(p *powderPlan) at { return p.d50 }), "powder")+"/sieving/sieves")
	case LimitViscosity:
		return say("limit_missing_packing", project.MaterialPointer(powder, "packing_limit"))
	case LimitHydrolysis:
		return missingHydrolysis(p, b, blend, polymer)
	case LimitBubbles:
		if m.set.temperature < 0 {
			return say("limit_missing_temperature", "/melt/temperature")
		}
		return say("limit_missing_moisture", project.MaterialPointer(powder, "moisture"))
	case LimitMoisture:
		return missingMoisture(p, b, polymer, powder)
	case LimitFlat, LimitUpright, LimitStiffness:
		return missingStrength(b, polymer, powder, rule.id)
	case LimitCost:
		if m.reference < 0 {
			return say("limit_missing_reference", "/reference")
		}
		return say("limit_missing_cost", "/cost/throughput")
	case LimitLineHeat, LimitPrintHeat:
		if get := map[LimitID]at{LimitLineHeat: m.set.temperature, LimitPrintHeat: m.set.printTemperature}[rule.id]; get < 0 {
			return say("limit_missing_temperature", rule.field)
		}
		return say("limit_missing_onset", project.MaterialPointer(powder, "onset"))
	}
	return Answer{}, ""
}

// needsPolymer reports whether a rule is about what powder does to a polymer.
func (r *limitRule) needsPolymer() bool {
	switch r.id {
	case LimitPickUp, LimitViscosity, LimitHydrolysis, LimitBubbles, LimitMoisture, LimitFlat, LimitUpright, LimitStiffness:
		return true
	}
	return false
}

func missingGrains(p *project.Project, m *Model, b *blendPlan, powder int, id LimitID) (Answer, string) {
	switch {
	case !p.Print.Nozzle.Given():
		return Answer{ID: "limit_missing_nozzle"}, "/print/nozzle"
	case id == LimitTopSize:
		return Answer{ID: "limit_missing_check_sieve"}, project.MaterialPointer(m.lacking(b, powder, func(p *powderPlan) at { return p.top }), "powder") + "/sieving/check_sieve"
	}
	return Answer{ID: "limit_missing_grains"}, project.MaterialPointer(m.lacking(b, powder, func(p *powderPlan) at { return p.grains }), "powder") + "/clogging/inspections"
}

// lacking is the material of the first powder of a blend of which a number is not known,
// else the one given.
func (m *Model) lacking(b *blendPlan, otherwise int, number func(*powderPlan) at) int {
	for i := range b.parts {
		if k := b.parts[i].powder; k >= 0 && number(&m.powders[k]) < 0 {
			return m.powders[k].material
		}
	}
	return otherwise
}

// missingHydrolysis: what water does is told by the class of the polymer.
func missingHydrolysis(p *project.Project, b *blendPlan, blend, polymer int) (Answer, string) {
	name := map[string]any{"Polymer": nameOf(&p.Materials[polymer])}
	switch b.water {
	case waterVoids:
		return Answer{"limit_idle_water", name}, ""
	case waterUnknown:
		return Answer{"limit_missing_class", name}, project.MaterialPointer(polymer, "class")
	case waterBound:
		return Answer{"limit_missing_flow", name}, "/melt/tests"
	}
	return Answer{"limit_missing_water", name}, fmt.Sprintf("/blends/%d/parts", blend)
}

func missingStrength(b *blendPlan, polymer, powder int, id LimitID) (Answer, string) {
	s := &b.strength
	switch {
	case id == LimitStiffness && s.polymer < 0:
		return Answer{ID: "limit_missing_modulus"}, project.MaterialPointer(polymer, "modulus")
	case id == LimitStiffness && s.powder < 0:
		return Answer{ID: "limit_missing_modulus"}, project.MaterialPointer(powder, "modulus")
	case s.plain[flat] < 0 && (id == LimitFlat || s.plain[upright] < 0):
		return Answer{ID: "limit_missing_plain_strength"}, project.MaterialPointer(polymer, "strength")
	}
	return Answer{ID: "limit_missing_bars"}, "/strength/points"
}

// missingMoisture: the card of the polymer may tell no limit, or the powder was not dried yet.
func missingMoisture(p *project.Project, b *blendPlan, polymer, powder int) (Answer, string) {
	switch {
	case polymer < 0:
		return Answer{ID: "limit_missing_polymer"}, ""
	case !(b.limit > 0):
		return Answer{"limit_idle_moisture", map[string]any{"Polymer": nameOf(&p.Materials[polymer])}}, project.MaterialPointer(polymer, "moisture_limit")
	}
	return Answer{ID: "limit_missing_moisture"}, project.MaterialPointer(powder, "moisture")
}
