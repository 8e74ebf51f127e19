package uncertain

import "context"

// freezer is what one goroutine needs to share out variances.
type freezer struct {
	*sharing
	model func(x, y []float64)
	x, y  []float64
	a, b  *block
	found [][]float64 // of each figure kept: f(A), f(B), and f(A_B) of each group
}

func (s *sharing) newFreezer() *freezer {
	f := &freezer{
		sharing: s,
		model:   s.Model(),
		x:       s.sampler.values(),
		y:       make([]float64, s.Figures),
		a:       s.sampler.newBlock(),
		b:       s.sampler.newBlock(),
		found:   make([][]float64, len(s.Keep)),
	}
	for j := range f.found {
		f.found[j] = make([]float64, 2+len(s.groups))
	}
	return f
}

// task takes some points of one replicate, block by block. It asks after every row
// whether to go on, since a row is many evaluations.
func (f *freezer) task(ctx context.Context, replicate, first, size int) []shareSums {
	sums := f.newSums()
	n := min(blockPoints, size)
	for end := first + size; first < end; first += n {
		f.sampler.draw(f.a, replicate, 0, first, n)
		f.sampler.draw(f.b, replicate, 1, first, n)
		for row := range n {
			if ctx.Err() != nil {
				return sums
			}
			f.row(row)
			for j := range sums {
				sums[j].take(f.found[j], f.groups)
			}
		}
	}
	return sums
}

// row evaluates the model at one point: at B, at A, and at A with each group from B.
func (f *freezer) row(row int) {
	varying := f.sampler.varying
	for k, i := range varying {
		f.x[i] = f.b.columns[k][row]
	}
	f.evaluate(1)
	for k, i := range varying {
		f.x[i] = f.a.columns[k][row]
	}
	f.evaluate(0)
	for g, members := range f.groups {
		if len(members) == 0 {
			continue
		}
		for _, k := range members {
			f.x[varying[k]] = f.b.columns[k][row]
		}
		f.evaluate(2 + g)
		for _, k := range members {
			f.x[varying[k]] = f.a.columns[k][row]
		}
	}
}

func (f *freezer) evaluate(place int) {
	f.model(f.x, f.y)
	for j, figure := range f.Keep {
		f.found[j][place] = f.y[figure] - f.origin[j]
	}
}

// take adds one point, unless the figure is not finite in any of its evaluations.
func (s *shareSums) take(found []float64, groups [][]int) {
	var check float64
	for _, v := range found {
		check += v - v
	}
	if check != 0 {
		return
	}
	a, b := found[0], found[1]
	s.n++
	s.values += a + b
	s.squares += a*a + b*b
	for g := range groups {
		if len(groups[g]) == 0 {
			continue
		}
		d := found[2+g] - a
		s.groups[g].differences += d
		s.groups[g].products += b * d
		s.groups[g].squares += d * d
	}
}
