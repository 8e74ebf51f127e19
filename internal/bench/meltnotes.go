package bench

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"fillwright/internal/blend"
	"fillwright/internal/material"
	"fillwright/internal/melt"
	"fillwright/internal/project"
	"fillwright/internal/wording"
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
		limit, limited := n.body(i).MoistureLimit.Estimate()
		if m.Kind != material.Polymer || !known || !limited || moisture.Value <= limit.Low {
			continue
		}
		n.add(Caution, PaneMelt, n.propertyPointer(i, "moisture"), "pellets_too_wet", map[string]any{
			"Material": n.partName(i), "Moisture": number(moisture.Value*1e6, "ppm", 3), "Limit": number(limit.Low*1e6, "ppm", 3),
		})
	}
}

// hardlyDry is the moisture below which a home oven in an ordinary room hardly
// gets a powder (common practice).
const hardlyDry = 0.0008

// dampPowder holds the water that the powder brings against what the polymer
// takes, of which the pellets have used up a part already. Of a range of limits
// the lower end counts.
func (n *notebook) dampPowder() {
	if n.powder < 0 || n.st.polymer == 0 {
		return
	}
	x := n.atLeast()
	own, added := pelletAndPowderWater(n.plan, x, &n.st)
	limit, limited := n.body(n.plan.main).MoistureLimit.Estimate()
	var pellets any = number(own*1e6, "ppm", 2)
	if !finite(own) { // a note of its own asks for what is missing
		own = n.knownPelletWater(x)
		pellets = Answer{"pellets_partly", map[string]any{"Known": number(own*1e6, "ppm", 2)}}
		if own == 0 {
			pellets = wording.ID("pellets.not_given")
		}
	}
	if !limited || !finite(added) || added == 0 || own+added <= limit.Low {
		return
	}
	left := math.Max(0, limit.Low-own)
	target := blend.DryToWet(left * n.st.polymer / n.st.loose)
	id := "powder_damp"
	if target < hardlyDry {
		id = "powder_damp_hard"
	}
	n.add(Caution, PaneFiller, n.moistureField(n.powder), id, map[string]any{
		"Powder": n.partName(n.powder), "Moisture": n.moistureText(n.powder, x), "Polymer": n.partName(n.plan.main),
		"Water": number((own+added)*1e6, "ppm", 2), "Own": pellets, "Limit": number(limit.Low*1e6, "ppm", 2),
		"Target": number(target*100, "%", 2), "Bubbles": number(n.bubbles(own+added)*100, "%", 2),
	})
}

// knownPelletWater is the water per mass of polymer that those pellets bring of which it is
// known.
func (n *notebook) knownPelletWater(x []float64) float64 {
	own := 0.0
	for i := range n.plan.parts {
		if w := waterOf(&n.plan.parts[i], x); n.plan.parts[i].kind == material.Polymer && finite(w) {
			own += n.st.w[i] * w
		}
	}
	return own / n.st.polymer
}

// atLeast are the best estimates with the moistures before storage in place of those
// that are not known because the powder lay open in air of which nothing is said: it
// can hardly have become drier there.
func (n *notebook) atLeast() []float64 {
	x := n.x
	for i := range n.plan.parts {
		p := &n.plan.parts[i]
		if p.powder < 0 || !n.fromBench(i) || finite(x[p.moisture]) {
			continue
		}
		x = slices.Clone(x)
		x[p.moisture] = n.model.powders[p.powder].damp(n.x)
	}
	return x
}

// moistureText is the moisture of a powder as it was entered, or as its bench
// has it.
func (n *notebook) moistureText(part int, x []float64) any {
	if fed := n.fromBench(part); fed {
		return number(x[n.plan.parts[part].moisture]*100, "%", 2)
	}
	return n.material(part).Moisture
}

// moistureField is where the moisture of a powder is mended: where most of its water
// comes from.
func (n *notebook) moistureField(part int) string {
	if !n.fromBench(part) {
		return n.propertyPointer(part, "moisture")
	}
	powder := &n.model.powders[n.plan.parts[part].powder]
	before, now := powder.damp(n.x), n.x[powder.moisture]
	switch {
	case now > 2*before:
		return n.propertyPointer(part, "powder") + "/storage/open_time"
	case powder.nowDry >= 0:
		return n.propertyPointer(part, "powder") + fmt.Sprintf("/drying/runs/%d/readings", powder.bench.used)
	}
	return n.propertyPointer(part, "moisture")
}

// fromBench reports whether the moisture of a part comes from the bench.
func (n *notebook) fromBench(part int) bool {
	at := n.plan.parts[part].moisture
	return at >= 0 && int(at) < len(n.model.derived)
}

// bubbles is the share of bubbles in the melt that the water on the polymer could make.
// While temperature or densities are not given, 200 °C and the volume of plain
// polyester melt stand in: the share hardly depends on them.
func (n *notebook) bubbles(waterOnPolymer float64) float64 {
	const usualTempK, usualMeltM3Kg = 473.15, 0.9e-3
	volume := n.st.mix.volume
	if !finite(volume) {
		volume = usualMeltM3Kg
	}
	return bubbleShare(waterOnPolymer*n.st.polymer, n.nominalOr(n.model.set.temperature, usualTempK), volume)
}

func (n *notebook) nominalOr(i at, otherwise float64) float64 {
	if i < 0 {
		return otherwise
	}
	return n.x[i]
}

// waterClass says what kind of statement about water is possible at all.
func (n *notebook) waterClass() {
	if !n.wet || n.plan.main < 0 {
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

// stiffMelt stops a loading at which the melt would no longer flow, unless a
// measurement says that it does: then the packing limit is wrong.
func (n *notebook) stiffMelt() {
	part := n.powder
	if part < 0 {
		part = n.regrindPart()
	}
	phi, limit := n.st.mix.phi(), n.st.mix.limit()
	if part < 0 || math.IsNaN(phi) || math.IsNaN(limit) || melt.WillFlow(phi, limit) {
		return
	}
	values := map[string]any{
		"Blend": n.sheet.Name, "Powder": n.partName(part), "Packing": number(limit*100, "%", 3),
		"Volume": number(phi*100, "vol%", 2),
	}
	if n.plan.measuredFlow >= 0 {
		n.add(Caution, PaneFiller, n.packingField(part), "flows_beyond_packing", values,
			n.flowFigures(MeltFlowGrains)...)
		return
	}
	n.add(Stop, PaneBlend, n.amountPointer(part), "will_not_flow", values, n.flowFigures(MeltFlowGrains)...)
}

// packingField is where the packing limit of the powder in a part is entered.
func (n *notebook) packingField(part int) string {
	if r := n.plan.parts[part].regrind; r != nil && r.powder >= 0 {
		return project.MaterialPointer(n.model.powders[r.powder].material, "packing_limit")
	}
	return n.propertyPointer(part, "packing_limit")
}

// netFlow says whether the melt runs thinner or thicker, which of the
// reasons weighs most, and when even the direction is open.
func (n *notebook) netFlow() {
	r := &n.sheet.Results
	if n.powder < 0 && !r[MeltFlowRegrind].Known() || !r[MeltFlow].Known() {
		return
	}
	values := map[string]any{
		"Factor": number(r[MeltFlow].Value, "", 2),
		"Low":    number(r[MeltFlow].Low, "", 2), "High": number(r[MeltFlow].High, "", 2),
	}
	field := n.pointer("measured_flow")
	if n.plan.measuredFlow >= 0 {
		values["Factor"] = number(r[MeltFlow].Value, "", 3)
		n.add(Info, PaneMelt, field, "melt_measured", values)
		return
	}
	for name, f := range map[string]Figure{"Grains": MeltFlowGrains, "Water": MeltFlowWater, "Oil": MeltFlowOil, "Regrind": MeltFlowRegrind} {
		values[name] = banded(r[f])
	}
	if r[MeltFlow].Low < 1 && r[MeltFlow].High > 1 {
		n.add(Caution, PaneMelt, field, "melt_direction_open", values)
	}
	values["Together"] = banded(r[MeltFlow])
	id, field := n.dominant()
	severity := Info
	if r[MeltFlow].Value > thinMelt || r[MeltFlow].Value < thickMelt {
		severity = Caution
	}
	n.add(severity, PaneMelt, field, id, values)
}

// banded is a factor as a note tells it: with its interval, unless that has no width in
// the digits that are printed.
type banded Result

// Message makes it readable by wording.
func (b banded) Message() (string, map[string]any) {
	const digits = 2
	values := map[string]any{"Value": number(b.Value, "", digits)}
	if printed := func(v float64) string { return strconv.FormatFloat(v, 'g', digits, 64) }; printed(b.Low) == printed(b.High) {
		return "pane.value", values
	}
	values["Low"], values["High"] = number(b.Low, "", digits), number(b.High, "", digits)
	return "pane.with_interval", values
}

// Beyond these factors the melt flow is far enough from that of the plain
// polymer to upset a line that was set up for it (own judgement).
const (
	thinMelt  = 1.5
	thickMelt = 0.5
)

// dominant names the strongest of the reasons and the field that eases it.
func (n *notebook) dominant() (id, field string) {
	type reason struct {
		figure    Figure
		id, field string
	}
	var reasons []reason
	if n.powder >= 0 {
		reasons = []reason{
			{MeltFlowGrains, "melt_grains_dominate", n.amountPointer(n.powder)},
			{MeltFlowWater, "melt_water_dominates", n.moistureField(n.powder)},
			{MeltFlowOil, "melt_oil_dominates", n.oilField()},
		}
	}
	if i := n.regrindPart(); i >= 0 {
		reasons = append(reasons, reason{MeltFlowRegrind, "melt_regrind_dominates", n.propertyPointer(i, "regrind/drift")})
	}
	strongest := -1.0
	for _, c := range reasons {
		if size := math.Abs(math.Log(n.sheet.Results[c.figure].Value)); size > strongest {
			strongest, id, field = size, c.id, c.field
		}
	}
	return id, field
}

// oilField is where the largest source of oil is entered: the amount of an
// added oil, or the oil content of a powder.
func (n *notebook) oilField() string {
	field, most := n.propertyPointer(n.powder, "oil_content"), 0.0
	for i := range n.plan.parts {
		p, oil := &n.plan.parts[i], 0.0
		switch {
		case p.isOil:
			oil = n.st.w[i]
		case p.kind == material.Filler:
			oil = n.st.w[i] * n.nominalOr(p.oil, 0)
		}
		if oil <= most {
			continue
		}
		most, field = oil, n.propertyPointer(i, "oil_content")
		if p.isOil {
			field = n.amountPointer(i)
		}
	}
	return field
}

// meltRange holds the melt temperature against what a polymer needs.
func (n *notebook) meltRange(m *material.Material, tempK float64) {
	if m.Kind != material.Polymer {
		return
	}
	values := map[string]any{"Material": nameOf(m), "Temperature": celsius(tempK)}
	r, _ := m.MeltRange.Estimate()
	if melting, given := m.Melting.Estimate(); given && tempK < melting.Low {
		values["Melting"] = m.Melting
		n.add(Stop, PaneMelt, "/melt/temperature", "below_melting", values)
	} else if r.High > r.Low && (tempK > r.High || tempK < r.Low) {
		values["Range"] = m.MeltRange
		n.add(Caution, PaneMelt, "/melt/temperature", "outside_melt_range", values)
	}
}

// heat holds the melt temperature against the polymer's range and every part's onset.
func (n *notebook) heat() {
	t, known := n.project.Melt.Temperature.Estimate()
	if !known {
		return
	}
	margin := n.heatMargin()
	told := map[int]bool{} // polymers, of which regrind may be made too
	for i := range n.plan.parts {
		if body := n.plan.parts[i].body; !told[body] {
			told[body] = true
			n.meltRange(n.body(i), t.Value)
		}
		onset := n.plan.heat[i].OnsetK
		if !finite(onset) || t.Value <= onset-margin {
			continue
		}
		values := map[string]any{
			"Material": n.partName(i), "Temperature": celsius(t.Value), "Onset": celsius(onset),
			"Left": number(onset-t.Value, "K", 2), "Margin": number(margin, "K", 2),
		}
		if t.Value >= onset {
			n.add(Stop, PaneMelt, "/melt/temperature", "above_onset", values)
		} else {
			n.add(Caution, PaneMelt, "/melt/temperature", "near_onset", values)
		}
	}
}

// heatMargin is the margin for the time in the melt that was entered.
func (n *notebook) heatMargin() float64 {
	residence, given := n.project.Melt.Residence.Estimate()
	if !given {
		return melt.HeatMargin(math.NaN())
	}
	return melt.HeatMargin(residence.Value)
}
