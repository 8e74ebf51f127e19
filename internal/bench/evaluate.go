package bench

import (
	"cmp"
	"strings"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/uncertain"
)

// Sheet is everything that is computed from one project.
type Sheet struct {
	Currency  string
	Reference int // index of the reference blend, or -1
	Blends    []BlendSheet
	Powders   []PowderSheet
	Notes     []Note // of the whole project; those of a blend stand with it
	Plan      PlanSheet
	Model     *Model
}

// BlendSheet is everything that is computed for one blend.
type BlendSheet struct {
	ID      project.BlendID
	Name    string // its ID while it has none
	Results [FigureCount]Result
	Notes   []Note // worst first
	Batch   BatchSheet
	Answer  Answer // cost in words
	Powder  int    // material of its first powder, -1 for none
	Drying  DryingUse
	Clog    BlendClog
}

// Result of one figure.
func (b *BlendSheet) Result(f Figure) Result { return b.Results[f] }

// Evaluate computes the sheet of a project.
func Evaluate(p *project.Project) *Sheet {
	m := Compile(p)
	s := &Sheet{Currency: p.Currency, Reference: m.reference, Model: m, Blends: make([]BlendSheet, len(p.Blends))}
	results := m.Results()
	for i := range p.Blends {
		b := &s.Blends[i]
		b.ID, b.Name, b.Results = p.Blends[i].ID, cmp.Or(p.Blends[i].Name, string(p.Blends[i].ID)), results[i]
		b.Batch = batchSheet(p, m, i)
	}
	for i := range s.Blends {
		s.Blends[i].Answer = answer(p, s, i)
	}
	s.Plan = planSheet(p, s)
	takeNotes(p, m, s)
	return s
}

// nameOf is what a material is called: its ID while it has no name.
func nameOf(m *material.Material) string { return cmp.Or(m.Name, string(m.ID)) }

// Results evaluates the model at its best estimates, with first-order
// intervals (GUM 5.1), one array per blend.
//
// Only inputs with an uncertainty are handed on: what is exact, as most amounts
// are, would cost memory with every figure of every blend.
func (m *Model) Results() [][FigureCount]Result {
	vary := m.varying()
	in := make([]uncertain.Input, len(vary))
	for k, i := range vary {
		in[k] = m.inputs[i].Input
	}
	x, scratch := m.Nominal(), m.NewScratch()
	core := func(varied, y []float64) {
		for k, i := range vary {
			x[i] = varied[k]
		}
		m.Eval(x, y, scratch)
	}
	y, down, up := uncertain.FirstOrder(core, in, nil, uncertain.NewScratch(len(in), m.Outputs()))
	results := make([][FigureCount]Result, len(m.blends))
	for b := range m.blends {
		for f := range FigureCount {
			j := b*FigureCount + f
			results[b][f] = m.result(&m.blends[b], Figure(f), y[j], down[j], up[j])
		}
	}
	return results
}

// result brings one figure of the core to its trade unit.
func (m *Model) result(b *blendPlan, f Figure, value, down, up float64) Result {
	d := definitions[f]
	low, high := d.interval(value, down, up)
	if f == MeltFlowWater && !b.calibratesWater() {
		low = max(low, 1) // added water cuts chains, it never joins them
	}
	unit := d.unit
	if strings.HasPrefix(unit, "CUR") {
		unit = m.currency + unit[len("CUR"):]
	}
	return newResult(value*d.perSI, low*d.perSI, high*d.perSI, unit, b.basis[f])
}
