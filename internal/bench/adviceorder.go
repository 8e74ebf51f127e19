package bench

import (
	"cmp"
	"math"
	"reflect"
	"slices"

	"fillwright/internal/project"
)

// leastEffortHours keeps a measurement that takes no time from being worth everything: a minute.
const leastEffortHours = 1.0 / 60

// OrderAdvice takes the times that measurements take in a project, and puts what does most per
// hour first:
//
//	g/t,  g = 1 − w'/w
//
// with the widths w of the interval now and w' as it is to be expected, and the time t, of
// which a minute is the least. What was drawn stays as it was.
func OrderAdvice(p *project.Project, list []Advice) {
	for i := range list {
		a := &list[i]
		a.Effort, a.EffortEntered = EffortOf(p, a.Measure)
		a.PerHour = a.gain() / math.Max(a.Effort.Hours(), leastEffortHours)
	}
	slices.SortStableFunc(list, func(a, b Advice) int { return cmp.Compare(b.PerHour, a.PerHour) })
}

// AdviceBasis is the state of a project that shares and advice are drawn from: all of it but
// the times that measurements take, which only order them.
type AdviceBasis struct{ of project.Project }

// AdviceBasisOf keeps the state of a project.
func AdviceBasisOf(p *project.Project) AdviceBasis {
	basis := project.Clone(*p)
	basis.Loading.Efforts = nil
	return AdviceBasis{basis}
}

// Holds reports whether what was drawn from the state holds for a project.
func (b AdviceBasis) Holds(p *project.Project) bool {
	now := *p
	now.Loading.Efforts = nil
	return reflect.DeepEqual(b.of, now)
}

// Measurable reports whether a maker can measure any of the inputs.
func (s *Shares) Measurable() bool {
	return slices.ContainsFunc(s.Inputs, func(in InputShare) bool { return in.Measure != "" })
}
