package filler

import (
	"cmp"
	"math"
	"slices"

	"fillwright/internal/stat"
)

// Count is what was seen of grains in some dry powder: how many lay above a size. In
// prints the size is the bore, and the grains those that blocked it.
type Count struct {
	MassKg float64 // of dry powder
	OffKg  float64 // how far that may be off, half its width
	SizeM  float64 // grains above it were counted
	Found  int
}

// add puts another count of the same size to a count.
func (c Count) add(other Count) Count {
	c.MassKg += other.MassKg
	c.OffKg = math.Hypot(c.OffKg, other.OffKg)
	c.Found += other.Found
	return c
}

// rate is the number of grains per kg as counted.
func (c Count) rate() float64 { return float64(c.Found) / c.MassKg }

// likely is the mean number per kg, by its median.
func (c Count) likely() float64 { return stat.PoissonMedian(c.Found) / c.MassKg }

// low is its one-sided end at 95 %, moved by how far the mass may be off, to first
// order.
func (c Count) low() float64 {
	return stat.PoissonLower(c.Found, confidence) / (c.MassKg + c.OffKg)
}

// high is the other end.
func (c Count) high() float64 {
	return stat.PoissonUpper(c.Found, confidence) / c.MassKg * (1 + c.OffKg/c.MassKg)
}

// SameSize is how far two sizes may differ, by ratio, and still be the same: bores
// and sieves are not known better (own judgement).
const SameSize = 1.01

// valid reports a count that is one.
func (c Count) valid() bool {
	return c.MassKg > 0 && !math.IsInf(c.MassKg, 1) && c.OffKg >= 0 && c.SizeM > 0 && c.Found >= 0
}

// TakesPart reports whether a count of a list says anything of the grains above
// criticalM: none found above a larger size says nothing of smaller ones, unless some
// were found above a still larger one.
func TakesPart(c Count, list []Count, criticalM float64) bool {
	return c.valid() && c.SizeM <= math.Max(criticalM*SameSize, largestFound(list))
}

// largestFound is the largest size above which any were found; 0 for none.
func largestFound(list []Count) (sizeM float64) {
	for _, c := range list {
		if c.valid() && c.Found > 0 {
			sizeM = math.Max(sizeM, c.SizeM)
		}
	}
	return sizeM
}

// Counted estimates the number of grains per kg above criticalM from counts above
// any sizes. The mean μ of a count n lies, each end one-sided at 95 %, between
//
//	high = χ²(0.95, 2n+2)/2, low = χ²(0.05, 2n)/2, likely = χ²(0.5, 2n+2)/2
//
// each over the mass: likely is about n + 2/3, and so not 0 when none was found.
//
// Of grains above a larger size there are no more than above a smaller one. Counts
// above sizes up to the critical one therefore hold the high end, the nearest alone
// and together with ever smaller ones; those from it on the low end. Of several
// answers the one that tells most is taken, so that more that was looked through
// without finding any never tells of more grains, as long as no larger size does; an
// end may then hold with a little less than 95 %. Where larger sizes tell of more
// grains than smaller ones, both together are likely (isotonic regression), and where
// their ends exclude each other they are those of both.
//
// Grains that were found above a smaller size, or not even there, make fewer likely
// above the critical one, as size^-9 (own judgement, see tailSlope). Between a smaller
// and a larger size the likely number lies straight on logarithms, where only larger
// ones tell it rises as size^-9; that grains were found above a larger size never makes
// fewer likely.
//
// mostPerKg bounds everything from above: the number if all the powder were just
// critical, see MostPerKg. It is the high end where only larger sizes tell, and NaN, a
// density that is not known, then leaves no answer. False where no count tells
// anything.
//
// Source: Garwood, Biometrika 28 (1936) 437; Barlow and others, Statistical Inference
// under Order Restrictions (1972); both from memory, confirm.
func Counted(list []Count, criticalM, mostPerKg float64) (Oversize, bool) {
	if !(criticalM > 0) || math.IsInf(criticalM, 1) {
		return Oversize{}, false
	}
	sizes := bySize(list, criticalM)
	first := slices.IndexFunc(sizes, func(c Count) bool { return c.SizeM >= criticalM }) // from the critical one on
	end := slices.IndexFunc(sizes, func(c Count) bool { return c.SizeM > criticalM })    // of those up to it
	if first < 0 {
		first = len(sizes)
	}
	if end < 0 {
		end = len(sizes)
	}
	if end == 0 && (first == len(sizes) || !(mostPerKg > 0)) {
		return Oversize{}, false
	}
	o := between(sizes, first, end, criticalM)
	o.OtherSize = first == end
	if mostPerKg > 0 {
		o = o.AtMost(mostPerKg)
	}
	o.LikelyPerKg = min(max(o.LikelyPerKg, o.LowPerKg), o.HighPerKg)
	return o, true
}

// between is Counted for sizes of which those before end are up to the critical one,
// and those from first on not below it.
func between(sizes []Count, first, end int, criticalM float64) Oversize {
	o := Oversize{HighPerKg: math.Inf(1)}
	from, upper := end, Count{} // sizes from:end hold the high end
	for i := range end {
		if all := together(sizes[i:end]); all.high() < o.HighPerKg {
			from, upper, o.HighPerKg = i, all, all.high()
		}
	}
	to, lower := first, Count{} // sizes first:to hold the low end
	for i := first; i < len(sizes); i++ {
		if all := together(sizes[first : i+1]); to == first || all.low() > o.LowPerKg {
			to, lower, o.LowPerKg = i+1, all, all.low()
		}
	}
	if o.LowPerKg > o.HighPerKg { // by samples that exclude each other
		all := together(sizes[from:to])
		o.LowPerKg, o.HighPerKg = all.low(), math.Max(o.HighPerKg, all.high())
	}
	if end > 0 {
		o.LikelyPerKg = likelyUpTo(sizes[:end], criticalM)
	}
	switch {
	case to == first: // nothing but what holds the high end
	case end == 0:
		o.LikelyPerKg = lower.likely() * fall(sizes[0].SizeM, criticalM)
	case upper.rate() < lower.rate():
		o.LikelyPerKg = math.Max(o.LikelyPerKg, together(sizes[from:to]).likely())
	case first == end:
		o.LikelyPerKg = math.Max(o.LikelyPerKg, likelyBetween(sizes, end, lower, criticalM))
	}
	return o
}

// isAt reports whether grains above a size were counted.
func (c Count) isAt(sizeM float64) bool {
	return c.SizeM <= sizeM*SameSize && c.SizeM*SameSize >= sizeM
}

// bySize adds up the counts of each size, those about the critical size just there,
// finest first. It leaves out what tells nothing.
func bySize(list []Count, criticalM float64) []Count {
	var sorted, sums []Count
	for _, c := range list {
		if c.isAt(criticalM) {
			c.SizeM = criticalM
		}
		if c.valid() {
			sorted = append(sorted, c)
		}
	}
	slices.SortStableFunc(sorted, func(a, b Count) int { return cmp.Compare(a.SizeM, b.SizeM) })
	for _, c := range sorted {
		if n := len(sums); n > 0 && sums[n-1].SizeM == c.SizeM {
			sums[n-1] = sums[n-1].add(c)
		} else {
			sums = append(sums, c)
		}
	}
	return slices.DeleteFunc(sums, func(c Count) bool { return !TakesPart(c, sums, criticalM) })
}

// together adds up counts of several sizes.
func together(counts []Count) (all Count) {
	for _, c := range counts {
		all = all.add(c)
	}
	return all
}

// fall is by how much more grains are above a size than above the critical one.
func fall(sizeM, criticalM float64) float64 { return math.Pow(sizeM/criticalM, tailSlope+3) }

// likelyUpTo is the likely number at the critical size by the counts up to it.
func likelyUpTo(upTo []Count, criticalM float64) float64 {
	least, sum := math.Inf(1), Count{} // nearest first
	clean, seen := 0.0, Count{}        // what is clean, as so much at the critical size; the nearest with grains
	for _, c := range slices.Backward(upTo) {
		if sum = sum.add(c); sum.Found == 0 {
			clean += c.MassKg / fall(c.SizeM, criticalM)
			least = min(least, stat.PoissonMedian(0)/clean)
			continue
		}
		if sum.Found == c.Found { // the first with any
			seen = c
		}
		least = min(least, sum.likely()*fall(seen.SizeM, criticalM))
	}
	return least
}

// likelyBetween is the likely number between the nearest smaller size above which any
// were found and the nearest larger one; sizes before end are the smaller ones.
func likelyBetween(sizes []Count, end int, lower Count, criticalM float64) float64 {
	seen := end - 1
	for seen > 0 && sizes[seen].Found == 0 {
		seen--
	}
	small, large := sizes[seen].SizeM, sizes[end].SizeM
	n := together(sizes[seen:end]).likely()
	share := math.Log(criticalM/small) / math.Log(large/small)
	return math.Exp((1-share)*math.Log(n) + share*math.Log(lower.likely()))
}

// MoreToLookThrough returns the mass in kg that is still to be looked through above
// criticalM itself, without finding any, until counts allow no more than a chance of
// spoolChance that a grain blocks a spool, as CheckMass has it; 0 where they do.
//
// confidence and powderPerSpoolKg are those of CheckMass.
func MoreToLookThrough(list []Count, criticalM, confidence, powderPerSpoolKg, spoolChance float64) float64 {
	sum := Count{}
	more := math.Inf(1)
	sizes := bySize(list, criticalM)
	sizes = slices.DeleteFunc(sizes, func(c Count) bool { return c.SizeM > criticalM })
	if n := len(sizes); n == 0 || sizes[n-1].SizeM < criticalM {
		more = CheckMass(0, confidence, 1, powderPerSpoolKg, spoolChance)
	}
	for _, c := range slices.Backward(sizes) {
		sum = sum.add(c)
		more = math.Min(more, CheckMass(sum.Found, confidence, 1, powderPerSpoolKg, spoolChance)-sum.MassKg)
	}
	return math.Max(0, more)
}
