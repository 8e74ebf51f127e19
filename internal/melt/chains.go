package melt

import "math"

// Constants of nature.
const (
	WaterMolarMassKgMol = 0.018015    // standard atomic weights
	GasConstantJMolK    = 8.314462618 // exact since the SI of 2019, cut off here
)

// Melt flow goes with the molar mass to the power -a.
const (
	// ExponentLow is the usual exponent for entangled linear chains.
	ExponentLow = 3.4
	// ExponentHigh was measured on linear PLA: Dorgan, Williams and Lewis, J.
	// Rheol. 43 (1999) 1141. Later work of the same group returned to 3.4.
	ExponentHigh = 4.6
)

// Scission of dry and moist PLA in the melt, 170 to 250 °C.
const (
	// ReferenceK is 210 °C, the temperature of K210 and of the thermal rate.
	ReferenceK = 483.15
	// K210 is the rate of hydrolysis in 1/s at ReferenceK. Fitted for this
	// program to the main effect of moisture in a single-screw study (J. Appl.
	// Polym. Sci. 2025, doi 10.1002/app.56698, abstract), with the moisture and
	// the time in the melt assumed: good to a factor of K210Factor either way.
	K210       = 2.6e-4
	K210Factor = 3
	// ScissionLowK and ScissionHighK are between which both rates hold: 170 to 250 °C.
	ScissionLowK, ScissionHighK = 443.15, 523.15
	// hydrolysisJMol is the activation energy of hydrolysis of molten PLLA
	// (Tsuji et al., Polym. Degrad. Stab. 2008, abstract).
	hydrolysisJMol = 49.6e3

	// thermal210 in mol/(kg s) at ReferenceK, and thermalJMol, are those of dry
	// PLLA between 1.75 and 7 min in the melt: 33.6 to 30.2 kg/mol at 210 °C,
	// 25.6 to 13.6 at 240 °C (Taubner and Shishoo, J. Appl. Polym. Sci. 79
	// (2001) 2128; from memory, confirm).
	thermal210  = 1.0637e-5
	thermalJMol = 160.16e3
)

// MolarMassFactor returns by what factor the melt flow rate changes when the
// molar mass goes from before to after (same unit, above 0):
//
//	(M_before/M_after)^a
//
// The exponent a is 3.4 to 4.6 (ExponentLow, ExponentHigh); use both for the
// band.
//
// Source: zero-shear viscosity of entangled linear chains.
func MolarMassFactor(before, after, exponent float64) float64 {
	return math.Pow(before/after, exponent)
}

// MolarMassBound returns the number-average molar mass in kg/mol when every
// water molecule has cut one ester:
//
//	1/Mn = 1/Mn0 + W/M_water
//
// Mn0 is the molar mass before in kg/mol, above 0, W the water per polymer by
// mass, from 0. In minutes only a few per cent of the water react: a bound, to
// be shown beside MolarMassAfter.
//
// Source: stoichiometry.
func MolarMassBound(mn0KgMol, waterPerPolymer float64) float64 {
	return 1 / (1/mn0KgMol + waterPerPolymer/WaterMolarMassKgMol)
}

// HydrolysisRate returns the rate in 1/s at which water in molten PLA reacts at
// tempK, 443 to 523 K:
//
//	k = k_210·exp(-(E/R)·(1/T - 1/483.15)),  E = 49.6 kJ/mol
//
// k210 is the rate at 210 °C in 1/s, usually K210, with K210Factor either way.
//
// Source: see K210 and its neighbours.
func HydrolysisRate(k210, tempK float64) float64 {
	return k210 * ArrheniusFactor(ReferenceK, tempK, hydrolysisJMol)
}

// ThermalScissionRate returns the number of cuts in mol/(kg s) by heat alone in
// dry molten PLA at tempK, 443 to 523 K:
//
//	k = 1.06e-5·exp(-(E/R)·(1/T - 1/483.15)),  E = 160 kJ/mol
//
// Source: fitted to two temperatures of Taubner and Shishoo 2001 (from memory,
// confirm).
func ThermalScissionRate(tempK float64) float64 {
	return thermal210 * ArrheniusFactor(ReferenceK, tempK, thermalJMol)
}

// MolarMassAfter returns the number-average molar mass in kg/mol after timeS in
// the melt:
//
//	1/Mn = 1/Mn0 + (W/M_water)·(1 - exp(-k_h·t)) + k_t·t
//
// Mn0 is the molar mass before in kg/mol, above 0, W the water per polymer by
// mass, k_h the rate of hydrolysis in 1/s and k_t that of thermal scission in
// mol/(kg s); all from 0. For long times without k_t it tends to
// MolarMassBound.
//
// Source: first-order reaction of the water, random scission at a constant
// rate.
func MolarMassAfter(mn0KgMol, waterPerPolymer, rateHydrolysis, rateThermal, timeS float64) float64 {
	reacted := -math.Expm1(-rateHydrolysis * timeS)
	return 1 / (1/mn0KgMol + waterPerPolymer/WaterMolarMassKgMol*reacted + rateThermal*timeS)
}

// LossToWater returns the share of the number-average molar mass that water costs, against
// the same polymer dry after the same time in the melt:
//
//	1 - M/M_dry = h/(1/Mn0 + k_t·t + h),  h = (W/M_water)·(1 - exp(-k_h·t))
//
// What heat alone cuts stands in both and is not put down to the water. The parameters are
// those of MolarMassAfter. It is 0 without water.
//
// Source: MolarMassAfter with and without water.
func LossToWater(mn0KgMol, waterPerPolymer, rateHydrolysis, rateThermal, timeS float64) float64 {
	cuts := waterPerPolymer / WaterMolarMassKgMol * -math.Expm1(-rateHydrolysis*timeS)
	return cuts / (1/mn0KgMol + rateThermal*timeS + cuts)
}

// ArrheniusFactor returns by what factor a rate with activation energy
// energyJMol changes from fromK to toK (both above 0 K):
//
//	exp(-(E/R)·(1/T_to - 1/T_from))
//
// For the melt flow of PLA E is 75 to 95 kJ/mol (from memory, confirm).
//
// Source: Arrhenius equation.
func ArrheniusFactor(fromK, toK, energyJMol float64) float64 {
	return math.Exp(-energyJMol / GasConstantJMolK * (1/toK - 1/fromK))
}

// ZeroShearViscosity returns the viscosity in Pa s of linear PLA at rest, at
// 180 °C, from its weight-average molar mass:
//
//	η = 10^-14.26·M^3.4,  M in g/mol
//
// Molar masses from different laboratories differ enough to be a factor of 2
// off.
//
// Source: Dorgan 2005, doi 10.1122/1.1896957 (from memory, confirm).
func ZeroShearViscosity(massAverageKgMol float64) float64 {
	return math.Pow(10, -14.26) * math.Pow(1000*massAverageKgMol, 3.4)
}
