package filler

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

func FuzzFitDrying(f *testing.F) {
	f.Add(uint64(1), uint64(2), 12, 1.0, 0.4, 3000.0, 1.2, 0.001, 0.0)
	f.Add(uint64(3), uint64(4), 5, 1e-6, 0.99e-6, 10.0, 0.5, 0.0, 0.98e-6)
	f.Add(uint64(5), uint64(6), 4, 1e3, 1.0, 1e6, 3.0, 10.0, 0.0)
	f.Fuzz(func(t *testing.T, a, b uint64, count int, initial, final, tau, n, sd, given float64) {
		random := rand.New(rand.NewPCG(a, b))
		count = min(max(count, 0), 60)
		rows := make([]Weighing, count)
		for i := range rows {
			at := tau * 5 * random.Float64()
			if b%3 == 0 {
				at = math.Floor(at/tau*4) * tau / 4
			}
			rows[i] = Weighing{at, final + (initial-final)*math.Exp(-math.Pow(at/tau, n)) + sd*random.NormFloat64()}
		}
		fits, err := FitDryingLaws(rows, DryingOptions{FinalKg: given})
		if err != nil {
			return
		}
		if fits.LewisErr == nil {
			wholeCurve(t, &fits.Lewis)
		}
		if fits.PageErr == nil {
			wholeCurve(t, &fits.Page)
		}
	})
}

// wholeCurve asserts that nothing in a curve is NaN.
func wholeCurve(t *testing.T, c *DryingCurve) {
	t.Helper()
	values := []float64{c.InitialKg, c.FinalKg, c.LogTauS, c.Exponent, c.ResidualSDKg, c.RMSKg, c.LastS}
	values = append(values, c.ResidualsKg...)
	read := []CurveValue{
		c.TauS(), c.ExponentN(), c.Final(), c.Rate(60), massAt(c, 0), massAt(c, c.LastS/2), massAt(c, 10*c.LastS),
		c.DryMass(0.005), c.MoistureAt(0, 0.005), c.MoistureAt(c.LastS, 0.005),
	}
	if v, err := c.TimeTo(0.03, 0.005); err == nil {
		read = append(read, v)
	}
	for _, v := range read {
		values = append(values, v.Value, v.U, v.Low, v.High)
	}
	for _, row := range c.Covariance {
		for _, v := range row {
			require.False(t, math.IsNaN(v), "covariance of %+v", c)
		}
	}
	for _, v := range values {
		require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%+v", c)
	}
	require.Greater(t, c.InitialKg, c.FinalKg)
	require.Greater(t, c.FinalKg, 0.0)
}

// BenchmarkBandOfACurve is the band of a picture, drawn at some hundred places.
func BenchmarkBandOfACurve(b *testing.B) {
	c, err := FitDrying(logOf(1, 0.4, 3000, 1, spread(12, 9000)...), Lewis, DryingOptions{})
	require.NoError(b, err)
	for b.Loop() {
		for k := range 200 {
			massAt(&c, 50*float64(k))
		}
	}
}

func BenchmarkFitDrying(b *testing.B) {
	for _, bench := range []struct {
		name string
		law  DryingLaw
		rows int
	}{{"Lewis30", Lewis, 30}, {"Page30", Page, 30}, {"Page10000", Page, 10000}} {
		rows := noisyLog(rand.New(rand.NewPCG(18, 18)), 0.002, logOf(1, 0.4, 3000, 1.2, spread(bench.rows, 12000)...))
		b.Run(bench.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := FitDrying(rows, bench.law, DryingOptions{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
