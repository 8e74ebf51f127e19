package uncertain

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
)

// leastDraws is the fewest draws of a run: fewer leave too few in each replicate for
// the ends of an interval (own judgement).
const leastDraws = 1024

// usualProbability is that of the intervals where none is asked for.
const usualProbability = 0.95

// ErrDraws is what a run is refused with that has too few draws.
var ErrDraws = errors.New("uncertain: too few draws")

// Run says what to propagate through a model, and how.
type Run struct {
	Inputs     []Variable
	Correlated []Correlation
	Figures    int // how many numbers the model writes
	// Model returns a model for one goroutine. It writes every y from x, changes no x and
	// keeps neither; a y that is not finite counts as undefined.
	Model       func() func(x, y []float64)
	Keep        []int   // the figures wanted, nil for all
	Draws       int     // the most draws, at least 1024
	Probability float64 // of the intervals, within 0..1; 0 for 0.95
	Digits      int     // of u, to which all are to settle; 0 for all draws
	Moments     bool    // mean and u only: no draws are stored, and no ends told
	Ends        int     // of how many of the figures kept, from the first on, ends are told; 0 for all
	Memory      int     // bytes that stored draws may take, 0 for no bound
	Shortest    bool    // the shortest intervals, too
	Seed        uint64
	Points      Points
	Cores       int                  // 0 for as many as there are
	Progress    func(done, most int) // nil, or called on the caller's goroutine
}

// Estimate is what a run says of one figure, in the unit of the figure; NaN for what was
// not asked for or cannot be told.
type Estimate struct {
	Mean, U, Median     float64
	Low, High           float64 // as much lies below as above
	ShortLow, ShortHigh float64 // the shortest interval
	ErrMean, ErrU       float64 // standard errors
	ErrLow, ErrHigh     float64
	Defined             float64 // share of the draws in which the figure was finite
}

// Outcome is what a run found, by the order of Keep.
type Outcome struct {
	Estimates         []Estimate
	Draws, Replicates int
	Settled           bool // to the digits that were asked for
}

// MonteCarlo draws the inputs, runs the model and summarises each figure.
//
//	y = mean, u = standard deviation, ends by ranks of the draws
//
// u divides by n − 1, as its source does, though Quasi points would want n.
// The draws are those of 16 to 31 replicates of 2^k points each, independent of each
// other: as many as fit in Draws. The standard error of each result is that of the mean
// over the replicates. With Quasi points, the default, each replicate is a Sobol'
// sequence with its own scrambling; the error then falls about as fast as the number of
// draws for smooth figures. Inputs beyond the 256th uncertain one are pseudo-random.
//
// With Digits, the replicates start with 2^k ≥ 100/(1 − p) points and double until
//
//	2·s ≤ δ
//
// for the mean, u and both ends of every figure, s being the standard error and δ the
// NumericalTolerance of u. JCGM 101 adds sequences of 10⁴ draws instead, from two on:
// doubling them instead lets the quasi-random points show what they are worth, and
// sixteen of them do not stop by chance, as two may.
//
// The results are the same, bit by bit, for a seed whatever the number of cores. Eight
// bytes are held for each draw of each figure of which ends are told. Where that is more
// than Memory, the same draws are made anew for one group of figures after another, with
// at least one figure in each, and the results are those of a single pass. With Digits all
// stay in one: they settle together. Draws in which a figure is not finite are left out for that figure. An input that is not a
// number leaves figures undefined, never more. MonteCarlo returns ErrDraws,
// ErrCorrelations, or ctx.Err() a few milliseconds after ctx is done: it asks every 256
// draws, and between the steps of the summary, which are longer with more than about
// 10⁶ draws. It panics on a probability outside 0..1.
//
// Source: JCGM 101:2008 clause 7; 7.9.2 and 7.9.4 for the digits.
func MonteCarlo(ctx context.Context, r Run) (Outcome, error) {
	c, err := newCampaign(r)
	if err != nil {
		return Outcome{}, err
	}
	out := Outcome{Estimates: make([]Estimate, len(c.run.Keep)), Replicates: c.replicates}
	for c.before = 0; c.before < c.passes; c.before++ {
		first := c.before * c.width
		c.begin(first)
		estimates, points, settled, err := c.pass(ctx)
		if err != nil {
			return Outcome{}, err
		}
		copy(out.Estimates[first:], estimates[:c.storing])
		if first == 0 {
			copy(out.Estimates[c.ends:], estimates[c.storing:])
		}
		out.Draws, out.Settled = points*c.replicates, settled
	}
	return out, nil
}

// pass draws for the figures of one group, until they are settled where that is wanted.
func (c *campaign) pass(ctx context.Context) (_ []Estimate, points int, settled bool, _ error) {
	from, to := 0, c.points
	if c.run.Digits > 0 {
		to = min(c.points, firstLook(c.run.Probability))
	}
	for {
		if err := c.draw(ctx, from, to); err != nil {
			return nil, 0, false, err
		}
		estimates, err := c.summarise(ctx, to)
		if err != nil {
			return nil, 0, false, err
		}
		settled := c.run.Digits > 0 && c.settled(estimates)
		if settled || to == c.points {
			return estimates, to, settled, nil
		}
		from, to = to, 2*to
	}
}

// firstLook is the power of two from 100/(1 − p) up.
func firstLook(p float64) int {
	points := 1
	for float64(points)*(1-p) < 100 && points < 1<<sobolBits {
		points *= 2
	}
	return points
}

// campaign is a run under way.
type campaign struct {
	run                Run
	sampler            *sampler
	replicates, points int // as many as there may be
	workers            []*drawer
	ends, width        int         // figures of which ends are told, and how many of them a pass stores
	passes, before     int         // of all, and those that are done
	storing            int         // figures that this pass stores; those behind them have moments only
	parts              [][]moments // of each figure of the pass, by replicate
	stored             [][]float64 // of each figure that is stored, one replicate after the other
}

func newCampaign(r Run) (*campaign, error) {
	if r.Draws < leastDraws {
		return nil, fmt.Errorf("%w: %d, at least %d", ErrDraws, r.Draws, leastDraws)
	}
	if r.Probability == 0 {
		r.Probability = usualProbability
	}
	if !(r.Probability > 0 && r.Probability < 1) {
		panic("uncertain: a probability outside 0..1")
	}
	r.Keep = keptOr(r.Keep, r.Figures)
	sampler, err := newSampler(r.Inputs, r.Correlated)
	if err != nil {
		return nil, err
	}
	c := &campaign{run: r, sampler: sampler}
	c.replicates, c.points = split(r.Draws)
	c.points = min(c.points, 1<<sobolBits)
	c.sampler.seed(r.Points, r.Seed, c.replicates, 1)
	c.plan()
	c.store()
	for range coresOr(r.Cores) {
		c.workers = append(c.workers, newDrawer(sampler, r.Model(), r.Figures, r.Keep))
	}
	return c, nil
}

// plan divides the figures of which ends are told into groups of even size, whose draws
// fit into the memory.
func (c *campaign) plan() {
	r := &c.run
	c.ends, c.passes = len(r.Keep), 1
	if r.Ends > 0 {
		c.ends = min(r.Ends, c.ends)
	}
	if r.Moments {
		c.ends = 0
	}
	c.width = c.ends
	if r.Memory > 0 && r.Digits <= 0 && c.ends > 0 {
		fit := max(1, r.Memory/(8*c.replicates*c.points))
		c.passes = (c.ends + fit - 1) / fit
		c.width = (c.ends + c.passes - 1) / c.passes
		c.passes = (c.ends + c.width - 1) / c.width
	}
}

// muchMemory is from how many bytes on what was left behind is cleared away before more is
// taken: else a run holds that of the one before as well.
const muchMemory = 32 << 20

// tidy clears away what was left behind where draws take much memory.
func (c *campaign) tidy() {
	if 8*c.replicates*c.points*c.width >= muchMemory {
		runtime.GC()
	}
}

// store makes room for the draws of a pass; all passes use it.
func (c *campaign) store() {
	c.tidy()
	for range c.width {
		c.stored = append(c.stored, make([]float64, c.replicates*c.points))
	}
}

// begin turns to the figures from first on. Those without ends go with the first pass.
func (c *campaign) begin(first int) {
	last := min(first+c.width, c.ends)
	keep := slices.Clone(c.run.Keep[first:last])
	c.storing = last - first
	if first == 0 {
		keep = append(keep, c.run.Keep[c.ends:]...)
	} else {
		c.tidy()
	}
	c.parts = make([][]moments, len(keep))
	for j := range c.parts {
		c.parts[j] = make([]moments, c.replicates)
	}
	for _, d := range c.workers {
		d.keep = keep
	}
}

// keptOr returns the figures kept, or all.
func keptOr(keep []int, figures int) []int {
	if keep != nil {
		return keep
	}
	keep = make([]int, figures)
	for j := range keep {
		keep[j] = j
	}
	return keep
}

// settled reports whether twice the standard error of all that is told of every figure
// stays within the last digit wanted. A figure that no draw has defined has nothing to
// settle.
func (c *campaign) settled(estimates []Estimate) bool {
	for j, e := range estimates {
		if e.Defined == 0 {
			continue
		}
		worst := max(e.ErrMean, e.ErrU)
		if j < c.storing {
			worst = max(worst, e.ErrLow, e.ErrHigh)
		}
		if !(2*worst <= NumericalTolerance(e.U, c.run.Digits)) || math.IsNaN(worst) {
			return false
		}
	}
	return true
}
