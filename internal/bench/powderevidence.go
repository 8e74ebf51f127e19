package bench

import (
	"cmp"
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

func (c *counted) add(other counted) {
	c.massKg += other.massKg
	c.offKg = math.Hypot(c.offKg, other.offKg)
	c.sizeM = math.Min(c.sizeM, other.sizeM)
	c.found += other.found
}

// countedAbove sums what was counted above a size or, where nothing was, above
// smaller ones: all that is above a large size is above a small one. Apart from
// that it sums what was counted above larger ones, which are some of them.
func countedAbove(sizeM float64, list []counted) (sum, larger counted) {
	nothing := counted{sizeM: math.Inf(1)}
	same, smaller := nothing, nothing
	larger = nothing
	for _, c := range list {
		switch {
		case c.sizeM > sizeM*sameBore:
			larger.add(c)
		case c.sizeM*sameBore >= sizeM:
			c.sizeM = sizeM
			same.add(c)
		default:
			smaller.add(c)
		}
	}
	if same.massKg > 0 {
		return same, larger
	}
	return smaller, larger
}

// countedIn says how many grains above a size a kg holds by what was counted.
type countedIn func(massKg float64, found int, countedM, sizeM float64) (filler.Oversize, bool)

// addCounted takes what was counted above a size, and above larger ones.
func (b *clogBench) addCounted(kind EvidenceKind, in countedIn, sizeM float64, list []counted, mostPerKg float64) {
	sum, larger := countedAbove(sizeM, list)
	n, ok := in(sum.massKg, sum.found, sum.sizeM, sizeM)
	n = offBy(n, sum.offKg/sum.massKg)
	more, is := filler.FoundLarger(larger.massKg, larger.found, larger.sizeM, sizeM, mostPerKg)
	more = offBy(more, larger.offKg/larger.massKg).AtMost(mostPerKg)
	switch {
	case ok && is:
		n = n.AtLeast(more)
	case is:
		n = more
	}
	b.add(kind, n, ok || is)
}

// offBy moves both ends of a number by how far the mass in which it was found may
// be off, as a fraction, to first order.
func offBy(n filler.Oversize, off float64) filler.Oversize {
	n.LowPerKg, n.HighPerKg = n.LowPerKg/(1+off), n.HighPerKg*(1+off)
	return n
}

// addPrints sums what was printed: what passes a small nozzle passes a large one,
// and what blocks a large one blocks a small one.
func (b *clogBench) addPrints(in *material.Clogging, mostPerKg float64) {
	var list []counted
	for i := range in.Prints {
		if r := &in.Prints[i]; printComplete(r) {
			strandKg, content := r.Strand.SI(), r.Content.SI()
			off := math.Hypot(half(r.Strand)*content, strandKg*half(r.Content))
			list = append(list, counted{strandKg * content, off, r.Nozzle.SI(), r.Blockages})
		}
	}
	b.addCounted(FromPrints, func(powderKg float64, blockages int, printedM, boreM float64) (filler.Oversize, bool) {
		return filler.Blockages(powderKg, 1, blockages, printedM, boreM)
	}, b.boreM, list, mostPerKg)
}

// addInspections sums the samples in which grains were counted.
func (b *clogBench) addInspections(in *material.Clogging, mostPerKg float64) {
	var list []counted
	for i := range in.Inspections {
		if r := &in.Inspections[i]; r.Mass.Given() && r.Size.Given() {
			list = append(list, counted{r.Mass.SI(), half(r.Mass), r.Size.SI(), r.Found})
		}
	}
	b.addCounted(FromInspections, filler.Inspected, b.criticalM, list, mostPerKg)
}

func printComplete(r *material.NozzleRun) bool {
	return r.Nozzle.Given() && r.Strand.Given() && r.Content.Given()
}

// countRemarks say which rows of prints and of samples take no part.
func (b *clogBench) countRemarks(in *material.Clogging) (prints, inspections []Remark) {
	list := make([]countRow, len(in.Prints))
	for i := range in.Prints {
		r := &in.Prints[i]
		list[i] = countRow{printComplete(r), r.Strand.SI() * r.Content.SI(), r.Nozzle.SI(), r.Blockages}
	}
	prints = remarksOf(list, b.boreM)
	list = make([]countRow, len(in.Inspections))
	for i := range in.Inspections {
		r := &in.Inspections[i]
		list[i] = countRow{r.Mass.Given() && r.Size.Given(), r.Mass.SI(), r.Size.SI(), r.Found}
	}
	return prints, remarksOf(list, b.criticalM)
}

// countRow is a row of counts as the document has it.
type countRow struct {
	complete      bool
	massKg, sizeM float64
	found         int
}

func remarksOf(rows []countRow, sizeM float64) []Remark {
	remarks := make([]Remark, len(rows))
	same := slices.ContainsFunc(rows, func(r countRow) bool {
		return r.complete && r.massKg > 0 && r.sizeM <= sizeM*sameBore && r.sizeM*sameBore >= sizeM
	})
	for i, r := range rows {
		switch {
		case !r.complete:
			remarks[i] = Remark{ID: "count_incomplete"}
		case r.massKg <= 0:
			remarks[i] = Remark{ID: "count_no_powder"}
		case r.sizeM > sizeM*sameBore && r.found == 0:
			remarks[i] = Remark{ID: "count_larger"}
		case same && r.sizeM*sameBore < sizeM:
			remarks[i] = Remark{ID: "count_smaller"}
		}
	}
	return remarks
}

// addRetained takes what a sieve kept back: in the control sieving of the finished
// powder if there was one, else in the stack.
func (b *clogBench) addRetained(p *project.Project, m *material.Material, analysis *filler.Sieving, g filler.Grain) {
	if b.addControl(&m.Powder.Clogging.Control, resolutionKg(p), g) {
		return
	}
	for i, row := range analysis.Rows { // coarse first
		if row.OpeningM <= b.criticalM*sameBore {
			least := math.Max(resolutionKg(p), offAbove(&m.Powder.Sieving, row.OpeningM))
			n, ok := filler.Retained(row.CumulativeRetained, least/analysis.RecoveredKg, math.Min(row.OpeningM, b.criticalM), b.criticalM, g)
			b.add(FromRetained, n, ok)
			return
		}
		if finest := i == len(analysis.Rows)-1; finest && !m.Powder.Sieving.CheckSieve.Given() {
			n, ok := filler.RetainedAbove(row.CumulativeRetained, analysis.RecoveredKg, row.OpeningM, b.criticalM, g)
			b.add(FromRetained, n, ok)
		}
	}
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
	case openingM <= b.criticalM*sameBore:
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

// believed is the top size, unless larger grains were found in the finished powder:
// then the check sieve leaks.
func (b *clogBench) believed(topM float64, in *material.Clogging, resolutionKg float64) float64 {
	if b.leaks = largestFound(in, resolutionKg) >= topM; b.leaks {
		return math.Inf(1)
	}
	return topM
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
// looked for at all comes last.
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
	if len(b.evidence) > 0 {
		b.best = 0
	}
}
