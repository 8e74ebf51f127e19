package uncertain

import (
	"context"
	"errors"
	"fmt"
	"math"
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
// bytes are held for each figure kept and each draw, unless Moments is set. Draws in
// which a figure is not finite are left out for that figure. An input that is not a
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
	from, to := 0, c.points
	if r.Digits > 0 {
		to = min(c.points, firstLook(c.run.Probability))
	}
	for {
		if err := c.draw(ctx, from, to); err != nil {
			return Outcome{}, err
		}
		estimates, err := c.summarise(ctx, to)
		if err != nil {
			return Outcome{}, err
		}
		settled := r.Digits > 0 && c.settled(estimates)
		if settled || to == c.points {
			return Outcome{Estimates: estimates, Draws: to * c.replicates, Replicates: c.replicates, Settled: settled}, nil
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
	parts              [][]moments // of each figure kept, by replicate
	stored             [][]float64 // of each figure kept, one replicate after the other; empty for moments only
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
	c := &campaign{run: r, sampler: sampler, parts: make([][]moments, len(r.Keep))}
	c.replicates, c.points = split(r.Draws)
	c.points = min(c.points, 1<<sobolBits)
	c.sampler.seed(r.Points, r.Seed, c.replicates, 1)
	for j := range c.parts {
		c.parts[j] = make([]moments, c.replicates)
	}
	if !r.Moments {
		c.stored = make([][]float64, len(r.Keep))
		for j := range c.stored {
			c.stored[j] = make([]float64, c.replicates*c.points)
		}
	}
	for range coresOr(r.Cores) {
		c.workers = append(c.workers, newDrawer(sampler, r.Model(), r.Figures, r.Keep))
	}
	return c, nil
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
	for _, e := range estimates {
		if e.Defined == 0 {
			continue
		}
		worst := max(e.ErrMean, e.ErrU)
		if !c.run.Moments {
			worst = max(worst, e.ErrLow, e.ErrHigh)
		}
		if !(2*worst <= NumericalTolerance(e.U, c.run.Digits)) || math.IsNaN(worst) {
			return false
		}
	}
	return true
}
