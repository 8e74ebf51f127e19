package bench

import (
	"context"
	"math"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// bisected is the filler content at which a rule comes to be broken, by walking along and
// then halving: slow, and sure.
func bisected(v *limitSolver, r int) float64 {
	rule := &v.rules[r]
	margin := func(w float64) float64 {
		v.at(w, evalAll)
		return rule.margin(v.x, v.y)
	}
	const steps = 3000
	previous := v.most / steps / 100
	if g := margin(previous); math.IsNaN(g) || g > 0 {
		return math.NaN()
	}
	for i := 1; i <= steps; i++ {
		w := v.most * float64(i) / steps
		if g := margin(w); g <= 0 {
			previous = w
			continue
		}
		low, high := previous, w
		for range 40 {
			if mid := (low + high) / 2; margin(mid) <= 0 {
				low = mid
			} else {
				high = mid
			}
		}
		return low
	}
	return v.most
}

// The limits that are found in a few steps are those that a patient search finds.
func TestLimitsAreWhereRulesBreak(t *testing.T) {
	for _, name := range samples {
		p := sample(t, name)
		m := Compile(&p)
		for blend := range m.blends {
			if !m.blends[blend].filled || p.Blends[blend].ID == "olive-10-again" { // regrind brings powder of its own
				continue
			}
			v := m.newLimitSolver(blend, limitGrid)
			allowed := make([]float64, len(m.limits))
			v.solve(m.Nominal(), allowed)
			for r, got := range allowed {
				if m.limits[r].last {
					continue // see TestCostMayPayFromSomewhereOn
				}
				if want := bisected(v, r); finite(want) {
					assert.InEpsilon(t, want, got, 3e-3, "%s %s", p.Blends[blend].ID, m.limits[r].id)
				}
			}
		}
	}
}

// Every rule has what it rests on, and every limit that tells nothing says what would.
func TestNoLimitWithoutSourceAndBand(t *testing.T) {
	for _, name := range samples {
		p := sample(t, name)
		s := evaluate(t, p)
		for blend := range s.Blends {
			sheet := s.Limits(blend)
			if !sheet.Known {
				assert.NotEmpty(t, sheet.Problem)
				continue
			}
			assert.Len(t, sheet.Limits, 14)
			for _, l := range sheet.Limits {
				switch l.State {
				case LimitUnknown:
					assert.False(t, l.Allowed.Known(), l.ID)
					assert.NotEmpty(t, l.Missing.ID, l.ID)
					assert.NotEmpty(t, l.Where, l.ID)
				case LimitIdle:
					assert.NotEmpty(t, l.Missing.ID, l.ID)
				default:
					require.True(t, l.Allowed.Known(), l.ID)
					assert.True(t, l.Allowed.Low <= l.Allowed.Value && l.Allowed.Value <= l.Allowed.High, l.ID)
					assert.True(t, l.Allowed.Low >= 0 && l.Allowed.High <= sheet.Most+1e-9, l.ID)
				}
				assert.NotEmpty(t, l.Field, l.ID)
			}
		}
	}
}

// Where a density or the reference is missing, that is what is asked for.
func TestMissingAsksForWhatIsMissing(t *testing.T) {
	p := sample(t, oliveStone)
	p.Materials[0].Density = quantity.Of[quantity.Density]{}
	s := evaluate(t, p)
	for _, id := range []LimitID{LimitPickUp, LimitFlat, LimitCost} {
		assert.Equal(t, "/materials/0/density", limitOf(t, s.Limits(2), id).Where, id)
	}
	p = sample(t, oliveStone)
	p.Reference = ""
	assert.Equal(t, "/reference", limitOf(t, evaluate(t, p).Limits(2), LimitCost).Where)
}

// The limit that binds stands first, what is not known last, and the least of all is told.
func TestLimitsStandInOrder(t *testing.T) {
	s := evaluate(t, sample(t, oliveStone)).Limits(2)
	for i := 1; i < len(s.Limits); i++ {
		assert.LessOrEqual(t, s.Limits[i-1].rank(s.Most), s.Limits[i].rank(s.Most))
	}
	require.NotNil(t, s.Binding())
	assert.InDelta(t, s.Binding().Allowed.Value, s.Least.Value, 1e-9)
	for _, l := range s.Limits {
		if l.Stops() {
			assert.GreaterOrEqual(t, l.Allowed.Value, s.Least.Value)
			assert.GreaterOrEqual(t, l.Allowed.Low, s.Least.Low)
		}
	}
}

// Turning one field moves the limit that hangs on it, the way that it should.
func TestLimitsMoveAsTheyShould(t *testing.T) {
	for _, c := range []struct {
		id     LimitID
		up     bool
		change func(p *project.Project)
	}{
		{LimitClog, true, func(p *project.Project) { p.Loading.ClogChance = q[quantity.Fraction]("10 %") }},
		{LimitClog, false, func(p *project.Project) { p.Spool.NetMass = q[quantity.Mass]("2 kg") }},
		{LimitPickUp, false, func(p *project.Project) { p.Loading.PickUp = q[quantity.Fraction]("80 %") }},
		{LimitPickUp, true, func(p *project.Project) {
			p.Line.Spreading.Ground, p.Line.Spreading.GroundSize = q[quantity.Fraction]("100 %"), q[quantity.Length]("0.5 mm")
		}},
		{LimitViscosity, true, func(p *project.Project) { p.Loading.ViscosityRise = q[quantity.Factor]("2.5") }},
		{LimitHydrolysis, true, func(p *project.Project) { p.Melt.Residence = q[quantity.Duration]("2 min") }},
		{LimitHydrolysis, false, func(p *project.Project) { p.Melt.Temperature = q[quantity.Temperature]("205 °C") }},
		{LimitBubbles, false, func(p *project.Project) { p.Loading.Bubbles = q[quantity.Fraction]("50 %") }},
		{LimitMoisture, true, func(p *project.Project) { p.Loading.WaterShare = q[quantity.Fraction]("200 %") }},
		{LimitMoisture, false, func(p *project.Project) { p.Materials[0].Moisture = q[quantity.Fraction]("120 ppm") }},
		{LimitFlat, false, func(p *project.Project) { p.Loading.FloorFlat = q[quantity.Pressure]("50 MPa") }},
		{LimitUpright, true, func(p *project.Project) { p.Loading.StrengthKept = q[quantity.Fraction]("60 %") }},
	} {
		p := sample(t, oliveStone)
		before := limitOf(t, evaluate(t, p).Limits(2), c.id).Allowed.Value
		c.change(&p)
		after := limitOf(t, evaluate(t, p).Limits(2), c.id).Allowed.Value
		assert.NotEqual(t, before, after, c.id)
		assert.Equal(t, c.up, after > before, "%s: %g, then %g", c.id, before, after)
	}
}

// What does not depend on the filler content allows all or nothing.
func TestHeatAllowsAllOrNothing(t *testing.T) {
	p := sample(t, oliveStone)
	p.Print.Temperature = q[quantity.Temperature]("204 °C") // 6 K below the onset
	s := evaluate(t, p).Limits(2)
	assert.Equal(t, LimitNone, limitOf(t, s, LimitPrintHeat).State)
	assert.Equal(t, LimitPrintHeat, s.Binding().ID)
	assert.Equal(t, "limits_none", s.Words()[0].ID)
	assert.Equal(t, LimitFree, limitOf(t, s, LimitLineHeat).State)
}

// A change of material costs as much for a little powder as for much, so a blend may cost
// too much with little powder and be worth it with more: what counts is the most.
func TestCostMayPayFromSomewhereOn(t *testing.T) {
	p := sample(t, oliveStone)
	p.Loading.CostShare = q[quantity.Fraction]("107 %")
	s := evaluate(t, p)
	assert.Greater(t, s.Blends[1].Results[CostChangePerMetre].Value, 7.0, "5 wt% costs too much")
	assert.Less(t, s.Blends[2].Results[CostChangePerMetre].Value, 7.0, "10 wt% does not")
	assert.Equal(t, LimitFree, limitOf(t, s.Limits(2), LimitCost).State)
	p.Materials[1].Powder.Preparation.SetAside = true
	p.Materials[1].Price = q[quantity.PricePerMass]("60 EUR/kg")
	p.Loading.CostShare = q[quantity.Fraction]("130 %")
	dear := limitOf(t, evaluate(t, p).Limits(2), LimitCost)
	assert.Equal(t, LimitBinds, dear.State)
	p.Loading.CostShare = q[quantity.Fraction]("101 %")
	assert.Equal(t, LimitNone, limitOf(t, evaluate(t, p).Limits(2), LimitCost).State)
}

// Below the content from which a blend is worth its cost the cost is too high, and above it
// is not: the limit tells where that is, and a blend below it is told that it costs too much.
func TestCostTellsFromWhereOnItIsKept(t *testing.T) {
	p := sample(t, oliveStone)
	p.Loading.CostShare = q[quantity.Fraction]("112 %")
	p.Blends[1].Parts[1].Amount = project.Content(q[quantity.Content]("2 wt%"))
	s := evaluate(t, p)
	from := limitOf(t, s.Limits(1), LimitCost).From
	require.Greater(t, from, 2.0)
	change := func(content string) float64 {
		p.Blends[1].Parts[1].Amount = project.Content(q[quantity.Content](content))
		return evaluate(t, p).Blends[1].Results[CostChangePerMetre].Value
	}
	assert.InDelta(t, 12, change(strconv.FormatFloat(from, 'f', 6, 64)+" wt%"), 0.02)
	assert.Contains(t, answerIDs(s.LimitWords(1)), "limits_from")
	assert.Contains(t, answerIDs(s.LimitWords(1)), "limits_below")
	assert.Contains(t, noteIDs(s.BlendNotes(1)), "below_the_limits")

	p.Loading.StrengthKept = q[quantity.Fraction]("99 %") // allows less than cost asks for
	assert.Contains(t, answerIDs(evaluate(t, p).LimitWords(1)), "limits_from_beyond")
	assert.Zero(t, limitOf(t, evaluate(t, sample(t, musselShell)).Limits(1), LimitCost).From, "kept from the first powder on")
}

func answerIDs(answers []Answer) (ids []string) {
	for _, a := range answers {
		ids = append(ids, a.ID)
	}
	return ids
}

// The moisture limit on the card is told, but stops nothing until the maker says how much of
// it may be used; it is kept up to the content at which a note takes the powder for dry enough.
func TestMoistureLimitIsAdvice(t *testing.T) {
	p := sample(t, oliveStone)
	s := evaluate(t, p)
	l := limitOf(t, s.Limits(1), LimitMoisture)
	require.True(t, l.Known())
	assert.True(t, l.Advice)
	assert.Less(t, l.Allowed.Value, s.Limits(1).Least.Value, "it stops nothing")
	assert.Contains(t, answerIDs(s.LimitWords(1)), "limits_advice")

	damp := func(content float64) bool {
		p := sample(t, oliveStone)
		p.Blends[1].Parts[1].Amount = project.Content(q[quantity.Content](strconv.FormatFloat(content, 'f', 4, 64) + " wt%"))
		s := evaluate(t, p)
		return s.Blends[1].Results[MoistureLimit].Value < s.Blends[1].Results[PowderMoisture].Value
	}
	assert.False(t, damp(0.98*l.Allowed.Value), "dry enough")
	assert.True(t, damp(1.02*l.Allowed.Value), "not any more")

	p.Loading.WaterShare = q[quantity.Fraction]("100 %")
	s = evaluate(t, p)
	assert.Equal(t, LimitMoisture, s.Limits(1).Binding().ID)
	assert.InDelta(t, l.Allowed.Value, s.Limits(1).Least.Value, 1e-9)
	d, err := s.Model.DrawLimits(context.Background(), 1, Drawing{Draws: 1 << 10, Seed: 1})
	require.NoError(t, err)
	assert.Greater(t, limitOf(t, s.WithLimits(d).Limits(1), LimitMoisture).First, 0.3, "and is drawn with the others")

	p.Loading.WaterShare = quantity.Of[quantity.Fraction]{}
	p.Materials[0].MoistureLimit = quantity.Of[quantity.Fraction]{}
	l = limitOf(t, evaluate(t, p).Limits(1), LimitMoisture)
	assert.Equal(t, LimitIdle, l.State)
	assert.Equal(t, "/materials/0/moisture_limit", l.Where)
}

// A blend that holds more than its limits likely allow is a caution.
func TestOverTheLimitsIsANote(t *testing.T) {
	p := sample(t, oliveStone)
	s := evaluate(t, p)
	n, found := note(s.BlendNotes(2), "over_the_limits")
	require.True(t, found)
	assert.Equal(t, Caution, n.Severity)
	assert.Equal(t, PaneLimits, n.Pane)
	assert.Contains(t, noteIDs(s.NotesOf(2)), "over_the_limits")

	p.Blends[2].Parts[1].Amount = project.Content(q[quantity.Content]("0.5 wt%"))
	_, found = note(evaluate(t, p).BlendNotes(2), "over_the_limits")
	assert.False(t, found)
	assert.NotContains(t, noteIDs(s.NotesOf(-1)), "over_the_limits", "without a blend")
}

// What is less than a tenth of a percent is practically none, in headline and in detail.
func TestPracticallyNone(t *testing.T) {
	p := sample(t, oliveStone)
	p.Loading.PickUp = q[quantity.Fraction]("1 %")
	s := evaluate(t, p).Limits(1)
	l := limitOf(t, s, LimitPickUp)
	require.True(t, l.Allowed.Value > 0 && l.Allowed.Value < PracticallyNone)
	assert.True(t, l.Hardly())
	assert.Contains(t, []string{"limits_none", "limits_none_likely"}, s.Words()[0].ID)
	assert.False(t, limitOf(t, s, LimitClog).Hardly())
}

// Names and the order of materials and parts, and the units of what was entered, change no
// figure and no limit; nor does a polymer that comes in two bags.
func TestFiguresDoNotDependOnHowItIsWritten(t *testing.T) {
	for name, change := range map[string]func(p *project.Project){
		"names": func(p *project.Project) {
			for i := range p.Materials {
				p.Materials[i].Name = "Material " + string(rune('A'+i))
			}
		},
		"order of materials": func(p *project.Project) { slices.Reverse(p.Materials) },
		"order of parts": func(p *project.Project) {
			for i := range p.Blends {
				slices.Reverse(p.Blends[i].Parts)
			}
		},
		"units": func(p *project.Project) {
			p.Materials[0].Density = q[quantity.Density]("1240 kg/m3")
			p.Spool.NetMass = q[quantity.Mass]("1000 g")
			p.Print.Nozzle = q[quantity.Length]("400 um")
		},
		"two bags": func(p *project.Project) {
			bag := p.Materials[0].Clone()
			bag.ID = "other-bag"
			p.Materials = append(p.Materials, bag)
			for i := range p.Blends[:3] {
				p.Blends[i].Parts = append(p.Blends[i].Parts, project.Part{Material: "other-bag", Amount: amount("30 wt%")})
			}
		},
	} {
		p := sample(t, oliveStone)
		p.Materials[0].Density = q[quantity.Density]("1.24 g/cm3")
		p.Melt.Tests = nil
		before := evaluate(t, p)
		change(&p)
		after := evaluate(t, p)
		for b := range 3 {
			for _, f := range Figures() {
				was, is := before.Blends[b].Results[f], after.Blends[b].Results[f]
				require.Equal(t, was.Known(), is.Known(), "%s: %s", name, f.Key())
				assert.InDelta(t, was.Value, is.Value, 1e-9*(1+math.Abs(was.Value)), "%s: %s of %d", name, f.Key(), b)
			}
		}
		for _, l := range before.Limits(2).Limits {
			now := limitOf(t, after.Limits(2), l.ID)
			assert.Equal(t, l.State, now.State, "%s: %s", name, l.ID)
			assert.InDelta(t, l.Allowed.Value, now.Allowed.Value, 1e-6*(1+l.Allowed.Value), "%s: %s", name, l.ID)
		}
	}
}

// The inputs of a limit add up to all of its variance, and the one that matters stands
// first.
func TestLimitInputs(t *testing.T) {
	p := sample(t, oliveStone)
	s := evaluate(t, p)
	for id, first := range map[LimitID]string{
		LimitClog: "/materials/1/powder/clogging", LimitUpright: "bond across layers, less", LimitBubbles: "uptake of olive-stone-flour",
	} {
		list := s.LimitInputs(2, id)
		require.NotEmpty(t, list, id)
		assert.Equal(t, first, list[0].Pointer)
		sum := 0.0
		for _, in := range list {
			sum += in.Total
		}
		assert.InDelta(t, 1, sum, 0.1, id)
	}
	assert.Empty(t, s.LimitInputs(2, LimitBend))
	assert.Empty(t, s.LimitInputs(0, LimitClog))
}
