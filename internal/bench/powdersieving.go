package bench

import (
	"math"
	"strconv"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/uncertain"
)

// sieveTest is the stack of a powder, with the row of the document that each of
// its sieves comes from. Rows without an opening or a mass take no part.
func sieveTest(s *material.Sieving) (test filler.SieveTest, of []int) {
	test.PanKg, test.ChargeKg = math.NaN(), math.NaN()
	for i := range s.Sieves {
		if row := &s.Sieves[i]; row.Opening.Given() && row.Retained.Given() {
			test.Sieves = append(test.Sieves, filler.SieveMass{OpeningM: row.Opening.SI(), RetainedKg: row.Retained.SI()})
			of = append(of, i)
		}
	}
	if s.Pan.Given() {
		test.PanKg = s.Pan.SI()
	}
	if s.Charge.Given() {
		test.ChargeKg = s.Charge.SI()
	}
	return test, of
}

// sieving analyses the stack and places the sizes that follow from it.
func (c *compiler) sieving(plan *powderPlan) {
	s := &c.project.Materials[plan.material].Powder.Sieving
	plan.d10, plan.d50, plan.d90, plan.top = absent, absent, absent, absent
	if len(s.Sieves) > 0 {
		test, _ := sieveTest(s)
		plan.bench.sieving = test.Analyse()
		plan.bench.sizes = usable(filler.FitSizes(plan.bench.sieving))
		plan.d10, plan.d50, plan.d90 = c.percentile(plan, 0.1, "d10"), c.percentile(plan, 0.5, "d50"), c.percentile(plan, 0.9, "d90")
	}
	if top := topSize(s); finite(top) {
		plan.top = c.place(project.MaterialPointer(plan.material, "powder")+"/sieving/top", Entered, uncertain.Input{Value: top})
	}
}

// leastExponent is the smallest exponent of a Rosin-Rammler law that is taken for
// one of powder: there D90 is 10²⁶ times D10 (own judgement).
const leastExponent = 0.05

// usable leaves out laws that are none of powder: next to no mass between two
// sieves asks for a spread without end. An interval of the exponent that reaches
// down there has no low end.
func usable(fits []filler.SizeFit) []filler.SizeFit {
	for i := range fits {
		f := &fits[i]
		least := 0.0
		if f.Kind != filler.FitLogNormal {
			least = leastExponent
		}
		switch {
		case f.Law == nil:
		case !(finite(f.Size.Value) && finite(f.Shape.Value) && f.Size.Value > 0 && f.Shape.Value > least):
			fits[i] = filler.SizeFit{Kind: f.Kind, Problem: filler.FitFlat}
		case f.Shape.Low < least:
			f.Shape.Low = 0
		}
	}
	return fits
}

// percentile places a size with the two sieves that bracket it as its interval.
func (c *compiler) percentile(plan *powderPlan, share float64, name string) at {
	d, ok := plan.bench.sieving.Percentile(share)
	if !ok || d.Where != filler.Between {
		return absent
	}
	minus, plus := halfWidths(d.SizeM, d.LowM, d.HighM)
	pointer := project.MaterialPointer(plan.material, "powder") + "/sieving/" + name
	return c.place(pointer, Measured, uncertain.Input{Value: d.SizeM, UMinus: minus, UPlus: plus})
}

// topSize is the size that no grain exceeds which went through as the standard
// allows: the largest legal aperture of the sieve that the whole lot has passed;
// +Inf for none. A sieve of the stack that kept nothing back is the word of a
// sample only.
func topSize(s *material.Sieving) float64 {
	if !s.CheckSieve.Given() {
		return math.Inf(1)
	}
	return filler.LargestAperture(s.CheckSieve.SI())
}

// sievingSheet tells what the stack comes to.
func sievingSheet(p *project.Project, index int, b *powderBench) SievingSheet {
	in := &p.Materials[index].Powder.Sieving
	s := SievingSheet{Best: -1, analysis: b.sieving, Known: len(b.sieving.Rows) > 0, Rows: sievingRows(in, &b.sieving)}
	if b.sieving.HasBalance {
		s.Balance = exactly(b.sieving.Balance*100, "%", Measured)
	}
	s.D10, s.D50, s.D90 = percentile(b, 0.1), percentile(b, 0.5), percentile(b, 0.9)
	if span, ok := b.sieving.Span(); ok {
		s.Span = exactly(span, "1", Measured)
	}
	best, found := filler.BestFit(b.sizes)
	for i, fit := range b.sizes {
		s.Fits = append(s.Fits, sizeFit(&fit))
		if found && fit.Kind == best.Kind {
			s.Best = i
		}
	}
	s.Top = Result{Unit: "um"}
	if top := topSize(in); finite(top) {
		s.Top = exactly(top*1e6, "um", Entered)
	}
	return s
}

func sievingRows(in *material.Sieving, analysis *filler.Sieving) []SievingRow {
	rows := make([]SievingRow, len(in.Sieves))
	for i := range in.Sieves {
		opening := in.Sieves[i].Opening
		if !opening.Given() {
			if in.Sieves[i].Retained.Given() {
				rows[i].Remark = Remark{ID: "no_opening"}
			}
			continue
		}
		if sieve, nominal := filler.NearestSieve(opening.SI()); nominal {
			rows[i].Mesh = sieve.Mesh
		}
		if !in.Sieves[i].Retained.Given() {
			rows[i].Remark = Remark{ID: "no_retained"}
			continue
		}
		for _, row := range analysis.Rows {
			if math.Abs(row.OpeningM/opening.SI()-1) < 1e-9 {
				rows[i].RetainedPercent, rows[i].PassingPercent, rows[i].Known = row.Retained*100, row.Passing*100, true
			}
		}
	}
	_, of := sieveTest(in)
	for _, problem := range analysis.Problems {
		id, told := sieveRemarks[problem.Kind]
		for _, row := range problem.Rows {
			if told && row < len(of) && rows[of[row]].Remark.ID == "" {
				rows[of[row]].Remark = Remark{ID: id}
			}
		}
	}
	return rows
}

// sieveRemarks are the findings that belong to rows.
var sieveRemarks = map[filler.SieveProblemKind]string{
	filler.DuplicateOpening: "sieve_twice", filler.OutOfOrder: "out_of_order", filler.NotNominal: "not_nominal",
}

func percentile(b *powderBench, share float64) Percentile {
	d, ok := b.sieving.Percentile(share)
	switch {
	case !ok:
		return Percentile{Size: Result{Unit: "um"}}
	case d.Where == filler.BelowFinest:
		return Percentile{Size: Result{Unit: "um"}, Below: true, Bound: d.SizeM * 1e6}
	case d.Where == filler.AboveCoarsest:
		return Percentile{Size: Result{Unit: "um"}, Above: true, Bound: d.SizeM * 1e6}
	}
	return Percentile{Size: newResult(d.SizeM*1e6, d.LowM*1e6, d.HighM*1e6, "um", Measured)}
}

var sizeFitIDs = map[filler.SizeFitKind]string{
	filler.FitRRSBCurve: "rosin_rammler", filler.FitRRSBLine: "rosin_rammler_line", filler.FitLogNormal: "log_normal",
}

func sizeFit(fit *filler.SizeFit) SizeFit {
	s := SizeFit{ID: sizeFitIDs[fit.Kind], Known: fit.Law != nil, Exact: fit.Exact, R2: fit.R2, Misfit: fit.Misfit * 100, law: fit.Law}
	if fit.Law == nil {
		return s
	}
	s.Size, s.SizeOpen = sizeParameter(fit.Size, 1e6, "um")
	s.Shape, s.ShapeOpen = sizeParameter(fit.Shape, 1, "1")
	if sauter, exists := fit.Law.Sauter(); exists {
		s.Sauter = exactly(sauter*1e6, "um", Estimated)
	}
	return s
}

// sizeParameter is a parameter of a law; not known where its interval tells nothing.
// Through two sieves it stands without one.
func sizeParameter(p filler.SizeParameter, perSI float64, unit string) (r Result, open bool) {
	if p.Open() {
		return Result{Unit: unit, Basis: Estimated}, true
	}
	return newResult(p.Value*perSI, p.Low*perSI, p.High*perSI, unit, Estimated), false
}

// OpeningOfMesh turns a mesh number, such as "60 mesh" or "No. 60", into the
// opening of that sieve, as a text with its unit. Meshes are those of ASTM E11;
// the opening is what is kept.
func OpeningOfMesh(text string) (string, bool) {
	sieve, is := filler.SieveByMesh(text)
	if !is {
		return "", false
	}
	return strconv.FormatFloat(math.Round(sieve.OpeningM*1e9)/1e3, 'f', -1, 64) + " um", true
}
