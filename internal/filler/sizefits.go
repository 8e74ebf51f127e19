package filler

// SizeFitKind is a way to fit a law to sieves.
type SizeFitKind int

// FitRRSBCurve and those below it are the fits, in the order in which FitSizes
// returns them.
const (
	FitRRSBCurve SizeFitKind = iota // RRSB, least squares of the mass above each sieve
	FitRRSBLine                     // RRSB, straight line through ln(-ln R) over ln x
	FitLogNormal                    // log-normal, straight line through probits over ln x
)

// SizeFitProblem says why there is no fit.
type SizeFitProblem int

// FitFound and those below it are what came of a fit, or why there is none.
const (
	FitFound     SizeFitProblem = iota
	FitTooFew                   // fewer than two sieves with mass above and below
	FitFlat                     // no mass between the sieves that can be used
	FitDiverging                // no smallest sum of squares was found
)

// SizeParameter is a parameter of a law. Without a spread, at two sieves, SD is
// 0 and both ends are the value.
type SizeParameter struct {
	Value, SD float64
	Low, High float64 // at 95 %, from the scatter about the fit; +Inf or 0 where there is no end
}

// openFactor is how far an end of an interval may lie from the value, by ratio,
// and still tell something of the parameter (own judgement).
const openFactor = 1e4

// Open reports an interval that tells nothing: an end of it lies more than 1e4 times
// the value, or less than 1e-4 of it.
func (p SizeParameter) Open() bool {
	return !(p.High/p.Value <= openFactor && p.Low/p.Value >= 1/openFactor)
}

// SizeFit is a law fitted to a Sieving. Neighbouring cumulated fractions share
// their errors, so that intervals tell good fits from bad ones rather than hold
// the truth at 95 %.
type SizeFit struct {
	Kind    SizeFitKind
	Problem SizeFitProblem // when not FitFound, the rest is empty
	Law     SizeLaw        // nil when there is none
	Size    SizeParameter  // x' of RRSB or x50 of the log-normal, m
	Shape   SizeParameter  // n of RRSB or GSD of the log-normal
	Sieves  int            // that the fit used
	Exact   bool           // through two sieves: nothing tells whether the law holds
	R2      float64        // on the scale of the fit, so not to be compared; 0 when Exact
	Misfit  float64        // root mean square over all sieves of fitted less measured passing, as a fraction
}

// FitSizes fits each law to a sieve analysis: in the order of SizeFitKind,
// always all of them, with a problem where there is no fit.
//
//	RRSB curve:  Σ(100·R_i - 100·exp(-(x_i/x')^n))² is smallest
//	RRSB line:   ln(-ln R) = n·ln x - n·ln x'
//	log-normal:  probit(P) = (ln x - ln x50)/ln GSD, each sieve with the mean of
//	             the masses on it and on the next finer one as its weight
//
// R is cumulative retained and P = 1 - R passing. The lines use sieves with 0 <
// R < 1, that of the log-normal with 0.5 % <= P <= 99.5 %; the curve uses all.
// Two sieves are met exactly, three tell how well. On wide distributions the
// two ways to fit RRSB differ much: the line goes by the ends, the curve by the
// middle.
//
// Source: RRSB, DIN 66145; log-normal, ISO 9276-2 (both from memory, confirm);
// the weights are our own judgement.
func FitSizes(s Sieving) []SizeFit {
	return []SizeFit{s.fitRRSBCurve(), s.fitRRSBLine(), s.fitLogNormal()}
}

// BestFit returns the fit with the smallest misfit; one that is exact for lack
// of sieves only where there is no other. False where no fit has a law.
func BestFit(fits []SizeFit) (SizeFit, bool) {
	var best SizeFit
	for _, fit := range fits {
		if fit.Law == nil {
			continue
		}
		if best.Law == nil || best.Exact && !fit.Exact || best.Exact == fit.Exact && fit.Misfit < best.Misfit {
			best = fit
		}
	}
	return best, best.Law != nil
}

// laws returns the laws at the corners of the intervals of both parameters, the
// best one included, as far as they are laws.
func (f SizeFit) laws() []SizeLaw {
	if f.Law == nil {
		return nil
	}
	laws := []SizeLaw{f.Law}
	for _, size := range []float64{f.Size.Low, f.Size.High} {
		for _, shape := range []float64{f.Shape.Low, f.Shape.High} {
			if f.Kind == FitLogNormal && shape > 1 {
				laws = append(laws, LogNormal{size, shape})
			} else if f.Kind != FitLogNormal && shape > 0 {
				laws = append(laws, RRSB{size, shape})
			}
		}
	}
	return laws
}

// bounded reports whether both intervals have ends that are laws, and tell
// something.
func (f SizeFit) bounded() bool {
	least := 0.0
	if f.Kind == FitLogNormal {
		least = 1
	}
	return !f.Size.Open() && !f.Shape.Open() && f.Shape.Low > least
}
