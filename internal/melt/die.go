package melt

import "math"

// Diameters of the standard plastometer, and the load of most tests.
const (
	PistonM     = 9.474e-3 // of the piston's head
	BarrelM     = 9.550e-3
	UsualLoadKg = 2.16
	gravityMS2  = 9.80665 // standard acceleration, exact by definition
)

// Die is a capillary; both lengths above 0.
type Die struct{ DiameterM, LengthM float64 }

// StandardDie is that of ISO 1133-1 and ASTM D1238.
var StandardDie = Die{DiameterM: 2.095e-3, LengthM: 8.000e-3}

// WallStress returns the apparent shear stress in Pa at the wall of the die
// under a load in kg, piston included:
//
//	Δp = m·g/(π/4·D²),  τ = Δp·d/(4·L)
//
// acrossM is D, what the load presses on: PistonM, or BarrelM for 1.6 % less.
// For 2.16 kg and the standard die they give 19672 and 19360 Pa. What the melt
// loses on its way into a die this short is not taken off: the true stress is 10
// to 30 % lower (from memory, confirm).
//
// Source: balance of forces. Shenoy and Saini 1986 have 9130 Pa per kg (from
// memory, confirm), 0.25 % above.
func (d Die) WallStress(loadKg, acrossM float64) float64 {
	pressure := loadKg * gravityMS2 / (math.Pi / 4 * acrossM * acrossM)
	return pressure * d.DiameterM / (4 * d.LengthM)
}

// ApparentRate returns the apparent shear rate in 1/s at the wall of the die at
// a flow in m³/s:
//
//	γ̇ = 4·Q/(π·R³)
//
// A melt that thins with shear has (3n + 1)/(4n) of this at the wall, after
// Rabinowitsch, 1.06 times for a slope n of ln τ over ln γ̇ of 0.8 and 1.25 times
// for 0.5. One test does not tell n, so that factor is left out.
//
// Source: flow of a Newtonian melt through a capillary.
func (d Die) ApparentRate(volumeM3S float64) float64 {
	r := d.DiameterM / 2
	return 4 * volumeM3S / (math.Pi * r * r * r)
}

// ApparentViscosity returns the viscosity in Pa s that a melt-flow test shows:
//
//	η = τ/γ̇
//
// with WallStress and ApparentRate of the standard die and piston, massKgS the
// melt-flow rate in kg/s and the melt density in kg/m³, all above 0. For 2.16 kg
// it is 10655·ρ/MFR with ρ in g/cm³ and MFR in g/10 min.
//
// Source: definition of viscosity.
func ApparentViscosity(massKgS, loadKg, meltDensityKgM3 float64) float64 {
	return StandardDie.WallStress(loadKg, PistonM) / StandardDie.ApparentRate(massKgS/meltDensityKgM3)
}
