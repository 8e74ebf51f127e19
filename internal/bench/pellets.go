package bench

import (
	"math"

	"fillwright/internal/material"
)

// onPellets is the powder of a blend as it lies on the pellets.
type onPellets struct {
	size, density, bulk, finer float64 // of all powder: see pelletsOf
	grain                      float64 // mean mass of a grain, weighted by mass
	polymer                    float64 // density of the pellets
	loading                    float64 // powder over powder and polymer
	oiled                      bool    // a film of oil holds grains of every size
}

// pelletsOf is the powder of a blend as it lies on the pellets. What several powders are
// together follows from their masses m:
//
//	density  Σm/Σ(m/ρ)                  of the grain, and as poured
//	size     Σ(m/ρ)/Σ(m/(ρ·d))          d the D50, at most the size up to which grains adhere
//	finer    Σ(m·s)/Σm                  share of the mass that adheres
//	grain    Σ(m·ρ·(π/6)·D50³)/Σm
//
// With that size the layer of all takes the surface that those of each take together, and
// with that share as much falls off as of each. What is not known of any powder that is
// there is not known of all.
//
// Source: sums of volumes, of surfaces (the mean of Sauter) and of masses.
func (m *Model) pelletsOf(b *blendPlan, x []float64, st *state) onPellets {
	p := onPellets{polymer: math.NaN(), loading: st.loose / (st.loose + st.polymer)}
	if b.main >= 0 {
		p.polymer = get(x, b.parts[b.main].density)
	}
	p.oiled = m.line.dryAdhesion && b.addedOil(st) >= oilFilm*(1-1e-9)
	var mass, volume, poured, surface float64
	for i := range b.parts {
		k, w := b.parts[i].powder, st.w[i]
		if b.parts[i].kind != material.Filler || w == 0 {
			continue
		}
		density, size := get(x, m.powders[k].density), get(x, m.powders[k].d50)
		held, finer := m.adhering(x, size, get(x, m.powders[k].finer), p.oiled)
		mass += w
		volume += w / density
		poured += w / get(x, m.powders[k].bulk)
		surface += w / (density * held)
		p.finer += w * finer
		p.grain += w * density * math.Pi / 6 * cube(size)
	}
	p.density, p.bulk, p.size = mass/volume, mass/poured, volume/surface
	p.finer, p.grain = p.finer/mass, p.grain/mass
	return p
}

// adhering is the size that counts of grains, at most that up to which they adhere, and the
// share of their mass that does; while that is not known the median stands for all.
func (m *Model) adhering(x []float64, size, finer float64, oiled bool) (held, share float64) {
	if oiled {
		return size, 1
	}
	adhesion := get(x, m.line.adhesion)
	switch {
	case !math.IsNaN(finer):
		share = finer
	case !(size > adhesion):
		share = 1
	}
	if adhesion < size {
		size = adhesion
	}
	return size, share
}

// pieceMasses are the mean masses of pellets, ground ones among them, and of grains,
// weighted by mass.
func (m *Model) pieceMasses(x []float64, p onPellets) (pellet, grain float64) {
	l := &m.line
	pellet = p.polymer * math.Pi / 4 * get(x, l.pelletD) * get(x, l.pelletD) * get(x, l.pelletL)
	if l.ground >= 0 && x[l.ground] > 0 {
		pellet = (1-x[l.ground])*pellet + x[l.ground]*p.polymer*math.Pi/6*cube(get(x, l.groundSize))
	}
	return pellet, p.grain
}
