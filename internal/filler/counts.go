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

// Tells reports whether a count says anything of the grains above criticalM: none
// found above a larger size says nothing of smaller ones.
func (c Count) Tells(criticalM float64) bool {
	weighed := c.MassKg > 0 && !math.IsInf(c.MassKg, 1) && c.OffKg >= 0 && c.SizeM > 0 && c.Found >= 0
	return weighed && (c.Found > 0 || c.SizeM <= criticalM*SameSize)
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
// end may then hold with a little less than 95 %. Where larger sizes tell of more grains than smaller ones, the two
// are put together, as is most likely then (isotonic regression).
//
// Grains that were found above a smaller size, or not even there, make fewer likely
// above the critical one, as size^-9 (own judgement, see tailSlope). Between a smaller
// and a larger size the likely number lies straight on logarithms; where only larger
// ones tell it rises as size^-9.
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
	if from < end && to > first && upper.rate() < lower.rate() {
		all := together(sizes[from:to])
		return Oversize{LikelyPerKg: all.likely(), LowPerKg: all.low(), HighPerKg: all.high()}
	}
	o.LikelyPerKg = likelyAt(sizes[:end], sizes[end:], lower, criticalM)
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
		if c.Tells(math.Inf(1)) {
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
	return slices.DeleteFunc(sums, func(c Count) bool { return !c.Tells(criticalM) })
}

// together adds up counts of several sizes.
func together(counts []Count) (all Count) {
	for _, c := range counts {
		all = all.add(c)
	}
	return all
}

// likelyAt is the likely number at the critical size, by the counts up to it and
// above it; lower is what holds the low end.
func likelyAt(upTo, above []Count, lower Count, criticalM float64) float64 {
	fall := func(c Count) float64 { return math.Pow(c.SizeM/criticalM, tailSlope+3) }
	if len(upTo) == 0 {
		return above[0].likely() * fall(above[0])
	}
	least, sum := math.Inf(1), Count{} // nearest first
	clean, seen := 0.0, Count{}        // what is clean, as so much at the critical size; the nearest with grains
	for _, c := range slices.Backward(upTo) {
		if sum = sum.add(c); sum.Found == 0 {
			clean += c.MassKg / fall(c)
			least = min(least, stat.PoissonMedian(0)/clean)
			continue
		}
		if sum.Found == c.Found { // the first with any
			seen = c
		}
		least = min(least, sum.likely()*fall(seen))
	}
	if len(above) == 0 || upTo[len(upTo)-1].SizeM >= criticalM {
		return least
	}
	// grains were found on both sides, or the two would be put together
	share := math.Log(criticalM/seen.SizeM) / math.Log(above[0].SizeM/seen.SizeM)
	return math.Exp((1-share)*math.Log(least/fall(seen)) + share*math.Log(lower.likely()))
}
