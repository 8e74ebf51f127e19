// Package strength is a stand-in.
package strength

import "math"

type Class uint8

const (
	NoClass Class = iota
	Mineral
	FineMineral
	Lignocellulose
	OilyOrganic
	Fibre
)

type Band struct{ B, Low, High float64 }

func BandOf(c Class) (Band, bool) {
	switch c {
	case Mineral:
		return Band{1, -1, 2}, true
	case Lignocellulose:
		return Band{2.5, 1.5, 4}, true
	case OilyOrganic:
		return Band{0.5, -2, 2}, true
	}
	return Band{}, false
}
func MineralOf(d50 float64) Class { return Mineral }

const (
	UprightShare, UprightShareLow, UprightShareHigh = 0.6, 0.4, 0.9
	UprightShift, UprightShiftLow, UprightShiftHigh = 3.5, 0, 6
	StiffnessSpreadDown, StiffnessSpreadUp          = 0.128, 0.073
)

func Pukanszky(p, b float64) float64 { return (1 - p) / (1 + 2.5*p) * math.Exp(b*p) }
func BFrom(r, p float64) float64     { return math.Log(r*(1+2.5*p)/(1-p)) / p }
func PointU(mean, u float64, spools int) float64 {
	if spools <= 1 {
		return math.Hypot(u, 0.1*mean)
	}
	return u
}

type Point struct {
	VolumeFraction, StrengthPa, StdU float64
	Spools                           int
}
type Fit struct {
	Weights []float64
}

func (Fit) Excess() float64 { return 0 }
func FitB(p []Point, neat float64) (Fit, bool) {
	w := make([]float64, len(p))
	for i := range w {
		w[i] = 1 / float64(len(p))
	}
	return Fit{w}, true
}
func Modulus(c Class, em, ef, p, pm float64) float64 { return em * (1 + 2*p) }
