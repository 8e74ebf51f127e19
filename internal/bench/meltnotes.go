package bench

import (
	"math"

	"fillwright/internal/material"
)

// meltNotes notes what water, grains, oil and heat do to the melt.
func (n *notebook) meltNotes() {
	n.pelletsTooWet()
	n.dampPowder()
	n.waterClass()
	n.stiffMelt()
	n.netFlow()
	n.heat()
}

// pelletsTooWet compares each polymer's moisture with its limit.
func (n *notebook) pelletsTooWet() {
	for i := range n.plan.parts {
		m := n.material(i)
		moisture, known := m.Moisture.Estimate()
		limit, limited := m.MoistureLimit.Estimate()
		if m.Kind != material.Polymer || !known || !limited || moisture.Value <= limit.Value {
			continue
		}
		n.add(Caution, PaneMelt, n.propertyPointer(i, "moisture"), "pellets_too_wet", map[string]any{
			"Material": m.Name, "Moisture": number(moisture.Value*1e6, "ppm", 3), "Limit": number(limit.Value*1e6, "ppm", 3),
		})
	}
}

// dampPowder holds the water that the powder brings against what the polymer takes.
func (n *notebook) dampPowder() {
	st, ok := n.model.nominalState(n.plan)
	if !ok || !n.plan.filled || n.plan.main < 0 {
		return
	}
	_, added := pelletAndPowderWater(n.plan, n.model.Nominal(), &st)
	limit, limited := n.material(n.plan.main).MoistureLimit.Estimate()
	if !limited || !finite(added) || added <= limit.Value {
		return
	}
	powder := n.model.firstPowder(n.plan)
	target := limit.Value * st.polymer / st.powder
	n.add(Caution, PaneFiller, n.propertyPointer(powder, "moisture"), "powder_damp", map[string]any{
		"Powder": n.partName(powder), "Moisture": n.material(powder).Moisture, "Polymer": n.partName(n.plan.main),
		"Water": number(added*1e6, "ppm", 2), "Limit": number(limit.Value*1e6, "ppm", 2),
		"Target": number(target/(1+target)*100, "%", 2), "Bubbles": number(n.bubbles(&st, added)*100, "%", 2),
	})
}

// bubbles is the share of bubbles that the powder's water could blow.
func (n *notebook) bubbles(st *state, waterOnPolymer float64) float64 {
	temperature := n.nominalOr(n.model.set.temperature, 473.15)
	_, share := vapourAt(waterOnPolymer*st.polymer, temperature, st.estimate)
	return share
}

// waterClass says what kind of statement about water is possible at all.
func (n *notebook) waterClass() {
	if n.plan.main < 0 || !n.plan.filled {
		return
	}
	values := map[string]any{"Polymer": n.partName(n.plan.main)}
	field := n.pointer("measured_flow")
	switch n.plan.water {
	case waterUnknown:
		n.add(Caution, PaneMelt, n.propertyPointer(n.plan.main, "class"), "polymer_class_missing", values,
			MeltFlowWater, MeltFlow)
	case waterVoids:
		n.add(Info, PaneMelt, n.propertyPointer(n.plan.main, "moisture"), "water_makes_voids", values)
	case waterBound:
		bound := n.sheet.Results[MeltFlowWaterBound]
		if n.plan.measuredFlow >= 0 {
			return
		}
		if bound.Known() {
			values["Bound"] = number(bound.Value, "", 2)
			n.add(Caution, PaneMelt, field, "water_bound_only", values, MeltFlowWater, MeltFlow)
		} else {
			n.add(Caution, PaneMelt, field, "water_no_rate", values, MeltFlowWater, MeltFlow)
		}
	}
}

// stiffMelt stops a loading at which the melt would no longer flow.
func (n *notebook) stiffMelt() {
	if !n.plan.filled || n.sheet.Results[MeltFlowGrains].Known() || n.explained(MeltFlowGrains) {
		return
	}
	powder := n.model.firstPowder(n.plan)
	n.add(Stop, PaneBlend, n.amountPointer(powder), "will_not_flow", map[string]any{
		"Blend": n.recipe.Name, "Powder": n.partName(powder), "Packing": n.material(powder).PackingLimit,
	}, MeltFlowGrains, MeltFlow)
}

// netFlow says whether the melt runs thinner or thicker, which of the three
// reasons weighs most, and when even the direction is open.
func (n *notebook) netFlow() {
	r := &n.sheet.Results
	if !n.plan.filled || !r[MeltFlow].Known() {
		return
	}
	values := map[string]any{
		"Factor": number(r[MeltFlow].Value, "", 2),
		"Low":    number(r[MeltFlow].Low, "", 2), "High": number(r[MeltFlow].High, "", 2),
		"Grains": number(r[MeltFlowGrains].Value, "", 2), "Water": number(r[MeltFlowWater].Value, "", 2),
		"Oil": number(r[MeltFlowOil].Value, "", 2),
	}
	if r[MeltFlow].Basis == Measured {
		n.add(Info, PaneMelt, n.pointer("measured_flow"), "melt_measured", values)
		return
	}
	if r[MeltFlow].Low < 1 && r[MeltFlow].High > 1 {
		n.add(Caution, PaneMelt, n.pointer("measured_flow"), "melt_direction_open", values)
	}
	id, field := n.dominant()
	severity := Info
	if r[MeltFlow].Value > 1.5 || r[MeltFlow].Value < 0.5 {
		severity = Caution
	}
	n.add(severity, PaneMelt, field, id, values)
}

// dominant names the strongest of the three reasons and the field that eases it.
func (n *notebook) dominant() (id, field string) {
	powder := n.model.firstPowder(n.plan)
	strongest := 0.0
	for _, c := range []struct {
		figure    Figure
		id, field string
	}{
		{MeltFlowGrains, "melt_grains_dominate", n.amountPointer(powder)},
		{MeltFlowWater, "melt_water_dominates", n.propertyPointer(powder, "moisture")},
		{MeltFlowOil, "melt_oil_dominates", n.propertyPointer(powder, "oil_content")},
	} {
		if size := math.Abs(math.Log(n.sheet.Results[c.figure].Value)); size >= strongest {
			strongest, id, field = size, c.id, c.field
		}
	}
	return id, field
}

// heat holds the melt temperature against the polymer's range and the powder's onset.
func (n *notebook) heat() {
	t, known := n.project.Melt.Temperature.Estimate()
	if !known {
		return
	}
	residence, _ := n.project.Melt.Residence.Estimate()
	for i := range n.plan.parts {
		m := n.material(i)
		values := map[string]any{"Material": m.Name, "Temperature": celsius(t.Value)}
		if r, given := m.MeltRange.Estimate(); given && m.Kind == material.Polymer && (t.Value > r.High || t.Value < r.Low) {
			values["Range"] = m.MeltRange
			n.add(Caution, PaneMelt, "/melt/temperature", "outside_melt_range", values)
		}
		onset, given := m.Onset.Estimate()
		if !given {
			continue
		}
		margin := heatMargin(residence.Value)
		values["Onset"], values["Left"], values["Margin"] = celsius(onset.Low), number(onset.Low-t.Value, "K", 2), number(margin, "K", 2)
		switch {
		case t.Value >= onset.Low:
			n.add(Stop, PaneMelt, "/melt/temperature", "above_onset", values)
		case t.Value > onset.Low-margin:
			n.add(Caution, PaneMelt, "/melt/temperature", "near_onset", values)
		}
	}
}

// heatMargin is how far below the onset of decomposition to stay: 10 K for
// less than two minutes in the melt, 20 K for more than five, between them in
// proportion (own rule, not from the literature).
func heatMargin(residenceS float64) float64 {
	return 10 + 10*math.Min(1, math.Max(0, (residenceS-120)/180))
}
