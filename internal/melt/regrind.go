package melt

import "math"

// RegrindFactor returns by what factor regrind raises the melt flow rate of a polymer,
// the logarithms of which add up by share:
//
//	exp(share·passes·ln drift)
//
// share is that of the regrind in the polymer by mass, from 0 to 1; passes is how often
// it has been through the heat before, from 0; drift is the melt flow rate after one pass
// over that before it, above 0: above 1 where chains are cut (polyesters, polyamides,
// PP), below where they join. NaN for a drift that is not above 0.
//
// Source: the logarithmic rule of mixing viscosities (Arrhenius, 1887), which is common
// practice for melts of one polymer; that each pass changes the flow by the same factor
// is an assumption.
func RegrindFactor(share, passes, drift float64) float64 {
	if !(drift > 0) {
		return math.NaN()
	}
	return math.Exp(share * passes * math.Log(drift))
}
