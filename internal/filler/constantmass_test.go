package filler

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

func TestConstantMass(t *testing.T) {
	rows := []Weighing{{0, 1}, {3600, 0.45}, {7200, 0.4012}, {9000, 0.4009}, {9600, 0.4008}}
	c := CheckConstantMass(rows, UsualConstantMass, 0)
	assert.Equal(t, MassConstant, c.Outcome)
	assert.Equal(t, [2]int{2, 4}, [2]int{c.Earlier, c.Last}, "the row 10 min before is too near")
	assert.Equal(t, 2400.0, c.GapS)
	printed.Equal(t, "-0.000998", c.Change, "-0.0004/0.4008, "+byHand)

	c = CheckConstantMass(rows, ConstantMassRule{MinGapS: 3600, MaxChange: 0.001}, 0)
	assert.Equal(t, MassStillChanges, c.Outcome)
	assert.Equal(t, 1, c.Earlier)

	c = CheckConstantMass(rows[:4], UsualConstantMass, 0)
	assert.Equal(t, MassConstant, c.Outcome, "a gap of just 30 min counts")

	c = CheckConstantMass([]Weighing{{9000, 0.4}, {8000, 0.4}}, UsualConstantMass, 0)
	assert.Equal(t, ConstantMass{Outcome: MassWeighedTooNow, Earlier: -1, Last: 0}, c)

	c = CheckConstantMass([]Weighing{{9000, 0.4}, {1000, math.NaN()}}, UsualConstantMass, 0)
	assert.Equal(t, MassNotKnown, c.Outcome)

	c = CheckConstantMass([]Weighing{{0, 0.4}, {3600, 0.41}}, UsualConstantMass, 0)
	assert.Equal(t, MassStillChanges, c.Outcome, "a gain is a change too")
	assert.Positive(t, c.Change)

	c = CheckConstantMass([]Weighing{{60, 0.4}, {60, 0.4}}, ConstantMassRule{MaxChange: 0.001}, 0)
	assert.Equal(t, MassWeighedTooNow, c.Outcome, "the same time says nothing")
}

// 100 g by steps of 0.1 g show a change of 0.1 %, by steps of 1 g they do not.
func TestConstantMassByACoarseScale(t *testing.T) {
	rows := []Weighing{{0, 0.140}, {3600, 0.100}, {7200, 0.100}}
	for _, c := range []struct {
		stepKg float64
		want   ConstantMassOutcome
	}{{0, MassConstant}, {0.00001, MassConstant}, {0.0001, MassConstant}, {0.001, MassTooCoarse}} {
		assert.Equal(t, c.want, CheckConstantMass(rows, UsualConstantMass, c.stepKg).Outcome, "%v kg", c.stepKg)
	}
	assert.Equal(t, MassStillChanges, CheckConstantMass(rows[:2], UsualConstantMass, 0.001).Outcome, "what changes more is seen")
}

// 100, 60 and 44 lose 40 and 16: 44 - 16²/24.
func TestAitken(t *testing.T) {
	f := Aitken(100, 60, 44)
	printed.Equal(t, "33.3333", f.MassKg, byHand)
	assert.Equal(t, AitkenFound, f.Outcome)

	assert.Equal(t, 44.0, Aitken(100, 44, 44).MassKg, "nothing lost in the second gap")
	assert.Equal(t, 1.0, Aitken(100, 44, 44).Gain)
	assert.Equal(t, 44.0, Aitken(44, 44, 44).MassKg)
	for _, none := range [][3]float64{{100, 80, 60}, {100, 90, 60}, {100, 60, 61}, {60, 100, 90}, {0, 60, 44}, {100, math.NaN(), 44}, {10, 5, 0.5}} {
		assert.Equal(t, AitkenNotShrinking, Aitken(none[0], none[1], none[2]).Outcome, "%v", none)
	}
}

func TestAitkenIsExactForLewis(t *testing.T) {
	random := rand.New(rand.NewPCG(31, 31))
	for range 1000 {
		final, tau, gap := 0.1+random.Float64(), 1000+3000*random.Float64(), 500+2500*random.Float64()
		rows := logOf(final+random.Float64(), final, tau, 1, gap, 2*gap, 3*gap)
		f := Aitken(rows[0].MassKg, rows[1].MassKg, rows[2].MassKg)
		assert.InEpsilon(t, final, f.MassKg, 1e-9)
	}
}

// Where the rate changes on the way, the estimate errs to one side.
func TestAitkenLeansForPage(t *testing.T) {
	for n, sign := range map[float64]float64{0.7: 1, 0.9: 1, 1.1: -1, 1.4: -1} {
		rows := logOf(1, 0.4, 3000, n, 3000, 6000, 9000)
		f := Aitken(rows[0].MassKg, rows[1].MassKg, rows[2].MassKg)
		assert.Positive(t, sign*(f.MassKg-0.4), "n = %v", n)
		assert.Less(t, math.Abs(f.MassKg-0.4), rows[2].MassKg-0.4, "but it is nearer than the last weighing")
	}
}

func TestAitkenGainIsThatOfTheDerivatives(t *testing.T) {
	const h = 1e-6
	var sum float64
	m := [3]float64{100, 60, 44}
	for i := range m {
		above, below := m, m
		above[i] += h
		below[i] -= h
		d := (Aitken(above[0], above[1], above[2]).MassKg - Aitken(below[0], below[1], below[2]).MassKg) / (2 * h)
		sum += d * d
	}
	assert.InEpsilon(t, math.Sqrt(sum), Aitken(m[0], m[1], m[2]).Gain, 1e-6)
	assert.GreaterOrEqual(t, Aitken(100, 99, 98.5).Gain, 1.0)
}

func TestAitkenOfALog(t *testing.T) {
	rows := logOf(1, 0.4, 3000, 1, 0, 1800, 3600, 5400, 7200)
	f := AitkenOfLog(rows, SpacingTolerance)
	assert.Equal(t, [3]int{0, 2, 4}, f.Rows, "the widest gaps have the least gain")
	assert.InEpsilon(t, 0.4, f.MassKg, 1e-9)

	uneven := logOf(1, 0.4, 3000, 1, 0, 1000, 3600, 4000, 7200)
	uneven[0].TimeS = 100 // 3500 and 3600 are 3 % apart
	f = AitkenOfLog(uneven, SpacingTolerance)
	assert.Equal(t, AitkenFound, f.Outcome)
	assert.Equal(t, [3]int{0, 2, 4}, f.Rows)
	assert.Equal(t, AitkenNoTriple, AitkenOfLog(uneven, 0.01).Outcome)
	assert.Equal(t, AitkenNoTriple, AitkenOfLog(rows[:2], SpacingTolerance).Outcome)

	straight := []Weighing{{0, 1}, {60, 0.9}, {120, 0.8}}
	f = AitkenOfLog(straight, SpacingTolerance)
	assert.Equal(t, AitkenNotShrinking, f.Outcome)
	assert.Equal(t, [3]int{0, 1, 2}, f.Rows, "the rows to look at")

	shuffled := []Weighing{rows[4], rows[0], {50, math.NaN()}, rows[2]}
	assert.Equal(t, [3]int{1, 3, 0}, AitkenOfLog(shuffled, SpacingTolerance).Rows)
}
