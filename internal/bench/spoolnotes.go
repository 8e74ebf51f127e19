package bench

import (
	"math"
	"slices"

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
	if i := n.partWhere(func(m *material.Material) bool {
		return m.Kind == material.Filler && m.Class == material.Shell && m.Calcined
	}); i >= 0 {
		n.add(Stop, PaneFiller, n.propertyPointer(i, "calcined"), "calcined_shell", map[string]any{"Material": n.partName(i)})
	}
	if len(n.plan.parts) == 0 {
		return
	}
	n.powderCaution("name", "safety_dust", material.Organic, material.Metal, material.Other, "")
	n.powderCaution("name", "safety_dust_mineral", material.Shell, material.Hollow)
	n.powderCaution("moisture", "safety_drying", material.Organic)
	n.powderCaution("moisture", "safety_mould", material.Organic)
	n.powderCaution("name", "safety_allergens", material.Organic, material.Shell)
	n.powderCaution("calcined", "safety_shell_never_calcine", material.Shell)
	n.powderCaution("name", "safety_minerals", material.Mineral, material.Fibre)
	n.powderCaution("name", "safety_metal_powders", material.Metal)
	n.add(Info, PaneMelt, "/melt/temperature", "safety_fumes", nil)
	n.add(Info, PaneMelt, "/melt/temperature", "safety_hot_parts", nil)
	if n.has("powder_damp") || n.has("powder_damp_hard") || n.has("pellets_too_wet") {
		n.add(Info, PaneMelt, "/melt/temperature", "safety_moisture_spit", nil)
	}
	n.add(Info, PaneBlend, n.pointer("parts"), "safety_food_contact", nil)
}

// powderCaution adds a caution if the blend holds powder of one of the classes,
// or any powder where none is named.
func (n *notebook) powderCaution(member, id string, classes ...material.Class) {
	i := n.partWhere(func(m *material.Material) bool {
		return m.Kind == material.Filler && (len(classes) == 0 || slices.Contains(classes, m.Class))
	})
	if i >= 0 {
		n.add(Info, PaneFiller, n.propertyPointer(i, member), id, nil)
	}
}

// partWhere is the first part whose material passes a test, or -1.
func (n *notebook) partWhere(test func(*material.Material) bool) int {
	for i := range n.plan.parts {
		if test(n.material(i)) {
			return i
		}
	}
	return -1
}
