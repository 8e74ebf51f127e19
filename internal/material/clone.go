package material

import "slices"

// Clone returns a copy that shares no memory with m.
func (m *Material) Clone() Material {
	own := *m
	own.Extra = slices.Clone(m.Extra)
	own.Sources = each(m.Sources, func(s *Source) { s.Extra = slices.Clone(s.Extra) })
	own.Powder = m.Powder.clone()
	own.Regrind.Extra = slices.Clone(m.Regrind.Extra)
	return own
}

// each copies a list and lets own detach every element of the copy.
func each[T any](list []T, own func(*T)) []T {
	out := slices.Clone(list)
	for i := range out {
		own(&out[i])
	}
	return out
}

func (p Powder) clone() Powder {
	p.Extra = slices.Clone(p.Extra)
	p.Drying.Extra = slices.Clone(p.Drying.Extra)
	p.Drying.Runs = each(p.Drying.Runs, (*DryingRun).detach)
	p.Storage.Extra = slices.Clone(p.Storage.Extra)
	p.Preparation.Extra = slices.Clone(p.Preparation.Extra)
	p.Preparation.Steps = each(p.Preparation.Steps, func(s *Step) { s.Extra = slices.Clone(s.Extra) })
	p.Sieving.Extra = slices.Clone(p.Sieving.Extra)
	p.Sieving.Sieves = each(p.Sieving.Sieves, func(s *Sieve) { s.Extra = slices.Clone(s.Extra) })
	p.Clogging.Extra = slices.Clone(p.Clogging.Extra)
	p.Clogging.Control.Extra = slices.Clone(p.Clogging.Control.Extra)
	p.Clogging.Inspections = each(p.Clogging.Inspections, func(i *Inspection) { i.Extra = slices.Clone(i.Extra) })
	p.Clogging.Prints = each(p.Clogging.Prints, func(r *NozzleRun) { r.Extra = slices.Clone(r.Extra) })
	p.Grain.Extra = slices.Clone(p.Grain.Extra)
	return p
}

func (r *DryingRun) detach() {
	r.Extra = slices.Clone(r.Extra)
	r.Trays = slices.Clone(r.Trays)
	r.Readings = each(r.Readings, func(d *DryingReading) {
		d.Extra = slices.Clone(d.Extra)
		d.Masses = slices.Clone(d.Masses)
	})
}
