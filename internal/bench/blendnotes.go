package bench

import (
	"fillwright/internal/material"
)

// Limits that notes compare with.
const (
	coarseScale  = 0.005 // a weighing error above this is worth a word (common practice)
	slippingOil  = 0.005 // added oil above which the feed of a small screw can slip (common practice)
	notableVoids = 3     // %, own judgement
)

// blendNotes notes what is remarkable about composition, weighing and cost.
func (n *notebook) blendNotes() {
	n.refusedPolymers()
	n.voids()
	n.scale()
	n.letDown()
	n.oil()
	n.breakEven()
}

// breakEven says when no powder price pays: never, or not in so short a run.
func (n *notebook) breakEven() {
	thisRun, longRun := n.sheet.Results[BreakEvenFillerPrice], n.sheet.Results[BreakEvenLongRun]
	if !thisRun.Known() || thisRun.Value >= 0 {
		return
	}
	values := map[string]any{
		"Blend": n.sheet.Name, "Price": number(thisRun.Value, thisRun.Unit, 3),
		"LongRun": number(longRun.Value, longRun.Unit, 3), "Spools": n.project.Batch.Spools, "Count": n.project.Batch.Spools,
	}
	if longRun.Value < 0 {
		n.add(Caution, PaneBlend, "/cost/wear", "cannot_pay", values)
		return
	}
	n.add(Info, PaneBlend, "/batch/spools", "cannot_pay_in_this_run", values)
}

// refusedPolymers stops PVC and POM: both break down to harmful gases in such a line.
func (n *notebook) refusedPolymers() {
	for i := range n.plan.parts {
		if class := n.material(i).Class; class == material.PVC || class == material.POM {
			n.add(Stop, PaneBlend, n.propertyPointer(i, "class"), "no_pvc_pom",
				map[string]any{"Material": n.partName(i)})
		}
	}
}

// voids compares a measured density with the rule of mixtures.
func (n *notebook) voids() {
	v := n.sheet.Results[VoidFraction]
	if !v.Known() {
		return
	}
	values := map[string]any{"Voids": number(v.Value, "%", 2), "Low": number(v.Low, "%", 2), "High": number(v.High, "%", 2)}
	field := n.pointer("measured_density")
	switch {
	case v.High < 0:
		n.add(Caution, PaneBlend, field, "voids_negative", values)
	case v.Low > 0 && v.Value > notableVoids:
		n.add(Caution, PaneBlend, field, "voids", values)
	default:
		n.add(Info, PaneBlend, field, "voids_small", values)
	}
}

// scale notes parts that the scale cannot weigh finely enough.
func (n *notebook) scale() {
	if !scaleStep(n.project).Given() {
		n.add(Info, PaneBlend, "/batch/balance_resolution", "scale_unknown", nil)
		return
	}
	for _, row := range n.sheet.Batch.Rows {
		if row.ScaleError > coarseScale {
			n.add(Caution, PaneBlend, "/batch/balance_resolution", "scale_too_coarse", map[string]any{
				"Material": row.Name, "Mass": number(row.WeighG, "g", 3), "Error": number(row.ScaleError*100, "%", 2),
				"Step": scaleStep(n.project),
			})
		}
	}
}

func (n *notebook) letDown() {
	if l := n.sheet.Batch.LetDown; l.Wanted && !l.Possible {
		n.add(Caution, PaneBlend, n.pointer("masterbatch"), "let_down_impossible", map[string]any{
			"Masterbatch": number(l.MasterIsPct, "wt%", 3),
			"Content":     number(n.sheet.Results[FillerMassFraction].Value, "wt%", 3),
		})
	}
}

// oil notes added oil: how much, and which kind.
func (n *notebook) oil() {
	for i := range n.plan.parts {
		if !n.composed || !n.plan.parts[i].isOil || n.st.w[i] == 0 {
			continue
		}
		values := map[string]any{"Material": n.partName(i), "Share": number(n.st.w[i]*100, "wt%", 2)}
		if n.st.w[i] > slippingOil {
			n.add(Caution, PaneBlend, n.amountPointer(i), "oil_slips", values)
		}
		if n.material(i).Class == material.VegetableOil {
			n.add(Caution, PaneBlend, n.amountPointer(i), "vegetable_oil", values)
		}
	}
}
