package filler

// DustFilm returns the mass in kg of a film of dust: density as poured in kg/m³ times
// thickness in m times area in m², all from 0.
//
// Source: definition of the density as poured.
func DustFilm(bulkKgM3, thicknessM, areaM2 float64) float64 {
	return bulkKgM3 * thicknessM * areaM2
}

// ExplosiveDust returns the mass in kg of dust that, whirled up, brings a room to the least
// concentration that can explode: that in kg/m³ times the volume in m³, both from 0.
//
// Source: definition of the lower explosion limit; that of organic dusts is about 60 g/m³,
// from memory: confirm.
func ExplosiveDust(leastKgM3, roomM3 float64) float64 { return leastKgM3 * roomM3 }
