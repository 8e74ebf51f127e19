package bench

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// shown is a sheet without its model, which holds NaN for what was not given
// and so equals nothing, and without what draws curves: a function equals
// nothing either. The curves are compared as numbers.
func shown(s *Sheet) Sheet {
	out := *s
	out.Model = nil
	out.Blends = slices.Clone(s.Blends)
	for i := range out.Blends {
		out.Blends[i].Clog.rows, out.Blends[i].Melt.flow = nil, nil
	}
	out.Powders = slices.Clone(s.Powders)
	for i := range out.Powders {
		p := &out.Powders[i]
		p.Storage.isotherm = nil
		p.Drying.Runs = slices.Clone(p.Drying.Runs)
		for k := range p.Drying.Runs {
			p.Drying.Runs[k].moistureAt = nil
		}
	}
	return out
}

// curves are the numbers behind the pictures of the powders.
func curves(s *Sheet) (all [][]float64) {
	for i := range s.Blends {
		for _, row := range s.Blends[i].Clog.Table() {
			for _, cell := range row.Cells {
				all = append(all, []float64{cell.Chance.Low, cell.Chance.Value, cell.Chance.High})
			}
		}
	}
	for i := range s.Blends {
		celsius, rates := s.Blends[i].Melt.Flow(7)
		all = append(all, celsius, rates)
		for _, model := range WashoutModels() {
			minutes, fresh := s.Blends[i].Line.Washout(model, 9, 20)
			all = append(all, minutes, fresh)
		}
	}
	for i := range s.Powders {
		humidity, wet := s.Powders[i].Storage.Isotherm(7, 90)
		all = append(all, humidity, wet)
		for k := range s.Powders[i].Drying.Runs {
			hours, value, low, high := s.Powders[i].Drying.Runs[k].Sample(9, 5)
			all = append(all, hours, value, low, high)
		}
	}
	return all
}

func TestEvaluateIsPure(t *testing.T) {
	for name, p := range variants(t) {
		t.Run(name, func(t *testing.T) {
			before := project.Clone(p)
			first, second := Evaluate(&p), Evaluate(&p)
			assert.Equal(t, before, p, "the project stays as it was")
			assert.Equal(t, shown(first), shown(second))
			assert.Equal(t, curves(first), curves(second))
			other := project.Clone(p)
			assert.Equal(t, shown(first), shown(Evaluate(&other)))
		})
	}
}

func TestEvalDoesNotAllocate(t *testing.T) {
	for name, p := range variants(t) {
		m := Compile(&p)
		x, y, s := m.Nominal(), make([]float64, m.Outputs()), m.NewScratch()
		assert.Zero(t, testing.AllocsPerRun(100, func() { m.Eval(x, y, s) }), name)
	}
}

// The order of evaluations leaves nothing behind in the scratch.
func TestEvalDependsOnXOnly(t *testing.T) {
	p := sample(t, oliveStone)
	m := Compile(&p)
	x, y, s := m.Nominal(), make([]float64, m.Outputs()), m.NewScratch()
	m.Eval(x, y, s)
	want := slices.Clone(y)
	other := m.Nominal()
	for i := range other {
		other[i] *= 1.01
	}
	m.Eval(other, y, s)
	m.Eval(x, y, s)
	for j := range want {
		assert.Equal(t, math.Float64bits(want[j]), math.Float64bits(y[j]), Figure(j%FigureCount).Key())
	}
}

// sameFigures holds two sheets together, blend by blend. Intervals are left out where
// what is entered differently is also known differently.
func sameFigures(t *testing.T, want, got *Sheet, intervals bool) {
	t.Helper()
	require.Len(t, got.Blends, len(want.Blends))
	near := func(f Figure, a, b float64) {
		assert.InDelta(t, a, b, 1e-9*math.Max(1, math.Abs(a)), f.Key())
	}
	for i := range want.Blends {
		for _, f := range Figures() {
			a, b := want.Blends[i].Result(f), got.Blends[i].Result(f)
			require.Equal(t, a.Known(), b.Known(), "%s of blend %d", f.Key(), i)
			near(f, a.Value, b.Value)
			if intervals {
				// the derivatives are differences, and lose some digits
				assert.InDelta(t, a.High-a.Low, b.High-b.Low, 1e-6*(a.High-a.Low)+1e-9*math.Abs(a.Value), f.Key())
				assert.Equal(t, a.Basis, b.Basis, f.Key())
			}
		}
	}
}

func TestTwoEqualMaterialsAreOne(t *testing.T) {
	for _, name := range samples {
		p := sample(t, name)
		want := Evaluate(&p)
		split := project.Clone(p)
		twin := split.Materials[1].Clone()
		twin.ID = "twin"
		split.Materials = append(split.Materials, twin)
		for i := range split.Blends {
			parts := split.Blends[i].Parts
			if len(parts) < 2 {
				continue
			}
			unit := parts[1].Amount.Unit()
			whole, _ := quantity.Convert[quantity.Content](parts[1].Amount.Content().SI(), unit)
			share := func(part float64) project.Amount {
				si := parts[1].Amount.Content().SI() * part / whole
				return project.Content(quantity.FromSI[quantity.Content](si, unit, 12))
			}
			split.Blends[i].Parts = append(parts, project.Part{Material: "twin", Amount: share(1)})
			split.Blends[i].Parts[1].Amount = share(whole - 1)
		}
		sameFigures(t, want, evaluate(t, split), false)
	}
}

func TestOrderOfPartsAndNamesDoNotMatter(t *testing.T) {
	for _, name := range samples {
		p := sample(t, name)
		want := Evaluate(&p)
		turned := project.Clone(p)
		for i := range turned.Blends {
			slices.Reverse(turned.Blends[i].Parts)
		}
		sameFigures(t, want, evaluate(t, turned), true)

		renamed := project.Clone(p)
		renamed.Title = "Other"
		for i := range renamed.Materials {
			renamed.Materials[i].Name = "Material " + string(rune('A'+i))
		}
		for i := range renamed.Blends {
			renamed.Blends[i].Name = ""
		}
		sameFigures(t, want, evaluate(t, renamed), true)

		moved := project.Clone(p)
		slices.Reverse(moved.Materials)
		sameFigures(t, want, evaluate(t, moved), true)
	}
}

func TestUnitsDoNotMatter(t *testing.T) {
	p := sample(t, oliveStone)
	want := Evaluate(&p)
	other := project.Clone(p)
	other.Materials[0].Density = q[quantity.Density]("1230-1250 kg/m3")
	other.Materials[0].Moisture = q[quantity.Fraction]("0.006 ± 0.002 %")
	other.Materials[0].Price = q[quantity.PricePerMass]("0.0189 EUR/g")
	other.Materials[1].Density = q[quantity.Density]("1350-1450 kg/m3")
	other.Spool.NetMass = q[quantity.Mass]("1000 g")
	other.Spool.Gauge = q[quantity.Length]("20 um")
	other.Batch.Purge = q[quantity.Mass]("0.12 kg")
	other.Cost.Power = q[quantity.Power]("900 W")
	other.Cost.ExtraTime = q[quantity.Duration]("600 s")
	other.Melt.Temperature = q[quantity.Temperature]("463.15 ± 5 K")
	other.Melt.Residence = q[quantity.Duration]("240 ± 60 s")
	sameFigures(t, want, evaluate(t, other), true)
}

func TestBasisOfAnAmountDoesNotMatter(t *testing.T) {
	p := bare(wood(), "20 wt%")
	p.Materials[1].Moisture = q[quantity.Fraction]("0.4 %")
	p.Materials[1].OilContent = q[quantity.Fraction]("2 %")
	want := evaluate(t, p)
	phi := want.Blends[1].Results[FillerVolumeFraction].Value / 100
	for name, parts := range map[string][2]project.Amount{
		"phr with balance":  {amount("balance"), amount("25 phr")},
		"phr":               {amount("100 phr"), amount("25 phr")},
		"wt% of both":       {amount("80 wt%"), amount("20 wt%")},
		"powder as balance": {amount("80 wt%"), amount("balance")},
		"vol% with balance": {amount("balance"), project.Content(quantity.FromSI[quantity.Content](phi, "vol%", 13))},
		"vol% of both": {
			project.Content(quantity.FromSI[quantity.Content](1-phi, "vol%", 13)),
			project.Content(quantity.FromSI[quantity.Content](phi, "vol%", 13)),
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := project.Clone(p)
			p.Blends[1].Parts[0].Amount, p.Blends[1].Parts[1].Amount = parts[0], parts[1]
			sameFigures(t, want, evaluate(t, p), false)
		})
	}
}

// A figure is never better founded than the weakest number in it.
func TestBasisIsThatOfTheWeakestNumber(t *testing.T) {
	p := sample(t, musselShell)
	b := evaluate(t, p).Blends[1]
	assert.Equal(t, Measured, b.Results[Density].Basis)
	assert.Equal(t, Estimated, b.Results[VoidFraction].Basis)
	assert.Equal(t, Entered, b.Results[CostPerMetre].Basis, "measured density, entered prices and diameter")
	for _, f := range []Figure{CostChangePerMetre, SavingPerSpool, ExtraCostPerRun, BreakEvenFillerPrice, BreakEvenLongRun} {
		assert.Equal(t, Estimated, b.Results[f].Basis, "the reference has the density of the library: %s", f.Key())
	}
	assert.Equal(t, Entered, b.Results[ChangeoverCost].Basis)

	for i := range p.Materials {
		p.Materials[i].Sources = nil // as if all were typed in
	}
	p.Blends[0].MeasuredDensity = q[quantity.Density]("1.27 ± 0.01 g/cm3")
	s := evaluate(t, p)
	assert.Equal(t, Entered, s.Blends[1].Results[CostChangePerMetre].Basis)
	assert.Equal(t, Entered, s.Blends[0].Results[DensityEstimated].Basis, "one material needs no rule of mixtures")
	assert.Equal(t, Estimated, s.Blends[2].Results[Density].Basis)
	assert.Equal(t, Entered, s.Blends[2].Results[FillerMassFraction].Basis)
	p.Blends[2].Parts[1].Amount = amount("10 vol%")
	p.Materials[1].Sources = []material.Source{{Field: "density", Text: "from memory, confirm", Confirm: true}}
	assert.Equal(t, Estimated, evaluate(t, p).Blends[2].Results[FillerMassFraction].Basis, "parts by volume rest on densities")
}

// A part in another order of kinds: an additive first, and a polymer in two parts.
func TestLargestPolymerDecidesOnWater(t *testing.T) {
	p := bare(wood(), "10 wt%")
	petg := material.Material{ID: "petg", Kind: material.Polymer, Class: material.PETG}
	p.Materials = append(p.Materials, petg)
	p.Blends[1] = recipe("filled", "petg", "20 wt%", "pla", "balance", "wood", "10 wt%")
	assert.Equal(t, waterKinetic, Compile(&p).blends[1].water)
	p.Blends[1] = recipe("filled", "petg", "60 wt%", "pla", "30 wt%", "wood", "10 wt%")
	assert.Equal(t, waterBound, Compile(&p).blends[1].water)
}
