package strength

import "math"

// Class groups fillers for which one band of B, and one law of the modulus, is taken.
type Class int

// The classes. Carbonate shells (mussel, oyster, egg) are minerals.
const (
	Mineral     Class = iota // grains above 5 µm, without treatment
	FineMineral              // grains below 1 µm, without treatment
	WoodFlour                // wood and other lignocellulose flour
	OilyOrganic              // oily grounds, spent grain, flour of nut shells and fruit stones
	Fibre                    // length over diameter above 10
	Other                    // metal, hollow grains and whatever else there is no band for
)

// Mineral grains between these sizes in m belong to neither class of minerals.
const (
	FineGrainM   = 1e-6
	CoarseGrainM = 5e-6
)

// Band is what is likely, and from where to where it may be.
type Band struct{ Likely, Low, High float64 }

// Defaults are what is taken for a class of fillers while nothing is measured.
type Defaults struct {
	B        Band // of PukanszkyRatio, along the layers
	Modulus  ModulusLaw
	Shape    Band // of HalpinTsai; zero where the law uses none
	FillerPa Band // modulus of the filler; zero where the table has none
}

// Defaults returns what is taken for a class, and false for one without a band: fibres
// go by KellyTyson, and of the others nothing is known here.
//
// Source: B of wood from one study of wood-filled filament (Kariz and others, Mater.
// Today Commun. 14 (2018) 135: 3.7 at 10 wt% and 1.7 at 50 wt%) and own judgement, all
// other B own judgement. The shape of wood and the likely values within ranges are own
// judgement; moduli of fillers are from memory, confirm.
func (c Class) Defaults() (Defaults, bool) {
	switch c {
	case Mineral:
		return Defaults{B: Band{1, -1, 2}, Modulus: LewisNielsenLaw}, true
	case FineMineral:
		return Defaults{B: Band{-3, -5, 0}, Modulus: GuthLaw}, true
	case WoodFlour:
		return Defaults{B: Band{2.5, 1.5, 4}, Modulus: HalpinTsaiLaw, Shape: Band{2, 2, 6}, FillerPa: Band{10e9, 8e9, 12e9}}, true
	case OilyOrganic:
		return Defaults{B: Band{0.5, -2, 2}, Modulus: HalpinTsaiLaw, Shape: Band{2, 2, 2}, FillerPa: Band{4.5e9, 3e9, 6e9}}, true
	case Fibre, Other:
	}
	return Defaults{}, false
}

// MineralB returns the band of B of a mineral by the size of its grains in m: that of
// FineMineral below FineGrainM, that of Mineral above CoarseGrainM. From the one to the
// other it is as wide as both together, and the likely B goes from the one to the other
// by the logarithm of the size. It returns false for a size that is not above 0.
//
// Source: the classes; what is between them is own judgement.
func MineralB(sizeM float64) (Band, bool) {
	if !positive(sizeM) {
		return Band{}, false
	}
	fine, _ := FineMineral.Defaults()
	coarse, _ := Mineral.Defaults()
	switch {
	case sizeM < FineGrainM:
		return fine.B, true
	case sizeM > CoarseGrainM:
		return coarse.B, true
	}
	part := math.Log(sizeM/FineGrainM) / math.Log(CoarseGrainM/FineGrainM)
	return Band{
		Likely: fine.B.Likely + part*(coarse.B.Likely-fine.B.Likely),
		Low:    min(fine.B.Low, coarse.B.Low), High: max(fine.B.High, coarse.B.High),
	}, true
}

// UprightShift returns by how much B is lower across the layers of a print than along
// them, for the strength over that of the plain polymer printed alike.
//
// Source: one pair of common practice, 58 to 53 MPa flat and 35 to 27 MPa upright at 5
// wt%. With a powder of 1.35 to 1.45 g/cm³ in a polymer of 1.24 (p 0.0461 to 0.0431) that
// is a B of 1.43 to 1.30 flat and of -2.24 to -2.63 upright: 3.7 to 3.9 lower. The band,
// from no shift to twice that, is own judgement, and so is that one shift holds at all
// contents.
func UprightShift() Band { return Band{3.8, 0, 8} }

// UprightShare returns the strength of the plain polymer across the layers of a print
// over that along them.
//
// Source: common practice (from memory, confirm); the pair of UprightShift has 0.60.
func UprightShare() Band { return Band{0.6, 0.4, 0.9} }
