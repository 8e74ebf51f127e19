package bench

import (
	"fmt"
	"math"
	"strings"

	"fillwright/internal/blend"
	"fillwright/internal/material"
	"fillwright/internal/wording"
)

// What waits for what. A note names all figures of a group; those that are
// known all the same are taken out at the end (settle).

// allFigures are those that every blend has.
func allFigures() []Figure {
	var list []Figure
	for _, f := range Figures() {
		if !f.Optional() {
			list = append(list, f)
		}
	}
	return list
}

func comparisonFigures() []Figure {
	return []Figure{MaterialCostChange, CostChangePerMetre, BreakEvenFillerPrice, SavingPerSpool, ExtraCostPerRun}
}

func densityFigures() []Figure {
	return append(comparisonFigures(), Density, DensityEstimated, FillerVolumeFraction, CostPerMetre, LengthPerSpool, MetresPerKg,
		GrainsPerMetre, ClogChancePerSpool, PackingLimit)
}

func costFigures() []Figure {
	return append(comparisonFigures(), CostPerKg, CostPerMetre, CostPerSpool, ChangeoverCost)
}

// flowFigures wait for one contribution to the melt flow: itself, the product,
// and where the flow was measured the estimate beside it and what is left for water.
func (n *notebook) flowFigures(contribution Figure) []Figure {
	list := []Figure{contribution, MeltFlow}
	if n.plan.measuredFlow >= 0 {
		list = append(list, MeltFlowModel)
	}
	if n.plan.calibratesWater() && contribution != MeltFlowWater {
		list = append(list, MeltFlowWater)
	}
	return list
}

// unfinished notes what is missing, and which figures wait for it.
func (n *notebook) unfinished() {
	if !n.composed {
		n.notComposed()
		return
	}
	if n.powder < 0 {
		n.add(Info, PaneBlend, n.pointer("parts"), "no_powder", nil, BreakEvenFillerPrice)
	}
	if n.st.polymer == 0 {
		n.add(Stop, PaneBlend, n.pointer("parts"), "no_polymer", map[string]any{"Blend": n.sheet.Name},
			MeltFlow, MeltFlowGrains, MeltFlowWater, MeltFlowOil, MeltFlowRegrind)
	}
	n.missingProperties()
	n.missingSettings()
	n.missingCosts()
	n.missingReference()
}

// notComposed says why the parts do not make a whole.
func (n *notebook) notComposed() {
	for i := range n.recipe.Parts {
		if !n.recipe.Parts[i].Amount.Given() {
			n.add(Stop, PaneBlend, n.amountPointer(i), "amount_missing",
				map[string]any{"Part": n.partName(i), "Blend": n.sheet.Name}, allFigures()...)
		}
	}
	if n.plan.unset >= 0 {
		return
	}
	last := len(n.recipe.Parts) - 1
	field := n.pointer("parts")
	values := map[string]any{"Blend": n.sheet.Name, "Total": number(n.plan.total*100, "%", 5)}
	id := "amounts_contradict"
	switch n.plan.problem {
	case blend.NoParts:
		id = "no_parts"
	case blend.TwoBalances:
		id, field = "two_balances", n.amountPointer(last)
	case blend.OverFull:
		id, field = "over_full", n.amountPointer(last)
	case blend.MixedWithoutBalance:
		id, field = "mixed_bases", n.amountPointer(last)
	case blend.NoPolymer:
		id = "phr_without_polymer"
	case blend.NeedsDensity:
		id, field = "volume_needs_density", n.propertyPointer(n.firstWithoutDensity(), "density")
	case blend.SumNotWhole:
		id, field = "parts_do_not_add_up", n.amountPointer(last)
		if n.plan.parts[last].basis == blend.OfPolymer {
			id, values["Total"] = "polymers_do_not_add_up", number(n.plan.total*100, "phr", 5)
		}
	}
	n.add(Stop, PaneBlend, field, id, values, allFigures()...)
}

func (n *notebook) firstWithoutDensity() int {
	for i := range n.plan.parts {
		if n.plan.parts[i].density < 0 {
			return i
		}
	}
	return 0
}

// missingProperties notes properties of the materials that were not given.
func (n *notebook) missingProperties() {
	for i := range n.plan.parts {
		p := &n.plan.parts[i]
		missing := func(place at, member, id string, severity Severity, blocks ...Figure) {
			if place < 0 {
				pane := paneOf(p.kind, member)
				if p.regrind != nil && member == "moisture" {
					pane = PaneLine
				}
				n.add(severity, pane, n.propertyPointer(i, member), id,
					map[string]any{"Material": n.partName(i)}, blocks...)
			}
		}
		missing(p.density, "density", "density_missing", Stop, append(densityFigures(), n.flowFigures(MeltFlowGrains)...)...)
		if !n.priceByPreparation(p) {
			missing(p.price, "price", "price_missing", Stop, append(costFigures(), MaterialCostPerKg)...)
		}
		wet := append(n.flowFigures(MeltFlowWater), BlendMoisture, PowderMoisture, DryingTime)
		switch p.kind {
		case material.Polymer:
			missing(p.moisture, "moisture", "pellet_moisture_missing", Caution, wet...)
			missing(p.melt, "melt_density", "melt_density_missing", Caution, n.flowFigures(MeltFlowGrains)...)
		case material.Filler:
			missing(p.moisture, "moisture", "powder_moisture_missing", Caution, wet...)
			missing(p.packing, "packing_limit", "packing_limit_missing", Caution, append(n.flowFigures(MeltFlowGrains), PackingLimit)...)
			if math.IsNaN(p.oilKnown) {
				missing(p.oil, "oil_content", "oil_content_missing", Caution, n.flowFigures(MeltFlowOil)...)
			}
		}
		n.missingInRegrind(i)
	}
}

// priceByPreparation reports that the price of a powder is to come from the steps of
// its preparation, whose notes say what it waits for.
func (n *notebook) priceByPreparation(p *partPlan) bool {
	if p.powder < 0 {
		return false
	}
	powder := &n.model.powders[p.powder]
	return powder.bench.chain != nil && !n.project.Materials[powder.material].Powder.Preparation.SetAside
}

// paneOf says where a property of a material is edited.
func paneOf(kind material.Kind, member string) Pane {
	if kind == material.Filler {
		return PaneFiller
	}
	if member == "density" || member == "price" {
		return PaneBlend
	}
	return PaneMelt
}

// missingSettings notes what the length and the melt wait for.
func (n *notebook) missingSettings() {
	s := &n.model.set
	if s.diameter < 0 {
		n.add(Stop, PaneSpool, "/spool/diameter", "diameter_missing", nil, LengthPerSpool, MetresPerKg, CostPerMetre, GrainsPerMetre)
	}
	if s.netMass < 0 {
		n.add(Stop, PaneSpool, "/spool/net_mass", "net_mass_missing", nil, append(costFigures(), LengthPerSpool, ClogChancePerSpool)...)
	}
	if !n.wet {
		return
	}
	water := n.flowFigures(MeltFlowWater)
	if n.plan.water == waterKinetic && s.temperature < 0 {
		n.add(Caution, PaneMelt, "/melt/temperature", "melt_temperature_missing", nil, water...)
	}
	if n.plan.water == waterKinetic && s.residence < 0 {
		n.add(Caution, PaneMelt, "/melt/residence", "residence_missing", nil, water...)
	}
	if (n.plan.water == waterKinetic || n.plan.water == waterBound) && n.plan.molarMass < 0 {
		n.add(Caution, PaneMelt, n.propertyPointer(n.plan.main, "molar_mass"), "molar_mass_missing",
			map[string]any{"Material": n.partName(n.plan.main)}, append(water, MeltFlowWaterBound)...)
	}
}

// missingCosts asks for the costs of making, in one note: none of them is
// taken as zero, and naming them together keeps the list short.
func (n *notebook) missingCosts() {
	s := &n.model.set
	var first string
	var names []wording.ID
	for _, f := range []struct {
		missing bool
		field   string
	}{
		{s.spools == 0, "/batch/spools"},
		{s.startUp < 0, "/batch/start_up_loss"},
		{s.purge < 0 && !n.plan.isReference, "/batch/purge"},
		{s.scrap < 0, "/batch/scrap"},
		{s.energyPrice < 0, "/cost/energy_price"},
		{s.power < 0, "/cost/power"},
		{s.throughput < 0, "/cost/throughput"},
		{s.labour < 0, "/cost/labour"},
		{s.wear < 0 && n.plan.filled, "/cost/wear"},
		{s.extraTime < 0 && n.plan.filled, "/cost/extra_time"},
	} {
		if !f.missing {
			continue
		}
		if first == "" {
			first = f.field
		}
		names = append(names, wording.ID("field"+strings.ReplaceAll(f.field, "/", ".")))
	}
	if first != "" {
		n.add(Caution, PaneBlend, first, "costs_missing", map[string]any{"Fields": names}, costFigures()...)
	}
	if s.emptySpool < 0 {
		n.add(Caution, PaneBlend, "/cost/empty_spool", "empty_spool_missing", nil, CostPerSpool)
	}
}

// missingReference notes that there is nothing to compare with, that the
// reference itself lacks something, or that it costs nothing.
func (n *notebook) missingReference() {
	if n.reference == nil {
		n.add(Caution, PaneBlend, "/reference", "no_reference", nil, comparisonFigures()...)
		return
	}
	r := &n.reference.Results
	values := map[string]any{"Reference": n.reference.Name}
	if n.reference != n.sheet && !(r[Density].Known() && r[MaterialCostPerKg].Known() && r[CostPerKg].Known()) {
		n.add(Caution, PaneBlend, fmt.Sprintf("/blends/%d/parts", n.model.reference), "reference_unfinished", values,
			comparisonFigures()...)
	}
	var waits []Figure
	if r[MaterialCostPerKg].Known() && r[MaterialCostPerKg].Value == 0 {
		waits = append(waits, MaterialCostChange)
	}
	if r[CostPerKg].Known() && r[CostPerKg].Value == 0 {
		waits = append(waits, CostChangePerMetre)
	}
	if waits != nil {
		n.add(Info, PaneBlend, fmt.Sprintf("/blends/%d/parts", n.model.reference), "reference_free", values, waits...)
	}
}
