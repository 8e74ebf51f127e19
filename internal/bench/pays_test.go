package bench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// The properties of this file hold for any line: costs, losses, prices and
// recipes are drawn at random, and each of them is nothing now and then. All
// are exact, so that what is asserted of a figure is asserted of its value.

// drawn is a random project. Its reference is blend 0, which is plain or, one
// time in three, filled; blend 1 is compared with it.
func drawn(random *rand.Rand) project.Project {
	between := func(low, high float64) string {
		return strconv.FormatFloat(low+(high-low)*random.Float64(), 'f', 4, 64)
	}
	orNothing := func(low, high float64) string {
		if random.IntN(4) == 0 {
			return "0"
		}
		return between(low, high)
	}
	p := bare(powderOf("powder", between(0.9, 4.5)+" g/cm3", orNothing(0, 30)+" EUR/kg"), between(1, 50)+" wt%")
	p.Materials[0].Price = q[quantity.PricePerMass](between(1, 60) + " EUR/kg")
	if random.IntN(3) == 0 {
		p.Blends[0] = recipe("plain", "pla", "balance", "powder", between(1, 50)+" wt%")
	}
	if random.IntN(4) == 0 {
		p.Blends[1] = recipe("filled", "pla", "balance")
	}
	p.Spool.NetMass = q[quantity.Mass](between(0.2, 3) + " kg")
	p.Batch = project.Batch{
		Spools:      1,
		StartUpLoss: q[quantity.Mass](orNothing(0, 500) + " g"),
		Purge:       q[quantity.Mass](orNothing(0, 500) + " g"),
		Scrap:       q[quantity.Fraction](orNothing(0, 40) + " %"),
	}
	p.Cost = project.Cost{
		EnergyPrice: q[quantity.PricePerEnergy](orNothing(0, 1) + " EUR/kWh"), Power: q[quantity.Power](orNothing(0, 3) + " kW"),
		Throughput: q[quantity.MassFlow](between(0.2, 5) + " kg/h"), Labour: q[quantity.PricePerTime](orNothing(0, 30) + " EUR/h"),
		Wear: q[quantity.PricePerMass](orNothing(0, 2) + " EUR/kg"), ExtraTime: q[quantity.Duration](orNothing(0, 60) + " min"),
		EmptySpool: q[quantity.Price](orNothing(0, 2) + " EUR"),
	}
	return p
}

// eachDrawn tries a property on many projects.
func eachDrawn(t *testing.T, property func(t *testing.T, p project.Project)) {
	t.Helper()
	projects := uint64(300)
	if raceEnabled {
		projects = 150
	}
	for seed := range projects {
		t.Run(fmt.Sprint(seed), func(t *testing.T) { property(t, drawn(rand.New(rand.NewPCG(seed, 1)))) })
	}
}

// run evaluates a project for a number of spools in a row.
func run(t *testing.T, p project.Project, spools int) *Sheet {
	t.Helper()
	p.Batch.Spools = spools
	return evaluate(t, p)
}

// costOfRun is what the strand of a whole run costs.
func costOfRun(t *testing.T, s *Sheet, p *project.Project, blend, spools int) float64 {
	t.Helper()
	return value(t, s, blend, CostPerKg) * float64(spools) * p.Spool.NetMass.SI()
}

// A run costs what is paid once, and as much again for every spool: saving and
// extra cost follow from what runs of one and of two spools cost.
func TestSavingAndExtraCostAreThoseOfTheRuns(t *testing.T) {
	eachDrawn(t, func(t *testing.T, p project.Project) {
		one, two := run(t, p, 1), run(t, p, 2)
		var perSpool, once, density [2]float64
		for i := range perSpool {
			perSpool[i] = costOfRun(t, two, &p, i, 2) - costOfRun(t, one, &p, i, 1)
			once[i] = costOfRun(t, one, &p, i, 1) - perSpool[i]
			density[i] = value(t, one, i, Density)
		}
		sameLength := density[0] / density[1] // of the reference, for a mass of the blend
		scale := 1e-9 * (costOfRun(t, one, &p, 0, 1) + costOfRun(t, one, &p, 1, 1))
		assert.InDelta(t, perSpool[0]*sameLength-perSpool[1], value(t, one, 1, SavingPerSpool), scale)
		assert.InDelta(t, once[1]-once[0]*sameLength, value(t, one, 1, ExtraCostPerRun), scale)
		assert.LessOrEqual(t, value(t, one, 1, ChangeoverCost), once[1]+scale, "a purge is paid once per run")
	})
}

// What a spool saves, what a run costs more and what a purge costs, and so the
// price for a long run, are the same however many spools are made.
func TestWhatIsTheSameForEveryRun(t *testing.T) {
	eachDrawn(t, func(t *testing.T, p project.Project) {
		one := run(t, p, 1)
		for _, spools := range []int{2, 7, 10000} {
			many := run(t, p, spools)
			for _, f := range []Figure{SavingPerSpool, ExtraCostPerRun, ChangeoverCost, BreakEvenLongRun, MaterialCostChange} {
				assert.Equal(t, one.Blends[1].Result(f), many.Blends[1].Result(f), f.Key())
			}
		}
	})
}

// In a run of n spools the blend costs extra - n·saving more than the same
// length of the reference: this is also what the change of cost per metre says.
func TestChangePerMetreIsThatOfTheRun(t *testing.T) {
	eachDrawn(t, func(t *testing.T, p project.Project) {
		for _, spools := range []int{1, 2, 3, 10, 200} {
			s := run(t, p, spools)
			sameLength := value(t, s, 0, Density) / value(t, s, 1, Density)
			reference := costOfRun(t, s, &p, 0, spools) * sameLength
			more := value(t, s, 1, ExtraCostPerRun) - float64(spools)*value(t, s, 1, SavingPerSpool)
			assert.InDelta(t, more, value(t, s, 1, CostChangePerMetre)/100*reference, 1e-9*reference, "%d spools", spools)
		}
	})
}

// "Pays from n spools" is true of n and not of n - 1: a metre is cheaper than
// that of the reference from n spools on, and only then.
func TestPaysFromTheSpoolsThatItNames(t *testing.T) {
	seen := map[string]int{}
	eachDrawn(t, func(t *testing.T, p project.Project) {
		one := run(t, p, 1).Blends[1]
		a := one.Answer
		seen[strings.TrimSuffix(a.ID, "_less")]++
		change := func(spools int) float64 { return value(t, run(t, p, spools), 1, CostChangePerMetre) }
		const rounding = 1e-9 // of a per cent
		if extra := one.Result(ExtraCostPerRun).Value; a.ID != "cannot_pay" && a.ID != "" {
			assert.Equal(t, extra < 0, strings.HasSuffix(a.ID, "_less"), "%s at %g", a.ID, extra)
		}
		switch strings.TrimSuffix(a.ID, "_less") {
		case "pays_at_once", "pays_later":
			needed := a.Values["Needed"].(int)
			for _, n := range []int{needed, needed + 1, 10 * needed} {
				assert.Negative(t, change(n), "%d of %d spools", n, needed)
				assert.Contains(t, []string{"pays_at_once", "pays_in_this_run", "pays_at_once_less"}, run(t, p, n).Blends[1].Answer.ID)
			}
			for n := max(1, needed-3); n < needed; n++ {
				assert.Greater(t, change(n), -rounding, "%d of %d spools", n, needed)
				assert.Equal(t, "pays_later", run(t, p, n).Blends[1].Answer.ID)
			}
		case "saving_too_small":
			assert.Greater(t, change(mostSpools), -rounding)
		case "costs_more", "cannot_pay":
			if value(t, run(t, p, 1), 1, ExtraCostPerRun) >= 0 {
				assert.Greater(t, change(1), -rounding)
				assert.Greater(t, change(10000), -rounding)
			}
		default:
			assert.Fail(t, "all is exact", a.ID)
		}
	})
	for _, id := range []string{"pays_at_once", "pays_later", "costs_more", "cannot_pay"} {
		assert.Greater(t, seen[id], 10, "%s among the answers: %v", id, seen)
	}
}

// The price that breaks even in a run is off that in a long run by what is paid
// once, spread over all that goes through the line: it tends to it as runs get longer.
func TestBreakEvenPriceTendsToThatOfALongRun(t *testing.T) {
	eachDrawn(t, func(t *testing.T, p project.Project) {
		if len(p.Blends[1].Parts) < 2 {
			return // no powder to look for a price of
		}
		lost := p.Batch.StartUpLoss.SI() + p.Batch.Purge.SI()
		once := func(spools int) float64 {
			s := run(t, p, spools)
			apart := value(t, s, 1, BreakEvenFillerPrice) - value(t, s, 1, BreakEvenLongRun)
			return apart * (float64(spools)*p.Spool.NetMass.SI() + lost)
		}
		want := once(1)
		for _, spools := range []int{2, 5, 50, 10000} {
			assert.InDelta(t, want, once(spools), 1e-8*math.Max(1, math.Abs(want)), "%d spools", spools)
		}
	})
}

// At the price of a run a metre of it costs what the reference costs; at that
// of a long run a spool saves nothing. Where the reference holds the powder
// too, its price moves with it, so that only a plain one can be asked.
func TestBreakEvenPricesBreakEven(t *testing.T) {
	asked := 0
	eachDrawn(t, func(t *testing.T, p project.Project) {
		if len(p.Blends[0].Parts) > 1 || len(p.Blends[1].Parts) < 2 {
			return
		}
		s := run(t, p, 20)
		for price, zero := range map[Figure]Figure{BreakEvenFillerPrice: CostChangePerMetre, BreakEvenLongRun: SavingPerSpool} {
			if at := value(t, s, 1, price); at >= 0 {
				asked++
				q := project.Clone(p)
				q.Materials[1].Price = quantity.FromSI[quantity.PricePerMass](at, "EUR/kg", 15)
				assert.InDelta(t, 0, value(t, run(t, q, 20), 1, zero), 1e-9, zero.Key())
			}
		}
	})
	assert.Greater(t, asked, 50)
}

// No price of powder pays, in this run or a longer one, where it is said that
// none does: not even powder that is free.
func TestCannotPayIsTrueOfFreePowder(t *testing.T) {
	said := 0
	eachDrawn(t, func(t *testing.T, p project.Project) {
		if len(p.Blends[0].Parts) > 1 {
			return // its reference holds the powder too
		}
		for _, spools := range []int{1, 3} {
			if run(t, p, spools).Blends[1].Answer.ID != "cannot_pay" {
				continue
			}
			said++
			free := project.Clone(p)
			free.Materials[1].Price = q[quantity.PricePerMass]("0 EUR/kg")
			for _, n := range []int{spools, 10 * spools, 10000} {
				assert.Positive(t, value(t, run(t, free, n), 1, CostChangePerMetre), "%d spools", n)
			}
		}
	})
	assert.Greater(t, said, 10)
}

// byHand is a line whose costs are easily followed: pellets at 20 and powder at 3
// a kilogram, both of 1.24 g/cm3, 20 wt%; a spool of 1 kg; 4/h of work at
// 1 kg/h; 100 g lost at start-up, 200 g purged, 20 % scrap; wear of 0.5/kg and
// 15 min more work for powder.
func byHand() project.Project {
	p := bare(powderOf("powder", "1.24 g/cm3", "3 EUR/kg"), "20 wt%")
	p.Batch.StartUpLoss, p.Batch.Purge, p.Batch.Scrap = q[quantity.Mass]("100 g"), q[quantity.Mass]("200 g"), q[quantity.Fraction]("20 %")
	p.Cost.Labour, p.Cost.Throughput = q[quantity.PricePerTime]("4 EUR/h"), q[quantity.MassFlow]("1 kg/h")
	p.Cost.Wear, p.Cost.ExtraTime = q[quantity.PricePerMass]("0.5 EUR/kg"), q[quantity.Duration]("15 min")
	return p
}

// Processed: plain 24, filled 16.6 + 4 = 20.6 a kilogram, both over 0.8.
func TestWhatARunCostsMoreByHand(t *testing.T) {
	for _, c := range []struct {
		name                     string
		change                   func(p *project.Project)
		saving, extra, purge     float64
		answer                   string
		perKg                    float64 // of a run of one spool
		breakEven, breakEvenLong float64
	}{
		{
			"one spool", func(*project.Project) {},
			30 - 25.75 - 0.5, (20.6*0.3-24*0.1)/0.8 + 1, 20.6 * 0.2 / 0.8,
			"pays_later", 20.6*1.3/0.8 + 0.5 + 1,
			((24*1.1/0.8-1.5)*0.8/1.3 - 20) / 0.2, ((30-0.5)*0.8 - 20) / 0.2,
		},
		{
			"nothing is purged", func(p *project.Project) { p.Batch.Purge = q[quantity.Mass]("0 g") },
			3.75, (20.6-24)*0.1/0.8 + 1, 0,
			"pays_at_once", 20.6*1.1/0.8 + 1.5,
			((24*1.1/0.8-1.5)*0.8/1.1 - 20) / 0.2, ((30-0.5)*0.8 - 20) / 0.2,
		},
		{
			"no scrap", func(p *project.Project) { p.Batch.Scrap = q[quantity.Fraction]("0 %") },
			24 - 20.6 - 0.5, 20.6*0.3 - 24*0.1 + 1, 20.6 * 0.2,
			"pays_later", 20.6*1.3 + 1.5,
			((24*1.1-1.5)/1.3 - 20) / 0.2, (23.5 - 20) / 0.2,
		},
		{
			"work costs nothing", func(p *project.Project) { p.Cost.Labour = q[quantity.PricePerTime]("0 EUR/h") },
			25 - 16.6/0.8 - 0.5, (16.6*0.3 - 20*0.1) / 0.8, 16.6 * 0.2 / 0.8,
			"pays_at_once", 16.6*1.3/0.8 + 0.5,
			((20*1.1/0.8-0.5)*0.8/1.3 - 16) / 0.2, ((25-0.5)*0.8 - 16) / 0.2,
		},
		{
			"the reference is filled", func(p *project.Project) {
				p.Reference = "filled"
				p.Blends[0], p.Blends[1] = p.Blends[1], p.Blends[0]
			},
			25.75 + 0.5 - 30, (24*0.3-20.6*0.1)/0.8 - 1, 24 * 0.2 / 0.8,
			"costs_more", 24 * 1.3 / 0.8,
			math.NaN(), math.NaN(),
		},
		{
			"the reference is filled as much", func(p *project.Project) {
				p.Blends[0] = recipe("plain", "pla", "balance", "powder", "20 wt%")
			},
			0, 20.6 * 0.2 / 0.8, 20.6 * 0.2 / 0.8,
			"costs_more", 20.6*1.3/0.8 + 1.5,
			((20.6*1.1/0.8+1.5-1.5)*0.8/1.3 - 20) / 0.2, 3,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := byHand()
			c.change(&p)
			s := evaluate(t, p)
			const rounding = 1e-10
			assert.InDelta(t, c.saving, value(t, s, 1, SavingPerSpool), rounding)
			assert.InDelta(t, c.extra, value(t, s, 1, ExtraCostPerRun), rounding)
			assert.InDelta(t, c.purge, value(t, s, 1, ChangeoverCost), rounding)
			assert.InDelta(t, c.perKg, value(t, s, 1, CostPerKg), rounding)
			assert.Equal(t, c.answer, s.Blends[1].Answer.ID)
			if math.IsNaN(c.breakEven) {
				assert.False(t, s.Blends[1].Results[BreakEvenFillerPrice].Known(), "no powder")
				assert.False(t, s.Blends[1].Results[BreakEvenLongRun].Known(), "no powder")
				return
			}
			assert.InDelta(t, c.breakEven, value(t, s, 1, BreakEvenFillerPrice), rounding)
			assert.InDelta(t, c.breakEvenLong, value(t, s, 1, BreakEvenLongRun), rounding)
		})
	}
}

// A line on which the powder costs less once per run than it costs more per
// spool: a short run pays, a long one never does. So it is not said that no
// powder price can pay.
func TestShortRunCanPayWhereALongOneCannot(t *testing.T) {
	p := byHand()
	p.Batch.Purge, p.Batch.StartUpLoss = q[quantity.Mass]("0 g"), q[quantity.Mass]("5 kg")
	p.Cost.Wear, p.Cost.ExtraTime = q[quantity.PricePerMass]("9 EUR/kg"), q[quantity.Duration]("0 min")
	s := evaluate(t, p)
	assert.InDelta(t, 30-25.75-9, value(t, s, 1, SavingPerSpool), 1e-10)
	assert.InDelta(t, (20.6-24)*5/0.8, value(t, s, 1, ExtraCostPerRun), 1e-10)
	assert.Negative(t, value(t, s, 1, CostChangePerMetre), "21.25 less once, 4.75 more per spool")
	assert.Negative(t, value(t, s, 1, BreakEvenLongRun))
	assert.Positive(t, value(t, s, 1, BreakEvenFillerPrice))
	assert.Equal(t, "costs_more_less", s.Blends[1].Answer.ID)
	said := wording.New("en").Say(s.Blends[1].Answer.Message())
	assert.Contains(t, said, "each run costs")
	assert.NotContains(t, said, "−", "what a run saves is said without a sign")
	assert.Positive(t, value(t, run(t, p, 5), 1, CostChangePerMetre))
}

// Without a reference nothing is compared, and the costs are those of a blend
// that is purged for.
func TestCostsWithoutAReference(t *testing.T) {
	p := byHand()
	p.Reference = ""
	s := evaluate(t, p)
	for i, processed := range []float64{24, 20.6} {
		b := &s.Blends[i]
		for _, f := range append(comparisonFigures(), BreakEvenLongRun, CostChangeBought) {
			assert.False(t, b.Result(f).Known(), f.Key())
		}
		assert.Empty(t, b.Answer.ID)
		assert.InDelta(t, processed*0.2/0.8, value(t, s, i, ChangeoverCost), 1e-10)
		assert.InDelta(t, processed*1.3/0.8+float64(i)*1.5, value(t, s, i, CostPerKg), 1e-10)
	}
}

// What a spool saves does not wait for what is paid once per run.
func TestSavingWaitsForNothingThatIsPaidOnce(t *testing.T) {
	want := value(t, evaluate(t, byHand()), 1, SavingPerSpool)
	for name, change := range map[string]func(p *project.Project){
		"start-up":   func(p *project.Project) { p.Batch.StartUpLoss = quantity.Of[quantity.Mass]{} },
		"purge":      func(p *project.Project) { p.Batch.Purge = quantity.Of[quantity.Mass]{} },
		"extra time": func(p *project.Project) { p.Cost.ExtraTime = quantity.Of[quantity.Duration]{} },
	} {
		p := byHand()
		change(&p)
		s := evaluate(t, p)
		assert.Equal(t, want, value(t, s, 1, SavingPerSpool), name)
		assert.False(t, s.Blends[1].Results[ExtraCostPerRun].Known(), name)
		assert.Empty(t, s.Blends[1].Answer.ID, name)
		_, asked := note(s.Blends[1].Notes, "costs_missing")
		require.True(t, asked, name)
	}
}
