package bench

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/uncertain"
)

// Sheet is everything that is computed from one project.
type Sheet struct {
	Currency  string
	Reference int // index of the reference blend, or -1
	Blends    []BlendSheet
	Powders   []PowderSheet
	FlowTests []FlowTestSheet
	Line      LineSheet
	Reel      ReelSheet
	Spools    []SpoolSheet
	Totals    []SpoolTotal // of the spools, by blend
	Notes     []Note       // of the whole project; those of a blend stand with it
	Plan      PlanSheet
	Model     *Model

	project *project.Project
	limits  []*LimitSheet // of the blends, as far as they were asked for
	lifts   []*lifted
	drawn   []*FigureDraws
}

// Limits is how much powder a blend can carry. It is worked out when it is first asked
// for, because that takes longer than all the rest; a sheet serves one goroutine at a time.
func (s *Sheet) Limits(blend int) *LimitSheet {
	if blend < 0 || blend >= len(s.Blends) {
		sheet := s.Model.Limits(s.project, s, blend)
		return &sheet
	}
	if s.limits[blend] == nil {
		sheet := s.Model.Limits(s.project, s, blend)
		s.limits[blend] = &sheet
	}
	return s.limits[blend]
}

// BlendSheet is everything that is computed for one blend.
type BlendSheet struct {
	ID      project.BlendID
	Name    string // its ID while it has none
	Results [FigureCount]Result
	Notes   []Note // worst first
	Batch   BatchSheet
	Answer  Answer // cost in words
	Filled  bool   // has a powder among its parts
	Powder  int    // material of its first powder, -1 for none
	Drying  DryingUse
	// DryingRuns is the same of every run of its first powder in the oven.
	DryingRuns []DryingUse
	Clog       BlendClog
	Melt       BlendMelt
	Line       BlendLine
	Regrind    RegrindSheet
	Winding    BlendWinding
	Draws      int    // that the intervals rest on, 0 for first order
	Fetch      Result // wet mass of the first powder for this batch, kg
}

// Shows reports whether a figure belongs to the sheet: known, or missed in a
// blend of this sort.
func (b *BlendSheet) Shows(f Figure) bool {
	return b.Results[f].Known() || !f.Optional() && (b.Filled || !f.Powder())
}

// Result of one figure.
func (b *BlendSheet) Result(f Figure) Result { return b.Results[f] }

// Evaluate computes the sheet of a project.
func Evaluate(p *project.Project) *Sheet {
	m := Compile(p)
	s := &Sheet{Currency: p.Currency, Reference: m.reference, Model: m, Blends: make([]BlendSheet, len(p.Blends)), project: p, limits: make([]*LimitSheet, len(p.Blends)), lifts: make([]*lifted, len(p.Blends))}
	results, numbers := m.evaluate()
	s.Powders = powderSheets(p, m, numbers)
	s.FlowTests = flowTestSheets(p, m)
	for i := range p.Blends {
		b := &s.Blends[i]
		b.ID, b.Name, b.Results = p.Blends[i].ID, cmp.Or(p.Blends[i].Name, string(p.Blends[i].ID)), results[i]
		b.Filled, b.Powder = m.blends[i].filled, m.powderMaterial(i)
		b.Batch = batchSheet(p, m, i)
	}
	for i := range s.Blends {
		s.Blends[i].Drying, s.Blends[i].DryingRuns = m.dryingUses(p, i, s.Blends[i].Results[DryingTime])
		s.Blends[i].Clog = blendClog(p, m, s, i)
		s.Blends[i].Fetch = fetch(m, s, i)
		s.Blends[i].Melt = blendMelt(p, m, s, i)
		s.Blends[i].Line = blendLine(p, m, s, i)
		s.Blends[i].Regrind = regrindSheet(p, m, s, i)
		s.Blends[i].Answer = answer(p, s, i)
	}
	s.Line = lineSheet(p, m, s)
	s.spools(p, m)
	s.Plan = planSheet(p, s)
	takeNotes(p, m, s)
	return s
}

// nameOf is what a material is called: its ID while it has no name.
func nameOf(m *material.Material) string { return cmp.Or(m.Name, string(m.ID)) }

// Results evaluates the model at its best estimates, one array per blend.
func (m *Model) Results() [][FigureCount]Result {
	results, _ := m.evaluate()
	return results
}

// evaluate evaluates the model at its best estimates, with first-order
// intervals (GUM 5.1): the figures of each blend, and the derived numbers of the
// powders.
//
// Only inputs with an uncertainty are handed on: what is exact, as most amounts
// are, would cost memory with every figure of every blend.
func (m *Model) evaluate() (results [][FigureCount]Result, numbers []Result) {
	vary := m.varying()
	in := make([]uncertain.Input, len(vary))
	for k, i := range vary {
		in[k] = m.inputs[i].Input
	}
	first := uncertain.NewScratchKeeping(len(in), m.Outputs(), m.countedFigures())
	y, down, up := uncertain.FirstOrder(m.varied(vary), in, nil, first)
	results = make([][FigureCount]Result, len(m.blends))
	for b := range m.blends {
		g := m.grainSpread(&m.blends[b])
		besides := func(j int) float64 {
			return m.besidesGrains(vary, y[j], func(k int) float64 { return first.Contribution(j, k) })
		}
		for f := range FigureCount {
			j := b*FigureCount + f
			results[b][f] = m.result(&m.blends[b], Figure(f), interval{y[j], down[j], up[j]}, func() (low, high float64) { return g.ends(y[j], besides(j), up[j]) })
		}
	}
	for k := range m.derived {
		j := len(m.blends)*FigureCount + k
		numbers = append(numbers, m.number(powderNumber(k%int(powderNumbers)), y[j], down[j], up[j], m.derived[k].basis))
	}
	return results, numbers
}

// countedFigures are the places of the figures that are numbers of grains: of these alone
// it is asked what each input adds.
func (m *Model) countedFigures() (places []int) {
	for j := range len(m.blends) * int(FigureCount) {
		if definitions[j%int(FigureCount)].grains {
			places = append(places, j)
		}
	}
	return places
}

// varied is the core over the inputs that are varied. Where one alone is off its best
// estimate, on which nothing but figures of the line hangs, the others stay as they are
// at the best estimates, which come first.
func (m *Model) varied(vary []int) func(varied, y []float64) {
	x, scratch := m.Nominal(), m.NewScratch()
	var nominal []float64
	return func(varied, y []float64) {
		off, only := 0, anyPart
		for k, i := range vary {
			x[i] = varied[k]
			if varied[k] != m.inputs[i].Value {
				off, only = off+1, m.inputs[i].only
			}
		}
		if off == 1 && only != anyPart && nominal != nil {
			copy(y, nominal)
			m.evalPart(only, x, y, scratch)
			return
		}
		m.Eval(x, y, scratch)
		if off == 0 && nominal == nil {
			nominal = slices.Clone(y)
		}
	}
}

// evalPart computes one part of the figures alone.
func (m *Model) evalPart(part figurePart, x, y []float64, s *Scratch) {
	switch part {
	case linePart:
		m.evalLine(x, y, s)
	case strengthPart:
		m.evalStrength(x, y, s)
	}
}

// number brings one derived number to its trade unit.
func (m *Model) number(n powderNumber, value, down, up float64, basis Basis) Result {
	u := powderUnits[n]
	low, high := value-coverage*down, value+coverage*up
	if value >= 0 {
		low = notBelowZero(value, low)
	}
	if n.share() {
		high = notAboveAll(value, high)
	}
	return newResult(value*u.perSI, low*u.perSI, high*u.perSI, m.unit(u.unit), basis)
}

// interval is a figure in SI with its standard uncertainties down and up.
type interval struct{ value, down, up float64 }

// result brings one figure of the core to its trade unit. grains are the ends of a
// number of grains.
func (m *Model) result(b *blendPlan, f Figure, i interval, grains func() (low, high float64)) Result {
	value := i.value
	d := definitions[f]
	low, high := d.interval(value, i.down, i.up)
	if f == MeltFlowWater && !b.calibratesWater() {
		low = max(low, 1) // added water cuts chains, it never joins them
	}
	switch {
	case d.grains:
		low, high = grains()
	case d.share:
		low, high = notBelowZero(value, low), notAboveAll(value, high)
	case d.notNegative(f):
		low = notBelowZero(value, low)
	}
	if d.chance { // of at least one, when so many are to be expected
		value, low, high = -math.Expm1(-value), -math.Expm1(-low), -math.Expm1(-high)
	}
	return newResult(value*d.perSI, low*d.perSI, high*d.perSI, m.unit(d.unit), b.basis[f])
}

// notNegative reports whether a figure is one that nothing makes less than none of.
func (d definition) notNegative(f Figure) bool {
	switch f {
	case WaterFromPellets, WaterFromPowder, LumpsPerMetre, PurgeCost99:
		return true
	}
	return d.chance
}

// grainSpread is how far the grains of all powders of a blend are off, by themselves:
// standard uncertainties down and up, as shares.
type grainSpread struct{ down, up float64 }

func (m *Model) grainSpread(b *blendPlan) (g grainSpread) {
	st, composed := m.nominalState(b)
	if !composed {
		return g
	}
	all, x := 0.0, m.best()
	for k := range m.powders { // loose or within regrind, the grains of a powder are off together
		if w := b.shareOf(k, x, &st); w > 0 && m.powders[k].grains >= 0 {
			in := m.input(m.powders[k].grains)
			all += w * x[m.powders[k].grains]
			g.down, g.up = math.Hypot(g.down, w*in.UMinus), math.Hypot(g.up, w*in.UPlus)
		}
	}
	if all > 0 {
		g.down, g.up = g.down/all, g.up/all
	}
	return g
}

// besidesGrains is the standard uncertainty of a number of grains by all inputs but the
// grains themselves, as a share; contribution is the squared one of an input.
func (m *Model) besidesGrains(vary []int, value float64, contribution func(k int) float64) float64 {
	squares := 0.0
	for k, i := range vary {
		place := at(len(m.derived) + i)
		if !slices.ContainsFunc(m.powders, func(p powderPlan) bool { return p.grains == place }) {
			squares += contribution(k)
		}
	}
	return math.Sqrt(squares) / value
}

// ends are those of a number of grains. Those of the grains themselves reach far,
// down to nothing, and are what was counted; all that goes into the number besides,
// such as the diameter, joins them on the logarithm, so that what was seen cannot
// become nothing.
func (g grainSpread) ends(value, besides, up float64) (low, high float64) {
	if !(value > 0) {
		return value, value + coverage*up // none are likely, or nothing is known
	}
	off := coverage * besides
	high = value * math.Exp(math.Hypot(math.Log1p(coverage*g.up), off))
	if least := 1 - coverage*g.down; least > 1e-13 { // else it is what rounding leaves
		low = value * math.Exp(-math.Hypot(math.Log(least), off))
	}
	return low, high
}

// notBelowZero keeps the low end of a count or a share from 0 down, and what
// rounding leaves of it.
func notBelowZero(value, low float64) float64 {
	if low < 1e-9*value {
		return 0
	}
	return low
}

// notAboveAll keeps the high end of a share from more than the whole. A value above it
// stands, with its interval: washed powder can weigh more than what was fetched, and
// else something is wrong that must be seen.
func notAboveAll(value, high float64) float64 {
	if value <= 1 {
		return min(high, 1)
	}
	return high
}

// unit puts the currency of the project into a unit.
func (m *Model) unit(unit string) string {
	if strings.HasPrefix(unit, "CUR") {
		return m.currency + unit[len("CUR"):]
	}
	return unit
}
