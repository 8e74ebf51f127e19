package bench

import (
	"math"
	"math/rand/v2"
	"slices"

	"fillwright/internal/uncertain"
)

// probes is at how many draws a derived number is looked for in what is wanted (own
// judgement: a number that counts at none of them counts nowhere).
const probes = 48

// lean is the model without the derived numbers on which nothing wanted hangs: where a
// million draws are made, what nobody reads costs as much as what is read. writes returns
// what writes all that is wanted for a model.
func (m *Model) lean(inputs []uncertain.Variable, outputs int, writes func(m *Model) func(x, y []float64)) *Model {
	full := writes(m)
	draws := probeDraws(inputs)
	want := make([][]float64, len(draws))
	for i, x := range draws {
		want[i] = make([]float64, outputs)
		full(x, want[i])
	}
	out := *m
	out.derived = slices.Clone(m.derived)
	y := make([]float64, outputs)
	for k := range out.derived {
		of := out.derived[k].of
		if of == nil {
			continue
		}
		out.derived[k].of = nil
		without := writes(&out)
		for i, x := range draws {
			if without(x, y); !sameNumbers(y, want[i]) {
				out.derived[k].of = of
				break
			}
		}
	}
	return &out
}

// acting are the inputs with those exact that change nothing of what a model writes: they
// need not be drawn, and no variance is shared out to them.
func acting(inputs []uncertain.Variable, outputs int, of func(x, y []float64)) []uncertain.Variable {
	out := slices.Clone(inputs)
	draws := probeDraws(inputs)
	want, y := make([]float64, outputs), make([]float64, outputs)
	idle := make([]bool, len(inputs))
	for i := range inputs {
		idle[i] = inputs[i].UMinus > 0 || inputs[i].UPlus > 0
	}
	for k, x := range draws {
		of(x, want)
		for i, v := range inputs {
			if !idle[i] {
				continue
			}
			before := x[i]
			x[i] = v.At(0.03 + 0.94*float64((7*k+i)%probes)/probes)
			of(x, y)
			idle[i] = sameNumbers(y, want)
			x[i] = before
		}
	}
	for i := range out {
		if idle[i] {
			out[i].UMinus, out[i].UPlus = 0, 0
		}
	}
	return out
}

// probeDraws are draws all over the inputs, the best estimates first.
func probeDraws(inputs []uncertain.Variable) [][]float64 {
	random := rand.New(rand.NewPCG(1, 2))
	draws := make([][]float64, probes)
	for i := range draws {
		draws[i] = make([]float64, len(inputs))
		for j, v := range inputs {
			draws[i][j] = v.Value
			if i > 0 {
				draws[i][j] = v.At(0.001 + 0.998*random.Float64())
			}
		}
	}
	return draws
}

func sameNumbers(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) })
}
