package uncertain

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/printed"
)

// JCGM 100:2008 H.3: calibration of a thermometer, t_k and the corrections b_k.
var (
	thermometer = [11]float64{21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511}
	corrections = [11]float64{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160}
)

// regression writes intercept and slope of the corrections over t − 20, and the
// correction at 30.
func regression(b, y []float64) {
	var mean, meanB, sxx, sxb float64
	for k, t := range thermometer {
		mean += (t - 20) / float64(len(b))
		meanB += b[k] / float64(len(b))
	}
	for k, t := range thermometer {
		sxx += (t - 20 - mean) * (t - 20 - mean)
		sxb += (t - 20 - mean) * (b[k] - meanB)
	}
	y[1] = sxb / sxx
	y[0] = meanB - y[1]*mean
	y[2] = y[0] + y[1]*10
}

// regressionInputs are the corrections, each with the standard deviation of the rest.
func regressionInputs(t *testing.T) []Input {
	y := make([]float64, 3)
	regression(corrections[:], y)
	var squares float64
	for k, x := range thermometer {
		squares += math.Pow(corrections[k]-y[0]-y[1]*(x-20), 2)
	}
	s := math.Sqrt(squares / 9)
	printed.Equal(t, "0.0035", s, "GUM H.3")
	in := make([]Input, len(corrections))
	for k, b := range corrections {
		in[k] = even(b, s)
	}
	return in
}

func TestCorrelatedResultsOfARegression(t *testing.T) {
	in := regressionInputs(t)
	s := NewScratch(11, 3)
	y, down, up := FirstOrder(regression, in, nil, s)
	for j, want := range [3][2]string{{"-0.1712", "0.0029"}, {"0.00218", "0.00067"}, {"-0.1494", "0.0041"}} {
		printed.Equal(t, want[0], y[j], "GUM H.3")
		printed.Equal(t, want[1], up[j], "GUM H.3")
		assert.InDelta(t, down[j]*up[j], s.Covariance(j, j), 1e-12)
	}
	printed.Equal(t, "-0.930", s.Correlation(0, 1), "GUM H.3")
	assert.InDelta(t, 1, s.Correlation(0, 0), 1e-12)
	propagated := s.Covariance(0, 0) + 100*s.Covariance(1, 1) + 2*10*s.Covariance(0, 1)
	printed.Equal(t, "0.0041", math.Sqrt(propagated), "GUM H.3.4, from the covariance")
	assert.InDelta(t, up[2], math.Sqrt(propagated), 1e-9)
}

func TestCovarianceOfUnevenInputs(t *testing.T) {
	s := NewScratchKeeping(3, 3, []int{0, 1})
	in := []Input{{1, 0.1, 0.2}, {1, 0.3, 0.5}, even(3, 0.1)}
	_, down, up := FirstOrder(func(x, y []float64) { y[0], y[1], y[2] = 2*x[0]-3*x[1], x[0]+x[2], x[0] }, in, nil, s)
	assert.InDelta(t, 2*(0.01+0.04)/2, s.Covariance(0, 1), 1e-9)
	assert.InDelta(t, (down[0]*down[0]+up[0]*up[0])/2, s.Covariance(0, 0), 1e-9)
	assert.InDelta(t, s.Covariance(0, 1)/math.Sqrt(s.Covariance(0, 0)*s.Covariance(1, 1)), s.Correlation(1, 0), 1e-12)
	assert.True(t, math.IsNaN(s.Covariance(0, 2)) && math.IsNaN(s.Correlation(2, 2)), "not kept")

	FirstOrder(func(x, y []float64) { y[0], y[1], y[2] = x[0], x[2], x[1] }, in, []int{0}, s)
	assert.Zero(t, s.Covariance(0, 1), "only x0 was varied")
	assert.Zero(t, s.Correlation(0, 1), "nothing is uncertain of the other")
}

// What one call could not tell does not stay for the next.
func TestCovarianceForgetsTheCallBefore(t *testing.T) {
	s := NewScratch(1, 1)
	f := func(x, y []float64) { y[0] = x[0] }
	FirstOrder(f, []Input{even(1, math.Inf(1))}, nil, s)
	assert.True(t, math.IsNaN(s.Covariance(0, 0)))
	FirstOrder(f, []Input{even(1, math.Inf(1))}, []int{}, s)
	assert.Zero(t, s.Covariance(0, 0))
	assert.Zero(t, s.Contribution(0, 0))
}
