package strength

import "math"

// SpoolSpread is the standard deviation of the strength between spools of one recipe,
// over the strength: what a single spool leaves open.
//
// Source: own judgement from one study, 70 samples of poplar at 20 wt% in PLA, printed:
// 37 to 54 MPa (5 to 95 %) around 50 MPa. The wood differed between the samples, so that
// one maker's spools may be closer.
const SpoolSpread = 0.1

// Point is the mean strength of bars of one blend.
type Point struct {
	VolumeFraction float64 // of filler in the solid, below 1; at 0 it is plain polymer, which the fit leaves aside
	Strength       float64 // mean, above 0: in Pa, or as a ratio with the plain polymer at 1
	StdU           float64 // standard uncertainty of the mean over spools, in the same unit; 0 while not known
	Spools         int     // from how many spools the bars are; below 1 counts as one
}

// Uncertainty returns the standard uncertainty of a point's strength, in its unit. Bars
// of one spool tell nothing of the spread between spools, so SpoolSpread is added to
// theirs. The ± over two or more spools has it in it; where none is known, SpoolSpread
// over the root of the number of spools takes its place. NaN for an uncertainty below 0.
//
// Source: sum of variances; that the bars of one spool share its offset is own judgement.
func (p Point) Uncertainty() float64 {
	spread := SpoolSpread * p.Strength / math.Sqrt(float64(max(1, p.Spools)))
	switch {
	case !(p.StdU >= 0):
		return math.NaN()
	case p.StdU > 0 && p.Spools > 1:
		return p.StdU
	}
	return math.Hypot(p.StdU, spread)
}

// uncertaintyOfB is what a point's own strength leaves open of its B.
func (p Point) uncertaintyOfB() float64 { return p.Uncertainty() / (p.Strength * p.VolumeFraction) }

// counts reports whether a point has filler.
func (p Point) counts() bool { return p.VolumeFraction != 0 }

// fits reports whether a point with filler has numbers that can be.
func (p Point) fits() bool {
	return positive(p.Strength, p.uncertaintyOfB()) && p.VolumeFraction < 1
}

// Weights returns the shares, which sum to 1, with which the B of each point enters that
// of Fit:
//
//	(1/u_i²)/Σ(1/u_i²),  u_i = u_s/(s·p)
//
// s is the strength of the point, u_s its Uncertainty and p its volume fraction. They do
// not know the plain polymer, so that with other values drawn for the strengths the mean
// is the sum of Weights times PukanszkyB. Points of plain polymer have 0. All are NaN
// where there are no others, or one that cannot be.
//
// Source: weighted mean by inverse variances.
func Weights(points []Point) []float64 {
	weights, sum := make([]float64, len(points)), 0.0
	for i, p := range points {
		switch {
		case !p.counts():
			continue
		case !p.fits():
			sum = math.NaN()
		}
		weights[i] = math.Pow(p.uncertaintyOfB(), -2)
		sum += weights[i]
	}
	for i := range weights {
		weights[i] /= sum
	}
	return weights
}

// Mean returns the weighted mean of the strengths of points of one blend, such as the plain
// polymer, in their unit, with its standard uncertainty:
//
//	s = Σ w_i·s_i/Σ w_i,  w_i = 1/u_i²,  u² = 1/Σ w_i·max(1, χ²/(n - 1)),  χ² = Σ w_i·(s_i - s)²
//
// u_i is the Uncertainty of each, n their number. Points that disagree by more than that
// widen it, and those that agree do not narrow it. A point's volume fraction counts for
// nothing. NaN for no points and where an uncertainty is not above 0.
//
// Source: as FitB.
func Mean(points []Point) (mean, stdU float64) {
	sum, information := 0.0, 0.0
	for _, p := range points {
		u := p.Uncertainty()
		if !positive(u) {
			return math.NaN(), math.NaN()
		}
		sum, information = sum+p.Strength/(u*u), information+1/(u*u)
	}
	if len(points) == 0 {
		return math.NaN(), math.NaN()
	}
	mean, stdU = sum/information, math.Sqrt(1/information)
	if n := len(points); n > 1 {
		chiSquare := 0.0
		for _, p := range points {
			off := (p.Strength - mean) / p.Uncertainty()
			chiSquare += off * off
		}
		stdU *= math.Sqrt(math.Max(1, chiSquare/float64(n-1)))
	}
	return mean, stdU
}

// Fit is the B of PukanszkyRatio that the points have together.
type Fit struct {
	B, StdU float64 // StdU without the share of the plain polymer's strength
	Points  int     // that count: those with filler
	// Reduced is the sum of squared deviations, each over its uncertainty, over the
	// number of points less 1; NaN for a single point. Far above 1 one B does not hold
	// for all contents, or the plain polymer's strength is off.
	Reduced float64
	// ByPlain is the change of B by that of the logarithm of the plain polymer's
	// strength. All points share it, so it is for the caller to add: u² = StdU² +
	// (ByPlain·u_m/s_m)².
	ByPlain float64
}

// FitB fits B to points, with the strength of the plain polymer printed and broken alike,
// in the unit of the points:
//
//	B = Σ w_i·B_i,  u² = 1/Σ(1/u_i²)·max(1, χ²/(n - 1)),  χ² = Σ (B_i - B)²/u_i²
//
// w_i and u_i are those of Weights, B_i is PukanszkyB of each point, n the number of
// points. Points with much filler weigh most, by p². All is NaN for no points and where
// a strength is not above 0, a volume fraction not from 0 to below 1, or an uncertainty
// below 0.
//
// Source: weighted mean; widened by the ratio of Birge, Phys. Rev. 40 (1932) 207 (from
// memory, confirm), and never narrowed.
func FitB(points []Point, plain float64) Fit {
	nan := math.NaN()
	fit := Fit{Reduced: nan}
	weights := Weights(points)
	var information float64
	for i, p := range points {
		if !p.counts() {
			continue
		}
		fit.Points++
		fit.B += weights[i] * PukanszkyB(p.Strength/plain, p.VolumeFraction)
		fit.ByPlain -= weights[i] / p.VolumeFraction
		information += math.Pow(p.uncertaintyOfB(), -2)
	}
	if fit.Points == 0 || math.IsNaN(fit.B) {
		return Fit{B: nan, StdU: nan, Points: fit.Points, Reduced: nan, ByPlain: nan}
	}
	fit.StdU = math.Sqrt(1 / information)
	if fit.Points > 1 {
		fit.Reduced = fit.chiSquare(points, plain) / float64(fit.Points-1)
		fit.StdU *= math.Sqrt(math.Max(1, fit.Reduced))
	}
	return fit
}

func (f Fit) chiSquare(points []Point, plain float64) float64 {
	sum := 0.0
	for _, p := range points {
		if p.counts() {
			off := (PukanszkyB(p.Strength/plain, p.VolumeFraction) - f.B) / p.uncertaintyOfB()
			sum += off * off
		}
	}
	return sum
}
