package uncertain

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// blockPoints is how many points are drawn of one input before the next: few enough for
// the inputs of a large model to stay in the nearest cache.
const blockPoints = 256

// columnStride keeps the columns of a block apart by a little more than a power of two;
// else they would all fall on the same few lines of the cache.
const columnStride = blockPoints + 8

// sampler draws the uncertain inputs of a model.
type sampler struct {
	inputs  []Variable
	varying []int   // the uncertain inputs
	curves  []curve // theirs
	joined  *copula
	streams [][]stream // of each replicate, one or more for each uncertain input
}

// newSampler makes sets of coordinates for each uncertain input: set s of input k is
// coordinate s·(number of inputs) + k.
func newSampler(inputs []Variable, correlated []Correlation) (*sampler, error) {
	s := &sampler{inputs: inputs}
	place := make([]int, len(inputs))
	for i, v := range inputs {
		place[i] = -1
		if !v.exact() {
			place[i] = len(s.varying)
			s.varying = append(s.varying, i)
			s.curves = append(s.curves, curveOf(v))
		}
	}
	var err error
	s.joined, err = newCopula(correlated, place)
	return s, err
}

func (s *sampler) seed(points Points, seed uint64, replicates, sets int) {
	s.streams = make([][]stream, replicates)
	for r := range s.streams {
		s.streams[r] = make([]stream, sets*len(s.varying))
		for d := range s.streams[r] {
			s.streams[r][d] = newStream(points, seed, r, d)
		}
	}
}

// block holds the draws of some points, one column for each uncertain input.
type block struct {
	columns [][]float64
	digits  [blockPoints]uint64
}

func (s *sampler) newBlock() *block {
	b := &block{columns: make([][]float64, len(s.varying))}
	all := make([]float64, len(s.varying)*columnStride)
	for k := range b.columns {
		b.columns[k] = all[k*columnStride:][:blockPoints]
	}
	return b
}

// draw fills the columns with n points of one replicate from the first on, of one of
// the sets of coordinates.
func (s *sampler) draw(b *block, replicate, set, first, n int) {
	streams := s.streams[replicate][set*len(s.varying):]
	for k := range b.columns {
		b.columns[k] = b.columns[k][:n]
		streams[k].fill(first, b.digits[:], b.columns[k])
	}
	if s.joined != nil {
		for _, k := range s.joined.at {
			scoresOf(b.columns[k])
		}
		s.joined.join(b.columns)
	}
	for k := range b.columns {
		s.bend(k, b.columns[k])
	}
}

// bend turns the numbers of one input, scores if it is joined to others and
// probabilities if not, into draws.
func (s *sampler) bend(k int, column []float64) {
	c := &s.curves[k]
	scores := s.joined.joins(k)
	switch {
	case c.even && scores:
		for i, z := range column {
			column[i] = 2*normalBelow(z) - 1
		}
	case c.even:
		for i, p := range column {
			column[i] = 2*p - 1
		}
	case !scores:
		scoresOf(column)
	}
	c.bend(column)
}

// values returns the best estimates, in which a goroutine then sets those that vary.
func (s *sampler) values() []float64 {
	x := make([]float64, len(s.inputs))
	for i, v := range s.inputs {
		x[i] = v.Value
	}
	return x
}

// leastReplicates is the number of independent replicates at least: the standard error
// is told from their spread, so well as about a sixth of it (own judgement).
const leastReplicates = 16

// split divides draws into replicates of a power of two points each.
func split(draws int) (replicates, points int) {
	points = 1
	for 2*points*leastReplicates <= draws {
		points *= 2
	}
	return draws / points, points
}

// coresOr is the number of goroutines to use.
func coresOr(cores int) int {
	if cores > 0 {
		return cores
	}
	return runtime.GOMAXPROCS(0)
}

// each does every task once, by so many workers at a time, and calls done on the
// caller's own goroutine after each. It stops early when ctx does.
func each(ctx context.Context, workers, tasks int, work func(worker, task int), done func()) error {
	var next atomic.Int64
	var running sync.WaitGroup
	finished := make(chan struct{}, workers)
	for w := range workers {
		running.Go(func() {
			for ctx.Err() == nil {
				task := int(next.Add(1)) - 1
				if task >= tasks {
					return
				}
				work(w, task)
				finished <- struct{}{}
			}
		})
	}
	go func() {
		running.Wait()
		close(finished)
	}()
	for range finished {
		done()
	}
	return ctx.Err()
}
