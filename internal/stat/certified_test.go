package stat

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// curve is a model of one point at x.
type curve func(p []float64, x float64) float64

// over is the model of points at all x.
func (c curve) over(x []float64) func(params, y []float64) {
	return func(params, y []float64) {
		for i, v := range x {
			y[i] = c(params, v)
		}
	}
}

// certified is a data set with the results that NIST certifies for it.
type certified struct {
	curve      curve
	slopes     func(p []float64, x float64, slopes []float64) // derivatives of curve by p
	x, y       []float64
	starts     [2][]float64
	params, sd []float64
	rss, rsd   float64
	df         int
}

// slopesOver is the slopes of points at all x.
func (c certified) slopesOver() func(params []float64, slopes [][]float64) {
	one := make([]float64, len(c.params))
	return func(params []float64, slopes [][]float64) {
		for i, x := range c.x {
			c.slopes(params, x, one)
			for j := range one {
				slopes[j][i] = one[j]
			}
		}
	}
}

func saturation(p []float64, x float64) float64 { return p[0] * (1 - math.Exp(-p[1]*x)) }

func saturationSlopes(p []float64, x float64, slopes []float64) {
	left := math.Exp(-p[1] * x)
	slopes[0], slopes[1] = 1-left, p[0]*x*left
}

// certifiedSets are from NIST StRD, nonlinear regression: the files Misra1a.dat,
// BoxBOD.dat, DanWood.dat, Rat42.dat and Chwirut2.dat.
var certifiedSets = map[string]certified{
	"Misra1a": {
		curve: saturation, slopes: saturationSlopes,
		x: []float64{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0},
		y: []float64{
			10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78,
		},
		starts: [2][]float64{{500, 0.0001}, {250, 0.0005}},
		params: []float64{2.3894212918e+02, 5.5015643181e-04},
		sd:     []float64{2.7070075241e+00, 7.2668688436e-06},
		rss:    1.2455138894e-01, rsd: 1.0187876330e-01, df: 12,
	},
	"BoxBOD": { // graded hard: the first start is far off
		curve: saturation, slopes: saturationSlopes,
		x:      []float64{1, 2, 3, 5, 7, 10},
		y:      []float64{109, 149, 149, 191, 213, 224},
		starts: [2][]float64{{1, 1}, {100, 0.75}},
		params: []float64{2.1380940889e+02, 5.4723748542e-01},
		sd:     []float64{1.2354515176e+01, 1.0455993237e-01},
		rss:    1.1680088766e+03, rsd: 1.7088072423e+01, df: 4,
	},
	"DanWood": {
		curve: func(p []float64, x float64) float64 { return p[0] * math.Pow(x, p[1]) },
		slopes: func(p []float64, x float64, slopes []float64) {
			power := math.Pow(x, p[1])
			slopes[0], slopes[1] = power, p[0]*power*math.Log(x)
		},
		x:      []float64{1.309, 1.471, 1.490, 1.565, 1.611, 1.680},
		y:      []float64{2.138, 3.421, 3.597, 4.340, 4.882, 5.660},
		starts: [2][]float64{{1, 5}, {0.7, 4}},
		params: []float64{7.6886226176e-01, 3.8604055871e+00},
		sd:     []float64{1.8281973860e-02, 5.1726610913e-02},
		rss:    4.3173084083e-03, rsd: 3.2853114039e-02, df: 4,
	},
	"Rat42": { // graded hard
		curve: func(p []float64, x float64) float64 { return p[0] / (1 + math.Exp(p[1]-p[2]*x)) },
		slopes: func(p []float64, x float64, slopes []float64) {
			e := math.Exp(p[1] - p[2]*x)
			slopes[0] = 1 / (1 + e)
			slopes[1] = -p[0] * e / ((1 + e) * (1 + e))
			slopes[2] = -x * slopes[1]
		},
		x:      []float64{9, 14, 21, 28, 42, 57, 63, 70, 79},
		y:      []float64{8.930, 10.800, 18.590, 22.330, 39.350, 56.110, 61.730, 64.620, 67.080},
		starts: [2][]float64{{100, 1, 0.1}, {75, 2.5, 0.07}},
		params: []float64{7.2462237576e+01, 2.6180768402e+00, 6.7359200066e-02},
		sd:     []float64{1.7340283401e+00, 8.8295217536e-02, 3.4465663377e-03},
		rss:    8.0565229338e+00, rsd: 1.1587725499e+00, df: 6,
	},
	"Chwirut2": {
		curve: func(p []float64, x float64) float64 { return math.Exp(-p[0]*x) / (p[1] + p[2]*x) },
		slopes: func(p []float64, x float64, slopes []float64) {
			below := p[1] + p[2]*x
			y := math.Exp(-p[0]*x) / below
			slopes[0], slopes[1], slopes[2] = -x*y, -y/below, -x*y/below
		},
		x: []float64{
			0.5, 1, 1.75, 3.75, 5.75, 0.875, 2.25, 3.25, 5.25, 0.75, 1.75,
			2.75, 4.75, 0.625, 1.25, 2.25, 4.25, 0.5, 3, 0.75, 3, 1.5,
			6, 3, 6, 1.5, 3, 0.5, 2, 4, 0.75, 2, 5,
			0.75, 2.25, 3.75, 5.75, 3, 0.75, 2.5, 4, 0.75, 2.5, 4,
			0.75, 2.5, 4, 0.5, 6, 3, 0.5, 2.75, 0.5, 1.75,
		},
		y: []float64{
			92.9, 57.1, 31.05, 11.5875, 8.025, 63.6, 21.4, 14.25, 8.475, 63.8, 26.8,
			16.4625, 7.125, 67.3, 41, 21.15, 8.175, 81.5, 13.12, 59.9, 14.62, 32.9,
			5.44, 12.56, 5.44, 32, 13.95, 75.8, 20, 10.42, 59.5, 21.67, 8.55,
			62, 20.2, 7.76, 3.75, 11.81, 54.7, 23.7, 11.55, 61.3, 17.7, 8.74,
			59.2, 16.3, 8.62, 81, 4.87, 14.62, 81.7, 17.17, 81.3, 28.9,
		},
		starts: [2][]float64{{0.1, 0.01, 0.02}, {0.15, 0.008, 0.010}},
		params: []float64{1.6657666537e-01, 5.1653291286e-03, 1.2150007096e-02},
		sd:     []float64{3.8303286810e-02, 6.6621605126e-04, 1.5304234767e-03},
		rss:    5.1304802941e+02, rsd: 3.1717133040e+00, df: 51,
	},
}

// problem is the set as a problem to solve from one of its starts.
func (c certified) problem(start int, slopes bool) Problem {
	p := Problem{Model: c.curve.over(c.x), Observed: c.y, Start: c.starts[start]}
	if slopes {
		p.Slopes = c.slopesOver()
	}
	return p
}

// The values are certified to 11 digits. From either start, and with the slopes
// taken by differences too, nine are reached.
func TestLeastSquaresAgainstCertifiedValues(t *testing.T) {
	for name, set := range certifiedSets {
		for start := range set.starts {
			for _, slopes := range []bool{false, true} {
				t.Run(fmt.Sprintf("%s from start %d, slopes %t", name, start+1, slopes), func(t *testing.T) {
					f, err := LeastSquares(set.problem(start, slopes))
					require.NoError(t, err)
					for j := range set.params {
						assert.GreaterOrEqual(t, correctDigits(f.Params[j], set.params[j]), 9.5, "b%d %.12g", j+1, f.Params[j])
						assert.GreaterOrEqual(t, correctDigits(f.SD[j], set.sd[j]), 9.0, "sd of b%d %.12g", j+1, f.SD[j])
					}
					assert.GreaterOrEqual(t, correctDigits(f.RSS, set.rss), 10.0, "%.12g", f.RSS)
					assert.GreaterOrEqual(t, correctDigits(f.ResidualSD, set.rsd), 10.0, "%.12g", f.ResidualSD)
					assert.Equal(t, set.df, f.DegreesOfFreedom)
					assert.Empty(t, f.AtBound)
					assert.Empty(t, f.Undetermined)
				})
			}
		}
	}
}
