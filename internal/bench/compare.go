package bench

import (
	"cmp"
	"math"
	"slices"

	"fillwright/internal/uncertain"
)

// Verdict says how a figure of a blend stands against the reference.
type Verdict string

// The verdicts. More and Less are said only where the interval of the change lies on one
// side of none.
const (
	VerdictMore    Verdict = "more"
	VerdictLess    Verdict = "less"
	VerdictOpen    Verdict = "open" // the interval holds no change
	VerdictSame    Verdict = "same" // equal by what they are made of
	VerdictNone    Verdict = ""     // not known, or the reference itself
	changeSmallest         = 1e-9   // of a figure, below which a change is rounding
)

// Comparison is one figure of all blends.
type Comparison struct {
	Figure Figure
	Cells  []ComparisonCell // by blend
}

// ComparisonCell is a figure of a blend, and how far it is from that of the reference.
type ComparisonCell struct {
	Result  Result
	Change  Result // percent of the reference's figure; percentage points and kelvins for shares and margins
	Verdict Verdict
}

// pointsOf reports whether the change of a figure is told in its own unit: shares and
// margins can be none in the reference, and a change from 2 % to 4 % is no "100 %".
func (d definition) pointsOf() bool { return d.share || d.chance || d.unit == "K" || d.unit == "%" }

// Compare holds the figures of all blends against those of the reference, to first order.
// What a blend shares with the reference is the same number in both, so that its
// uncertainty is not counted in the change.
func (s *Sheet) Compare() []Comparison {
	m := s.Model
	var list []Comparison
	for f := range FigureCount {
		if !slices.ContainsFunc(s.Blends, func(b BlendSheet) bool { return b.Results[f].Known() }) {
			continue
		}
		c := Comparison{Figure: Figure(f), Cells: make([]ComparisonCell, len(s.Blends))}
		for b := range s.Blends {
			c.Cells[b].Result = s.Blends[b].Results[f]
		}
		list = append(list, c)
	}
	if m.reference < 0 {
		return list
	}
	s.changes(list)
	for _, d := range s.drawn {
		list = withDraws(list, d)
	}
	return list
}

// changes fills in how far each figure is from that of the reference, to first order.
func (s *Sheet) changes(list []Comparison) {
	m := s.Model
	changes, down, up := m.changes()
	for i := range list {
		for b := range s.Blends {
			if b != m.reference {
				j := b*FigureCount + int(list[i].Figure)
				list[i].Cells[b].take(m, list[i].Figure, changes[j], down[j], up[j])
			}
		}
	}
}

// changes are those of all figures of all blends against the reference, with their
// standard uncertainties, in SI or as a share.
func (m *Model) changes() (values, down, up []float64) {
	vary := m.varying()
	in := make([]uncertain.Input, len(vary))
	for k, i := range vary {
		in[k] = m.inputs[i].Input
	}
	all, of := make([]float64, m.Outputs()), m.varied(vary)
	reference := m.reference * FigureCount
	n := len(m.blends) * FigureCount
	return uncertain.FirstOrder(func(x, y []float64) {
		of(x, all)
		for j := range n {
			f := j % FigureCount
			y[j] = changeOf(definitions[f], all[j], all[reference+f])
		}
	}, in, nil, uncertain.NewScratchKeeping(len(in), n, nil))
}

// changeOf is how far a figure lies from that of the reference.
func changeOf(d definition, v, reference float64) float64 {
	if d.pointsOf() {
		if d.chance {
			v, reference = -math.Expm1(-v), -math.Expm1(-reference)
		}
		return v - reference
	}
	return v/reference - 1
}

// take puts a change into a cell, with what may be said of it.
func (c *ComparisonCell) take(m *Model, f Figure, change, down, up float64) {
	d := definitions[f]
	if d.pointsOf() {
		c.Change = newResult(change*d.perSI, (change-coverage*down)*d.perSI, (change+coverage*up)*d.perSI, m.unit(d.unit), c.Result.Basis)
	} else {
		c.Change = newResult(100*change, 100*(change-coverage*down), 100*(change+coverage*up), "%", c.Result.Basis)
	}
	c.Verdict = verdictOf(c.Change)
}

// verdictOf says what an interval of a change supports.
func verdictOf(change Result) Verdict {
	switch {
	case !change.Known():
		return VerdictNone
	case math.Abs(change.Value) < changeSmallest && change.High-change.Low < changeSmallest:
		return VerdictSame
	case change.Low > 0:
		return VerdictMore
	case change.High < 0:
		return VerdictLess
	}
	return VerdictOpen
}

// withDraws puts the changes of a blend as they were drawn in the place of those of first
// order.
func withDraws(list []Comparison, d *FigureDraws) []Comparison {
	for i := range list {
		cell, r := &list[i].Cells[d.Blend], &d.Change[list[i].Figure]
		if !r.Known || !cell.Change.Known() {
			continue
		}
		cell.Change = drawnInterval(cell.Change, r)
		cell.Verdict = verdictOf(cell.Change)
	}
	return list
}

// SortByChange orders a comparison by how far a blend is from the reference, over what that
// is known to: what is surest comes first.
func SortByChange(list []Comparison, blend int) {
	sure := func(c Comparison) float64 {
		change := c.Cells[blend].Change
		if !change.Known() {
			return -1
		}
		half := math.Max((change.High-change.Low)/2, changeSmallest)
		return math.Abs(change.Value) / half
	}
	slices.SortStableFunc(list, func(a, b Comparison) int { return cmp.Compare(sure(b), sure(a)) })
}
