package bench

import (
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
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

// addPrints sums what was printed through this bore or, where nothing was,
// through smaller ones: what passes a small nozzle passes a large one.
func (b *clogBench) addPrints(in *material.Clogging) {
	powderKg, count, bore := 0.0, 0, math.Inf(1)
	for _, same := range []bool{true, false} {
		for i := range in.Prints {
			r := &in.Prints[i]
			if !r.Nozzle.Given() || !r.Strand.Given() || !r.Content.Given() {
				continue
			}
			at := r.Nozzle.SI()
			if at > b.boreM*sameBore || same != (at*sameBore >= b.boreM) {
				continue
			}
			powderKg += r.Strand.SI() * r.Content.SI()
			count += r.Blockages
			bore = math.Min(bore, at)
		}
		if powderKg > 0 {
			break
		}
	}
	if bore*sameBore >= b.boreM {
		bore = b.boreM
	}
	n, ok := filler.Blockages(powderKg, 1, count, bore, b.boreM)
	b.add(FromPrints, n, ok)
}

// addInspections sums the samples in which grains were counted above the
// critical size or, where there are none, above a smaller one.
func (b *clogBench) addInspections(in *material.Clogging) {
	massKg, count, size := 0.0, 0, math.Inf(1)
	for _, same := range []bool{true, false} {
		for i := range in.Inspections {
			r := &in.Inspections[i]
			if !r.Mass.Given() || !r.Size.Given() {
				continue
			}
			at := r.Size.SI()
			if at > b.criticalM*sameBore || same != (at*sameBore >= b.criticalM) {
				continue
			}
			massKg += r.Mass.SI()
			count += r.Found
			size = math.Min(size, at)
		}
		if massKg > 0 {
			break
		}
	}
	if size*sameBore >= b.criticalM {
		size = b.criticalM
	}
	n, ok := filler.Inspected(massKg, count, size, b.criticalM)
	b.add(FromInspections, n, ok)
}

// addRetained takes what the coarsest sieve up to the critical size kept back:
// in the control sieving of the finished powder if there was one, else in the stack.
func (b *clogBench) addRetained(p *project.Project, m *material.Material, analysis *filler.Sieving, g filler.Grain) {
	control := &m.Powder.Clogging.Control
	if control.Opening.Given() && control.Mass.Given() && control.Retained.Given() && control.Mass.SI() > 0 {
		n, ok := filler.Retained(control.Retained.SI()/control.Mass.SI(), resolutionKg(p)/control.Mass.SI(), control.Opening.SI(), b.criticalM, g)
		if ok {
			b.add(FromRetained, n, ok)
			return
		}
	}
	for _, row := range analysis.Rows {
		if row.OpeningM <= b.criticalM*sameBore {
			n, ok := filler.Retained(row.CumulativeRetained, resolutionKg(p)/analysis.RecoveredKg, math.Min(row.OpeningM, b.criticalM), b.criticalM, g)
			b.add(FromRetained, n, ok)
			return
		}
	}
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
// powder: counted, or kept back by a second sieve beyond the step of the scale. 0
// for none.
func largestFound(in *material.Clogging, resolutionKg float64) (sizeM float64) {
	if c := &in.Control; c.Opening.Given() && c.Retained.SI() > resolutionKg {
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
