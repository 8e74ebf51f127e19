package uncertain

import (
	"context"
	"fmt"
	"math"
)

// SharesRun says what to share out the variance of. The fields that Run has mean the
// same.
type SharesRun struct {
	Inputs   []Variable
	Figures  int
	Model    func() func(x, y []float64)
	Keep     []int
	Groups   [][]int // inputs that count as one; nil for each by itself
	Draws    int     // the most points n, at least 1024; the model is evaluated n·(groups + 2) times
	Seed     uint64
	Points   Points
	Cores    int
	Progress func(done, most int) // of the points
}

// Shares are shares of the variance of each figure, by the order of Keep, that come from
// each group, or from each input where there are none.
type Shares struct {
	First, Total       [][]float64
	ErrFirst, ErrTotal [][]float64 // standard errors
	Variance, Mean     []float64
	Defined            []float64 // share of the points in which the figure was finite throughout
	Evaluations        int
}

// VarianceShares returns Sobol' shares of the variance: of first order, what an input
// takes away if it alone is known, and total, what is left if it alone is not.
//
//	S_i = mean(f(B)·(f(A_B⁽ⁱ⁾) − f(A)))/V,  T_i = mean((f(A) − f(A_B⁽ⁱ⁾))²)/(2V)
//
// A and B are independent sets of points and A_B⁽ⁱ⁾ is A with input i from B; V is the
// variance of f over A and B, and f is counted from its mean. Inputs are independent. With
// Quasi points A and B are the halves of a Sobol' sequence of twice as many dimensions
// as there are uncertain inputs; beyond 256 dimensions they are pseudo-random. The
// replicates are those of MonteCarlo, and so are the standard errors.
//
// An exact input has shares of 0, and so has every input of a figure without variance. A
// share of first order that is small may come out below 0. A point at which a figure is
// not finite at A, B or any A_B is left out for that figure; with none left, its shares
// are NaN. The errors returned are ErrDraws and ctx.Err().
//
// Source: A. Saltelli et al., "Variance based sensitivity analysis of model output",
// Computer Physics Communications 181 (2010) 259-270, table 2 (b) for the first order
// and (f), Jansen's, for the total (places in the table from memory, confirm).
func VarianceShares(ctx context.Context, r SharesRun) (Shares, error) {
	if r.Draws < leastDraws {
		return Shares{}, fmt.Errorf("%w: %d, at least %d", ErrDraws, r.Draws, leastDraws)
	}
	s, err := newSharing(r)
	if err != nil {
		return Shares{}, err
	}
	if err := s.run(ctx); err != nil {
		return Shares{}, err
	}
	return s.shares(), nil
}

// sharing is the sharing out under way.
type sharing struct {
	SharesRun
	sampler            *sampler
	groups             [][]int // of places among the uncertain inputs
	origin             []float64
	replicates, points int
	sums               [][]shareSums // of each replicate and figure kept
}

// shareSums are sums over points of a figure, counted from an origin.
type shareSums struct {
	n, values, squares float64 // of A and B together
	groups             []groupSums
}

// groupSums are sums of the difference that a group makes, of its products with f(B)
// and of its squares.
type groupSums struct{ differences, products, squares float64 }

func newSharing(r SharesRun) (*sharing, error) {
	r.Keep = keptOr(r.Keep, r.Figures)
	if r.Groups == nil {
		for i := range r.Inputs {
			r.Groups = append(r.Groups, []int{i})
		}
	}
	sampler, err := newSampler(r.Inputs, nil)
	if err != nil {
		return nil, err
	}
	s := &sharing{SharesRun: r, sampler: sampler}
	place := make(map[int]int)
	for k, i := range sampler.varying {
		place[i] = k
	}
	for _, group := range r.Groups {
		var places []int
		for _, i := range group {
			if k, uncertain := place[i]; uncertain {
				places = append(places, k)
			}
		}
		s.groups = append(s.groups, places)
	}
	s.replicates, s.points = split(r.Draws)
	s.points = min(s.points, 1<<sobolBits)
	sampler.seed(r.Points, r.Seed, s.replicates, 2)
	s.setOrigin()
	return s, nil
}

// setOrigin counts every figure from the best estimate, lest digits be lost in the sums.
func (s *sharing) setOrigin() {
	y := make([]float64, s.Figures)
	s.Model()(s.sampler.values(), y)
	for _, j := range s.Keep {
		if y[j]-y[j] != 0 {
			y[j] = 0
		}
		s.origin = append(s.origin, y[j])
	}
}

// sharesTasks is how many tasks there are of each replicate at most: each holds sums of
// its own for every figure and group.
const sharesTasks = 8

func (s *sharing) run(ctx context.Context) error {
	workers := make([]*freezer, coresOr(s.Cores))
	for w := range workers {
		workers[w] = s.newFreezer()
	}
	size := max(s.points/sharesTasks, min(s.points, blockPoints))
	tasks := s.points / size
	found := make([][]shareSums, s.replicates*tasks)
	done := 0
	err := each(ctx, len(workers), len(found), func(worker, task int) {
		found[task] = workers[worker].task(ctx, task/tasks, task%tasks*size, size)
	}, func() {
		done += size
		if s.Progress != nil {
			s.Progress(done, s.replicates*s.points)
		}
	})
	if err != nil {
		return err
	}
	for r := range s.replicates {
		total := s.newSums()
		for _, sums := range found[r*tasks : (r+1)*tasks] {
			for j := range total {
				total[j].add(&sums[j])
			}
		}
		s.sums = append(s.sums, total)
	}
	return nil
}

func (s *sharing) newSums() []shareSums {
	sums := make([]shareSums, len(s.Keep))
	for j := range sums {
		sums[j].groups = make([]groupSums, len(s.groups))
	}
	return sums
}

func (s *shareSums) add(o *shareSums) {
	s.n += o.n
	s.values += o.values
	s.squares += o.squares
	for g := range s.groups {
		s.groups[g].differences += o.groups[g].differences
		s.groups[g].products += o.groups[g].products
		s.groups[g].squares += o.groups[g].squares
	}
}

// variance is that of f over A and B.
func (s *shareSums) variance() float64 {
	mean := s.values / (2 * s.n)
	return max(s.squares/(2*s.n)-mean*mean, 0)
}

// of returns the two shares of a group.
func (s *shareSums) of(g int) (first, total float64) {
	variance := s.variance()
	if variance == 0 {
		return 0, 0
	}
	mean, group := s.values/(2*s.n), &s.groups[g]
	first = (group.products - mean*group.differences) / s.n / variance
	total = group.squares / (2 * s.n) / variance
	return first, total
}

// shares tells the shares from the sums of all replicates, and their errors from the
// spread of the replicates.
func (s *sharing) shares() Shares {
	out := Shares{Evaluations: s.replicates * s.points * (s.varyingGroups() + 2)}
	for j := range s.Keep {
		all := s.newSums()[j]
		for r := range s.sums {
			all.add(&s.sums[r][j])
		}
		out.Mean = append(out.Mean, s.origin[j]+all.values/(2*all.n))
		out.Variance = append(out.Variance, all.variance())
		out.Defined = append(out.Defined, all.n/float64(s.replicates*s.points))
		first, total := make([]float64, len(s.groups)), make([]float64, len(s.groups))
		errFirst, errTotal := make([]float64, len(s.groups)), make([]float64, len(s.groups))
		for g, members := range s.groups {
			if len(members) > 0 {
				first[g], total[g] = all.of(g)
				errFirst[g], errTotal[g] = s.errors(j, g)
			}
		}
		out.First, out.Total = append(out.First, first), append(out.Total, total)
		out.ErrFirst, out.ErrTotal = append(out.ErrFirst, errFirst), append(out.ErrTotal, errTotal)
	}
	return out
}

func (s *sharing) varyingGroups() int {
	n := 0
	for _, members := range s.groups {
		if len(members) > 0 {
			n++
		}
	}
	return n
}

func (s *sharing) errors(j, g int) (first, total float64) {
	firsts, totals := make([]float64, s.replicates), make([]float64, s.replicates)
	for r := range s.sums {
		firsts[r], totals[r] = math.NaN(), math.NaN()
		if sums := &s.sums[r][j]; sums.n > 0 {
			firsts[r], totals[r] = sums.of(g)
		}
	}
	return standardError(firsts), standardError(totals)
}
