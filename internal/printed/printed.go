// Package printed holds computed numbers against numbers as they are printed,
// in a table or worked out by hand. It is for tests only.
package printed

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Equal asserts that got rounds to a figure as it is printed: it lies within
// half a unit of the last digit. source says where the figure comes from.
func Equal(t testing.TB, want string, got float64, source string) {
	t.Helper()
	value, err := strconv.ParseFloat(want, 64)
	require.NoError(t, err)
	half, err := halfOfLastDigit(want)
	require.NoError(t, err)
	assert.InDelta(t, value, got, half*(1+1e-9), "%s printed %s, got %.12g", source, want, got)
}

// halfOfLastDigit is half a unit of the last digit of a number as it stands.
func halfOfLastDigit(number string) (float64, error) {
	digits, exponent, scaled := strings.Cut(number, "e")
	power := 0
	if scaled {
		var err error
		if power, err = strconv.Atoi(exponent); err != nil {
			return 0, err
		}
	}
	if _, decimals, ok := strings.Cut(digits, "."); ok {
		power -= len(decimals)
	}
	return 0.5 * math.Pow(10, float64(power)), nil
}

// Same asserts equality to a relative 1e-12, what sums of a few terms can hold.
func Same(t testing.TB, want, got float64, what ...any) {
	t.Helper()
	assert.InDelta(t, want, got, 1e-12*math.Abs(want), what...)
}
