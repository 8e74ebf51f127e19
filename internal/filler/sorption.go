package filler

import "math"

// zeroCelsiusK is 0 °C.
const zeroCelsiusK = 273.15

// SaturationPressure returns the pressure in Pa of water vapour over liquid
// water at tempK:
//
//	ln(p/p_c) = (T_c/T)·(a1·x + a2·x^1.5 + a3·x^3 + a4·x^3.5 + a5·x^4 + a6·x^7.5),  x = 1 - T/T_c
//
// Valid from 0 °C to the critical point, to better than 0.1 %; NaN outside. (The
// usual Magnus formulas are made for weather, and 3 % off at 100 °C.)
//
// Source: Wagner and Pruss, J. Phys. Chem. Ref. Data 31 (2002) 387, equation
// 2.5.
func SaturationPressure(tempK float64) float64 {
	const criticalK, criticalPa = 647.096, 22.064e6
	if !(tempK >= zeroCelsiusK && tempK <= criticalK) {
		return math.NaN()
	}
	x := 1 - tempK/criticalK
	root := math.Sqrt(x)
	x3 := x * x * x
	sum := x*(-7.85951783+1.84408259*root) +
		x3*(-11.7866497+22.6807411*root-15.9618719*x) +
		x3*x3*x*root*1.80122502
	return criticalPa * math.Exp(sum*criticalK/tempK)
}

// HumidityAt returns the relative humidity, from 0, that air of humidity h at
// fromK has at toK, when it takes its water along at the same pressure, as a
// room's air in a vented oven does:
//
//	h' = h·p_s(T)/p_s(T')
//
// h is 0 to 1. A result above 1 is not clipped: there the air drops water. The
// vapour that the powder itself gives off is left aside: in a full oven with
// little ventilation the true humidity is higher. NaN for a humidity outside 0
// to 1 or a temperature outside that of SaturationPressure.
//
// Source: Dalton's law.
func HumidityAt(h, fromK, toK float64) float64 {
	if !(h >= 0 && h <= 1) {
		return math.NaN()
	}
	return h * (SaturationPressure(fromK) / SaturationPressure(toK))
}

// WoodMoisture returns the moisture, on dry basis, of wood in equilibrium with
// air of temperature tempK and relative humidity h (0 to 1):
//
//	M = (18/W)·(Kh/(1 - Kh) + (K1·Kh + 2·K1·K2·(Kh)²)/(1 + K1·Kh + K1·K2·(Kh)²))
//
// W, K, K1 and K2 are quadratics of the temperature in °C. They follow tables of
// whole wood: to 0.15 points of moisture below 90 % humidity, to a point above.
// The tables reach to about 130 °C (see WoodMoistureKnown); beyond, the value
// soon falls to nothing. Other plant powders behave alike within a few points
// only. It is the mean of drying and wetting. NaN for a humidity outside 0 to 1,
// and where the quadratics lose their meaning.
//
// Source: Hailwood and Horrobin, Trans. Faraday Soc. 42B (1946) 84, two
// hydrates; coefficients of the Wood Handbook, from memory, confirm (they
// reproduce its table).
func WoodMoisture(tempK, h float64) float64 {
	if !(h >= 0 && h <= 1) {
		return math.NaN()
	}
	t := tempK - zeroCelsiusK
	w := 349 + 1.29*t + 0.0135*t*t
	kh := (0.805 + 0.000736*t - 0.00000273*t*t) * h
	k1 := 6.27 - 0.00938*t - 0.000303*t*t
	k2 := 1.91 + 0.0407*t - 0.000293*t*t
	below := 1 + k1*kh*(1+k2*kh)
	m := 18 / w * (kh/(1-kh) + k1*kh*(1+2*k2*kh)/below)
	if !(m >= 0 && kh < 1 && k2 >= 0 && below > 0) {
		return math.NaN()
	}
	return m
}

// WoodColdestK and WoodHottestK are the ends of the tables behind WoodMoisture:
// from -1 to 132 °C (30 to 270 °F; from memory, confirm).
const (
	WoodColdestK = zeroCelsiusK - 1.2
	WoodHottestK = zeroCelsiusK + 132.3
)

// WoodMoistureKnown tells whether the tables behind WoodMoisture reach to tempK.
func WoodMoistureKnown(tempK float64) bool { return tempK >= WoodColdestK && tempK <= WoodHottestK }

// OvenFloor returns the moisture, on dry basis, that wood keeps however long it
// stays in a vented oven at ovenK, in a room of roomK and relative humidity
// roomH (0 to 1): WoodMoisture at the humidity of HumidityAt. It stands in for
// other plant powders too. NaN where one of the two is.
func OvenFloor(roomK, roomH, ovenK float64) float64 {
	return WoodMoisture(ovenK, HumidityAt(roomH, roomK, ovenK))
}

// GAB is a sorption isotherm with the maker's own parameters, measured at one
// temperature.
type GAB struct {
	Monolayer float64 // X_m, moisture on dry basis of the first layer, above 0
	C         float64 // how much tighter the first layer is bound, above 0
	K         float64 // that of the layers above it, above 0, usually below 1
}

// Moisture returns the moisture, on dry basis, in equilibrium with the relative
// humidity h (water activity, 0 to 1):
//
//	M = X_m·C·Kh/((1 - Kh)·(1 - Kh + C·Kh))
//
// Usual up to h = 0.9. NaN for a humidity outside 0 to 1, K·h from 1, and
// parameters that are not above 0.
//
// Source: Guggenheim, Anderson and de Boer, as in van den Berg and Bruin 1981
// (from memory, confirm).
func (g GAB) Moisture(h float64) float64 {
	kh := g.K * h
	if !(h >= 0 && h <= 1 && kh < 1 && g.Monolayer > 0 && g.C > 0 && g.K > 0) {
		return math.NaN()
	}
	return g.Monolayer * g.C * kh / ((1 - kh) * (1 - kh + g.C*kh))
}
