package printed

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// passes reports whether an assertion lets a number pass.
func passes(assertion func(t testing.TB)) bool {
	probe := new(testing.T)
	done := make(chan struct{})
	go func() { // require leaves the goroutine that it fails on
		defer close(done)
		assertion(probe)
	}()
	<-done
	return !probe.Failed()
}

func TestEqualGoesByTheLastDigit(t *testing.T) {
	for _, c := range []struct {
		want string
		got  float64
		ok   bool
	}{
		{"1.25", 1.2549, true},
		{"1.25", 1.2451, true},
		{"1.25", 1.2551, false},
		{"1.25", 1.2449, false},
		{"1.250", 1.2506, false}, // a nought is a digit too
		{"-1.25", -1.2549, true},
		{"-1.25", 1.25, false},
		{"125", 125.4, true},
		{"125", 125.6, false},
		{"2.0e-4", 2.04e-4, true},
		{"2.0e-4", 2.06e-4, false},
		{"2e3", 2499, true},
		{"2e3", 2501, false},
		{"0.0", 0.04, true},
		{"1.25", math.NaN(), false},
		{"1.25", math.Inf(1), false},
		{"many", 1, false},
		{"", 0, false},
	} {
		ok := passes(func(t testing.TB) { Equal(t, c.want, c.got, "arithmetic") })
		assert.Equal(t, c.ok, ok, "%q and %g", c.want, c.got)
	}
}

func TestSameAllowsForRoundingOnly(t *testing.T) {
	for _, c := range []struct {
		want, got float64
		ok        bool
	}{
		{3, 3, true},
		{0.3, 0.1 + 0.2, true},
		{-3e9, -3e9 - 1e-4, true},
		{3, 3 + 1e-11, false},
		{3e-20, 3.1e-20, false},
		{0, 0, true},
		{0, 1e-300, false},
		{3, math.NaN(), false},
	} {
		ok := passes(func(t testing.TB) { Same(t, c.want, c.got) })
		assert.Equal(t, c.ok, ok, "%g and %g", c.want, c.got)
	}
}
