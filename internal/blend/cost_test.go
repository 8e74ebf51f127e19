package blend

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

// strand area of 1.75 mm in m².
var area = math.Pi / 4 * 1.75e-3 * 1.75e-3

// Polymer at 20 per kg, 20 wt% powder: wood flour at 3, then chalk at 1.
// Arithmetic from these inputs.
func TestCostAgainstPlainPolymer(t *testing.T) {
	for _, tt := range []struct {
		name                          string
		density, price                float64
		perKg, perKgChange, perMetre  string // cost per kg, changes in %
		breakEven, breakEvenWithDelta string
	}{
		{"wood flour", wood, 3, "16.600", "-17.0", "-14.52", "17.10345", "7.10345"},
		{"chalk", chalk, 1, "16.2", "-19.0", "-9.14", "9.15129", "-0.84871"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			w := []float64{0.8, 0.2}
			rho := Density(w, []float64{pla, tt.density})
			c := CostPerKg([]float64{20, tt.price}, w)
			printed.Equal(t, tt.perKg, c, arith)
			printed.Equal(t, tt.perKgChange, 100*(c/20-1), arith)
			plain := CostPerMetre(20, pla, area)
			printed.Equal(t, tt.perMetre, 100*(CostPerMetre(c, rho, area)/plain-1), arith)
			printed.Equal(t, tt.breakEven, BreakEvenPriceSimple(20, pla, tt.density, 0.2, 0), arith)
			printed.Equal(t, tt.breakEvenWithDelta, BreakEvenPriceSimple(20, pla, tt.density, 0.2, 2), arith)
			printed.Equal(t, tt.breakEven, BreakEvenPrice(20, pla, rho, 0.2, 0.8*20, 0, 1), arith)
			printed.Equal(t, tt.breakEvenWithDelta, BreakEvenPrice(20, pla, rho, 0.2, 0.8*20, 2, 1), arith)
		})
	}
	printed.Same(t, 10, BreakEvenPriceByMass(20, 0.2, 2))
	printed.Same(t, 20, BreakEvenPriceByMass(20, 0.2, 0))
}

// At the break-even price the filled strand costs per metre what the reference
// costs.
func TestBreakEvenBreaksEven(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	for range 1000 {
		u := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
		reference, density := u(1, 40), u(900, 1300)
		w, powder := u(0.01, 0.6), u(200, 4000)
		rest, delta, loss := u(0, 40), u(0, 5), u(1, 1.5)
		rho := Density([]float64{1 - w, w}, []float64{density, powder})
		price := BreakEvenPrice(reference, density, rho, w, rest, delta, loss)
		cost := loss*CostPerKg([]float64{0, price}, []float64{1 - w, w}) + rest + delta
		assert.InDelta(t, CostPerMetre(reference, density, area), CostPerMetre(cost, rho, area), 1e-12)

		simple := BreakEvenPriceSimple(reference, density, powder, w, delta)
		assert.InDelta(t, BreakEvenPrice(reference, density, rho, w, (1-w)*reference, delta, 1), simple, 1e-9,
			"the identity behind the simple form")
	}
}

func TestBreakEvenEdges(t *testing.T) {
	printed.Same(t, 20*pla/wood, BreakEvenPriceSimple(20, pla, wood, 0, 0), "without extra cost the content does not matter")
	assert.True(t, math.IsNaN(BreakEvenPriceSimple(20, pla, wood, 0, 1)))
	assert.True(t, math.IsNaN(BreakEvenPriceByMass(20, 0, 1)))
	assert.True(t, math.IsNaN(BreakEvenPrice(20, pla, pla, 0, 10, 0, 1)))
	assert.True(t, math.IsNaN(BreakEvenPrice(20, pla, pla, 0.1, 10, 0, 0)))
	assert.True(t, math.IsNaN(BreakEvenPrice(20, pla, pla, math.NaN(), 20, 0, 1)))
}

func TestCostOfAnUnusedPart(t *testing.T) {
	printed.Same(t, 20, CostPerKg([]float64{20, math.NaN()}, []float64{1, 0}), "needs no price")
	assert.True(t, math.IsNaN(CostPerKg([]float64{20, math.NaN()}, []float64{0.9, 0.1})))
}

func TestSpoolsToPay(t *testing.T) {
	third := 0.1 // three times it is not 0.3 in float64
	for _, tt := range []struct {
		name         string
		saving, cost float64
		spools       int
		ok           bool
	}{
		{"two spools", 1.68, 2.07, 2, true},
		{"one is enough", 2.08, 2.07, 1, true},
		{"equal is not yet paid", 2.07, 2.07, 2, true},
		{"three tenths", 0.1, 0.3, 4, true},
		{"equal up to rounding", 0.3, third * 3, 2, true},
		{"equal up to rounding, the other way", third * 3, 0.3, 2, true},
		{"nothing to pay", 1, 0, 1, true},
		{"less than nothing", 1, -5, 1, true},
		{"saves nothing", 0, 1, 0, false},
		{"costs more", -1, 1, 0, false},
		{"unknown saving", math.NaN(), 1, 0, false},
		{"unknown cost", 1, math.NaN(), 0, false},
		{"at the cap", 1, MaxSpools - 1, MaxSpools, true},
		{"beyond the cap", 1, MaxSpools, 0, false},
		{"beyond all", 1e-300, 1e300, 0, false},
		{"gains without end", 1e-300, -1e300, 1, true},
	} {
		n, ok := SpoolsToPay(tt.saving, tt.cost)
		assert.Equal(t, tt.ok, ok, tt.name)
		assert.Equal(t, tt.spools, n, tt.name)
	}
}

func TestSpoolsToPayIsTheSmallest(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 6))
	for range 1000 {
		saving, cost := random.Float64()+0.001, 50*random.Float64()
		n, ok := SpoolsToPay(saving, cost)
		assert.True(t, ok)
		assert.Greater(t, float64(n)*saving, cost)
		assert.LessOrEqual(t, float64(n-1)*saving, cost)
	}
}
