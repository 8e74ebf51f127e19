package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// seen is a powder with everything that can be seen of its coarse grains.
func seen() project.Project {
	p := quiet()
	nozzle(&p, "0.4 mm")
	benchOf(&p).Clogging = material.Clogging{
		Control:     material.Control{Opening: q[quantity.Length]("125 um"), Mass: q[quantity.Mass]("100 g"), Retained: q[quantity.Mass]("0.5 g")},
		Inspections: []material.Inspection{{Mass: q[quantity.Mass]("20 g"), Size: q[quantity.Length]("133.3 um"), Found: 3}},
		Prints:      []material.NozzleRun{{Nozzle: q[quantity.Length]("0.4 mm"), Strand: q[quantity.Mass]("8 kg"), Content: q[quantity.Fraction]("10 %"), Blockages: 2}},
	}
	return p
}

// A ± on what was weighed widens the evidence that hangs on it, and no other.
func TestSpreadsWidenTheEvidence(t *testing.T) {
	for _, c := range []struct {
		name      string
		change    func(b *material.Clogging)
		kind      EvidenceKind
		low, high float64 // by how much the ends move
	}{
		{"strand", func(b *material.Clogging) { b.Prints[0].Strand = q[quantity.Mass]("8 ± 2 kg") }, FromPrints, 1 / 1.25, 1.25},
		{"content", func(b *material.Clogging) { b.Prints[0].Content = q[quantity.Fraction]("10 ± 1 %") }, FromPrints, 1 / 1.1, 1.1},
		{"strand and content", func(b *material.Clogging) {
			b.Prints[0].Strand, b.Prints[0].Content = q[quantity.Mass]("8 ± 2.4 kg"), q[quantity.Fraction]("10 ± 4 %")
		}, FromPrints, 1 / 1.5, 1.5},
		{"sample", func(b *material.Clogging) { b.Inspections[0].Mass = q[quantity.Mass]("20 ± 5 g") }, FromInspections, 1 / 1.25, 1.25},
		{"charge of the control", func(b *material.Clogging) { b.Control.Mass = q[quantity.Mass]("100 ± 20 g") }, FromRetained, 1, 1.2},
		// 0.5 g and one step of 0.01 g at the most, and then 0.75 g
		{"kept back", func(b *material.Clogging) { b.Control.Retained = q[quantity.Mass]("0.50 ± 0.25 g") }, FromRetained, 1, 0.75 / 0.51},
		{"kept back, known better than the scale", func(b *material.Clogging) { b.Control.Retained = q[quantity.Mass]("0.500 ± 0.001 g") }, FromRetained, 1, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			exact, wide := seen(), seen()
			c.change(&benchOf(&wide).Clogging)
			for _, kind := range []EvidenceKind{FromPrints, FromInspections, FromRetained} {
				low, high := 1.0, 1.0
				if kind == c.kind {
					low, high = c.low, c.high
				}
				before, after := evidence(t, &exact, kind).PerKg, evidence(t, &wide, kind).PerKg
				assert.InDelta(t, before.Value, after.Value, 1e-9*before.Value, kind)
				assert.InDelta(t, before.Low*low, after.Low, 1e-9*before.Value, kind)
				assert.InEpsilon(t, before.High*high, after.High, 1e-9, kind)
			}
			if c.kind == FromPrints { // what is used
				before, after := evaluate(t, exact).Blends[1], evaluate(t, wide).Blends[1]
				assert.Greater(t, after.Result(ClogChancePerSpool).High, before.Result(ClogChancePerSpool).High)
				assert.Greater(t, after.Result(GrainsPerMetre).High, before.Result(GrainsPerMetre).High)
			}
		})
	}
}

// Two samples of 10 ± 2 g each are 20 g within 2.83 g, not within 4 g.
func TestSpreadsOfSamplesAddUpInSquares(t *testing.T) {
	exact, wide := seen(), seen()
	ten := material.Inspection{Mass: q[quantity.Mass]("10 ± 2 g"), Size: q[quantity.Length]("133.3 um"), Found: 1}
	other := ten
	other.Found = 2
	benchOf(&wide).Clogging.Inspections = []material.Inspection{ten, other}
	before, after := evidence(t, &exact, FromInspections).PerKg, evidence(t, &wide, FromInspections).PerKg
	assert.InEpsilon(t, before.Value, after.Value, 1e-9)
	assert.InEpsilon(t, before.High*(1+2.8284271/20), after.High, 1e-7)
}

// The stack tells what stays on a sieve no better than its masses were weighed.
func TestSpreadOnASieveWidensWhatItKeptBack(t *testing.T) {
	p := quiet()
	nozzle(&p, "0.4 mm")
	s := goodStack(&p)
	before := evidence(t, &p, FromRetained).PerKg
	s.Sieves[1].Retained = q[quantity.Mass]("25 ± 2 g") // on 90 µm: below what counts
	assert.Equal(t, before, evidence(t, &p, FromRetained).PerKg)
	s.Sieves[0].Retained = q[quantity.Mass]("5 ± 2 g")
	assert.InEpsilon(t, before.High*7/5.01, evidence(t, &p, FromRetained).PerKg.High, 1e-9)
}

// A ± that reaches down to nothing tells of no grain that the check sieve should
// have kept back.
func TestKeptBackWithinItsSpreadIsNothing(t *testing.T) {
	p := sievedFine()
	control := &benchOf(&p).Clogging.Control
	*control = material.Control{Opening: q[quantity.Length]("150 um"), Mass: q[quantity.Mass]("100 g"), Retained: q[quantity.Mass]("0.2 ± 0.1 g")}
	assert.True(t, hasNote(evaluate(t, p), 1, "check_sieve_leaks"))
	control.Retained = q[quantity.Mass]("0.2 ± 0.2 g")
	assert.False(t, hasNote(evaluate(t, p), 1, "check_sieve_leaks"))
}

// Strand without powder blocks by something else: its blockages are not those of
// powder that went through a smaller nozzle.
func TestBlockagesOfPlainStrandCountForNothing(t *testing.T) {
	p := quiet()
	nozzle(&p, "0.4 mm")
	fine := material.NozzleRun{Nozzle: q[quantity.Length]("0.25 mm"), Strand: q[quantity.Mass]("5 kg"), Content: q[quantity.Fraction]("10 %")}
	benchOf(&p).Clogging.Prints = []material.NozzleRun{fine}
	want := evidence(t, &p, FromPrints)
	benchOf(&p).Clogging.Prints = []material.NozzleRun{
		{Nozzle: q[quantity.Length]("0.4 mm"), Strand: q[quantity.Mass]("5 kg"), Content: q[quantity.Fraction]("0 %"), Blockages: 9}, fine,
	}
	assert.Equal(t, want, evidence(t, &p, FromPrints))
}

// Nothing that is derived from the bench is better founded than a number that
// moves it.
func TestDerivedNumbersAreFoundedLikeTheirInputs(t *testing.T) {
	projects := map[string]project.Project{"weighed": weighedOnly(), "prepared": preparedPowder(t), "fed": fed(), "in oil": inOil(), "damp": damp()}
	for _, name := range samples {
		projects[name] = sample(t, name)
	}
	for name, p := range projects {
		m := Compile(&p)
		moved := 0
		for i := range m.inputs {
			x := m.Nominal()
			x[i] = x[i]*1.001 + 1e-9
			full := m.fill(make([]float64, len(m.best())), x)
			for k := range m.derived {
				if was := m.best()[k]; finite(was) && finite(full[k]) && full[k] != was {
					moved++
					assert.LessOrEqual(t, m.inputs[i].Basis, m.derived[k].basis, "%s: number %d by %s", name, k, m.inputs[i].Pointer)
				}
			}
		}
		assert.Greater(t, moved, 3, name)
	}

	p := weighedOnly()
	r := evaluate(t, p).Blends[1].Result(PreparationYield)
	require.True(t, r.Known())
	assert.Equal(t, Measured, r.Basis, "masses before and after")
	benchOf(&p).Preparation.Steps[0].Yield = q[quantity.Fraction]("80 %")
	assert.Equal(t, Entered, evaluate(t, p).Blends[1].Result(PreparationYield).Basis, "a yield that was typed is none")
}

// inOil is powder in a liquid whose density was typed.
func inOil() project.Project {
	p := grains()
	benchOf(&p).Grain.LiquidDensity = q[quantity.Density]("0.80 g/cm3")
	return p
}

// damp is powder whose moisture was typed when it was weighed.
func damp() project.Project {
	p := grains()
	benchOf(&p).Grain.Moisture = q[quantity.Fraction]("5 %")
	return p
}

// weighedOnly is a preparation that was weighed at each step.
func weighedOnly() project.Project {
	p := bare(wood(), "20 wt%")
	steps(&p,
		material.Step{Kind: material.Wash, MassIn: q[quantity.Mass]("10 kg"), MassOut: q[quantity.Mass]("8 kg")},
		material.Step{Kind: material.Sift, MassIn: q[quantity.Mass]("8 kg"), MassOut: q[quantity.Mass]("6 kg")})
	return p
}

// Powder that lay open in air that nobody knows has taken up nobody knows what.
func TestLyingOpenInUnknownAirIsNotTold(t *testing.T) {
	p := quiet()
	goodLog(&p)
	benchOf(&p).Storage.OpenTime = q[quantity.Duration]("3 h")
	s := evaluate(t, p)
	assert.False(t, s.Powder(1).Storage.After.Known())
	require.True(t, s.Powder(1).Drying.Runs[0].Now.Known())
	nobodyKnows(t, &p, "storage_air_missing")

	benchOf(&p).Storage.Equilibrium = q[quantity.Fraction]("8 %")
	s = evaluate(t, p)
	assert.Equal(t, value(t, s, 1, PowderMoisture), s.Powder(1).Storage.After.Value)
}
