package bench

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// What is named as waiting really waits, and nothing else.
func TestNotesNameWhatWaits(t *testing.T) {
	p := quiet()
	p.Materials[1].OilContent = quantity.Of[quantity.Fraction]{}
	n, _ := note(evaluate(t, p).Blends[1].Notes, "oil_content_missing")
	assert.ElementsMatch(t, []Figure{MeltFlowOil, MeltFlow}, n.Blocks)

	filled(&p).MeasuredFlow = q[quantity.Factor]("0.9")
	n, _ = note(evaluate(t, p).Blends[1].Notes, "oil_content_missing")
	assert.ElementsMatch(t, []Figure{MeltFlowOil, MeltFlowWater, MeltFlowModel}, n.Blocks)

	p = quiet()
	p.Spool.Diameter = quantity.Of[quantity.Length]{}
	n, _ = note(evaluate(t, p).Blends[1].Notes, "diameter_missing")
	assert.ElementsMatch(t, []Figure{LengthPerSpool, MetresPerKg, CostPerMetre, GrainsPerMetre}, n.Blocks, "a comparison needs no diameter")

	p = quiet()
	p.Melt.Residence = quantity.Of[quantity.Duration]{}
	_, asked := note(evaluate(t, p).Blends[1].Notes, "residence_missing")
	assert.False(t, asked, "dry powder: nothing waits for the time in the melt")
}

// Nothing else is said of a recipe without an amount than that it is missing.
func TestMissingAmountIsNamedOnce(t *testing.T) {
	p := quiet()
	filled(&p).Parts[1].Amount = project.Amount{}
	stops := slices.DeleteFunc(evaluate(t, p).Blends[1].Notes, func(n Note) bool { return n.Severity != Stop })
	assert.Equal(t, []string{"amount_missing"}, noteIDs(stops))
}

func TestWorstNotesComeFirst(t *testing.T) {
	p := quiet()
	p.Materials[1].Class, p.Materials[1].Calcined = material.Shell, true
	p.Materials[0].Moisture = q[quantity.Fraction]("300 ppm")
	notes := evaluate(t, p).Blends[1].Notes
	assert.Equal(t, "calcined_shell", notes[0].ID)
	assert.Equal(t, "pellets_too_wet", notes[1].ID)
	assert.Equal(t, Info, notes[len(notes)-1].Severity)
}

// 5 wt% of powder at 3/kg and 1.45 g/cm3 in PLA at 20/kg and 1.24 g/cm3.
func TestAnswersInWords(t *testing.T) {
	words := wording.New("en")
	for _, c := range []struct {
		name   string
		change func(p *project.Project)
		want   string
	}{
		{
			"nothing to purge", func(*project.Project) {},
			"Saves 0.705 € per spool against the same length of plain; each run costs 0 € more (purge 0 €): pays from the first spool.",
		},
		// materials at 19.15/kg against 20·1.24/rho = 19.855/kg, purged at 19.15/kg
		{
			"two spools, three made", func(p *project.Project) { p.Batch.Purge, p.Batch.Spools = q[quantity.Mass]("40 g"), 3 },
			"Saves 0.705 € per spool against the same length of plain; each run costs 0.766 € more (purge 0.766 €): pays from 2 spools in a row.",
		},
		{
			"two spools, one made", func(p *project.Project) { p.Batch.Purge = q[quantity.Mass]("40 g") },
			"Saves 0.705 € per spool against the same length of plain; each run costs 0.766 € more (purge 0.766 €): does not pay yet, but from 2 spools in a row.",
		},
		// 0.15 h at 10/h beside the purge; at 10,000 kg/h work is next to nothing per kilogram
		{
			"extra time on top of the purge", func(p *project.Project) {
				p.Batch.Purge, p.Cost.Labour = q[quantity.Mass]("40 g"), q[quantity.PricePerTime]("10 EUR/h")
				p.Cost.ExtraTime, p.Cost.Throughput = q[quantity.Duration]("9 min"), q[quantity.MassFlow]("10000 kg/h")
			},
			"Saves 0.705 € per spool against the same length of plain; each run costs 2.27 € more (purge 0.766 €): does not pay yet, but from 4 spools in a row.",
		},
		{
			"more than a hundred spools", func(p *project.Project) { p.Batch.Purge = q[quantity.Mass]("4 kg") },
			"Saves only 0.705 € per spool against the same length of plain; each run costs 76.6 € more (purge 76.6 €): does not pay.",
		},
		{
			"not certain", func(p *project.Project) { p.Materials[1].Price = q[quantity.PricePerMass]("3 ± 20 EUR/kg") },
			"Saves 0.705 € per spool against the same length of plain, but −0.295 € to 1.71 € is possible; each run costs 0 € more (purge 0 €).",
		},
		{
			"dear powder", func(p *project.Project) { p.Materials[1].Price = q[quantity.PricePerMass]("30 EUR/kg") },
			"Costs 0.645 € more per spool than the same length of plain, and each run 0 € on top (purge 0 €).",
		},
		{
			"dear powder, not certain", func(p *project.Project) { p.Materials[1].Price = q[quantity.PricePerMass]("30 ± 30 EUR/kg") },
			"Costs 0.645 € more per spool than the same length of plain, but −0.855 € to 2.14 € is possible (less than zero is a saving); each run costs 0 € on top (purge 0 €).",
		},
		{
			"much wear", func(p *project.Project) { p.Cost.Wear = q[quantity.PricePerMass]("2 EUR/kg") },
			"Costs 1.29 € more per spool than the same length of plain: cannot pay at any powder price.",
		},
		{"much purge and some wear", func(p *project.Project) {
			p.Cost.Wear, p.Batch.Purge = q[quantity.PricePerMass]("0.75 EUR/kg"), q[quantity.Mass]("100 g")
		}, "Costs 0.0448 € more per spool than the same length of plain, and each run 1.92 € on top (purge 1.92 €)."},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := quiet()
			p.Materials[1].Price = q[quantity.PricePerMass]("3 EUR/kg")
			c.change(&p)
			s := evaluate(t, p)
			assert.Equal(t, c.want, words.Say(s.Blends[1].Answer.Message()))
			assert.Empty(t, s.Blends[0].Answer.ID, "the reference is not compared with itself")
		})
	}
	p := quiet()
	p.Cost.Wear = quantity.Of[quantity.PricePerMass]{}
	assert.Empty(t, evaluate(t, p).Blends[1].Answer.ID, "nothing to say yet")
}

// One spool, two readings: numbers and words agree.
func TestNotesCountInWords(t *testing.T) {
	words := wording.New("en")
	for count, want := range map[int]string{
		1: "For a single spool, what each run costs more (purge and extra time) is more than",
		3: "In a run of 3 spools, what each run costs more (purge and extra time) is more than",
	} {
		p := quiet()
		p.Batch.Spools, p.Batch.Purge = count, q[quantity.Mass]("900 g")
		n, found := note(evaluate(t, p).Blends[1].Notes, "cannot_pay_in_this_run")
		require.True(t, found)
		assert.Contains(t, words.Say(n.Message()), want)
	}
}

// Powder that is too damp stays so when it lay open in air of which nothing is said.
func TestLyingOpenTakesNoCautionAway(t *testing.T) {
	p := quiet()
	p.Materials[1].Moisture = q[quantity.Fraction]("5 %")
	damp, found := note(evaluate(t, p).Blends[1].Notes, "powder_damp")
	require.True(t, found)
	benchOf(&p).Storage.OpenTime = q[quantity.Duration]("30 min")
	s := evaluate(t, p)
	require.False(t, s.Blends[1].Result(PowderMoisture).Known())
	open, found := note(s.Blends[1].Notes, "powder_damp")
	require.True(t, found)
	assert.Equal(t, damp.Values["Water"], open.Values["Water"], "as much at the least")
}

// Water of pellets that was not entered is not told as none.
func TestPelletsOfWhichNothingIsSaid(t *testing.T) {
	words := wording.New("en")
	p := quiet()
	p.Materials[1].Moisture = q[quantity.Fraction]("5 %")
	p.Materials[0].Moisture = quantity.Of[quantity.Fraction]{}
	n, _ := note(evaluate(t, p).Blends[1].Notes, "powder_damp")
	assert.Contains(t, words.Say(n.Message()), "that of its pellets (not given, taken as none)")
}

// Of two polymers of which one's water is known, that much is used up of the limit.
func TestPelletsOfWhichSomeIsKnown(t *testing.T) {
	words := wording.New("en")
	p := quiet()
	p.Materials[1].Moisture = q[quantity.Fraction]("5 %")
	p.Materials[0].Moisture, p.Materials[0].MoistureLimit = q[quantity.Fraction]("100 ppm"), q[quantity.Fraction]("250 ppm")
	target := func() float64 {
		n, found := note(evaluate(t, p).Blends[1].Notes, "powder_damp")
		require.True(t, found)
		return n.Values["Target"].(wording.Number).Value
	}
	known := target()
	other := p.Materials[0].Clone()
	other.ID, other.Moisture = "other", quantity.Of[quantity.Fraction]{}
	p.Materials = append(p.Materials, other)
	p.Blends[1].Parts = append(p.Blends[1].Parts, project.Part{Material: "other", Amount: amount("1 wt%")})
	n, _ := note(evaluate(t, p).Blends[1].Notes, "powder_damp")
	assert.Contains(t, words.Say(n.Message()), "ppm known, the rest not given")
	assert.InEpsilon(t, known, target(), 0.03, "no softer for want of a hundredth")
}

// The price of a powder that is prepared waits for the preparation, and for nothing
// that would override it.
func TestPriceOfPreparedPowderIsAskedForOnce(t *testing.T) {
	p := preparedPowder(t)
	p.Materials[1].Price, p.Cost.EnergyPrice = quantity.Of[quantity.PricePerMass]{}, quantity.Of[quantity.PricePerEnergy]{}
	s := evaluate(t, p)
	assert.False(t, hasNote(s, 1, "price_missing"))
	n, found := note(s.Blends[1].Notes, "preparation_unpriced")
	require.True(t, found)
	assert.Contains(t, n.Blocks, MaterialCostPerKg)
	benchOf(&p).Preparation.SetAside = true
	assert.True(t, hasNote(evaluate(t, p), 1, "price_missing"))
}

// What the bench says of a powder stands with the project while no finished blend
// holds it, and nothing waits for it; else it stands with the blend alone.
func TestPowdersOfNoBlendHaveNotesToo(t *testing.T) {
	p := quiet()
	goodLog(&p).OvenTemperature = q[quantity.Temperature]("130 degC")
	benchOf(&p).Storage.OpenTime = q[quantity.Duration]("3 h")
	s := evaluate(t, p)
	assert.True(t, hasNote(s, 1, "oven_too_hot"))
	assert.NotContains(t, noteIDs(s.Notes), "oven_too_hot", "said once")

	for name, change := range map[string]func(p *project.Project){
		"in no blend":              func(p *project.Project) { filled(p).Parts = filled(p).Parts[:1] },
		"in an unfinished blend":   func(p *project.Project) { filled(p).Parts[1].Amount = project.Amount{} },
		"of which nothing is said": func(p *project.Project) { p.Materials[1].Class = ""; p.Blends = p.Blends[:1] },
	} {
		changed := project.Clone(p)
		change(&changed)
		s := evaluate(t, changed)
		hot, found := note(s.Notes, "oven_too_hot")
		require.True(t, found, name)
		assert.Equal(t, benchAt+"/drying/runs/0/oven_temperature", hot.Field, name)
		open, found := note(s.Notes, "storage_air_missing")
		require.True(t, found, name)
		assert.Empty(t, open.Blocks, name)
	}
}
