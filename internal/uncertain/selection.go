package uncertain

import (
	"math"
	"slices"
)

// From this length on a selection first narrows down where the number must be, from a
// sample; the length and the width of what is narrowed to are those of the source.
const sampleFrom = 600

// selectRank moves the number of the rank k, counted from 0, to a[k], none that is
// greater before it and none that is smaller behind it.
//
// Source: R. W. Floyd and R. L. Rivest, "Algorithm 489: the algorithm SELECT", Comm. ACM
// 18 (1975) 173 (from memory, confirm; the tests sort).
func selectRank(a []float64, k int) {
	left, right := 0, len(a)-1
	for right > left {
		if right-left > sampleFrom {
			n, i := float64(right-left+1), float64(k-left+1)
			z := math.Log(n)
			s := math.Exp(2*z/3) / 2
			sd := math.Copysign(math.Sqrt(z*s*(n-s)/n)/2, i-n/2)
			from := max(left, int(float64(k)-i*s/n+sd))
			to := min(right, int(float64(k)+(n-i)*s/n+sd))
			selectRank(a[from:to+1], k-from)
		}
		left, right = partition(a, left, right, k)
	}
}

// partition divides a[left..right] by the number at k and returns the part, of the two,
// that holds the rank k.
func partition(a []float64, left, right, k int) (newLeft, newRight int) {
	t := a[k]
	i, j := left, right
	a[left], a[k] = a[k], a[left]
	if a[right] > t {
		a[right], a[left] = a[left], a[right]
	}
	for i < j {
		a[i], a[j] = a[j], a[i]
		i++
		j--
		for a[i] < t {
			i++
		}
		for a[j] > t {
			j--
		}
	}
	if a[left] == t {
		a[left], a[j] = a[j], a[left]
	} else {
		j++
		a[j], a[right] = a[right], a[j]
	}
	if j <= k {
		left = j + 1
	}
	if k <= j {
		right = j - 1
	}
	return left, right
}

// ranks are the places, counted from 0, of the lower end, the median and the upper end
// among n numbers, and how many lie outside the shortest interval.
type ranks struct{ low, median, high, outside int }

// ranksOf returns those of the interval that is symmetric in probability.
//
//	q = ⌊p·n + ½⌋,  r = ⌊(n − q + 1)/2⌋,  from the r-th to the (r + q)-th
//
// The median is the middle one, the lower of two.
//
// Source: JCGM 101:2008 7.7.1 and 7.7.2.
func ranksOf(n int, p float64) ranks {
	q := min(int(p*float64(n)+0.5), n-1)
	r := (n - q + 1) / 2
	return ranks{low: r - 1, median: (n - 1) / 2, high: min(r+q, n) - 1, outside: n - q}
}

// selectEnds puts the numbers of the two ends in their places.
func selectEnds(a []float64, r ranks) {
	selectRank(a, r.low)
	if r.high > r.low {
		selectRank(a[r.low+1:], r.high-r.low-1)
	}
}

// finder finds ranks among numbers that lie in several parts, for one goroutine at a
// time. It keeps its buffers, so that what many figures need does not add up.
type finder struct{ sample, near, lowest, highest []float64 }

// rank returns the number of the rank k among the n of all parts together, without
// moving any: it gathers those that lie where a sample says it should be, and if it is
// not there, those on the side where it is.
func (f *finder) rank(parts [][]float64, n, k int) float64 {
	low, high := f.about(parts, n, k)
	if low == high { // many are equal, and need not be gathered
		if below, equal := countOf(parts, low); k >= below && k < below+equal {
			return low
		}
	}
	for {
		below, near := gather(parts, low, high, f.near[:0])
		f.near = near
		switch {
		case k < below:
			low, high = math.Inf(-1), low
		case k >= below+len(near):
			low, high = high, math.Inf(1)
		default:
			selectRank(near, k-below)
			return near[k-below]
		}
	}
}

// samplePoints is how many of the numbers are looked at to find out where a rank lies:
// few enough to sort, and enough to leave out nearly all others.
const samplePoints = 4096

// about returns two numbers between which that of the rank k lies most probably:
// the ranks of a sample four standard deviations below and above.
func (f *finder) about(parts [][]float64, n, k int) (low, high float64) {
	step := max(n/samplePoints, 1)
	sample := f.sample[:0]
	next := step / 2
	for _, part := range parts {
		for ; next < len(part); next += step {
			sample = append(sample, part[next])
		}
		next -= len(part)
	}
	f.sample = sample
	slices.Sort(sample)
	share := (float64(k) + 0.5) / float64(n)
	size := float64(len(sample))
	middle, away := share*size, 4*math.Sqrt(size*share*(1-share))+1
	return sample[max(int(middle-away), 0)], sample[min(int(middle+away), len(sample)-1)]
}

// countOf returns how many numbers lie below another, and how many equal it.
func countOf(parts [][]float64, other float64) (below, equal int) {
	for _, part := range parts {
		for _, v := range part {
			if v < other {
				below++
			}
			if v == other {
				equal++
			}
		}
	}
	return below, equal
}

// gather returns how many finite numbers lie below low, and adds those from low to high
// to near. It looks at signs, since half of the numbers may lie on either side, and a branch that
// cannot be foreseen costs more than the difference.
func gather(parts [][]float64, low, high float64, near []float64) (below int, all []float64) {
	for _, part := range parts {
		for _, v := range part {
			under, over := math.Float64bits(v-low)>>63, math.Float64bits(high-v)>>63
			below += int(under)
			if under|over == 0 {
				near = append(near, v)
			}
		}
	}
	return below, near
}

// shortest returns the shortest interval that holds n − m of n numbers, given the m
// smallest and the m largest in order.
//
// Source: JCGM 101:2008 7.7.3.
func shortest(lowest, highest []float64) (low, high float64) {
	best := 0
	for r := range lowest {
		if highest[r]-lowest[r] < highest[best]-lowest[best] {
			best = r
		}
	}
	return lowest[best], highest[best]
}
