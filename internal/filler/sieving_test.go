package filler

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/printed"
)

// stack is 100 g of ground shells on six sieves, made up so that every sum can
// be read off.
func stack() SieveTest {
	return SieveTest{
		Sieves: []SieveMass{
			{500 * um, 0.001}, {250 * um, 0.009}, {180 * um, 0.020}, {125 * um, 0.030}, {90 * um, 0.020}, {63 * um, 0.012},
		},
		PanKg:    0.008,
		ChargeKg: 0.1,
	}
}

func TestAnalyse(t *testing.T) {
	s := stack().Analyse()
	assert.Empty(t, s.Problems)
	require.Len(t, s.Rows, 6)
	printed.Same(t, 0.1, s.RecoveredKg)
	assert.Equal(t, 0.008, s.PanKg)
	assert.True(t, s.HasBalance)
	assert.InDelta(t, 0, s.Balance, 1e-15)
	for i, want := range []SieveRow{
		{500 * um, 0.001, 0.01, 0.01, 0.99, 0},
		{250 * um, 0.009, 0.09, 0.10, 0.90, 1},
		{180 * um, 0.020, 0.20, 0.30, 0.70, 2},
		{125 * um, 0.030, 0.30, 0.60, 0.40, 3},
		{90 * um, 0.020, 0.20, 0.80, 0.20, 4},
		{63 * um, 0.012, 0.12, 0.92, 0.08, 5},
	} {
		got := s.Rows[i]
		assert.Equal(t, want.OpeningM, got.OpeningM)
		assert.Equal(t, want.RetainedKg, got.RetainedKg)
		printed.Same(t, want.Retained, got.Retained)
		printed.Same(t, want.CumulativeRetained, got.CumulativeRetained)
		printed.Same(t, want.Passing, got.Passing)
		assert.Equal(t, want.Entered, got.Entered)
	}
}

// A loss counts as if it had been spread over all sieves and the pan.
func TestFractionsAreOfTheRecoveredMass(t *testing.T) {
	full := stack()
	lossy := stack()
	lossy.ChargeKg = 0.125
	a, b := full.Analyse(), lossy.Analyse()
	assert.Equal(t, a.Rows, b.Rows)
	printed.Same(t, -0.2, b.Balance)
	lossy.ChargeKg = 0
	b = lossy.Analyse()
	assert.Equal(t, a.Rows, b.Rows)
	assert.False(t, b.HasBalance)
	assert.Zero(t, b.Balance)
}

func TestSieveProblems(t *testing.T) {
	one := []SieveMass{{250 * um, 0.01}, {125 * um, 0.02}}
	nan := math.NaN()
	for name, c := range map[string]struct {
		test SieveTest
		want []SieveProblem
		rows int
	}{
		"no row":       {SieveTest{nil, 0.1, 0.1}, []SieveProblem{{NoSieves, SieveWrong, nil, 0}}, 0},
		"openings":     {SieveTest{[]SieveMass{{250 * um, 1}, {0, 1}, {-1, 1}, {nan, 1}, {math.Inf(1), 1}}, 0, 0}, []SieveProblem{{BadOpening, SieveWrong, []int{1, 2, 3, 4}, 0}}, 0},
		"masses":       {SieveTest{[]SieveMass{{250 * um, -1}, {125 * um, 1}, {90 * um, nan}}, 0, 0}, []SieveProblem{{BadRetained, SieveWrong, []int{0, 2}, 0}}, 0},
		"pan negative": {SieveTest{one, -1, 0}, []SieveProblem{{BadPan, SieveWrong, nil, 0}}, 0},
		"no pan":       {SieveTest{one, nan, nan}, []SieveProblem{{BadPan, SieveWrong, nil, 0}}, 0},
		"charge":       {SieveTest{one, 0, -1}, []SieveProblem{{BadCharge, SieveWrong, nil, 0}}, 0},
		"all of it": {
			SieveTest{[]SieveMass{{0, nan}}, -1, math.Inf(1)},
			[]SieveProblem{
				{BadOpening, SieveWrong, []int{0}, 0},
				{BadRetained, SieveWrong, []int{0}, 0},
				{BadPan, SieveWrong, nil, 0},
				{BadCharge, SieveWrong, nil, 0},
			},
			0,
		},
		"nothing":              {SieveTest{[]SieveMass{{250 * um, 0}}, 0, 1}, []SieveProblem{{NothingRecovered, SieveWrong, nil, 0}}, 0},
		"charge below sieves":  {SieveTest{one, nan, 0.02}, []SieveProblem{{PanFromCharge, SieveInformation, nil, 0}, {BadCharge, SieveWrong, nil, 0}}, 0},
		"too much to add":      {SieveTest{[]SieveMass{{250 * um, 1.5e308}, {125 * um, 1.5e308}}, 0, 0}, []SieveProblem{{BadRetained, SieveWrong, nil, 0}}, 0},
		"pan from charge":      {SieveTest{one, nan, 0.05}, []SieveProblem{{PanFromCharge, SieveInformation, nil, 0}}, 2},
		"one sieve":            {SieveTest{one[:1], 0.01, 0}, []SieveProblem{{OneSieve, SieveCaution, nil, 0}}, 1},
		"charge left out":      {SieveTest{one, 0.02, nan}, nil, 2},
		"finest first is fine": {SieveTest{[]SieveMass{{63 * um, 1}, {90 * um, 1}, {125 * um, 1}}, 0, 0}, nil, 3},
		"one out of order":     {SieveTest{[]SieveMass{{250 * um, 1}, {90 * um, 1}, {125 * um, 1}, {63 * um, 1}}, 0, 0}, []SieveProblem{{OutOfOrder, SieveInformation, []int{2}, 0}}, 4},
		"one out of order, finest first": {
			SieveTest{[]SieveMass{{63 * um, 1}, {125 * um, 1}, {90 * um, 1}, {250 * um, 1}}, 0, 0},
			[]SieveProblem{{OutOfOrder, SieveInformation, []int{2}, 0}},
			4,
		},
		"not nominal": {SieveTest{[]SieveMass{{240 * um, 1}, {177 * um, 1}, {130 * um, 1}}, 0, 0}, []SieveProblem{{NotNominal, SieveInformation, []int{0, 2}, 0}}, 3},
		"duplicates": {
			SieveTest{[]SieveMass{{250 * um, 1}, {125 * um, 1}, {125 * um, 2}, {90 * um, 1}, {math.Nextafter(90*um, 0), 1}}, 0, 0},
			[]SieveProblem{{DuplicateOpening, SieveCaution, []int{1, 2, 3, 4}, 0}},
			3,
		},
	} {
		t.Run(name, func(t *testing.T) {
			s := c.test.Analyse()
			assert.Equal(t, c.want, s.Problems)
			assert.Len(t, s.Rows, c.rows)
			if c.rows == 0 {
				assert.Zero(t, s.RecoveredKg)
				assert.Zero(t, s.Balance)
			}
		})
	}
}

func TestLosses(t *testing.T) {
	for _, c := range []struct {
		charge float64
		kind   SieveProblemKind
		grade  SieveGrade
		none   bool
	}{
		{0.1, 0, 0, true},
		{0.1003, 0, 0, true}, // 0.299 %
		{0.1004, LossAboveAllowed, SieveCaution, false},
		{0.1020, LossAboveAllowed, SieveCaution, false}, // 1.96 %
		{0.1021, LossLarge, SieveCaution, false},        // 2.06 %
		{0.0999, SlightGain, SieveInformation, false},
		{0.0998, SlightGain, SieveInformation, false}, // 0.2 %
		{0.0996, GainAboveAllowed, SieveCaution, false},
		{0.05, GainAboveAllowed, SieveCaution, false},
	} {
		test := stack()
		test.ChargeKg = c.charge
		s := test.Analyse()
		if c.none {
			assert.Empty(t, s.Problems, "%g", c.charge)
			continue
		}
		require.Len(t, s.Problems, 1, "%g", c.charge)
		p := s.Problems[0]
		assert.Equal(t, c.kind, p.Kind, "%g", c.charge)
		assert.Equal(t, c.grade, p.Grade)
		printed.Same(t, math.Abs(0.1/c.charge-1), p.Value)
	}
}

func TestSharesOfTheLimitsAreNoLosses(t *testing.T) {
	test := SieveTest{[]SieveMass{{250 * um, 0.5}, {125 * um, 0.3}}, 0.18, 1} // 2 % as rounded
	s := test.Analyse()
	require.Len(t, s.Problems, 1)
	assert.Equal(t, LossAboveAllowed, s.Problems[0].Kind)
	test.PanKg = 0.197
	assert.Empty(t, test.Analyse().Problems, "0.3 % as rounded")
}

func TestPanFromCharge(t *testing.T) {
	test := stack()
	weighed := test.Analyse()
	test.PanKg = math.NaN()
	s := test.Analyse()
	assert.False(t, s.HasBalance)
	assert.InDelta(t, 0.008, s.PanKg, 1e-15)
	for i := range s.Rows {
		assert.InDelta(t, weighed.Rows[i].Passing, s.Rows[i].Passing, 1e-12)
	}
	test.ChargeKg = 0.092 // what the sieves hold: rounding must leave no pan below 0
	s = test.Analyse()
	assert.Zero(t, s.PanKg)
	assert.Len(t, s.Rows, 6)
}

func TestDuplicatesAreAddedUp(t *testing.T) {
	s := SieveTest{[]SieveMass{{125 * um, 1}, {250 * um, 1}, {125 * um, 2}}, 0, 0}.Analyse()
	require.Len(t, s.Rows, 2)
	assert.Equal(t, 3.0, s.Rows[1].RetainedKg)
	assert.Equal(t, 0, s.Rows[1].Entered, "the first of them")
	assert.Equal(t, 0.75, s.Rows[1].Retained)

	s = SieveTest{[]SieveMass{{125 * um, 3}, {125 * um, 2}, {125 * um, 1}}, 0, 0}.Analyse()
	require.Len(t, s.Rows, 1)
	assert.Equal(t, 0, s.Rows[0].Entered, "the first, whatever their masses")
}

func TestEveryProblemHasAGrade(t *testing.T) {
	for kind := NoSieves; kind <= NotNominal; kind++ {
		assert.Contains(t, sieveGrades, kind)
	}
	assert.Len(t, sieveGrades, int(NotNominal)+1)
}

// randomStack makes a stack of n sieves with odd masses.
func randomStack(random *rand.Rand, n int) SieveTest {
	test := SieveTest{PanKg: random.ExpFloat64()}
	opening := 2e-3
	for range n {
		mass := random.ExpFloat64()
		if random.IntN(4) == 0 {
			mass = 0
		}
		test.Sieves = append(test.Sieves, SieveMass{opening, mass})
		opening *= 0.5 + 0.4*random.Float64()
	}
	return test
}

func TestOrderOfRowsChangesNothing(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 1))
	for range 200 {
		test := randomStack(random, 1+random.IntN(12))
		test.Sieves = append(test.Sieves, test.Sieves[0], test.Sieves[0]) // duplicates too
		want := test.Analyse()
		shuffled := SieveTest{slices.Clone(test.Sieves), test.PanKg, test.ChargeKg}
		random.Shuffle(len(shuffled.Sieves), func(i, j int) {
			shuffled.Sieves[i], shuffled.Sieves[j] = shuffled.Sieves[j], shuffled.Sieves[i]
		})
		got := shuffled.Analyse()
		for i := range got.Rows {
			assert.Equal(t, got.Rows[i].OpeningM, shuffled.Sieves[got.Rows[i].Entered].OpeningM)
			got.Rows[i].Entered, want.Rows[i].Entered = 0, 0
		}
		assert.Equal(t, want.Rows, got.Rows)
		assert.Equal(t, want.RecoveredKg, got.RecoveredKg)
	}
}

func TestScaleOfMassesChangesNothing(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 2))
	for range 200 {
		test := randomStack(random, 1+random.IntN(12))
		factor := math.Exp(10 * random.NormFloat64())
		scaled := SieveTest{slices.Clone(test.Sieves), factor * test.PanKg, 0}
		for i := range scaled.Sieves {
			scaled.Sieves[i].RetainedKg *= factor
		}
		want, got := test.Analyse(), scaled.Analyse()
		require.Len(t, got.Rows, len(want.Rows))
		for i := range want.Rows {
			assert.InDelta(t, want.Rows[i].Passing, got.Rows[i].Passing, 1e-14)
			assert.InDelta(t, want.Rows[i].CumulativeRetained, got.Rows[i].CumulativeRetained, 1e-14)
			assert.InDelta(t, want.Rows[i].Retained, got.Rows[i].Retained, 1e-14)
		}
	}
}

func TestPassingIsMonotoneAndWhole(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	for range 200 {
		s := randomStack(random, 1+random.IntN(40)).Analyse()
		sum := s.PanKg / s.RecoveredKg
		for i, row := range s.Rows {
			sum += row.Retained
			assert.InDelta(t, 1, row.Passing+row.CumulativeRetained, 1e-13)
			assert.True(t, 0 <= row.Passing && row.Passing <= 1)
			assert.True(t, 0 <= row.CumulativeRetained && row.CumulativeRetained <= 1)
			if i > 0 {
				assert.LessOrEqual(t, row.Passing, s.Rows[i-1].Passing)
				assert.GreaterOrEqual(t, row.CumulativeRetained, s.Rows[i-1].CumulativeRetained)
				assert.Less(t, row.OpeningM, s.Rows[i-1].OpeningM)
			}
		}
		assert.InDelta(t, 1, sum, 1e-13)
	}
}

// A little at either end keeps its digits beside much at the other.
func TestSmallSharesKeepTheirDigits(t *testing.T) {
	s := SieveTest{[]SieveMass{{250 * um, 1e-12}, {125 * um, 1}}, 3e-13, 0}.Analyse()
	assert.InEpsilon(t, 1e-12, s.Rows[0].CumulativeRetained, 1e-11)
	assert.InEpsilon(t, 3e-13, s.Rows[1].Passing, 1e-11)
}

func TestInputIsLeftAlone(t *testing.T) {
	test := stack()
	slices.Reverse(test.Sieves)
	before := slices.Clone(test.Sieves)
	test.Analyse()
	assert.Equal(t, before, test.Sieves)
}

func TestTenThousandRows(t *testing.T) {
	test := SieveTest{PanKg: 1}
	for i := range 10000 {
		test.Sieves = append(test.Sieves, SieveMass{float64(i+1) * um, 1})
	}
	s := test.Analyse()
	require.Len(t, s.Rows, 10000)
	printed.Same(t, 5001./10001, s.Rows[4999].Passing, "sieve of 5001 µm")
	d, ok := s.Percentile(0.5)
	require.True(t, ok)
	assert.True(t, 5000*um <= d.SizeM && d.SizeM <= 5001*um)
	for _, fit := range FitSizes(s) {
		assert.Equal(t, FitFound, fit.Problem)
	}
}
