package bench

import (
	"fmt"
	"testing"

	"fillwright/internal/project"
)

// tenBlends is the sample with its filled blend at ten contents.
func tenBlends(b *testing.B) project.Project {
	p := sample(b, oliveStone)
	base := p.Blends[2]
	p.Blends = p.Blends[:1]
	for i := 1; i < 10; i++ {
		next := project.Clone(project.Project{Blends: []project.Blend{base}}).Blends[0]
		next.ID = project.BlendID(fmt.Sprintf("olive-%d", i))
		next.Parts[1].Amount = amount(fmt.Sprintf("%d wt%%", i))
		p.Blends = append(p.Blends, next)
	}
	p.Plan.Base = p.Blends[9].ID
	if err := project.Validate(&p); err != nil {
		b.Fatal(err)
	}
	return p
}

// BenchmarkCore10 should take at most 30 µs, without allocating.
func BenchmarkCore10(b *testing.B) {
	p := tenBlends(b)
	m := Compile(&p)
	x, y, s := m.Nominal(), make([]float64, m.Outputs()), m.NewScratch()
	b.ReportAllocs()
	for b.Loop() {
		m.Eval(x, y, s)
	}
}

// BenchmarkEvaluate10 should take at most 2 ms, intervals and notes included.
func BenchmarkEvaluate10(b *testing.B) {
	p := tenBlends(b)
	b.ReportAllocs()
	for b.Loop() {
		Evaluate(&p)
	}
}

func BenchmarkSweep(b *testing.B) {
	p := tenBlends(b)
	m := Compile(&p)
	b.ReportAllocs()
	for b.Loop() {
		m.ContentSweep(9, 0.3, CostPerMetre, Density)
	}
}
