package bench

import (
	"context"
	"fmt"
	"math"
	"testing"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
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
	p.Line.Runs, p.Spool.Made, p.Spool.Bend.Tests = nil, nil, nil
	p.Line.Changes.Sequence = []project.Change{{Blend: p.Blends[0].ID}, {Blend: p.Blends[9].ID}}
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

// thirtyRows fills both tables of the powder with 30 rows.
func thirtyRows(b *testing.B) project.Project {
	p := sample(b, oliveStone)
	powder := &p.Materials[1].Powder
	run := &powder.Drying.Runs[0]
	run.Trays = nil
	run.Readings = nil
	for i := range 30 {
		minutes := 10 * float64(i)
		run.Readings = append(run.Readings, material.DryingReading{
			Time:   q[quantity.Duration](fmt.Sprintf("%g min", minutes)),
			Masses: []quantity.Of[quantity.Mass]{q[quantity.Mass](fmt.Sprintf("%.1f g", 400+180*math.Exp(-0.0175*math.Pow(minutes, 1.12))))},
		})
	}
	powder.Sieving.Sieves = nil
	for i := range 30 {
		powder.Sieving.Sieves = append(powder.Sieving.Sieves, material.Sieve{
			Opening:  q[quantity.Length](fmt.Sprintf("%d um", 310-10*i)),
			Retained: q[quantity.Mass](fmt.Sprintf("%.2f g", 3.2+math.Sin(float64(i)))),
		})
	}
	powder.Sieving.Charge, powder.Sieving.Pan = quantity.Of[quantity.Mass]{}, q[quantity.Mass]("1 g")
	return p
}

// BenchmarkEvaluateFiller is one edit in a table of 30 rows: everything is
// evaluated anew. The bar is 2 ms.
func BenchmarkEvaluateFiller(b *testing.B) {
	p := thirtyRows(b)
	for b.Loop() {
		Evaluate(&p)
	}
}

// BenchmarkPowderBench is the bench of the powder alone: log, stack, evidence.
func BenchmarkPowderBench(b *testing.B) {
	p := thirtyRows(b)
	p.Blends, p.Reference, p.Plan.Base = nil, "", ""
	for b.Loop() {
		Evaluate(&p)
	}
}

// BenchmarkLimits is the first-order view of the limits of one blend of ten; with
// Evaluate10 it should stay below 8 ms.
func BenchmarkLimits(b *testing.B) {
	p := tenBlends(b)
	s := Evaluate(&p)
	b.ReportAllocs()
	for b.Loop() {
		s.Model.Limits(&p, s, 9)
	}
}

// BenchmarkLift is what the Limits pane asks for beside them, where no single change helps
// and two are tried; it should take at most 8 ms.
func BenchmarkLift(b *testing.B) {
	p := sample(b, oliveStone)
	p.Spool.NetMass = q[quantity.Mass]("1.05 kg")
	s := Evaluate(&p)
	limits := s.Limits(2)
	for b.Loop() {
		s.findLift(limits)
	}
}

// BenchmarkLiveView is what an edit computes: all figures of ten blends and the limits of
// one; it should take at most 8 ms.
func BenchmarkLiveView(b *testing.B) {
	p := tenBlends(b)
	for b.Loop() {
		Evaluate(&p).Limits(9)
	}
}

// BenchmarkDrawLimits1e5 should take at most 2 s on two cores.
func BenchmarkDrawLimits1e5(b *testing.B) {
	p := sample(b, oliveStone)
	m := Compile(&p)
	for b.Loop() {
		if _, err := m.DrawLimits(context.Background(), 2, Drawing{Draws: 100_000, Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkDrawChain1e6 draws the complete chain: 15 figures of a blend, against the
// reference, from all uncertain inputs. It should take at most 1.5 s on two cores.
func BenchmarkDrawChain1e6(b *testing.B) {
	p := sample(b, oliveStone)
	m := Compile(&p)
	var wanted [FigureCount]Result
	for _, f := range []Figure{
		Density, CostPerMetre, CostChangePerMetre, SavingPerSpool, LengthPerSpool, MeltFlow, MeltFlowWater, PowderMoisture,
		ClogChancePerSpool, PickUpLimit, PullerSpeed, PurgeMass99, StrengthFlat, StrengthUpright, Modulus,
	} {
		wanted[f] = m.Results()[2][f]
	}
	uncertainInputs := 0
	for _, v := range m.drawable(anyPart) {
		if v.UMinus > 0 || v.UPlus > 0 {
			uncertainInputs++
		}
	}
	b.ReportMetric(float64(uncertainInputs), "inputs")
	for b.Loop() {
		if _, err := m.drawFigures(context.Background(), 2, wanted, false, Drawing{Draws: 1_000_000, Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
}
