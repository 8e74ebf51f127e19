package bench

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// What is told apart to save time must not change a figure: where an input on which only
// one part of the figures hangs is moved, those alone, computed anew, are all that changes.
func TestInputsOfOnePartMoveNothingElse(t *testing.T) {
	for _, name := range samples {
		for what, change := range map[string]func(p *project.Project){
			"whole":               func(*project.Project) {},
			"no residence":        func(p *project.Project) { p.Melt.Residence = quantity.Of[quantity.Duration]{} },
			"no throughput":       func(p *project.Project) { p.Line.Outputs = nil },
			"no tests":            func(p *project.Project) { p.Melt.Tests = nil },
			"nothing of the line": func(p *project.Project) { p.Line = project.Line{} },
			"residence entered":   func(p *project.Project) { p.Melt.Residence = q[quantity.Duration]("4 ± 1 min") },
		} {
			t.Run(name+" "+what, func(t *testing.T) {
				p := sample(t, name)
				change(&p)
				require.NotZero(t, everyInputOf(t, &p, linePart))
				require.NotZero(t, everyInputOf(t, &p, strengthPart))
			})
		}
	}
}

// everyInputOf moves each of those of a part in turn, and returns how many there are.
func everyInputOf(t *testing.T, p *project.Project, part figurePart) (moved int) {
	t.Helper()
	m := Compile(p)
	s := m.NewScratch()
	nominal := make([]float64, m.Outputs())
	m.Eval(m.Nominal(), nominal, s)
	for i := range m.inputs {
		if m.inputs[i].only != part {
			continue
		}
		moved++
		x := m.Nominal()
		x[i] *= 1.02
		full, line := make([]float64, m.Outputs()), slices.Clone(nominal)
		m.Eval(x, full, s)
		m.evalPart(part, x, line, s)
		for j := range full {
			assert.Equal(t, bits(full[j]), bits(line[j]), "%s moves %s", m.inputs[i].Pointer, outputName(j))
		}
	}
	return moved
}

func outputName(j int) string { return Figure(j % int(FigureCount)).Key() }

// bits makes all NaN alike.
func bits(v float64) any {
	if !finite(v) {
		return "unknown"
	}
	return v
}
