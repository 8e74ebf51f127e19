package pane

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/bench"
)

// Digits follow the interval: two where its half begins with 1 or 2, else one,
// as uncertainties are stated (GUM 7.2.6); the value keeps at most four.
func TestDecimalsFollowTheInterval(t *testing.T) {
	for _, c := range []struct {
		value, low, high float64
		want             int
	}{
		{8.2, 6.3, 10.1, 1},
		{1.09, 0.12, 2.06, 1},
		{31.486, 31.432, 31.540, 2},
		{0.125, 0.104, 0.146, 3},
		{1.6144, 1.6132, 1.6156, 3},
		{399.54, 399.36, 399.72, 1},
		{1774, 44, 23221, 0},
		{2.8, 1, 8, 1}, // by the nearer end
		{0, 0, 3, 0},   // one end is the value
		{0, 0, 0.02, 3},
		{-0.2, -0.3, -0.1, 2},
		{1e-12, 0, 2e-12, 9}, // as far as it goes
		{5, 5, 5, 3},
	} {
		assert.Equal(t, c.want, decimalsOf(bench.Result{Value: c.value, Low: c.low, High: c.high}), "%v", c)
	}
}

func TestNarrowColumnsDropDecimals(t *testing.T) {
	for _, c := range []struct {
		value            float64
		decimals, digits int
		want             int
	}{
		{31.49, 2, 4, 2},
		{99.94, 2, 4, 2},
		{99.999, 2, 4, 1},
		{120, 2, 4, 1},
		{1500, 2, 4, 0},
		{2e6, 2, 4, 0},
		{-0.02, 2, 3, 2},
		{-21.44, 2, 3, 1},
		{116.1, 2, 3, 0},
		{583.2, 1, 4, 1},
		{1083.2, 1, 4, 0},
		{0, 1, 4, 1},
	} {
		assert.Equal(t, c.want, narrow(c.value, c.decimals, c.digits), "%v", c)
	}
}
