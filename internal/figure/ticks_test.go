package figure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot"
)

func labels(ticks []plot.Tick) []string {
	var out []string
	for _, t := range ticks {
		out = append(out, t.Label)
	}
	return out
}

func TestTicksAreNiceNumbers(t *testing.T) {
	for _, c := range []struct {
		name      string
		axis      Axis
		low, high float64
		most      int
		comma     bool
		want      []string
	}{
		{"whole", Axis{}, 0, 20, 5, false, []string{"0", "5", "10", "15", "20"}},
		{"hundredths keep their zeros", Axis{}, 1.22, 1.30, 4, false, []string{"1.22", "1.24", "1.26", "1.28", "1.30"}},
		{"comma", Axis{}, 0, 1, 2, true, []string{"0,0", "0,5", "1,0"}},
		{"below zero", Axis{}, -10, 10, 4, false, []string{"−10", "−5", "0", "5", "10"}},
		{"suffix", Axis{Suffix: " %"}, 0, 100, 2, false, []string{"0 %", "50 %", "100 %"}},
		{"groups", Axis{}, 0, 20000, 2, false, []string{"0", "10\u202f000", "20\u202f000"}},
		{"huge", Axis{}, 0, 3e9, 3, false, []string{"0", "1e9", "2e9", "3e9"}},
		{"tiny", Axis{}, 0, 2e-7, 2, false, []string{"0", "1e-7", "2e-7"}},
		{"tiny, with a comma", Axis{}, 1e-7, 2e-7, 2, true, []string{"1,0e-7", "1,5e-7", "2,0e-7"}},
		{"logarithmic", Axis{Log: true, Prefix: "×"}, 0.5, 10, 6, false, []string{"×0.5", "×1", "×2", "×5", "×10"}},
		{"logarithmic, comma", Axis{Log: true}, 0.2, 2, 6, true, []string{"0,2", "0,5", "1", "2"}},
		{"logarithmic, little room", Axis{Log: true}, 0.1, 1000, 5, false, []string{"0.1", "1", "10", "100", "1000"}},
		{"logarithmic, many powers", Axis{Log: true}, 1e-6, 1e6, 4, false, []string{"1e-6", "0.001", "1", "1000", "1\u202f000\u202f000"}},
		{"logarithmic, short span", Axis{Log: true}, 0.9, 1.1, 2, false, []string{"0.9", "1.0", "1.1"}},
		{"named", Axis{Ticks: []Tick{{0, "no"}, {1, "yes"}, {7, "off the axis"}}}, 0, 2, 5, false, []string{"no", "yes"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, minus(c.want), labels(c.axis.ticks(c.low, c.high, c.most, c.comma)))
		})
	}
}

// minus writes the exponents of the table with the sign that the ticks have.
func minus(in []string) []string {
	out := make([]string, len(in))
	for i, s := range in {
		for _, r := range s {
			if r == '-' {
				r = '−'
			}
			out[i] += string(r)
		}
	}
	return out
}

func TestStepsAreOneTwoOrFive(t *testing.T) {
	for i := range 2000 {
		span := math.Pow(10, float64(i%200)/10-10)
		low := (float64(i) - 1000) * span / 77
		most := 1 + i%9
		step := niceStep(low, low+span, most)
		mantissa := step / math.Pow(10, math.Floor(math.Log10(step)+1e-9))
		require.InDelta(t, 0, math.Min(math.Abs(mantissa-1), math.Min(math.Abs(mantissa-2), math.Abs(mantissa-5))), 1e-6)
		require.LessOrEqual(t, span/step, float64(most)*(1+1e-6), "more parts than wanted")
	}
}

func TestAxisSpan(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name      string
		axis      Axis
		data      []float64
		margin    float64
		low, high float64
		fixed     bool
	}{
		{"given ends stay", Axis{Min: 1, Max: 2}, []float64{0, 9}, 0.1, 1, 2, true},
		{"data with a margin", Axis{}, []float64{10, 20}, 0.1, 9, 21, false},
		{"zero is a floor", Axis{}, []float64{0, 10}, 0.1, 0, 11, false},
		{"lines touch the ends", Axis{}, []float64{3, 7}, 0, 3, 7, true},
		{"one value", Axis{}, []float64{200}, 0.1, 190, 210, false},
		{"zero alone", Axis{}, []float64{0}, 0.1, -1, 1, false},
		{"nothing", Axis{}, nil, 0.1, 0, 1, false},
		{"only what is not a number", Axis{}, []float64{nan, math.Inf(1)}, 0.1, 0, 1, false},
		{"ends that are not numbers are not given", Axis{Min: nan, Max: 2}, []float64{10, 20}, 0.1, 9, 21, false},
		{"ends in the wrong order are not given", Axis{Min: 2, Max: 1}, []float64{10, 20}, 0.1, 9, 21, false},
		{"logarithm drops what is not above zero", Axis{Log: true}, []float64{-1, 0, 1, 100}, 0.5, 0.1, 1000, false},
		{"logarithm with an end at zero is not given", Axis{Log: true, Min: 0, Max: 5}, []float64{1, 100}, 0.5, 0.1, 1000, false},
		{"logarithm of one value", Axis{Log: true}, []float64{1}, 0.1, 0.5, 2, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := extent{log: c.axis.Log}
			e.add(c.data...)
			low, high, fixed := c.axis.span(e, c.margin)
			assert.InDelta(t, c.low, low, 1e-9*math.Abs(c.low))
			assert.InDelta(t, c.high, high, 1e-9*math.Abs(c.high))
			assert.Equal(t, c.fixed, fixed)
		})
	}
}

func TestRoundedAxisHoldsTheDataWithoutMuchWaste(t *testing.T) {
	for i := range 500 {
		low := math.Pow(10, float64(i%40)/7-3)
		high := low * (1.01 + float64(i%23)/3)
		for _, axis := range []Axis{{}, {Log: true}} {
			down, up := axis.rounded(low, high, 1+i%7)
			require.LessOrEqual(t, down, low*(1+1e-6))
			require.GreaterOrEqual(t, up, high*(1-1e-6))
			if axis.Log {
				require.LessOrEqual(t, math.Log(up/down), mostWaste*math.Log(high/low)*(1+1e-9))
			} else {
				require.LessOrEqual(t, up-down, mostWaste*(high-low)*(1+1e-9))
			}
		}
	}
}
