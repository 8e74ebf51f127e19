package bench

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"fillwright/internal/project"
	"fillwright/internal/uncertain"
)

// LimitState says what a limit tells.
type LimitState string

// The states of a limit.
const (
	LimitBinds   LimitState = "binds"   // within what was looked at
	LimitFree    LimitState = "free"    // nothing up to the end of the axis
	LimitNone    LimitState = "none"    // no powder at all is allowed
	LimitTested  LimitState = "tested"  // allowed as far as it was tested, and not known beyond
	LimitUnknown LimitState = "unknown" // not known: a test would tell
	LimitIdle    LimitState = "idle"    // the rule does not hold for this polymer
)

// Limit is the filler content up to which one rule is kept.
type Limit struct {
	ID      LimitID
	State   LimitState
	Allowed Result  // wt%; of one that is not known, unknown
	Open    bool    // its high end lies beyond the axis
	From    float64 // wt%, likely: below it the rule is broken as well; 0 where it is not

	Threshold Result // what is allowed, in the unit of its field; unknown where the rule has none
	Entered   bool   // the threshold is the maker's own
	Advice    bool   // told, but it stops nothing
	Field     string // where it is entered
	Figure    Figure // that it is held against
	Here      Result // that figure of the blend as it is
	AtLeast   bool   // it must be the threshold or more, else the threshold or less

	First   float64 // share of the draws in which it is the first to stop; NaN until draws were made
	Defined float64 // share of the draws in which it is known
	Missing Answer  // what would tell it
	Where   string  // and the field where that is entered
}

// Known reports whether the limit tells a filler content.
func (l *Limit) Known() bool { return l.Allowed.Known() && l.State != LimitTested }

// Broken reports whether the blend as it is breaks the limit, with the best estimate of what
// was measured of it too.
func (l *Limit) Broken() bool {
	if !l.Here.Known() || !l.Threshold.Known() {
		return false
	}
	if l.AtLeast {
		return l.Here.Value < l.Threshold.Value
	}
	return l.Here.Value > l.Threshold.Value
}

// Stops reports whether the limit counts among what stops a blend.
func (l *Limit) Stops() bool { return l.Known() && !l.Advice }

// LimitSheet is how much powder a blend can carry, and what stops it first.
type LimitSheet struct {
	Known   bool
	Problem string  // catalogue ID of why there is none
	Blend   int     // it was asked for
	Most    float64 // end of the axis, wt%
	Content Result  // of the blend as it is, wt%
	Limits  []Limit // what stops first comes first, what is not known last
	Least   Result  // where the first of all stops, wt%; unknown where no limit is known
	mixable bool    // has a polymer, whose place powder can take
	Method  Method
	Draws   int // that the intervals rest on, 0 for first order
	Steady  bool
}

// Binding is the limit that most likely stops first; nil where none does. Of what was drawn it
// may be one that at the best estimates stops nothing.
func (s *LimitSheet) Binding() *Limit {
	if len(s.Limits) == 0 {
		return nil
	}
	if l := &s.Limits[0]; l.Stops() && (l.State != LimitFree || l.First >= tellFirst) {
		return l
	}
	return nil
}

// Soonest is the limit that may stop first of all: the one with the smallest low end, and of
// those with the same the one that comes first in most draws; nil where none is known.
func (s *LimitSheet) Soonest() *Limit {
	var soonest *Limit
	for i := range s.Limits {
		l := &s.Limits[i]
		if l.Stops() && (soonest == nil || l.Allowed.Low < soonest.Allowed.Low || l.Allowed.Low == soonest.Allowed.Low && l.First > soonest.First) {
			soonest = l
		}
	}
	return soonest
}

// edgeGrid are the contents, over the largest, at which the edges of a margin are
// followed for the view that is always there.
var edgeGrid = []float64{
	1.0 / 300, 0.015, 0.04, 0.08, 0.14, 0.22, 0.32, 0.45, 0.6, 0.8, 1,
}

// Limits tells how much powder a blend can carry: likely at the best estimates, low and
// high where the first-order interval (k = 2) of what a rule is held against reaches what
// is allowed, that too with its interval.
func (m *Model) Limits(p *project.Project, s *Sheet, blend int) LimitSheet {
	sheet := m.emptyLimits(p, s, blend)
	if sheet.Problem != "" {
		return sheet
	}
	likely := make([]float64, len(m.limits))
	v := m.newLimitSolver(blend, limitGrid)
	v.solve(m.Nominal(), likely)
	if v.from == len(v.shares) {
		sheet.Known, sheet.Problem = false, "limits_cannot_vary"
		return sheet
	}
	low, high := m.limitEdges(blend)
	for r := range m.limits {
		l := m.limit(p, s, blend, r)
		l.From = v.keptFrom(r) * 100
		l.told(likely[r], math.Min(low[r], likely[r]), math.Max(high[r], likely[r]), m.axis)
		sheet.Limits = append(sheet.Limits, l)
	}
	sheet.add(bendLimit(p, m, blend))
	sheet.settle()
	return sheet
}

// emptyLimits is the sheet without its limits, or with the reason why there can be none.
func (m *Model) emptyLimits(p *project.Project, s *Sheet, blend int) LimitSheet {
	sheet := LimitSheet{Blend: blend, Most: m.axis * 100}
	switch {
	case blend < 0 || blend >= len(m.blends):
		sheet.Problem = "limits_no_blend"
	case !m.blends[blend].filled:
		sheet.Problem = "limits_no_powder"
	case !s.Blends[blend].Results[FillerMassFraction].Known():
		sheet.Problem = "limits_unfinished"
	default:
		sheet.mixable = m.blends[blend].main >= 0
		sheet.Known, sheet.Content = true, s.Blends[blend].Results[FillerMassFraction]
	}
	return sheet
}

// limit is one rule as it stands, with nothing told yet.
func (m *Model) limit(p *project.Project, s *Sheet, blend, r int) Limit {
	rule := &m.limits[r]
	l := Limit{
		ID: rule.id, Field: rule.field, Figure: rule.figure, Entered: rule.entered, Advice: rule.advice, First: math.NaN(), Defined: math.NaN(),
		Allowed: unknownIn("wt%"),
	}
	if rule.place >= 0 {
		in := m.input(rule.place)
		l.Threshold = newResult(in.Value*rule.perSI, (in.Value-coverage*in.UMinus)*rule.perSI, (in.Value+coverage*in.UPlus)*rule.perSI, rule.unit, in.Basis)
	}
	if rule.scale == asMargin {
		l.Threshold = exactly(leastMarginK, "K", Estimated)
	}
	l.AtLeast = rule.atLeast
	l.Here = rule.here(&s.Blends[blend])
	l.State = LimitUnknown
	l.Missing, l.Where = missingFor(p, m, blend, rule)
	return l
}

// here is the figure of a blend that a rule is held against, as what is allowed is told.
func (r *limitRule) here(b *BlendSheet) Result {
	f := b.Results[r.figure]
	if r.scale == asChange && f.Known() {
		of := newResult(100+f.Value, 100+f.Low, 100+f.High, f.Unit, f.Basis)
		of.Method, of.Bent = f.Method, f.Bent
		return of
	}
	return f
}

// withHere is the sheet with the figures of the blend as they are told now.
func (s *LimitSheet) withHere(m *Model, b *BlendSheet) *LimitSheet {
	out := *s
	out.Limits = slices.Clone(s.Limits)
	for i := range out.Limits {
		if r := m.ruleOf(out.Limits[i].ID); r >= 0 {
			out.Limits[i].Here = m.limits[r].here(b)
		}
	}
	return &out
}

// told takes what a rule allows, in mass fractions.
func (l *Limit) told(likely, low, high, most float64) {
	if !finite(likely) {
		if strings.HasPrefix(l.Missing.ID, "limit_idle_") {
			l.State = LimitIdle
		}
		return
	}
	l.Missing, l.Where = Answer{}, ""
	l.Open = high >= most
	l.Allowed = newResult(math.Min(likely, most)*100, math.Min(low, most)*100, math.Min(high, most)*100, "wt%", Estimated)
	switch {
	case likely >= most:
		l.State = LimitFree
	case likely <= 0:
		l.State = LimitNone
	default:
		l.State = LimitBinds
	}
}

func (s *LimitSheet) add(l Limit) { s.Limits = append(s.Limits, l) }

// settle puts what stops first first, and tells where that is.
func (s *LimitSheet) settle() {
	slices.SortStableFunc(s.Limits, func(a, b Limit) int { return cmp.Compare(a.rank(s.Most), b.rank(s.Most)) })
	likely, low, high, known := s.Most, s.Most, s.Most, false
	for i := range s.Limits {
		if l := &s.Limits[i]; l.Stops() {
			known = true
			likely, low, high = math.Min(likely, l.Allowed.Value), math.Min(low, l.Allowed.Low), math.Min(high, l.Allowed.High)
		}
	}
	s.Least = unknownIn("wt%")
	if known {
		s.Least = newResult(likely, low, high, "wt%", Estimated)
	}
}

// tellFirst is the share of the draws from which a limit that comes first is told: one that
// is rarer is none of ten draws.
const tellFirst = 0.05

// rank orders limits: by how often they come first where that was drawn, then by where they
// likely stop, then by where they may; those that stop nothing, were tested only so far, are
// not known or do not hold come last, in this order.
func (l *Limit) rank(most float64) float64 {
	if l.First >= tellFirst {
		return -l.First
	}
	if l.Advice && l.Known() {
		return 2*most + l.Allowed.Value
	}
	switch l.State {
	case LimitTested:
		return 4 * most
	case LimitUnknown:
		return 5 * most
	case LimitIdle:
		return 6 * most
	case LimitFree:
		return most + l.Allowed.Low
	}
	return l.Allowed.Value + 1e-9*l.Allowed.Low
}

// limitEdges are the contents at which the edges of each margin pass zero.
func (m *Model) limitEdges(blend int) (low, high []float64) {
	v := m.newLimitSolver(blend, edgeGrid)
	vary := m.limitVarying()
	in := make([]uncertain.Input, len(vary))
	for k, i := range vary {
		in[k] = m.inputs[i].Input
	}
	x := m.Nominal()
	margins := func(varied, y []float64) {
		for k, i := range vary {
			x[i] = varied[k]
		}
		v.begin(x)
		v.fillGrid()
		copy(y, v.grid)
	}
	n := len(m.limits) * len(edgeGrid)
	g, down, up := uncertain.FirstOrder(margins, in, nil, uncertain.NewScratchKeeping(len(in), n, nil))
	low, high = make([]float64, len(m.limits)), make([]float64, len(m.limits))
	for r := range m.limits {
		rule, row := &m.limits[r], r*len(edgeGrid)
		worse, better := make([]float64, len(edgeGrid)), make([]float64, len(edgeGrid))
		for j := range edgeGrid {
			worse[j], better[j] = rule.edges(g[row+j], down[row+j], up[row+j])
		}
		low[r], high[r] = m.crossing(rule, worse, v.from), m.crossing(rule, better, v.from)
	}
	return low, high
}

// edges are the ends of a margin. That of a ratio is formed on the ratio itself, as the
// intervals of the inputs are: a number of grains that may be three times as high and as
// low as none has no interval on the logarithm.
func (r *limitRule) edges(g, down, up float64) (worse, better float64) {
	if r.scale == asMargin {
		return g + coverage*up, g - coverage*down
	}
	if r.atLeast {
		return g - math.Log(math.Max(1-coverage*up, 1e-9)), g - math.Log1p(coverage*down)
	}
	return g + math.Log1p(coverage*up), g + math.Log(math.Max(1-coverage*down, 1e-9))
}

// crossing is where a row of margins along edgeGrid passes zero, in between on the
// logarithm of the content.
func (m *Model) crossing(rule *limitRule, row []float64, from int) float64 {
	lower, upper, content, found := rule.bracket(row, edgeGrid, from)
	switch {
	case !found:
		return content * m.upTo
	case math.IsNaN(row[upper]): // there, the melt does not even flow
		return m.upTo * edgeGrid[lower]
	}
	a, b := math.Log(edgeGrid[lower]), math.Log(edgeGrid[upper])
	return m.upTo * math.Exp(a+(b-a)*row[lower]/(row[lower]-row[upper]))
}

// limitVarying lists the uncertain inputs of everything but recipes: the filler content is
// what is varied.
func (m *Model) limitVarying() (list []int) {
	for i := range m.inputs {
		if m.inputs[i].uncertain() {
			list = append(list, i)
		}
	}
	return list
}

// After lists the limits that would come next, should those before them be lifted.
func (s *LimitSheet) After(most int) (list []*Limit) {
	for i := range s.Limits {
		if l := &s.Limits[i]; l != s.Binding() && l.Stops() && l.State != LimitFree {
			list = append(list, l)
		}
	}
	slices.SortStableFunc(list, func(a, b *Limit) int { return cmp.Compare(a.Allowed.Value, b.Allowed.Value) })
	return list[:min(most, len(list))]
}
