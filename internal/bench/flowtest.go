package bench

import (
	"math"
	"strconv"

	"fillwright/internal/blend"
	"fillwright/internal/material"
	"fillwright/internal/melt"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/uncertain"
)

// testedFlow is one melt-flow test of the document, worked out once before the
// core.
type testedFlow struct {
	blend    int // index in the project; -1 while none is named
	byMass   melt.FlowTest
	byVolume melt.FlowTest
	massRow  []int   // row of the document behind each of byMass's readings
	density  float64 // of the melt, kg/m3; NaN while not known
	weighed  bool    // density is measured by this very test
	rates    []float64
	verdict  FlowVerdict
	now      float64 // powder in the blend by its recipe, mass fraction, where verdict is that it was another one
	plain    int     // the test of the plain polymer that it is held against; -1 for none
	ratio    melt.FlowRatio
	compared bool // ratio has an interval
	used     bool // the ratio, or the rate, stands for the blend
}

// FlowVerdict says what a melt-flow test is worth: an ID of the catalogue below
// "flow_test."; "" is a good one.
type FlowVerdict string

// The verdicts.
const (
	FlowTestGood     FlowVerdict = ""
	FlowTestEmpty    FlowVerdict = "empty"
	FlowTestFew      FlowVerdict = "too_few"
	FlowTestUneven   FlowVerdict = "uneven"
	FlowTestNoBlend  FlowVerdict = "no_blend"
	FlowTestNoWeight FlowVerdict = "no_density"    // by piston travel, and nothing tells the melt density
	FlowTestOther    FlowVerdict = "other_content" // the recipe of the blend was changed since
)

// fewestStrands is how many pieces of strand a ratio needs from each material.
const fewestStrands = 2

// flowTests works out every test, and holds those of filled blends against those of
// plain ones.
func (c *compiler) flowTests() {
	p := c.project
	for i := range p.Melt.Tests {
		f := newTestedFlow(p, &p.Melt.Tests[i])
		c.sameContent(&f, &p.Melt.Tests[i])
		c.model.tests = append(c.model.tests, f)
	}
	for i := range c.model.tests {
		c.compareFlow(i)
	}
}

// sameContentWithin is how far the powder of a recipe may be from that at a test, in mass
// fraction, for the test to stand for it (own judgement).
const sameContentWithin = 0.005

// sameContent lets no good test stand for a blend whose recipe was changed since. A test
// that does not say what powder there was is taken at its blend.
func (c *compiler) sameContent(f *testedFlow, t *project.FlowTest) {
	then, given := t.Content.Estimate()
	if !given || f.verdict != FlowTestGood {
		return
	}
	if now := c.recipeContent(f.blend); math.Abs(now-then.Value) > sameContentWithin*(1+1e-9) {
		f.verdict, f.now = FlowTestOther, now
	}
}

// recipeContent is the powder in a blend by its recipe, mass fraction; NaN while the parts
// make no whole.
func (c *compiler) recipeContent(index int) float64 {
	b := blendPlan{index: index, unset: -1, content: math.NaN()}
	for i, part := range c.project.Blends[index].Parts {
		if !part.Amount.Given() {
			return math.NaN()
		}
		b.parts = append(b.parts, c.part(index, i, c.project.MaterialByID(part.Material)))
	}
	x, s := c.model.best(), (&Model{most: len(b.parts)}).NewScratch()
	b.fillAmounts(x, s)
	_, b.problem = blend.MassFractions(s.w[:len(b.parts)], s.amounts[:len(b.parts)])
	var st state
	if !compose(&b, x, s, &st) {
		return math.NaN()
	}
	return st.powder
}

// procedureOf is how a test was made; one that does not say so was by cut-offs.
func procedureOf(t *project.FlowTest) project.Procedure {
	if t.Procedure == "" {
		return project.CutOffs
	}
	return t.Procedure
}

func newTestedFlow(p *project.Project, t *project.FlowTest) testedFlow {
	f := testedFlow{blend: p.BlendByID(t.Blend), plain: -1, density: math.NaN()}
	var cuts []melt.Cut
	var travels []melt.Travel
	for i := range t.Rows {
		row := &t.Rows[i]
		if !row.Time.Given() {
			continue
		}
		if row.Mass.Given() {
			cuts = append(cuts, melt.Cut{MassKg: row.Mass.SI(), TimeS: row.Time.SI(), Bubbles: row.Bubbles})
			f.massRow = append(f.massRow, i)
		}
		if row.Travel.Given() && procedureOf(t) != project.Strand {
			travels = append(travels, melt.Travel{DistanceM: row.Travel.SI(), TimeS: row.Time.SI()})
		}
	}
	f.byMass, f.byVolume = melt.MassFlowTest(cuts), melt.VolumeFlowTest(travels, melt.AreaISOM2)
	f.weigh(t)
	f.judge(t)
	return f
}

// weigh finds the melt density: entered, else from mass and travel of this test.
func (f *testedFlow) weigh(t *project.FlowTest) {
	if e, given := t.MeltDensity.Estimate(); given {
		f.density = e.Value
		return
	}
	if rho, _, ok := melt.MeltDensity(f.byMass, f.byVolume); ok {
		f.density, f.weighed = rho, true
	}
}

// judge says what the test is worth, and what its rates by mass are.
func (f *testedFlow) judge(t *project.FlowTest) {
	test := f.byMass
	if procedureOf(t) == project.Piston {
		test = f.byVolume
	}
	switch {
	case len(test.Rates) == 0:
		f.verdict = FlowTestEmpty
	case f.blend < 0:
		f.verdict = FlowTestNoBlend
	case procedureOf(t) == project.Strand:
		if len(test.Rates) < fewestStrands {
			f.verdict = FlowTestFew
		}
	case test.Verdict == melt.FlowTooFew:
		f.verdict = FlowTestFew
	case test.Verdict == melt.FlowUneven:
		f.verdict = FlowTestUneven
	case procedureOf(t) == project.Piston && !finite(f.density):
		f.verdict = FlowTestNoWeight
	}
	if procedureOf(t) == project.Piston {
		test = test.ByMass(f.density)
	}
	f.rates = test.Rates
}

// compareFlow finds the last good test of the plain polymer that was made like a test
// of a filled blend, and the ratio of the two.
func (c *compiler) compareFlow(index int) {
	f, t := &c.model.tests[index], &c.project.Melt.Tests[index]
	if f.verdict != FlowTestGood || t.SetAside || plainPolymer(c.project, f.blend) != "" {
		return
	}
	polymer := mainPolymerOf(c.project, f.blend)
	for k := range c.model.tests {
		other, made := &c.model.tests[k], &c.project.Melt.Tests[k]
		if other.verdict == FlowTestGood && !made.SetAside && polymer != "" && plainPolymer(c.project, other.blend) == polymer && alike(t, made) {
			f.plain = k
		}
	}
	if f.plain >= 0 {
		f.ratio, f.compared = melt.Ratio(f.rates, c.model.tests[f.plain].rates)
	}
}

// alike reports whether two tests were made in the same way, so that their rates can
// be compared. What was said of neither counts as the same.
func alike(a, b *project.FlowTest) bool {
	return procedureOf(a) == procedureOf(b) && same(a.Temperature, b.Temperature, 0.5) &&
		same(a.Load, b.Load, 0.005) && same(a.ScrewSpeed, b.ScrewSpeed, 0.002)
}

func same[D quantity.Dim](a, b quantity.Of[D], within float64) bool {
	x, given := a.Estimate()
	y, also := b.Estimate()
	return given == also && math.Abs(x.Value-y.Value) <= within
}

// plainPolymer is the polymer of a blend of nothing else, fresh; "" for any other blend.
func plainPolymer(p *project.Project, blend int) material.ID {
	if blend < 0 || len(p.Blends[blend].Parts) != 1 {
		return ""
	}
	only := p.MaterialByID(p.Blends[blend].Parts[0].Material)
	if m := &p.Materials[only]; m.Kind != material.Polymer || m.Regrind.Is() {
		return ""
	}
	return p.Materials[only].ID
}

// mainPolymerOf is the polymer of a blend that most of it is, of regrind the one that it
// was made from; "" for none.
func mainPolymerOf(p *project.Project, blend int) material.ID {
	main := mainPart(p, blend)
	if main < 0 {
		return ""
	}
	m := &p.Materials[p.MaterialByID(p.Blends[blend].Parts[main].Material)]
	if m.Regrind.Is() {
		return m.Regrind.Polymer
	}
	return m.ID
}

// testedRatio places the melt flow of a blend over that of its plain polymer, from
// the last pair of tests that has one with an interval; absent without.
func (c *compiler) testedRatio(index int) (place at, test int) {
	place, test = absent, -1
	for i := range c.model.tests {
		if f := &c.model.tests[i]; f.blend == index && f.compared {
			test = i
		}
	}
	if test < 0 {
		return absent, -1
	}
	f := &c.model.tests[test]
	f.used = true
	minus, plus := halfWidths(f.ratio.Ratio, f.ratio.Low, f.ratio.High)
	return c.place(testPointer(test)+"/rows", Measured, uncertain.Input{Value: f.ratio.Ratio, UMinus: minus, UPlus: plus}), test
}

func testPointer(test int) string { return "/melt/tests/" + strconv.Itoa(test) }

// flowBase is a melt flow rate in g/10 min that a blend's own is reckoned from.
type flowBase struct {
	rate   at      // kg/s
	loadKg float64 // on the piston, kg
	tempK  float64
	own    bool   // it is the blend's own rate
	test   int    // of the document; -1 for the data sheet
	field  string // where it stands
}

// flowBaseOf finds the rate of a blend: its own last good test, else that of its
// plain polymer, else the data sheet of that polymer.
func (c *compiler) flowBaseOf(blend int) flowBase {
	own, plain := -1, -1
	polymer := mainPolymerOf(c.project, blend)
	for i := range c.model.tests {
		f, t := &c.model.tests[i], &c.project.Melt.Tests[i]
		switch {
		case f.verdict != FlowTestGood || t.SetAside || procedureOf(t) == project.Strand || !t.Load.Given():
		case f.blend == blend:
			own = i
		case polymer != "" && plainPolymer(c.project, f.blend) == polymer:
			plain = i
		}
	}
	if own >= 0 || plain >= 0 {
		return c.testedBase(own, plain)
	}
	base := flowBase{rate: absent, test: -1}
	if m := c.project.MaterialByID(polymer); m >= 0 {
		mat := &c.project.Materials[m]
		base.rate, base.field = of(c, m, "melt_flow", mat.MeltFlow), project.MaterialPointer(m, "melt_flow")
		base.loadKg, base.tempK = siOr(mat.MeltFlowLoad, melt.UsualLoadKg), siOr(mat.MeltFlowTemperature, math.NaN())
	}
	return base
}

func (c *compiler) testedBase(own, plain int) flowBase {
	test := own
	if own < 0 {
		test = plain
	}
	f, t := &c.model.tests[test], &c.project.Melt.Tests[test]
	r := f.byMass
	if procedureOf(t) == project.Piston {
		r = f.byVolume.ByMass(f.density)
	}
	base := flowBase{own: own >= 0, test: test, loadKg: t.Load.SI(), tempK: siOr(t.Temperature, math.NaN()), field: testPointer(test) + "/rows"}
	base.rate = c.place(testPointer(test)+"/rate", Measured, uncertain.Input{Value: r.Rate, UMinus: r.U, UPlus: r.U})
	return base
}

func siOr[D quantity.Dim](q quantity.Of[D], otherwise float64) float64 {
	if e, given := q.Estimate(); given {
		return e.Value
	}
	return otherwise
}
