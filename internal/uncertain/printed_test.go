package uncertain

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// printed asserts that got rounds to a figure as it is printed: it lies within
// half a unit of the last digit. source says where the figure comes from.
func printed(t *testing.T, want string, got float64, source string) {
	t.Helper()
	value, err := strconv.ParseFloat(want, 64)
	require.NoError(t, err)
	digits, exponent, _ := strings.Cut(want, "e")
	power := 0
	if exponent != "" {
		power, err = strconv.Atoi(exponent)
		require.NoError(t, err)
	}
	if _, decimals, ok := strings.Cut(digits, "."); ok {
		power -= len(decimals)
	}
	half := 0.5 * math.Pow(10, float64(power))
	assert.InDelta(t, value, got, half*(1+1e-9), "%s printed %s, got %.12g", source, want, got)
}

// same asserts equality to a relative 1e-12, what sums of a few terms can hold.
func same(t *testing.T, want, got float64, what ...any) {
	t.Helper()
	assert.InDelta(t, want, got, 1e-12*math.Abs(want), what...)
}
