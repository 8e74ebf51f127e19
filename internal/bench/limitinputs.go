package bench

import (
	"cmp"
	"slices"

	"fillwright/internal/uncertain"
)

// tellShare is the least share of an input that is told.
const tellShare = 0.01

// LimitInputs are the inputs on which a limit hangs, with the share of each in how
// uncertain it is, to first order: that of the margin where the limit likely stops. The
// first moves it most.
func (s *Sheet) LimitInputs(blend int, id LimitID) (list []InputShare) {
	m := s.Model
	r := m.ruleOf(id)
	limit := s.Limits(blend).of(id)
	if r < 0 || limit == nil || !limit.Allowed.Known() {
		return nil
	}
	rule, v := &m.limits[r], m.newLimitSolver(blend, limitGrid)
	content := max(limit.Allowed.Value/100, limitGrid[0]*m.upTo)
	vary := m.limitVarying()
	in := make([]uncertain.Input, len(vary))
	for k, i := range vary {
		in[k] = m.inputs[i].Input
	}
	x := m.Nominal()
	scratch := uncertain.NewScratch(len(in), 1)
	uncertain.FirstOrder(func(varied, y []float64) {
		for k, i := range vary {
			x[i] = varied[k]
		}
		v.begin(x)
		v.at(content, rule.part)
		y[0] = rule.margin(v.x, v.y)
	}, in, nil, scratch)
	for k, i := range vary {
		if share := scratch.Share(0, k); share >= tellShare {
			measure, _, _ := m.measureOf(s.project, blend, &m.inputs[i])
			list = append(list, InputShare{Pointer: m.inputs[i].Pointer, First: share, Total: share, Measure: measure})
		}
	}
	slices.SortStableFunc(list, func(a, b InputShare) int { return cmp.Compare(b.Total, a.Total) })
	return list
}

// of is a limit by its name; nil where there is none.
func (s *LimitSheet) of(id LimitID) *Limit {
	for i := range s.Limits {
		if s.Limits[i].ID == id {
			return &s.Limits[i]
		}
	}
	return nil
}
