package bench

import (
	"fmt"
	"math"
	"strings"

	"fillwright/internal/blend"
	"fillwright/internal/material"
	"fillwright/internal/wording"
)

var (
	compositionFigures = []Figure{
		Density, DensityEstimated, FillerMassFraction, FillerVolumeFraction, BlendMoisture,
		MaterialCostPerKg, MaterialCostChange, CostPerKg, CostPerMetre, CostPerSpool, CostChangePerMetre, BreakEvenFillerPrice,
		SavingPerSpool, ChangeoverCost, LengthPerSpool, MetresPerKg, MeltFlow, MeltFlowGrains, MeltFlowWater, MeltFlowOil,
	}
	densityFigures = []Figure{
		Density, DensityEstimated, FillerVolumeFraction, MaterialCostChange, CostPerMetre, CostChangePerMetre,
		BreakEvenFillerPrice, SavingPerSpool, LengthPerSpool, MetresPerKg, MeltFlowGrains, MeltFlow,
	}
	priceFigures = []Figure{
		MaterialCostPerKg, MaterialCostChange, CostPerKg, CostPerMetre, CostPerSpool, CostChangePerMetre,
		BreakEvenFillerPrice, SavingPerSpool, ChangeoverCost,
	}
	processFigures = []Figure{
		CostPerKg, CostPerMetre, CostPerSpool, CostChangePerMetre, BreakEvenFillerPrice, SavingPerSpool, ChangeoverCost,
	}
	metreFigures = []Figure{
		LengthPerSpool, MetresPerKg, MaterialCostChange, CostPerMetre, CostChangePerMetre, BreakEvenFillerPrice, SavingPerSpool,
	}
	comparisonFigures = []Figure{MaterialCostChange, CostChangePerMetre, BreakEvenFillerPrice, SavingPerSpool}
)

// unfinished notes what is missing, and which figures wait for it.
func (n *notebook) unfinished() {
	if !n.composed() {
		return
	}
	n.missingProperties()
	n.missingSettings()
	n.missingReference()
	if !n.plan.filled {
		n.add(Info, PaneBlend, n.pointer("parts"), "no_powder", nil, BreakEvenFillerPrice)
	}
}

// composed reports whether the parts make a whole, and notes why they do not.
func (n *notebook) composed() bool {
	amounts := make([]blend.Amount, len(n.plan.parts))
	for i := range n.plan.parts {
		p := &n.plan.parts[i]
		if !n.recipe.Parts[i].Amount.IsZero() || p.amount >= 0 {
			amounts[i] = blend.Amount{Basis: p.basis, Polymer: p.kind == material.Polymer, DensityKgM3: n.nominal(p.density), Value: n.nominalOr(p.amount, 0)}
			continue
		}
		n.add(Stop, PaneBlend, n.amountPointer(i), "amount_missing",
			map[string]any{"Part": n.partName(i), "Blend": n.recipe.Name}, compositionFigures...)
		return false
	}
	total, problem := blend.MassFractions(make([]float64, len(amounts)), amounts)
	if problem == blend.OK {
		return true
	}
	field := n.pointer("parts")
	if len(amounts) > 0 {
		field = n.amountPointer(len(amounts) - 1)
	}
	values := map[string]any{"Blend": n.recipe.Name, "Total": number(total*100, "%", 5)}
	n.add(Stop, PaneBlend, field, problemNote(problem), values, compositionFigures...)
	return false
}

// problemNote names the note of a composition that does not make a whole.
func problemNote(p blend.Problem) string {
	switch p {
	case blend.NoParts:
		return "no_parts"
	case blend.TwoBalances:
		return "two_balances"
	case blend.OverFull:
		return "over_full"
	case blend.MixedWithoutBalance:
		return "mixed_bases"
	case blend.NoPolymer:
		return "phr_without_polymer"
	case blend.NeedsDensity:
		return "volume_needs_density"
	}
	return "parts_do_not_add_up"
}

func (n *notebook) nominal(i at) float64 { return n.nominalOr(i, math.NaN()) }

func (n *notebook) nominalOr(i at, otherwise float64) float64 {
	if i < 0 {
		return otherwise
	}
	return n.model.inputs[i].Value
}

// missingProperties notes properties of the materials that were not given.
func (n *notebook) missingProperties() {
	for i := range n.plan.parts {
		p := &n.plan.parts[i]
		missing := func(place at, member, id string, severity Severity, blocks ...Figure) {
			if place < 0 {
				n.add(severity, paneOf(p.kind, member), n.propertyPointer(i, member), id,
					map[string]any{"Material": n.partName(i)}, blocks...)
			}
		}
		missing(p.density, "density", "density_missing", Stop, densityFigures...)
		missing(p.price, "price", "price_missing", Stop, priceFigures...)
		switch p.kind {
		case material.Polymer:
			missing(p.moisture, "moisture", "pellet_moisture_missing", Caution, BlendMoisture, MeltFlowWater, MeltFlow)
			if n.plan.filled {
				missing(p.melt, "melt_density", "melt_density_missing", Caution, MeltFlowGrains, MeltFlow)
			}
		case material.Filler:
			missing(p.moisture, "moisture", "powder_moisture_missing", Caution, BlendMoisture, MeltFlowWater, MeltFlow)
			missing(p.packing, "packing_limit", "packing_limit_missing", Caution, MeltFlowGrains, MeltFlow)
			if math.IsNaN(p.oilKnown) {
				missing(p.oil, "oil_content", "oil_content_missing", Caution, MeltFlowOil, MeltFlow)
			}
		}
	}
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

func (n *notebook) material(part int) *material.Material {
	return &n.project.Materials[n.project.MaterialByID(n.recipe.Parts[part].Material)]
}

func (n *notebook) partName(part int) string { return n.material(part).Name }

func (n *notebook) propertyPointer(part int, member string) string {
	return materialPointer(n.project.MaterialByID(n.recipe.Parts[part].Material), member)
}

// missingSettings notes what the costs, the length and the melt wait for.
func (n *notebook) missingSettings() {
	s := &n.model.set
	if s.diameter < 0 {
		n.add(Stop, PaneSpool, "/spool/diameter", "diameter_missing", nil, metreFigures...)
	}
	if s.netMass < 0 {
		n.add(Stop, PaneSpool, "/spool/net_mass", "net_mass_missing", nil,
			LengthPerSpool, CostPerKg, CostPerMetre, CostPerSpool, CostChangePerMetre, BreakEvenFillerPrice, SavingPerSpool)
	}
	n.missingCosts()
	if !n.plan.filled || n.plan.water != waterKinetic {
		return
	}
	for _, f := range []struct {
		place at
		field string
		id    string
	}{
		{s.temperature, "/melt/temperature", "melt_temperature_missing"},
		{s.residence, "/melt/residence", "residence_missing"},
		{n.plan.molarMass, n.propertyPointer(n.plan.main, "molar_mass"), "molar_mass_missing"},
	} {
		if f.place < 0 {
			n.add(Caution, PaneMelt, f.field, f.id, nil, MeltFlowWater, MeltFlow)
		}
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
		n.add(Caution, PaneBlend, first, "costs_missing", map[string]any{"Fields": names}, processFigures...)
	}
	if s.emptySpool < 0 {
		n.add(Caution, PaneBlend, "/cost/empty_spool", "empty_spool_missing", nil, CostPerSpool)
	}
}

// missingReference notes that there is nothing to compare with, or that the
// reference itself lacks something.
func (n *notebook) missingReference() {
	r := n.model.reference
	if r < 0 {
		n.add(Caution, PaneBlend, "/reference", "no_reference", nil, comparisonFigures...)
		return
	}
	if r == n.index {
		return
	}
	for _, f := range comparisonFigures {
		if !n.sheet.Results[f].Known() && !n.explained(f) {
			n.add(Caution, PaneBlend, fmt.Sprintf("/blends/%d/parts", r), "reference_unfinished",
				map[string]any{"Reference": n.project.Blends[r].Name}, comparisonFigures...)
			return
		}
	}
}
