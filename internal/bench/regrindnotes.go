package bench

import (
	"math"
	"slices"

	"fillwright/internal/project"
)

// missingInRegrind notes what is not known of the powder in regrind.
func (n *notebook) missingInRegrind(part int) {
	r := n.plan.parts[part].regrind
	if r == nil || r.powder < 0 {
		return
	}
	if r.content < 0 {
		n.add(Stop, PaneLine, n.propertyPointer(part, "regrind/content"), "regrind_content_missing",
			map[string]any{"Material": n.partName(part)}, allFigures()...)
	}
	index := n.model.powders[r.powder].material
	powder := &n.project.Materials[index]
	missing := func(place at, member, id string, severity Severity, blocks ...Figure) {
		if place < 0 {
			n.add(severity, PaneFiller, project.MaterialPointer(index, member), id, map[string]any{"Material": nameOf(powder)}, blocks...)
		}
	}
	missing(r.density, "density", "density_missing", Stop, append(densityFigures(), n.flowFigures(MeltFlowGrains)...)...)
	missing(r.packing, "packing_limit", "packing_limit_missing", Caution, append(n.flowFigures(MeltFlowGrains), PackingLimit)...)
	if math.IsNaN(r.oilKnown) {
		missing(r.oil, "oil_content", "oil_content_missing", Caution, n.flowFigures(MeltFlowOil)...)
	}
}

// regrindNotes hold the regrind in a blend against its limits.
func (n *notebook) regrindNotes() {
	if !n.composed {
		return
	}
	for i := range n.plan.parts {
		r := n.plan.parts[i].regrind
		if r == nil || n.st.w[i] == 0 {
			continue
		}
		own := &n.material(i).Regrind
		values := map[string]any{"Material": n.partName(i), "Share": number(n.st.w[i]*100, "wt%", 2)}
		if limit := siOr(own.Limit, usualRegrindShare); n.st.w[i] > limit+1e-9 {
			values["Limit"] = number(limit*100, "wt%", 2)
			n.add(Caution, PaneLine, n.propertyPointer(i, "regrind/limit"), "regrind_over", values)
		}
		if most := mostPasses(own); own.Heats()+1 > most {
			values["Passes"], values["Most"] = own.Heats()+1, most
			n.add(Caution, PaneLine, n.propertyPointer(i, "regrind/passes"), "regrind_often", values)
		}
		if !own.Drift.Given() {
			n.add(Info, PaneLine, n.propertyPointer(i, "regrind/drift"), "regrind_drift", values)
		}
	}
}

// regrindPart is the first part that is regrind, or -1.
func (n *notebook) regrindPart() int {
	return slices.IndexFunc(n.plan.parts, func(p partPlan) bool { return p.regrind != nil })
}
