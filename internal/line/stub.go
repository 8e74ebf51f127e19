package line

import "math"

func PullerSpeed(mf, rho, d float64) float64       { return mf / (rho * math.Pi / 4 * d * d) }
func DrawDown(die, d, melt, solid float64) float64 { return die * die / (d * d) * melt / solid }

type Screw struct{ DiameterM, DepthM, LeadM, LengthM float64 }

func (s Screw) angle() float64 { return math.Atan(s.LeadM / (math.Pi * s.DiameterM)) }
func (s Screw) DragFlow(n float64) float64 {
	a := s.angle()
	return 0.5 * math.Pi * math.Pi * s.DiameterM * s.DiameterM * n * s.DepthM * math.Sin(a) * math.Cos(a)
}

func (s Screw) PressureFlow(p, eta float64) float64 {
	a := math.Sin(s.angle())
	return math.Pi * s.DiameterM * s.DepthM * s.DepthM * s.DepthM * a * a * p / (12 * eta * s.LengthM)
}
func MeanResidence(v, rho, mf float64) float64 { return v * rho / mf }

type PlugMixed struct{ PlugShare float64 }

func (p PlugMixed) Theta(rest float64) float64 { return p.PlugShare + (1-p.PlugShare)*math.Log(1/rest) }

type Sample struct{ TimeS, New float64 }

func FitPlugShare(s []Sample, mean float64) (share, u float64, ok bool) { return 0.5, 0.05, len(s) > 0 }

func PlugShareFromStable(t, rest, mean float64) (float64, bool) {
	l := math.Log(1 / rest)
	p := (l - t/mean) / (l - 1)
	return p, p >= 0 && p < 1
}
func CylinderSurface(d, l, rho float64) float64 { return (4/d + 2/l) / rho }
func GrindSurface(d, rho float64) float64       { return 6 / d / rho }
func MixedSurface(a, b, share float64) float64  { return a*(1-share) + b*share }
func CoatThickness(w, bulk, s float64) float64  { return w / (1 - w) / (bulk * s) }

type Grains struct{ SizeM, DensityKgM3, FinerShare, AdhesionM float64 }

func PickUpLimit(g Grains, cov, s float64) (float64, bool) {
	x := g.DensityKgM3 * 2 / 3 * g.SizeM * cov * s
	return x / (1 + x), true
}

func RandomMixRSD(w, mx, my, sample float64) float64 {
	return math.Sqrt(w*(1-w)*(w*mx+(1-w)*my)/sample) / w
}
func SecondPassFactor(n float64) float64 { return 1 / math.Sqrt(n) }

const SphereShape = 1.5

func LewisNielsenConductivity(km, kf, phi, limit, a float64) float64 {
	b := (kf/km - 1) / (kf/km + a)
	psi := 1 + (1-limit)/(limit*limit)*phi
	return km * (1 + a*b*phi) / (1 - b*psi*phi)
}

type Washout interface {
	New(theta float64) float64
	Theta(rest float64) float64
}

func (p PlugMixed) New(theta float64) float64 {
	if theta <= p.PlugShare {
		return 0
	}
	return -math.Expm1(-(theta - p.PlugShare) / (1 - p.PlugShare))
}

type LaminarPipe struct{}

func (LaminarPipe) New(theta float64) float64  { return math.Max(0, 1-1/(4*theta*theta)) }
func (LaminarPipe) Theta(rest float64) float64 { return math.Sqrt(1 / rest / 4) }

type PintoTadmor struct{}

func (PintoTadmor) New(theta float64) float64  { return LaminarPipe{}.New(theta) }
func (PintoTadmor) Theta(rest float64) float64 { return LaminarPipe{}.Theta(rest) }

func ScreenTime(m, mf float64) float64 { return m / mf }
func Smoothing(tau, T float64) float64 { return 1 / math.Hypot(1, 2*math.Pi*tau/T) }
func GroundShareFor(w float64, g Grains, cov, whole, ground float64) (float64, bool) {
	return 0.3, true
}

type Spread struct{ Mean, RSD, Low, High float64 }

func RelativeSD(x []float64) (Spread, bool) { return Spread{}, false }
func SamplesNeeded(rsd, e float64) float64  { return math.Pow(1.96*rsd/e, 2) }
func Lacey(sd, p, random float64) float64 {
	return (p*(1-p) - sd*sd) / (p*(1-p) - random*random)
}
