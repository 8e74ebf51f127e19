package bench

import (
	"cmp"
	"context"
	"math"
	"slices"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// Lever is something that can be changed to carry more powder.
type Lever string

// The levers, in the order in which they are shown.
const (
	LeverSieve   Lever = "sieve"
	LeverDrying  Lever = "drying"
	LeverNozzle  Lever = "nozzle"
	LeverPellets Lever = "pellets"
	LeverOil     Lever = "oil"
	LeverCore    Lever = "core"
)

// Levers lists them.
func Levers() []Lever {
	return []Lever{LeverSieve, LeverDrying, LeverNozzle, LeverPellets, LeverOil, LeverCore}
}

// Unit and factor from SI of a lever's values.
func (l Lever) Unit() (unit string, perSI float64) {
	switch l {
	case LeverSieve:
		return "µm", 1e6
	case LeverDrying:
		return "%", 100
	case LeverOil:
		return "wt%", 100
	}
	return "mm", 1e3
}

// WhatIf is what would be changed, in SI.
type WhatIf map[Lever]float64

// LeverRange is where a lever stands, and where it can be put.
type LeverRange struct {
	Lever Lever
	Now   float64   // NaN while it is not given
	Stops []float64 // in rising order, Now among them
}

// leverStops are the usual places of each lever.
var leverStops = map[Lever][]float64{
	LeverSieve:   {45e-6, 63e-6, 75e-6, 90e-6, 106e-6, 125e-6, 150e-6, 180e-6, 250e-6},
	LeverDrying:  {0.0005, 0.001, 0.002, 0.003, 0.005, 0.008, 0.01, 0.015, 0.02, 0.03, 0.05},
	LeverNozzle:  {0.25e-3, 0.4e-3, 0.6e-3, 0.8e-3, 1e-3},
	LeverPellets: {0.3e-3, 0.5e-3, 0.7e-3, 1e-3, 2e-3, 3e-3},
	LeverOil:     {0, 0.001, 0.002, 0.003, 0.005},
	LeverCore:    {0.04, 0.05, 0.06, 0.08, 0.1, 0.12, 0.15},
}

// LeverRanges tells what can be changed of a blend.
func (s *Sheet) LeverRanges(blend int) (list []LeverRange) {
	if blend < 0 || blend >= len(s.Blends) || !s.Blends[blend].Filled {
		return nil
	}
	for _, l := range Levers() {
		r := LeverRange{Lever: l, Now: s.lever(l, blend), Stops: slices.Clone(leverStops[l])}
		if l == LeverOil && oilPart(s.project, blend) < 0 {
			continue
		}
		if finite(r.Now) && !slices.ContainsFunc(r.Stops, func(v float64) bool { return sameStop(v, r.Now) }) {
			r.Stops = append(r.Stops, r.Now)
			slices.Sort(r.Stops)
		}
		list = append(list, r)
	}
	return list
}

func sameStop(a, b float64) bool { return math.Abs(a-b) <= 1e-6*math.Abs(b)+1e-12 }

// lever is where a lever stands; NaN while it is not given.
func (s *Sheet) lever(l Lever, blend int) float64 {
	p, m := s.project, s.Model
	plan := m.powderOf(blend)
	switch l {
	case LeverSieve:
		return orAbsent(p.Materials[plan.material].Powder.Sieving.CheckSieve)
	case LeverDrying:
		return get(m.best(), plan.moisture)
	case LeverNozzle:
		return orAbsent(p.Print.Nozzle)
	case LeverPellets:
		if sp := &p.Line.Spreading; sp.Ground.SI() > 0 && sp.GroundSize.Given() {
			return sp.GroundSize.SI()
		}
		return orAbsent(p.Line.Spreading.PelletDiameter)
	case LeverOil:
		if part := oilPart(p, blend); part >= 0 {
			if st, ok := m.nominalState(&m.blends[blend]); ok {
				return st.w[part]
			}
		}
		return math.NaN()
	}
	return orAbsent(p.Spool.Reel.Core)
}

func orAbsent[D quantity.Dim](q quantity.Of[D]) float64 {
	if !q.Given() {
		return math.NaN()
	}
	return q.SI()
}

// oilPart is the part of a blend that is an oil, or -1.
func oilPart(p *project.Project, blend int) int {
	if blend < 0 || blend >= len(p.Blends) {
		return -1
	}
	return slices.IndexFunc(p.Blends[blend].Parts, func(part project.Part) bool {
		class := p.Materials[p.MaterialByID(part.Material)].Class
		return class == material.VegetableOil || class == material.MineralOil
	})
}

// Apply is a project in which the levers of a blend stand elsewhere. It changes the powder
// of the blend itself: see MakeBlend for how a maker keeps both. What was counted of large
// grains belongs to the powder as it was sieved before, and is left out for another sieve,
// unless that one is finer and its grain sizes tell worse than what was counted;
// bend tests belong to strand of the powder as it was, and are left out for another. Strength
// points stay: grains that are finer or drier hold no worse (common practice).
func (w WhatIf) Apply(p *project.Project, blend int) project.Project {
	q := project.Clone(*p)
	powder := firstPowderOf(&q, blend)
	if powder >= 0 {
		w.onPowder(&q, powder)
		if w.otherPowder() {
			q.Spool.Bend.Tests = slices.DeleteFunc(q.Spool.Bend.Tests, func(t project.BendTest) bool {
				return t.Blend != "" && firstPowderOf(&q, q.BlendByID(t.Blend)) == powder
			})
		}
	}
	w.onLine(&q)
	if oil, set := w[LeverOil]; set {
		w.onOil(&q, blend, oil)
	}
	return q
}

// otherPowder reports whether the powder would be sieved or dried otherwise.
func (w WhatIf) otherPowder() bool {
	_, sieved := w[LeverSieve]
	_, dried := w[LeverDrying]
	return sieved || dried
}

// onPowder changes how a powder was sieved and dried.
func (w WhatIf) onPowder(p *project.Project, powder int) {
	m := &p.Materials[powder]
	if opening, set := w[LeverSieve]; set {
		before, counted := largeGrains(p, powder), m.Powder.Clogging
		finer := opening < m.Powder.Sieving.CheckSieve.SI()
		m.Powder.Sieving.CheckSieve = quantity.FromSI[quantity.Length](opening, "um", 0)
		m.Powder.Clogging = material.Clogging{Extra: counted.Extra}
		if finer && !(largeGrains(p, powder) <= before) { // a finer sieve makes no grains
			m.Powder.Clogging = counted
		}
	}
	if moisture, set := w[LeverDrying]; set {
		m.Moisture = quantity.FromSI[quantity.Fraction](moisture, "%", 3)
		m.Powder.Drying.SetAside = true
		m.Powder.Storage = material.Storage{Extra: m.Powder.Storage.Extra}
	}
}

// largeGrains are how many grains above the critical size a powder likely holds, 1/kg; NaN
// while nothing tells that.
func largeGrains(p *project.Project, powder int) float64 {
	m := Compile(p)
	for i := range m.powders {
		if plan := &m.powders[i]; plan.material == powder && plan.grains >= 0 {
			return m.best()[plan.grains]
		}
	}
	return math.NaN()
}

// wholePelletM is the size from which pellets count as whole; smaller ones are ground (common
// practice).
const wholePelletM = 1.5e-3

// onLine changes nozzle, pellets and reel, which all blends share.
func (w WhatIf) onLine(p *project.Project) {
	if bore, set := w[LeverNozzle]; set {
		p.Print.Nozzle = quantity.FromSI[quantity.Length](bore, "mm", 2)
	}
	if core, set := w[LeverCore]; set {
		p.Spool.Reel.Core = quantity.FromSI[quantity.Length](core, "mm", 0)
	}
	if size, set := w[LeverPellets]; set {
		s := &p.Line.Spreading
		if size < wholePelletM {
			if !(s.Ground.SI() > 0) { // else as much is ground as before
				s.Ground = quantity.FromSI[quantity.Fraction](1, "%", 0)
			}
			s.GroundSize = quantity.FromSI[quantity.Length](size, "mm", 2)
		} else {
			s.PelletDiameter = quantity.FromSI[quantity.Length](size, "mm", 2)
			s.PelletLength = s.PelletDiameter
			s.Ground, s.GroundSize = quantity.Of[quantity.Fraction]{}, quantity.Of[quantity.Length]{}
		}
	}
}

func (w WhatIf) onOil(p *project.Project, blend int, share float64) {
	part := oilPart(p, blend)
	if part < 0 {
		return
	}
	p.Blends[blend].Parts[part].Amount = project.Content(quantity.FromSI[quantity.Content](share, "wt%", 2))
}

// With is the sheet of limits of a blend with the levers elsewhere.
func (w WhatIf) With(p *project.Project, blend int) *LimitSheet {
	q := w.Apply(p, blend)
	return Evaluate(&q).Limits(blend)
}

// Draw is the same sheet by the Monte Carlo method. It touches nothing but the project, so
// that it can be worked out beside the window.
func (w WhatIf) Draw(ctx context.Context, p *project.Project, blend int, d Drawing) (*LimitSheet, error) {
	q := w.Apply(p, blend)
	s := Evaluate(&q)
	first := s.Limits(blend)
	if !first.Known {
		return first, nil
	}
	drawn, err := s.Model.DrawLimits(ctx, blend, d)
	if err != nil {
		return nil, err
	}
	sheet := first.WithDraws(s.Model, drawn)
	return &sheet, nil
}

// beyond are the places of a lever in the direction that carries more powder, from the
// nearest on.
func (r LeverRange) beyond() (list []float64) {
	for _, v := range r.Stops {
		up := r.Lever == LeverNozzle || r.Lever == LeverCore || r.Lever == LeverOil
		if !sameStop(v, r.Now) && (v > r.Now) == up {
			list = append(list, v)
		}
	}
	slices.SortFunc(list, func(a, b float64) int { return cmp.Compare(math.Abs(a-r.Now), math.Abs(b-r.Now)) })
	return list
}

// Given reports whether the project says where a lever stands.
func (r LeverRange) Given() bool { return finite(r.Now) }

// Make is the filler content of a blend that is made of what is allowed: where the first
// limit likely stops, rounded down to a tenth of a percent; 0 where
// that is none, or where no polymer gives place.
func (s *LimitSheet) Make() float64 {
	if !s.Known || !s.mixable || !s.Least.Known() {
		return 0
	}
	return math.Floor(s.Least.Value*10) / 10
}
