package line

import (
	"math"

	"fillwright/internal/stat"
)

// Washout is a law of how new material takes the place of the old after a change.
// Time counts in units of the mean residence, θ = t/t_mean. Dead corners are in
// none of the laws.
type Washout interface {
	// New is the share of new material in what leaves at θ, from 0.
	New(theta float64) float64
	// Theta is the inverse: when only a share rest of old material is left, above 0
	// and below 1.
	Theta(rest float64) float64
}

// PlugMixed is a line of which a share moves as a plug and the rest is mixed:
//
//	F = 1 - exp(-(θ - P)/(1 - P)) from θ = P on
//
// P was 0.38 to 0.65 on a single screw, with rice flour.
//
// Source: plug flow and a stirred tank in series; Yeh and Jaw 1998 for P.
type PlugMixed struct{ PlugShare float64 } // from 0, below 1

// New implements Washout.
func (p PlugMixed) New(theta float64) float64 {
	if theta <= p.PlugShare {
		return 0
	}
	return -math.Expm1(-(theta - p.PlugShare) / (1 - p.PlugShare))
}

// Theta implements Washout.
func (p PlugMixed) Theta(rest float64) float64 {
	return p.PlugShare - (1-p.PlugShare)*math.Log(rest)
}

// OldInPurge returns the share of old material in all that comes out from the change until
// rest of the strand is old, by mass:
//
//	(1 - (1 - p)·rest)/Θ(rest)
//
// of the old melt that stood in the line all but the tail has come out by then. p is
// the plug share, rest is above 0 and below 1.
//
// Source: integral of the washout of PlugMixed.
func (p PlugMixed) OldInPurge(rest float64) float64 {
	return (1 - (1-p.PlugShare)*rest) / p.Theta(rest)
}

// LaminarPipe is a round pipe in which every layer keeps to itself:
//
//	F = 1 - 1/(4·θ²) from θ = ½ on
//
// Source: parabolic profile of a Newtonian melt.
type LaminarPipe struct{}

// New implements Washout.
func (LaminarPipe) New(theta float64) float64 {
	if theta <= 0.5 {
		return 0
	}
	return 1 - 1/(4*theta*theta)
}

// Theta implements Washout.
func (LaminarPipe) Theta(rest float64) float64 { return 0.5 / math.Sqrt(rest) }

// PintoTadmor is the shallow channel of a metering screw, without mixing. Both time
// and share go by the height ξ of a layer in the channel, from 2/3 to 1:
//
//	s = √(1 + 2ξ - 3ξ²)
//	θ = (3ξ - 1 + 3s)/(6ξ·(1 - ξ + s)),  F = ½·(3ξ² - 1 + (ξ - 1)·s)
//
// The first new melt comes at θ = 3/4. The mean of θ is 1, its variance has no end.
//
// Source: Pinto and Tadmor 1970, doi 10.1002/pen.760100505 (from memory, confirm).
type PintoTadmor struct{}

const firstLayer = 2.0 / 3

// layer is time and share of new material for a height, from 2/3 to below 1.
func layer(xi float64) (theta, fresh float64) {
	s := math.Sqrt(math.Max(0, (1-xi)*(1+3*xi)))
	return (3*xi - 1 + 3*s) / (6 * xi * (1 - xi + s)), 0.5 * (3*xi*xi - 1 + (xi-1)*s)
}

// New implements Washout.
func (PintoTadmor) New(theta float64) float64 {
	if theta <= 0.75 {
		return 0
	}
	_, fresh := layer(layerWhere(func(xi float64) bool { t, _ := layer(xi); return t < theta }))
	return math.Min(1, math.Max(0, fresh))
}

// Theta implements Washout.
func (PintoTadmor) Theta(rest float64) float64 {
	theta, _ := layer(layerWhere(func(xi float64) bool { _, f := layer(xi); return f < 1-rest }))
	return theta
}

// layerWhere halves the range of heights until it has found where below ends. It
// searches over √(1 - ξ), in which both time and share are smooth up to ξ = 1.
func layerWhere(below func(xi float64) bool) float64 {
	near, far := 0.0, math.Sqrt(1-firstLayer)
	for range 60 {
		mid := (near + far) / 2
		if below(1 - mid*mid) {
			far = mid
		} else {
			near = mid
		}
	}
	return 1 - far*far
}

// Sample is the share of new material in the strand at a time after a change.
type Sample struct{ TimeS, New float64 }

// fewestSamples is how many samples a fit of the plug share needs: one more than
// there is to fit.
const fewestSamples = 2

// FitPlugShare returns the plug share of PlugMixed with which the squares of what
// the samples miss are least, for a mean residence in s, above 0, and its standard
// uncertainty such that twice it covers 95 %. It returns false with fewer than two
// samples, for times or shares that are no numbers from 0 (shares up to 1), and
// where the best share lies at the end of its range, 0 or nearly 1: then the mean
// residence does not suit the samples.
//
// Source: least squares on one parameter; the uncertainty by Student from the
// slopes at the minimum.
func FitPlugShare(samples []Sample, meanS float64) (share, u float64, ok bool) {
	if len(samples) < fewestSamples || !(meanS > 0) {
		return math.NaN(), math.NaN(), false
	}
	for _, s := range samples {
		if !(s.TimeS >= 0 && s.New >= 0 && s.New <= 1) {
			return math.NaN(), math.NaN(), false
		}
	}
	const steps, last = 400, 0.995
	best := 0.0
	for i := range steps { // the sum may have more than one dip
		if p := last * float64(i) / (steps - 1); misfit(samples, meanS, p) < misfit(samples, meanS, best) {
			best = p
		}
	}
	const step = last / (steps - 1)
	share = narrow(func(p float64) float64 { return misfit(samples, meanS, p) }, math.Max(0, best-step), math.Min(last, best+step))
	if share < 1e-6 || share > last-1e-6 {
		return math.NaN(), math.NaN(), false
	}
	slopes := 0.0
	for _, s := range samples {
		const h = 1e-5
		slope := (PlugMixed{share + h}.New(s.TimeS/meanS) - PlugMixed{share - h}.New(s.TimeS/meanS)) / (2 * h)
		slopes += slope * slope
	}
	free := len(samples) - 1
	sd := math.Sqrt(misfit(samples, meanS, share) / float64(free))
	u = stat.TFactor(0.95, free) * sd / math.Sqrt(slopes) / 2
	return share, u, !math.IsNaN(u) && !math.IsInf(u, 0)
}

func misfit(samples []Sample, meanS, plug float64) float64 {
	sum := 0.0
	for _, s := range samples {
		miss := s.New - PlugMixed{plug}.New(s.TimeS/meanS)
		sum += miss * miss
	}
	return sum
}

// narrow finds the minimum of a function with one dip between two ends, by the
// golden section.
func narrow(f func(float64) float64, low, high float64) float64 {
	const golden = 0.6180339887498949
	for range 80 {
		a, b := high-golden*(high-low), low+golden*(high-low)
		if f(a) < f(b) {
			high = b
		} else {
			low = a
		}
	}
	return (low + high) / 2
}

// PlugShareFromStable returns the plug share of PlugMixed at which only a share rest
// of old material, above 0 and below 1/e, is left after timeS, for a mean residence
// in s, above 0:
//
//	t/t_mean = P + (1 - P)·L,  P = (L - t/t_mean)/(L - 1),  L = ln(1/rest)
//
// It returns false where no share from 0 to below 1 does that: a time up to the
// mean residence, or one above L times it.
//
// Source: inverse of PlugMixed.
func PlugShareFromStable(timeS, rest, meanS float64) (share float64, ok bool) {
	end := -math.Log(rest)
	share = (end - timeS/meanS) / (end - 1)
	if !(end > 1 && meanS > 0 && share >= 0 && share < 1) {
		return math.NaN(), false
	}
	return share, true
}

// Smoothing returns what is left of a slow swing in the feed, of a period in s above
// 0, behind a mixed volume with a mean residence of mixedS, from 0:
//
//	1/√(1 + (2π·τ/T)²)
//
// A minute evens out a swing of half a minute to 8 %, and leaves 85 % of one of ten
// minutes.
//
// Source: stirred tank as a low-pass filter.
func Smoothing(mixedS, periodS float64) float64 {
	return 1 / math.Hypot(1, 2*math.Pi*mixedS/periodS)
}
