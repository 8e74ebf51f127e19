package bench

import (
	"math"
	"strings"

	"fillwright/internal/blend"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/uncertain"
)

// compiler collects the inputs of a project. A pointer is given one place
// among x, however many blends use it, so that what two blends share cancels
// in their difference.
type compiler struct {
	project *project.Project
	model   *Model
	places  map[string]at
	only    figurePart // on which alone the inputs that are placed now act
}

// placing has the inputs that are placed act on one part of the figures alone, until the
// function that it returns is called.
func (c *compiler) placing(part figurePart) (end func()) {
	before := c.only
	c.only = part
	return func() { c.only = before }
}

// Compile flattens a project that has passed validation.
func Compile(p *project.Project) *Model {
	c := &compiler{project: p, places: map[string]at{}}
	c.model = &Model{reference: -1, currency: p.Currency}
	c.powders()
	c.flowTests()
	c.model.set = c.settings()
	c.model.line = c.line()
	for i := range p.Blends {
		c.model.blends = append(c.model.blends, c.blend(i))
		c.model.most = max(c.model.most, len(p.Blends[i].Parts))
		if p.Blends[i].ID == p.Reference {
			c.model.reference = i
		}
	}
	c.model.limits, c.model.axis = c.limitRules(), mostContent(c.project)
	c.model.upTo = max(c.model.axis, usualMost) // where the axis ends changes no limit
	c.model.betweenBends = c.betweenBends()
	c.model.pin = c.pinPlan()
	c.model.nominal = c.model.best()
	c.model.checkCompositions()
	c.model.pinBases()
	c.model.compareBases()
	c.model.keepStates()
	c.bends()
	return c.model
}

// keepStates composes every blend at the best estimates once for all who ask. Nobody
// writes to the states.
func (m *Model) keepStates() {
	for i := range m.blends {
		b := &m.blends[i]
		st, ok := m.nominalState(b)
		b.kept = &composition{st, ok}
	}
}

// checkCompositions finds out which recipes make a whole as they were entered.
// The core takes this over, because amounts that are varied one by one no
// longer add up.
func (m *Model) checkCompositions() {
	x, s := m.best(), m.NewScratch()
	for i := range m.blends {
		b := &m.blends[i]
		n := len(b.parts)
		b.fillAmounts(x, s)
		b.total, b.problem = blend.MassFractions(s.w[:n], s.amounts[:n])
	}
}

// place returns the place of an input, adding it at its first use.
func (c *compiler) place(pointer string, basis Basis, in uncertain.Input) at {
	if i, ok := c.places[pointer]; ok {
		if placed := c.model.input(i); placed.only != c.only {
			placed.only = anyPart
		}
		return i
	}
	i := at(len(c.model.derived) + len(c.model.inputs))
	placed := Input{Pointer: pointer, Basis: basis, Input: in, only: c.only}
	if strings.HasPrefix(pointer, "/") { // nothing that is entered or measured goes below zero in SI
		placed.most = math.MaxFloat64
	}
	c.model.inputs = append(c.model.inputs, placed)
	c.places[pointer] = i
	return i
}

// input places a quantity of the project; one that was not given is absent.
func input[D quantity.Dim](c *compiler, pointer string, basis Basis, q quantity.Of[D]) at {
	e, given := q.Estimate()
	if !given {
		return absent
	}
	i := c.place(pointer, basis, uncertain.Input{Value: e.Value, UMinus: e.StdU, UPlus: e.StdU})
	if e.Spread == quantity.Range { // anything in it is as likely; all else is normal
		c.model.input(i).shape = uncertain.Rectangular
	}
	return i
}

// of places a property of a material. Its basis is "estimated" while the value
// is the library's, and "entered" once the maker has typed an own one.
func of[D quantity.Dim](c *compiler, index int, member string, q quantity.Of[D]) at {
	return input(c, project.MaterialPointer(index, member), c.materialBasis(index, member), q)
}

// moistureInput places the moisture of a material. Its ± reaches down to none: nothing
// holds less water than that.
func moistureInput(c *compiler, index int, q quantity.Of[quantity.Fraction]) at {
	e, given := q.Estimate()
	if !given {
		return absent
	}
	minus, _ := halfWidths(e.Value, math.Max(0, e.Value-coverage*e.StdU), e.Value)
	return c.place(project.MaterialPointer(index, "moisture"), c.materialBasis(index, "moisture"),
		uncertain.Input{Value: e.Value, UMinus: minus, UPlus: e.StdU})
}

func (c *compiler) materialBasis(index int, member string) Basis {
	if _, library := c.project.Materials[index].SourceOf(member); library {
		return Estimated
	}
	return Entered
}

// settings places what all blends share.
func (c *compiler) settings() settings {
	p := c.project
	return settings{
		diameter:    c.diameter(),
		netMass:     input(c, "/spool/net_mass", Entered, p.Spool.NetMass),
		emptyMass:   input(c, "/spool/empty_mass", Measured, p.Spool.EmptyMass),
		weighed:     input(c, "/spool/weighed", Measured, p.Spool.Weighed),
		startUp:     input(c, "/batch/start_up_loss", Entered, p.Batch.StartUpLoss),
		purge:       input(c, "/batch/purge", Entered, p.Batch.Purge),
		scrap:       input(c, "/batch/scrap", Entered, p.Batch.Scrap),
		energyPrice: input(c, "/cost/energy_price", Entered, p.Cost.EnergyPrice),
		power:       input(c, "/cost/power", Entered, p.Cost.Power),
		throughput:  input(c, "/cost/throughput", Entered, p.Cost.Throughput),
		labour:      input(c, "/cost/labour", Entered, p.Cost.Labour),
		wear:        input(c, "/cost/wear", Entered, p.Cost.Wear),
		extraTime:   input(c, "/cost/extra_time", Entered, p.Cost.ExtraTime),
		emptySpool:  input(c, "/cost/empty_spool", Entered, p.Cost.EmptySpool),
		boughtPrice: input(c, "/cost/bought_price", Entered, p.Cost.BoughtPrice),
		bought:      input(c, "/cost/bought_mass", Entered, p.Cost.BoughtMass),
		temperature: input(c, "/melt/temperature", Entered, p.Melt.Temperature),
		residence:   input(c, "/melt/residence", Entered, p.Melt.Residence),
		printMass:   input(c, "/print/mass", Entered, p.Print.Mass),
		nozzle:      input(c, "/print/nozzle", Entered, p.Print.Nozzle),
		rateLog:     c.place("hydrolysis rate", Estimated, hydrolysisRate()),
		exponent:    c.place("molar-mass exponent", Estimated, molarMassExponent()),
		oilEffect:   c.place("oil effect", Estimated, oilEffect()),
		spools:      float64(p.Batch.Spools),

		printTemperature: c.printTemperature(),
	}
}

// printTemperature is that of the print nozzle, which harms or does not harm: no other
// figure hangs on it.
func (c *compiler) printTemperature() at {
	defer c.placing(linePart)()
	return input(c, "/print/temperature", Entered, c.project.Print.Temperature)
}

// blend plans one recipe.
func (c *compiler) blend(index int) blendPlan {
	recipe := &c.project.Blends[index]
	b := blendPlan{id: recipe.ID, index: index, unset: -1, content: math.NaN(), main: -1, molarMass: absent, powder: -1, flowTest: -1}
	b.isReference = recipe.ID == c.project.Reference
	b.measuredDensity = input(c, project.BlendPointer(index, "measured_density"), Measured, recipe.MeasuredDensity)
	if b.measuredFlow, b.flowTest = c.testedRatio(index); b.measuredFlow < 0 {
		b.measuredFlow = input(c, project.BlendPointer(index, "measured_flow"), Measured, recipe.MeasuredFlow)
	}
	b.flowBase = c.flowBaseOf(index)
	b.lumps = c.lumpsOf(index)
	for i := range recipe.Parts {
		m := c.project.MaterialByID(recipe.Parts[i].Material)
		b.parts = append(b.parts, c.part(index, i, m))
		if b.unset < 0 && !recipe.Parts[i].Amount.Given() {
			b.unset = i
		}
		if c.project.Materials[m].Kind == material.Filler {
			b.filled = true
		}
	}
	b.main = mainPart(c.project, index)
	if b.main >= 0 {
		m := b.parts[b.main].body
		b.molarMass = of(c, m, "molar_mass", c.project.Materials[m].MolarMass)
		b.water = waterOn(c.project.Materials[m].Class)
	}
	c.dryingOf(&b, recipe)
	b.heat = c.heatOf(recipe)
	b.strength = c.strengthOf(&b)
	c.bases(&b)
	return b
}

// part plans one part of a recipe.
func (c *compiler) part(blendIndex, partIndex, m int) partPlan {
	mat := &c.project.Materials[m]
	body := c.bodyOf(m)
	solid := &c.project.Materials[body]
	amount := c.project.Blends[blendIndex].Parts[partIndex].Amount
	p := partPlan{
		kind:     mat.Kind,
		body:     body,
		amount:   input(c, project.PartPointer(blendIndex, partIndex, "amount"), Entered, amount.Content()),
		density:  of(c, body, "density", solid.Density),
		melt:     of(c, body, "melt_density", solid.MeltDensity),
		price:    of(c, m, "price", mat.Price),
		moisture: moistureInput(c, m, mat.Moisture),
		packing:  of(c, m, "packing_limit", mat.PackingLimit),
		powder:   -1,
		regrind:  c.regrind(m),
		isOil:    mat.Class == material.MineralOil || mat.Class == material.VegetableOil,
	}
	p.oil, p.oilKnown = oilOf(c, m)
	c.only = linePart
	p.heatCapacity, p.meltingHeat = of(c, body, "heat_capacity", solid.HeatCapacity), of(c, body, "melting_heat", solid.MeltingHeat)
	p.conductivity, p.aspect = of(c, body, "conductivity", solid.Conductivity), of(c, m, "aspect_ratio", mat.AspectRatio)
	c.only = anyPart
	if mat.Kind == material.Filler {
		p.powder = c.model.powderAt(m)
		bench := &c.model.powders[p.powder]
		p.density, p.price, p.moisture, p.packing = bench.density, bench.price, bench.moisture, bench.packing
	}
	p.basis = basisOf(amount)
	return p
}

// basisOf reads the basis of an amount from its unit.
func basisOf(a project.Amount) blend.Basis {
	switch {
	case a.Balance():
		return blend.Balance
	case a.Content().Unit() == "phr":
		return blend.OfPolymer
	case a.Content().Unit() == "vol%":
		return blend.ByVolume
	}
	return blend.OfWhole
}

// mainPart is the polymer part of a blend with the largest amount; a balance wins, and
// fresh pellets over regrind. -1 without any polymer.
func mainPart(p *project.Project, blend int) int {
	best, most := -1, -1.0
	for i, part := range p.Blends[blend].Parts {
		m := &p.Materials[p.MaterialByID(part.Material)]
		if m.Kind != material.Polymer {
			continue
		}
		amount := part.Amount.Content().SI()
		if part.Amount.Balance() {
			amount = 1e3 // more than any phr
		}
		if !m.Regrind.Is() {
			amount += 1e4
		}
		if amount > most {
			best, most = i, amount
		}
	}
	return best
}

// waterOn says what residual water does to a class of polymer. Polyesters and
// polyamides lose chain length; only for PLA is there a rate to estimate with.
func waterOn(class material.Class) water {
	switch class {
	case material.PLA:
		return waterKinetic
	case material.PETG, material.PBAT, material.PA6, material.PA12, material.PHB, material.PHBV, material.TPU:
		return waterBound
	case material.PP, material.ABS:
		return waterVoids
	}
	return waterUnknown
}
