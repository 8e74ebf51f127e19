package bench

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// evidenceBasis: a fitted tail is an estimate, a sieve that the maker says the
// lot has passed is an entry, the rest was counted or weighed.
func evidenceBasis(kind EvidenceKind) Basis {
	switch kind {
	case FromTail:
		return Estimated
	case FromTopSize:
		return Entered
	}
	return Measured
}

func (b *clogBench) add(kind EvidenceKind, n filler.Oversize, ok bool) {
	if ok {
		b.evidence = append(b.evidence, oversize{kind, n})
	}
}

// half is how far a number may be off either way, 0 where no ± was entered.
func half[D quantity.Dim](q quantity.Of[D]) float64 {
	e, _ := q.Estimate()
	return coverage * e.StdU
}

// offBy moves both ends of a number by how far the mass in which it was found may
// be off, as a fraction, to first order.
func offBy(n filler.Oversize, off float64) filler.Oversize {
	n.LowPerKg, n.HighPerKg = n.LowPerKg/(1+off), n.HighPerKg*(1+off)
	return n
}

// addRetained takes what a sieve kept back: in the control sieving of the finished
// powder if there was one, else in the stack.
func (b *clogBench) addRetained(p *project.Project, m *material.Material, analysis *filler.Sieving, g filler.Grain) {
	if b.control = b.addControl(&m.Powder.Clogging.Control, resolutionKg(p), g); b.control {
		return
	}
	above, seen := filler.Oversize{}, false // by the sieves that are coarser than critical
	for _, row := range analysis.Rows {     // coarse first
		if row.OpeningM > b.criticalM*filler.SameSize {
			if row.CumulativeRetained > 0 && !m.Powder.Sieving.CheckSieve.Given() { // else it was sieved off
				above, seen = filler.RetainedAbove(row.CumulativeRetained, analysis.RecoveredKg, row.OpeningM, b.criticalM, g)
			}
			continue
		}
		least := math.Max(resolutionKg(p), offAbove(&m.Powder.Sieving, row.OpeningM))
		n, ok := filler.Retained(row.CumulativeRetained, least/analysis.RecoveredKg, math.Min(row.OpeningM, b.criticalM), b.criticalM, g)
		if ok && seen {
			n.LowPerKg = math.Min(above.LowPerKg, n.HighPerKg)
			n.LikelyPerKg = math.Max(n.LikelyPerKg, n.LowPerKg)
		}
		b.add(FromRetained, n, ok)
		return
	}
	b.add(FromRetained, above, seen)
}

// addControl is false without a control sieving that says anything.
func (b *clogBench) addControl(in *material.Control, resolutionKg float64, g filler.Grain) bool {
	if !in.Opening.Given() || !in.Mass.Given() || !in.Retained.Given() || in.Mass.SI() <= 0 {
		return false
	}
	sampleKg, least := in.Mass.SI(), math.Max(resolutionKg, half(in.Retained))
	share, openingM := in.Retained.SI()/sampleKg, in.Opening.SI()
	var n filler.Oversize
	var ok bool
	switch {
	case openingM <= b.criticalM*filler.SameSize:
		n, ok = filler.Retained(share, least/sampleKg, math.Min(openingM, b.criticalM), b.criticalM, g)
	case in.Retained.SI() > least: // else nothing tells that anything lies on it
		n, ok = filler.RetainedAbove(share, sampleKg, openingM, b.criticalM, g)
	}
	if ok {
		n = offBy(n, half(in.Mass)/sampleKg).AtMost(filler.MostPerKg(b.criticalM, g))
		b.add(FromRetained, n, true)
	}
	return ok
}

// offAbove is how far the mass on the sieves down to an opening may be off.
func offAbove(s *material.Sieving, openingM float64) (offKg float64) {
	for i := range s.Sieves {
		if row := &s.Sieves[i]; row.Opening.Given() && row.Opening.SI() >= openingM*(1-1e-9) {
			offKg = math.Hypot(offKg, half(row.Retained))
		}
	}
	return offKg
}

// seenGrains are the largest grains that were found in the finished powder.
type seenGrains struct {
	sizeM float64 // they are larger; 0 for none
	field string  // below the powder's bench, where it was entered
}

// largestFound is the largest size above which grains were found in the finished
// powder: counted, or kept back by a second sieve beyond the step of the scale and
// beyond its ±.
func largestFound(in *material.Clogging, resolutionKg float64) (seen seenGrains) {
	if c := &in.Control; c.Opening.Given() && c.Retained.SI() > math.Max(resolutionKg, half(c.Retained)) {
		seen = seenGrains{c.Opening.SI(), "/clogging/control/retained"}
	}
	for i := range in.Inspections {
		if r := &in.Inspections[i]; r.Size.Given() && r.Found > 0 && r.Size.SI() > seen.sizeM {
			seen = seenGrains{r.Size.SI(), fmt.Sprintf("/clogging/inspections/%d/size", i)}
		}
	}
	return seen
}

// believed is the top size, unless larger grains were found in the finished powder:
// then the check sieve leaks.
func (b *clogBench) believed(topM float64) float64 {
	if b.leaks = b.seen.sizeM >= topM; b.leaks {
		return math.Inf(1)
	}
	return topM
}

// addTopSize takes the word of a sieve whose largest legal aperture keeps every
// critical grain back.
func (b *clogBench) addTopSize(topM float64) {
	if b.keepsCritical(topM) {
		b.add(FromTopSize, filler.Oversize{}, true)
	}
}

func (b *clogBench) keepsCritical(topM float64) bool { return topM <= b.criticalM*(1+1e-9) }

// addTail extrapolates the fitted laws, up to the top size. It says no more than
// what a sieve kept back allows.
func (b *clogBench) addTail(fits []filler.SizeFit, topM float64, g filler.Grain) {
	if b.keepsCritical(topM) {
		return // the sieve says it already
	}
	n, ok := filler.Tail(fits, b.criticalM, topM, g)
	for _, e := range b.evidence {
		if e.kind == FromRetained && !e.n.ApertureLeak {
			n = n.AtMost(e.n.HighPerKg)
		}
	}
	b.add(FromTail, n, ok)
}

// rank puts the evidence in order; the first is used. Grains that were seen come
// first, in the order in which evidence was added. While none was, that counts which
// allows the fewest: no clean sample can prove as much as a larger one. What was not
// looked for at all comes last. Prints that went through stand above everything that
// they contradict: they show what blocks, not what might.
func (b *clogBench) rank() {
	class := func(e oversize) int {
		switch {
		case e.kind == FromTail:
			return 2
		case e.n.LowPerKg > 0:
			return 0
		}
		return 1
	}
	slices.SortStableFunc(b.evidence, func(x, y oversize) int {
		if byClass := cmp.Compare(class(x), class(y)); byClass != 0 || class(x) != 1 {
			return byClass
		}
		return cmp.Compare(x.n.HighPerKg, y.n.HighPerKg)
	})
	b.best = -1
	if len(b.evidence) == 0 {
		return
	}
	b.best = 0
	i := slices.IndexFunc(b.evidence, func(e oversize) bool { return e.kind == FromPrints })
	if i > 0 && b.evidence[i].n.HighPerKg < b.evidence[0].n.LikelyPerKg {
		prints := b.evidence[i]
		b.evidence = slices.Insert(slices.Delete(b.evidence, i, i+1), 0, prints)
	}
}
