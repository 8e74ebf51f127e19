package blend

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Densities in kg/m³ of the check values: inputs, not claims about materials.
const (
	pla    = 1240.0
	wood   = 1450.0
	chalk  = 2710.0
	arith  = "arithmetic from the stated inputs"
	number = 1e-9
)

func polymer(basis Basis, value, density float64) Amount { return Amount{basis, value, density, true} }

func part(basis Basis, value, density float64) Amount { return Amount{basis, value, density, false} }

// fractions wants a recipe to be fine.
func fractions(t *testing.T, parts ...Amount) []float64 {
	t.Helper()
	w := make([]float64, len(parts))
	_, p := MassFractions(w, parts)
	require.Equal(t, OK, p)
	return w
}

// The same 20 wt% of wood in PLA, said in every way.
func TestOneRecipeSaidInEveryWay(t *testing.T) {
	density := 1 / (0.8/pla + 0.2/wood)
	phi := 0.2 / wood * density
	recipes := map[string][]Amount{
		"wt%":                  {polymer(OfWhole, 0.8, 0), part(OfWhole, 0.2, 0)},
		"wt% and balance":      {polymer(Balance, 0, 0), part(OfWhole, 0.2, 0)},
		"powder is balance":    {polymer(OfWhole, 0.8, 0), part(Balance, 0, 0)},
		"phr":                  {polymer(OfPolymer, 1, 0), part(OfPolymer, 0.25, 0)},
		"phr and balance":      {polymer(Balance, 0, 0), part(OfPolymer, 0.25, 0)},
		"vol%":                 {polymer(ByVolume, 1-phi, pla), part(ByVolume, phi, wood)},
		"vol% and balance":     {polymer(Balance, 0, pla), part(ByVolume, phi, wood)},
		"vol%, powder balance": {polymer(ByVolume, 1-phi, pla), part(Balance, 0, wood)},
	}
	for name, parts := range recipes {
		t.Run(name, func(t *testing.T) {
			w := fractions(t, parts...)
			assert.InDelta(t, 0.8, w[0], 1e-14)
			assert.InDelta(t, 0.2, w[1], 1e-14)
		})
	}
}

func TestMassFractionsProblems(t *testing.T) {
	tests := map[string]struct {
		parts []Amount
		want  Problem
		total float64
	}{
		"nothing":                      {nil, NoParts, 0},
		"two balances":                 {[]Amount{polymer(Balance, 0, 0), part(Balance, 0, 0)}, TwoBalances, 0},
		"thirds typed short":           {[]Amount{polymer(OfWhole, 0.333, 0), part(OfWhole, 0.333, 0), part(OfWhole, 0.333, 0)}, SumNotWhole, 0.999},
		"volumes short":                {[]Amount{polymer(ByVolume, 0.5, pla), part(ByVolume, 0.4, wood)}, SumNotWhole, 0.9},
		"phr polymers short":           {[]Amount{polymer(OfPolymer, 0.9, 0), part(OfPolymer, 0.25, 0)}, SumNotWhole, 0.9},
		"all zero":                     {[]Amount{polymer(OfWhole, 0, 0), part(OfWhole, 0, 0)}, SumNotWhole, 0},
		"too much wt%":                 {[]Amount{polymer(Balance, 0, 0), part(OfWhole, 0.7, 0), part(OfWhole, 0.4, 0)}, OverFull, 1.1},
		"too much vol%":                {[]Amount{polymer(Balance, 0, pla), part(ByVolume, 1.2, wood)}, OverFull, 1.2},
		"phr of polymers over 100":     {[]Amount{polymer(Balance, 0, 0), polymer(OfPolymer, 1.2, 0)}, OverFull, 1.2},
		"too much together":            {[]Amount{polymer(OfWhole, 0.6, 0), part(OfPolymer, 1, 0), part(Balance, 0, 0)}, OverFull, 1.2},
		"mixed":                        {[]Amount{polymer(OfPolymer, 1, 0), part(OfWhole, 0.2, 0)}, MixedWithoutBalance, 0},
		"phr without polymer":          {[]Amount{part(OfPolymer, 1, 0), part(Balance, 0, 0)}, NoPolymer, 0},
		"vol% without density":         {[]Amount{polymer(Balance, 0, pla), part(ByVolume, 0.2, 0)}, NeedsDensity, 0},
		"vol%, balance lacks density":  {[]Amount{polymer(Balance, 0, math.NaN()), part(ByVolume, 0.2, wood)}, NeedsDensity, 0},
		"vol%, bystander has none":     {[]Amount{polymer(Balance, 0, pla), part(ByVolume, 0.2, wood), part(OfWhole, 0.01, 0)}, NeedsDensity, 0},
		"polymer left open":            {[]Amount{polymer(OfPolymer, 1, 0), part(OfPolymer, 0.02, 0), part(Balance, 0, 0)}, Undetermined, 0},
		"phr polymers do not reach":    {[]Amount{polymer(OfPolymer, 0.9, 0), part(Balance, 0, 0)}, Undetermined, 0},
		"oil on polymer, but none":     {[]Amount{polymer(Balance, 0, 0), part(OfWhole, 1, 0), part(OfPolymer, 0.02, 0)}, Undetermined, 0},
		"phr polymers full, one more":  {[]Amount{polymer(OfPolymer, 1, 0), polymer(OfWhole, 0.1, 0), part(Balance, 0, 0)}, Undetermined, 0},
		"not a number":                 {[]Amount{polymer(Balance, 0, 0), part(OfWhole, math.NaN(), 0)}, Undetermined, 0},
		"not a number, no balance":     {[]Amount{polymer(OfWhole, math.NaN(), 0), part(OfWhole, 0.2, 0)}, Undetermined, 0},
		"infinite":                     {[]Amount{polymer(Balance, 0, pla), part(ByVolume, math.Inf(1), wood)}, Undetermined, 0},
		"infinite, no balance":         {[]Amount{polymer(OfPolymer, 1, 0), part(OfPolymer, math.Inf(1), 0)}, Undetermined, 0},
		"full to the last, one at 0":   {[]Amount{polymer(Balance, 0, 0), part(OfWhole, 1, 0)}, OK, 1},
		"rounded thirds with balance":  {[]Amount{polymer(Balance, 0, 0), part(OfWhole, 0.333, 0), part(OfWhole, 0.333, 0)}, OK, 1},
		"no polymer, no phr":           {[]Amount{part(OfWhole, 0.4, 0), part(OfWhole, 0.6, 0)}, OK, 1},
		"balance alone":                {[]Amount{polymer(Balance, 0, 0)}, OK, 1},
		"within tolerance":             {[]Amount{polymer(OfWhole, 0.8, 0), part(OfWhole, 0.2+5e-10, 0)}, OK, 1 + 5e-10},
		"zero vol% asks for densities": {[]Amount{polymer(Balance, 0, 0), part(ByVolume, 0, 0)}, NeedsDensity, 0},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			w := make([]float64, len(tt.parts))
			total, p := MassFractions(w, tt.parts)
			assert.Equal(t, tt.want, p)
			assert.InDelta(t, tt.total, total, 1e-12)
			var sum float64
			for _, w := range w {
				sum += w
			}
			switch {
			case p == OK, p == OverFull, p == SumNotWhole && total > 0:
				assert.InDelta(t, 1, sum, 1e-9, "%v", w)
			case len(w) > 0:
				assert.True(t, math.IsNaN(sum), "%v", w)
			}
		})
	}
}

func TestOverFullLeavesANegativeBalance(t *testing.T) {
	w := make([]float64, 2)
	_, p := MassFractions(w, []Amount{polymer(Balance, 0, 0), part(OfWhole, 1.001, 0)})
	assert.Equal(t, OverFull, p)
	assert.InDelta(t, -0.001, w[0], 1e-12)
}

func TestRoundingLeavesNoBalance(t *testing.T) {
	w := fractions(t, polymer(Balance, 0, 0), part(OfWhole, 1+5e-10, 0))
	assert.Equal(t, 0.0, w[0], "not a negative one")
}

// say returns a recipe that says the composition w on randomly chosen bases,
// the part at balance taking the rest.
func say(random *rand.Rand, w []float64, parts []Amount, balance int) {
	var polymers, volume float64
	for i, p := range parts {
		volume += w[i] / p.DensityKgM3
		if p.Polymer {
			polymers += w[i]
		}
	}
	for i := range parts {
		p := &parts[i]
		p.Basis = Basis(random.IntN(3))
		switch p.Basis {
		case OfWhole:
			p.Value = w[i]
		case OfPolymer:
			p.Value = w[i] / polymers
		case ByVolume:
			p.Value = w[i] / p.DensityKgM3 / volume
		}
	}
	parts[balance].Basis = Balance
	parts[balance].Value = 0
}

func randomComposition(random *rand.Rand) (w []float64, parts []Amount) {
	n := 2 + random.IntN(5)
	w = make([]float64, n)
	parts = make([]Amount, n)
	var sum float64
	for i := range w {
		w[i] = 0.02 + random.ExpFloat64()
		sum += w[i]
		parts[i].DensityKgM3 = 100 * math.Pow(10, 2*random.Float64())
		parts[i].Polymer = i == 0 || random.IntN(3) == 0
	}
	for i := range w {
		w[i] /= sum
	}
	random.Shuffle(n, func(i, j int) {
		w[i], w[j] = w[j], w[i]
		parts[i], parts[j] = parts[j], parts[i]
	})
	return w, parts
}

// open reports whether a recipe says nothing about how much polymer there is.
func open(parts []Amount) bool {
	phr := false
	for _, p := range parts {
		if p.Polymer && p.Basis != OfPolymer {
			return false
		}
		phr = phr || p.Basis == OfPolymer
	}
	return phr
}

// Every mix of bases leads back to the composition that it was made from.
func TestMassFractionsOfEveryMix(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	seen := map[string]int{}
	for range 20000 {
		w, parts := randomComposition(random)
		say(random, w, parts, random.IntN(len(w)))
		got := make([]float64, len(w))
		_, p := MassFractions(got, parts)
		if open(parts) {
			require.Equal(t, Undetermined, p, "%+v", parts)
			seen["open"]++
			continue
		}
		require.Equal(t, OK, p, "%+v", parts)
		var bases [Balance + 1]bool
		for i := range w {
			bases[parts[i].Basis] = true
			require.InDelta(t, w[i], got[i], number, "part %d of %+v", i, parts)
		}
		seen[fmt.Sprint(bases[:Balance])]++
	}
	assert.Len(t, seen, 8, "seven sets of bases beside the balance, and the open case: %v", seen)
}

func TestMassFractionsOfOneBasis(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 2))
	for range 3000 {
		w, parts := randomComposition(random)
		basis := Basis(random.IntN(3))
		var polymers, volume float64
		for i, p := range parts {
			volume += w[i] / p.DensityKgM3
			if p.Polymer {
				polymers += w[i]
			}
		}
		for i := range parts {
			parts[i].Basis = basis
			parts[i].Value = w[i] / [...]float64{1, polymers, volume * parts[i].DensityKgM3}[basis]
		}
		got := fractions(t, parts...)
		for i := range w {
			require.InDelta(t, w[i], got[i], 1e-12)
		}
	}
}

// Neither the order of the parts nor cutting one in two changes a blend.
func TestMassFractionsInvariances(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 3))
	for range 3000 {
		w, parts := randomComposition(random)
		balance := random.IntN(len(w))
		say(random, w, parts, balance)
		if open(parts) {
			continue
		}
		got := fractions(t, parts...)

		back := make([]Amount, len(parts))
		for i := range parts {
			back[len(parts)-1-i] = parts[i]
		}
		for i, v := range fractions(t, back...) {
			require.InDelta(t, got[len(parts)-1-i], v, number)
		}

		cut := (balance + 1) % len(parts)
		halves := append([]Amount{}, parts...)
		halves[cut].Value *= 0.3
		rest := parts[cut]
		rest.Value *= 0.7
		halves = append(halves, rest)
		v := fractions(t, halves...)
		for i := range parts {
			if i != cut {
				require.InDelta(t, got[i], v[i], number)
			}
		}
		require.InDelta(t, got[cut], v[cut]+v[len(parts)], number)
		require.InDelta(t, density(got, parts), density(v, halves), 1e-6)
	}
}

func density(w []float64, parts []Amount) float64 {
	rho := make([]float64, len(parts))
	for i, p := range parts {
		rho[i] = p.DensityKgM3
	}
	return Density(w, rho)
}

// More powder on any basis is more powder in the blend.
func TestMassFractionsRise(t *testing.T) {
	for basis := OfWhole; basis <= ByVolume; basis++ {
		last := -1.0
		for x := 0.0; x < 0.95; x += 0.01 {
			w := fractions(t, polymer(Balance, 0, pla), part(basis, x, wood), part(OfPolymer, 0.02, 920))
			assert.Greater(t, w[1], last)
			last = w[1]
		}
		w := fractions(t, polymer(Balance, 0, pla), part(basis, 0, wood))
		assert.Equal(t, []float64{1, 0}, w, "no powder, plain polymer")
	}
}

func TestMassFractionsWrongLengthPanics(t *testing.T) {
	assert.PanicsWithValue(t, badLength, func() { MassFractions(nil, []Amount{polymer(Balance, 0, 0)}) })
}

func mixedParts() []Amount {
	return []Amount{
		polymer(Balance, 0, pla), polymer(OfPolymer, 0.1, 1260), part(ByVolume, 0.12, wood), part(OfPolymer, 0.003, 870), part(OfWhole, 0.01, 4000),
	}
}

func TestHotFunctionsDoNotAllocate(t *testing.T) {
	parts := mixedParts()
	w, v := make([]float64, len(parts)), make([]float64, len(parts))
	rho, is := make([]float64, len(parts)), make([]bool, len(parts))
	for i := range rho {
		rho[i], is[i] = parts[i].DensityKgM3, parts[i].Polymer
	}
	assert.Zero(t, testing.AllocsPerRun(10, func() {
		MassFractions(w, parts)
		VolumeFractions(v, w, rho)
		PHR(v, w, is)
		SetFillerContent(v, w, is, 0.3)
		CostPerKg(rho, w)
	}))
}

func BenchmarkMassFractions(b *testing.B) {
	parts := mixedParts()
	w := make([]float64, len(parts))
	b.ReportAllocs()
	for b.Loop() {
		MassFractions(w, parts)
	}
}

func BenchmarkMassFractionsOfWhole(b *testing.B) {
	parts := []Amount{polymer(Balance, 0, pla), part(OfWhole, 0.2, wood), part(OfWhole, 0.003, 870)}
	w := make([]float64, len(parts))
	b.ReportAllocs()
	for b.Loop() {
		MassFractions(w, parts)
	}
}
