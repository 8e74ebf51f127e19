package filler

import (
	"errors"
	"math"
)

// ErrNotMeasured and those below it are refusals of measurements that cannot be.
var (
	// ErrNotMeasured is given for a mass, volume or density that is not above 0,
	// or a moisture outside 0 to 1.
	ErrNotMeasured = errors.New("filler: a measured number is missing or out of range")
	// ErrNothingDisplaced is given when the vessel with powder weighs as much as
	// vessel and powder together or more, so that the powder took no room.
	ErrNothingDisplaced = errors.New("filler: the powder displaced no liquid")
	// ErrPackingImpossible is given when the bulk of the powder would be denser
	// than its grains.
	ErrPackingImpossible = errors.New("filler: the packed powder is denser than its grains")
)

// bareWaterKgM3 stands for the water in moist powder.
const bareWaterKgM3 = 998.2

// WaterDensity returns the density in kg/m³ of pure water, free of air, at
// normal pressure:
//
//	ρ = a5·(1 - (t + a1)²·(t + a2)/(a3·(t + a4))),  t in °C
//
// Valid from 0 to 40 °C; NaN outside. Tap water and water with air in it differ
// in the fifth digit.
//
// Source: Tanaka and others, Metrologia 38 (2001) 301.
func WaterDensity(tempK float64) float64 {
	t := tempK - zeroCelsiusK
	if !(t >= 0 && t <= 40) {
		return math.NaN()
	}
	const a1, a2, a3, a4, a5 = -3.983035, 301.797, 522528.9, 69.34881, 999.974950
	return a5 * (1 - (t+a1)*(t+a1)*(t+a2)/(a3*(t+a4)))
}

// Displacement is a measurement of the density of grains in a vessel that is
// filled twice to the same mark.
type Displacement struct {
	FilledKg    float64 // vessel full of liquid alone, m_1
	PowderKg    float64 // powder alone, as weighed, m_2
	TogetherKg  float64 // vessel with the powder, filled up with liquid, m_3
	LiquidKgM3  float64 // density of the liquid at the temperature of the measurement
	MoistureWet float64 // water in the powder per wet mass, 0 to below 1; 0 for dry powder
}

// GrainDensity returns the density in kg/m³ of the dry grains:
//
//	V   = (m_1 + m_2 - m_3)/ρ_liquid
//	ρ_s = m_2·(1 - M)/(V - m_2·M/ρ_water)
//
// which for dry powder is m_2·ρ_liquid/(m_1 + m_2 - m_3). The volume is the one
// that the liquid does not get into: air left in pores makes it too large, and
// the density too low. The water in the powder is taken to fill a volume of its
// own, at the density of plain water. Of errors see ErrNotMeasured and
// ErrNothingDisplaced; numbers that are possible but unlikely are not refused.
//
// Source: pycnometer method, balance of volumes.
func (d Displacement) GrainDensity() (float64, error) {
	for _, v := range []float64{d.FilledKg, d.PowderKg, d.TogetherKg, d.LiquidKgM3} {
		if !positive(v) {
			return 0, ErrNotMeasured
		}
	}
	if !(d.MoistureWet >= 0 && d.MoistureWet < 1) {
		return 0, ErrNotMeasured
	}
	volume := (d.FilledKg + d.PowderKg - d.TogetherKg) / d.LiquidKgM3
	density := d.PowderKg * (1 - d.MoistureWet) / (volume - d.PowderKg*d.MoistureWet/bareWaterKgM3)
	if !(volume > 0) || !positive(density) {
		return 0, ErrNothingDisplaced
	}
	return density, nil
}

// DryBulkDensity returns the mass of dry powder per volume, in kg/m³, of powder
// that weighs massKg moist, fills volumeM3 and holds moistureWet of water per
// wet mass:
//
//	ρ = m·(1 - M)/V
//
// Poured it is the bulk density, tapped until it settles no more the tapped
// density. The error is ErrNotMeasured.
//
// Source: definition.
func DryBulkDensity(massKg, volumeM3, moistureWet float64) (float64, error) {
	density := massKg * (1 - moistureWet) / volumeM3
	if !positive(massKg) || !positive(volumeM3) || !(moistureWet >= 0 && moistureWet < 1) || !positive(density) {
		return 0, ErrNotMeasured
	}
	return density, nil
}

// PackingLimit returns the share of grains in the volume of tapped powder, above 0
// and below 1, from its tapped density and the density of its grains, both in kg/m³
// and on dry mass:
//
//	limit = ρ_t/ρ_s
//
// Tapped powder stands in for the densest packing of grains in a melt; moist and
// fibrous powders pack looser dry than in the melt. Errors: ErrNotMeasured,
// ErrPackingImpossible.
//
// Source: definition.
func PackingLimit(tappedKgM3, grainKgM3 float64) (float64, error) {
	switch {
	case !positive(tappedKgM3) || !positive(grainKgM3):
		return 0, ErrNotMeasured
	case tappedKgM3 >= grainKgM3:
		return 0, ErrPackingImpossible
	}
	return tappedKgM3 / grainKgM3, nil
}

// positive tells whether v is a finite number above 0.
func positive(v float64) bool { return v > 0 && !math.IsInf(v, 1) }
