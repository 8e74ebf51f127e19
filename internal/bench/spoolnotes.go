package bench

import (
	"math"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// celsius is a temperature for a text.
func celsius(kelvin float64) wording.Number { return number(kelvin-273.15, "°C", 3) }

// spoolNotes notes what the diameter and the scale say.
func (n *notebook) spoolNotes() {
	s := &n.project.Spool
	if weighed, ok := s.Weighed.Estimate(); ok {
		if empty, ok := s.EmptyMass.Estimate(); ok && weighed.Value < empty.Value {
			n.add(Caution, PaneSpool, "/spool/weighed", "spool_lighter_than_empty",
				map[string]any{"Weighed": s.Weighed, "Empty": s.EmptyMass})
		} else if !ok {
			n.add(Info, PaneSpool, "/spool/empty_mass", "empty_mass_missing", nil, RemainingLength)
		}
	}
}

// projectNotes are those that concern no single blend.
func projectNotes(p *project.Project) []Note {
	n := &notebook{project: p}
	if len(p.Blends) == 0 {
		n.add(Stop, PaneBlend, "/blends", "no_blends", nil)
	}
	n.diameterNotes()
	return n.notes
}

// diameterNotes holds the readings against the tolerance.
func (n *notebook) diameterNotes() {
	s := &n.project.Spool
	summary, some := readings(n.project)
	if !some {
		if e, given := s.Diameter.Estimate(); given && e.StdU == 0 {
			n.add(Info, PaneSpool, "/spool/diameter", "diameter_without_spread", nil)
		}
		return
	}
	if !s.Gauge.Given() && gaugeU(n.project) == 0 {
		n.add(Info, PaneSpool, "/spool/gauge", "gauge_missing", nil)
	}
	if summary.N < 10 {
		n.add(Info, PaneSpool, "/spool/readings", "few_readings", map[string]any{"Count": summary.N})
	}
	nominal, given := s.Diameter.Estimate()
	tolerance, limited := s.Tolerance.Estimate()
	if !given || !limited {
		return
	}
	worst := math.Max(summary.Max-nominal.Value, nominal.Value-summary.Min)
	if worst > tolerance.Value {
		n.add(Caution, PaneSpool, "/spool/readings", "out_of_tolerance", map[string]any{
			"Worst": number(worst*1e3, "mm", 2), "Tolerance": s.Tolerance,
		})
	}
}

// safetyNotes are the usual cautions, chosen by what is in the blend.
func (n *notebook) safetyNotes() {
	parts := func(test func(*material.Material) bool) int {
		for i := range n.plan.parts {
			if test(n.material(i)) {
				return i
			}
		}
		return -1
	}
	powder := func(classes ...material.Class) int {
		return parts(func(m *material.Material) bool {
			for _, c := range classes {
				if m.Kind == material.Filler && m.Class == c {
					return true
				}
			}
			return false
		})
	}
	if i := parts(func(m *material.Material) bool {
		return m.Kind == material.Filler && m.Class == material.Shell && m.Calcined
	}); i >= 0 {
		n.add(Stop, PaneFiller, n.propertyPointer(i, "calcined"), "calcined_shell", map[string]any{"Material": n.partName(i)})
	}
	if len(n.plan.parts) == 0 {
		return
	}
	caution := func(i int, pane Pane, member, id string) {
		if i >= 0 {
			n.add(Info, pane, n.propertyPointer(i, member), id, nil)
		}
	}
	caution(parts(func(m *material.Material) bool { return m.Kind == material.Filler }), PaneFiller, "name", "safety_dust")
	caution(powder(material.Organic), PaneFiller, "moisture", "safety_drying")
	caution(powder(material.Organic), PaneFiller, "moisture", "safety_mould")
	caution(powder(material.Organic, material.Shell), PaneFiller, "name", "safety_allergens")
	caution(powder(material.Shell), PaneFiller, "calcined", "safety_shell_never_calcine")
	caution(powder(material.Mineral, material.Fibre), PaneFiller, "name", "safety_minerals")
	caution(powder(material.Metal), PaneFiller, "name", "safety_metal_powders")
	n.add(Info, PaneMelt, "/melt/temperature", "safety_fumes", nil)
	n.add(Info, PaneMelt, "/melt/temperature", "safety_hot_parts", nil)
	if n.has("powder_damp") || n.has("pellets_too_wet") {
		n.add(Info, PaneMelt, "/melt/temperature", "safety_moisture_spit", nil)
	}
	n.add(Info, PaneBlend, n.pointer("parts"), "safety_food_contact", nil)
}
