package uncertain

import (
	"context"
	"math"
	"slices"
)

// summarise tells the estimates from the first points of every replicate.
func (c *campaign) summarise(ctx context.Context, points int) ([]Estimate, error) {
	estimates := make([]Estimate, len(c.parts))
	for j, parts := range c.parts {
		estimates[j] = momentsEstimate(parts, float64(c.replicates*points))
	}
	if c.storing == 0 {
		return estimates, ctx.Err()
	}
	return estimates, c.tellEnds(ctx, points, estimates[:c.storing])
}

func momentsEstimate(parts []moments, draws float64) Estimate {
	nan := math.NaN()
	e := Estimate{Median: nan, Low: nan, High: nan, ShortLow: nan, ShortHigh: nan, ErrLow: nan, ErrHigh: nan}
	var all moments
	means, us := make([]float64, len(parts)), make([]float64, len(parts))
	for r, m := range parts {
		all.add(m)
		means[r], us[r] = nan, nan
		if m.n > 0 {
			means[r], us[r] = m.mean, m.u()
		}
	}
	e.Mean, e.U, e.Defined = all.mean, all.u(), all.n/draws
	if all.n == 0 {
		e.Mean = nan
	}
	e.ErrMean, e.ErrU = standardError(means), standardError(us)
	return e
}

// figureEnds are the ends of one figure as each replicate has them.
type figureEnds struct {
	parts     [][]float64
	low, high []float64
	n         int
	short     bool // the shortest interval is asked for
}

// tellEnds adds the median and the ends to the estimates: first those of each replicate,
// from which the spread is told, then those of all draws.
func (c *campaign) tellEnds(ctx context.Context, points int, estimates []Estimate) error {
	all := make([]figureEnds, len(estimates))
	for j := range all {
		all[j] = c.newFigureEnds()
	}
	nothing := func() {}
	err := each(ctx, len(c.workers), len(all)*c.replicates, func(_, task int) {
		j, r := task/c.replicates, task%c.replicates
		c.replicateEnds(&all[j], j, r, points)
	}, nothing)
	if err != nil {
		return err
	}
	for j := range all {
		for r := range all[j].parts {
			all[j].n += len(all[j].parts[r])
		}
	}
	return each(ctx, len(c.workers), len(all)*len(pooled), func(worker, task int) {
		j := task / len(pooled)
		if all[j].n > 0 {
			pooled[task%len(pooled)](&c.workers[worker].finder, &all[j], ranksOf(all[j].n, c.run.Probability), &estimates[j])
		}
	}, nothing)
}

func (c *campaign) newFigureEnds() figureEnds {
	return figureEnds{
		parts: make([][]float64, c.replicates),
		low:   make([]float64, c.replicates),
		high:  make([]float64, c.replicates),
		short: c.run.Shortest,
	}
}

// replicateEnds finds the ends of one replicate, NaN where it has no draws. The finite
// draws end up in front, in another order.
func (c *campaign) replicateEnds(f *figureEnds, j, r, points int) {
	part := c.stored[j][r*c.points:][:points]
	n := int(c.parts[j][r].n)
	if n < points {
		finiteFirst(part)
	}
	f.parts[r] = part[:n]
	if n == 0 {
		f.low[r], f.high[r] = math.NaN(), math.NaN()
		return
	}
	k := ranksOf(n, c.run.Probability)
	selectEnds(part[:n], k)
	f.low[r], f.high[r] = part[k.low], part[k.high]
}

// finiteFirst moves the finite numbers to the front. Those of before are there already.
func finiteFirst(part []float64) {
	n := 0
	for i, v := range part {
		if v-v == 0 {
			part[i], part[n] = part[n], v
			n++
		}
	}
}

// pooled are what is told from all draws of a figure; each writes its own fields.
var pooled = [...]func(*finder, *figureEnds, ranks, *Estimate){
	func(find *finder, f *figureEnds, k ranks, e *Estimate) {
		e.Low, e.ErrLow = find.rank(f.parts, f.n, k.low), standardError(f.low)
	},
	func(find *finder, f *figureEnds, k ranks, e *Estimate) {
		e.Median = find.rank(f.parts, f.n, k.median)
	},
	func(find *finder, f *figureEnds, k ranks, e *Estimate) {
		e.High, e.ErrHigh = find.rank(f.parts, f.n, k.high), standardError(f.high)
	},
	func(find *finder, f *figureEnds, k ranks, e *Estimate) {
		if f.short {
			e.ShortLow, e.ShortHigh = f.shortest(find, k.outside)
		}
	},
}

// shortest sorts the two tails only, between whose numbers the ends must lie. Of those that
// equal the innermost of a tail, which may be nearly all, no more are taken than there is
// room for.
func (f *figureEnds) shortest(find *finder, outside int) (low, high float64) {
	last, first := find.rank(f.parts, f.n, outside-1), find.rank(f.parts, f.n, f.n-outside)
	_, find.lowest = gather(f.parts, math.Inf(-1), math.Nextafter(last, math.Inf(-1)), find.lowest[:0])
	_, find.highest = gather(f.parts, math.Nextafter(first, math.Inf(1)), math.Inf(1), find.highest[:0])
	for len(find.lowest) < outside {
		find.lowest = append(find.lowest, last)
	}
	for len(find.highest) < outside {
		find.highest = append(find.highest, first)
	}
	slices.Sort(find.lowest)
	slices.Sort(find.highest)
	return shortest(find.lowest, find.highest)
}
