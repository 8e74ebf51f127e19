package bench

import (
	"math"

	"fillwright/internal/project"
)

// bendLimit tells up to which filler content the strand was bent as far as the core of the
// reel bends it. No model stands in for a bend test: beyond what was tested nothing is
// known.
func bendLimit(p *project.Project, m *Model, s *Sheet, blend int) Limit {
	l := Limit{
		ID: LimitBend, State: LimitUnknown, Field: "/spool/bend/safety", First: math.NaN(), Defined: math.NaN(), Allowed: unknownIn("wt%"),
		Missing: Answer{ID: "limit_missing_bend"}, Where: "/spool/bend/tests",
	}
	if !p.Spool.Reel.Core.Given() {
		l.Missing, l.Where = Answer{ID: "limit_missing_core"}, "/spool/reel/core"
		return l
	}
	safe, breaks := math.NaN(), math.NaN()
	for i := range s.Blends {
		b := &s.Blends[i]
		if m.powderMaterial(i) != m.powderMaterial(blend) && b.Filled || !b.Results[FillerMassFraction].Known() {
			continue
		}
		bend, content := &b.Winding.Bend, b.Results[FillerMassFraction].Value
		if bend.From != "tests" || !bend.CoreStrain.Known() {
			continue
		}
		if bend.CoreStrain.Value <= bend.Allowed.Value {
			safe = math.Max(content, orLess(safe))
		} else {
			breaks = math.Min(content, orMore(breaks))
		}
	}
	l.between(safe, breaks, m.upTo*100)
	return l
}

func orLess(v float64) float64 {
	if math.IsNaN(v) {
		return math.Inf(-1)
	}
	return v
}

func orMore(v float64) float64 {
	if math.IsNaN(v) {
		return math.Inf(1)
	}
	return v
}

// between takes the largest content that was safe and the smallest that was not, wt%.
func (l *Limit) between(safe, breaks, most float64) {
	switch {
	case math.IsNaN(safe) && math.IsNaN(breaks):
		return
	case math.IsNaN(breaks):
		l.State, l.Allowed = LimitTested, newResult(safe, safe, safe, "wt%", Measured)
		if safe >= most {
			l.State, l.Open = LimitFree, true
		}
		l.Missing, l.Where = Answer{ID: "limit_missing_bend_more"}, "/spool/bend/tests"
	default:
		from := math.Min(math.Max(orLess(safe), 0), breaks) // a test at more that survived says nothing against one that broke
		l.State, l.Allowed = LimitBinds, newResult((from+breaks)/2, from, breaks, "wt%", Measured)
		l.Missing, l.Where = Answer{}, ""
	}
}
