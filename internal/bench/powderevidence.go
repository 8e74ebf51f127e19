package bench

import (
	"math"

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

// sameBore is how far two sizes may differ, by ratio, and still be the same.
const sameBore = 1.01

// half is how far a number may be off either way, 0 where no ± was entered.
func half[D quantity.Dim](q quantity.Of[D]) float64 {
	e, _ := q.Estimate()
	return coverage * e.StdU
}

// counted is powder in which grains were counted above a size.
type counted struct {
	massKg, offKg float64 // and how far that may be off
	sizeM         float64
	found         int
}

// countedAbove sums what was counted above a size or, where nothing was, above
// smaller ones: all that is above a large size is above a small one.
func countedAbove(sizeM float64, list []counted) (sum counted) {
	for _, same := range []bool{true, false} {
		sum = counted{sizeM: math.Inf(1)}
		for _, c := range list {
			if c.sizeM > sizeM*sameBore || same != (c.sizeM*sameBore >= sizeM) {
				continue
			}
			sum.massKg += c.massKg
			sum.offKg = math.Hypot(sum.offKg, c.offKg)
			sum.sizeM = math.Min(sum.sizeM, c.sizeM)
			sum.found += c.found
		}
		if sum.massKg > 0 {
			break
		}
	}
	if sum.sizeM*sameBore >= sizeM {
		sum.sizeM = sizeM
	}
	return sum
}

// offBy moves both ends of a number by how far the mass in which it was found may
// be off, as a fraction, to first order.
func offBy(n filler.Oversize, off float64) filler.Oversize {
	n.LowPerKg, n.HighPerKg = n.LowPerKg/(1+off), n.HighPerKg*(1+off)
	return n
}

// addPrints sums what was printed through this bore or through smaller ones: what
// passes a small nozzle passes a large one.
func (b *clogBench) addPrints(in *material.Clogging) {
	var list []counted
	for i := range in.Prints {
		r := &in.Prints[i]
		if !r.Nozzle.Given() || !r.Strand.Given() || !r.Content.Given() {
			continue
		}
		strandKg, content := r.Strand.SI(), r.Content.SI()
		off := math.Hypot(half(r.Strand)*content, strandKg*half(r.Content))
		list = append(list, counted{strandKg * content, off, r.Nozzle.SI(), r.Blockages})
	}
	sum := countedAbove(b.boreM, list)
	n, ok := filler.Blockages(sum.massKg, 1, sum.found, sum.sizeM, b.boreM)
	b.add(FromPrints, offBy(n, sum.offKg/sum.massKg), ok)
}

// addInspections sums the samples in which grains were counted above the
// critical size or above a smaller one.
func (b *clogBench) addInspections(in *material.Clogging) {
	var list []counted
	for i := range in.Inspections {
		if r := &in.Inspections[i]; r.Mass.Given() && r.Size.Given() {
			list = append(list, counted{r.Mass.SI(), half(r.Mass), r.Size.SI(), r.Found})
		}
	}
	sum := countedAbove(b.criticalM, list)
	n, ok := filler.Inspected(sum.massKg, sum.found, sum.sizeM, b.criticalM)
	b.add(FromInspections, offBy(n, sum.offKg/sum.massKg), ok)
}

// addRetained takes what the coarsest sieve up to the critical size kept back:
// in the control sieving of the finished powder if there was one, else in the stack.
func (b *clogBench) addRetained(p *project.Project, m *material.Material, analysis *filler.Sieving, g filler.Grain) {
	control := &m.Powder.Clogging.Control
	if control.Opening.Given() && control.Mass.Given() && control.Retained.Given() && control.Mass.SI() > 0 {
		sampleKg := control.Mass.SI()
		least := math.Max(resolutionKg(p), half(control.Retained))
		n, ok := filler.Retained(control.Retained.SI()/sampleKg, least/sampleKg, control.Opening.SI(), b.criticalM, g)
		if ok {
			b.add(FromRetained, offBy(n, half(control.Mass)/sampleKg), ok)
			return
		}
	}
	for _, row := range analysis.Rows {
		if row.OpeningM <= b.criticalM*sameBore {
			least := math.Max(resolutionKg(p), offAbove(&m.Powder.Sieving, row.OpeningM))
			n, ok := filler.Retained(row.CumulativeRetained, least/analysis.RecoveredKg, math.Min(row.OpeningM, b.criticalM), b.criticalM, g)
			b.add(FromRetained, n, ok)
			return
		}
	}
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

// believed is the top size, unless larger grains were found in the finished powder:
// then that of the check sieve, unless it leaks itself.
func (b *clogBench) believed(topM float64, in *material.Powder, resolutionKg float64) float64 {
	found, checked := largestFound(&in.Clogging, resolutionKg), math.Inf(1)
	if in.Sieving.CheckSieve.Given() {
		checked = filler.LargestAperture(in.Sieving.CheckSieve.SI())
	}
	b.leaks = found >= checked
	switch {
	case found < topM:
		return topM
	case b.leaks:
		return math.Inf(1)
	}
	return checked
}

// largestFound is the largest size above which grains were found in the finished
// powder: counted, or kept back by a second sieve beyond the step of the scale and
// beyond its ±. 0 for none.
func largestFound(in *material.Clogging, resolutionKg float64) (sizeM float64) {
	if c := &in.Control; c.Opening.Given() && c.Retained.SI() > math.Max(resolutionKg, half(c.Retained)) {
		sizeM = c.Opening.SI()
	}
	for i := range in.Inspections {
		if r := &in.Inspections[i]; r.Size.Given() && r.Found > 0 {
			sizeM = math.Max(sizeM, r.Size.SI())
		}
	}
	return sizeM
}

// addTopSize takes the word of a sieve whose largest legal aperture keeps every
// critical grain back.
func (b *clogBench) addTopSize(topM float64) {
	if topM <= b.criticalM*(1+1e-9) {
		b.add(FromTopSize, filler.Oversize{}, true)
	}
}

// addTail extrapolates the fitted laws, up to the top size.
func (b *clogBench) addTail(fits []filler.SizeFit, topM float64, g filler.Grain) {
	if topM <= b.criticalM*(1+1e-9) {
		return // the sieve says it already
	}
	n, ok := filler.Tail(fits, b.criticalM, topM, g)
	b.add(FromTail, n, ok)
}

// rank chooses the evidence that is used: the first, for they were added best
// first. Only a sieve that keeps all critical grains back stands above a sample
// in which none was found, for no sample can prove as much.
func (b *clogBench) rank() {
	if len(b.evidence) == 0 {
		return
	}
	b.best = 0
	if b.evidence[0].kind == FromPrints || b.evidence[0].n.LowPerKg > 0 {
		return
	}
	for i, e := range b.evidence {
		if e.kind == FromTopSize {
			b.best = i
		}
	}
}
