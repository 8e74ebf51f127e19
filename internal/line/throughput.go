// Package line computes what a small compounding line does: throughput, puller
// speed and draw-down, time in the melt, the change from one material to the
// next, how powder is spread over pellets and strand, and heat. All functions are
// pure and take SI units.
package line

import "math"

// PullerSpeed returns the speed in m/s at which a strand leaves, from its mass
// flow in kg/s, its density in kg/m³ and its diameter in m, all above 0:
//
//	v = ṁ/(ρ·π/4·d²)
//
// Source: conservation of mass.
func PullerSpeed(massFlowKgS, densityKgM3, diameterM float64) float64 {
	return massFlowKgS / (densityKgM3 * area(diameterM))
}

func area(diameterM float64) float64 { return math.Pi / 4 * diameterM * diameterM }

// SpeedChange returns by what share the puller must run faster so that the
// diameter changes by a share e, above -1, at the same mass flow:
//
//	Δv/v = 1/(1 + e)² - 1
//
// A strand that is to be 1 % thinner needs 2.03 % more speed.
//
// Source: PullerSpeed for two diameters.
func SpeedChange(diameterChange float64) float64 {
	return 1/((1+diameterChange)*(1+diameterChange)) - 1
}

// DrawDown returns how many times faster the strand runs at the puller than the
// melt in the die:
//
//	(d_die/d)²·ρ_melt/ρ_solid
//
// Lengths in m and densities in the same unit, all above 0. By common practice it
// is kept between 1.05 and 2.
//
// Source: conservation of mass.
func DrawDown(dieM, diameterM, meltDensity, solidDensity float64) float64 {
	return dieM * dieM / (diameterM * diameterM) * meltDensity / solidDensity
}

// DieSwell returns by what factor the melt is thicker than the bore that it leaves, before
// anything draws it:
//
//	0.13 + (1 + s²/2)^(1/6)
//
// s is the recoverable shear N1/(2τ) at the wall, from 0: 0 is a melt that is viscous
// only. For PLA it is seldom measured; 0 to 2 covers usual strands.
//
// Source: Tanner 1970, from memory: confirm.
func DieSwell(recoverableShear float64) float64 {
	return 0.13 + math.Pow(1+recoverableShear*recoverableShear/2, 1.0/6)
}

// FilledDieSwell returns the swell of a melt with powder from that of the melt without:
//
//	1 + (B - 1)·(1 - φ/φ_max)
//
// φ is the volume fraction of powder and φ_max its packing limit, both above 0; no swell
// is left at the packing limit. NaN beyond it.
//
// Source: none; a guess that has the sign that was measured (fillers lower the swell).
func FilledDieSwell(plain, volumeFraction, packingLimit float64) float64 {
	if !(volumeFraction <= packingLimit) {
		return math.NaN()
	}
	return 1 + (plain-1)*(1-volumeFraction/packingLimit)
}

// Screw is the metering section of a screw; lengths in m, above 0.
type Screw struct {
	DiameterM float64
	DepthM    float64 // of the channel, small beside the diameter
	LeadM     float64 // of the flight in one turn; that of a square pitch is the diameter
	LengthM   float64 // along the axis; for PressureFlow only
}

// FlightAngle returns the angle of the flight in rad: tan θ = lead/(π·D), 17.66°
// for a square pitch.
//
// Source: geometry of a helix.
func (s Screw) FlightAngle() float64 { return math.Atan(s.LeadM / (math.Pi * s.DiameterM)) }

// DragFlow returns the flow in m³/s that the turning screw drags to an open die, at
// rotationHz turns per second, from 0:
//
//	Q_d = ½·π²·D²·N·H·sin θ·cos θ
//
// For a channel full of melt, without leakage over the flights. Small screws give
// 0.5 to 0.8 of it (from memory, confirm).
//
// Source: Newtonian melt between moving plates; textbooks of extrusion.
func (s Screw) DragFlow(rotationHz float64) float64 {
	sin, cos := math.Sincos(s.FlightAngle())
	return 0.5 * math.Pi * math.Pi * s.DiameterM * s.DiameterM * rotationHz * s.DepthM * sin * cos
}

// PressureFlow returns the flow in m³/s that the pressure at the die, in Pa, drives
// back through the channel, at a viscosity in Pa s, above 0:
//
//	Q_p = π·D·H³·sin²θ·Δp/(12·η·L)
//
// The output is DragFlow less this; where that is not above 0 nothing comes out.
//
// Source: Newtonian melt in a flat channel; textbooks of extrusion.
func (s Screw) PressureFlow(pressurePa, viscosityPaS float64) float64 {
	sin := math.Sin(s.FlightAngle())
	h3 := s.DepthM * s.DepthM * s.DepthM
	return math.Pi * s.DiameterM * h3 * sin * sin * pressurePa / (12 * viscosityPaS * s.LengthM)
}

// MeanResidence returns the mean time in s that melt stands in a volume in m³, at a
// melt density in kg/m³ and a mass flow in kg/s above 0:
//
//	t = V·ρ/ṁ
//
// Source: conservation of mass.
func MeanResidence(volumeM3, meltDensityKgM3, massFlowKgS float64) float64 {
	return volumeM3 * meltDensityKgM3 / massFlowKgS
}

// ScreenTime returns the time in s until the pressure at the screens has doubled,
// from the mass of strand in kg that passes until then and the mass flow in kg/s.
//
// Source: definition of mass flow; that the mass stays the same is common practice.
func ScreenTime(doublingKg, massFlowKgS float64) float64 { return doublingKg / massFlowKgS }
