package bench

import (
	"iter"
	"math"
	"slices"
)

// lifter tries changes of levers on the limits that stop a blend first, at the best
// estimates.
type lifter struct {
	sheet  *Sheet
	of     *LimitSheet
	limits []LimitID // the first, and the one that comes next where there is one
	levers []leverPlaces
	clear  float64 // how far beyond the next limit, over it, the first is brought
	now    []limitAt
	tries  int // that are left
}

// leverPlaces are the places that a lever can be put to, nearest first.
type leverPlaces struct {
	lever  Lever
	places []float64
}

// limitAt is the filler content, wt%, that a limit allows.
type limitAt struct {
	id      LimitID
	allowed float64
}

// liftTry is what one change, or two, came to.
type liftTry struct {
	levers []leverPlaces
	moved  []int // by how many places each
	limits []limitAt
}

// newLifter is nil where nothing stops the blend.
func (s *Sheet) newLifter(of *LimitSheet, clear float64) *lifter {
	first := of.Binding()
	if first == nil {
		return nil
	}
	r := &lifter{sheet: s, of: of, limits: []LimitID{first.ID}, clear: clear, tries: liftTries}
	if len(of.Limits) > 1 && of.Limits[1].Stops() && of.Limits[1].State != LimitFree {
		r.limits = append(r.limits, of.Limits[1].ID)
	}
	for _, l := range s.LeverRanges(of.Blend) {
		if places := s.worthTrying(l, of.Blend); l.Given() && len(places) > 0 {
			r.levers = append(r.levers, leverPlaces{l.Lever, places})
		}
	}
	r.now = r.try(WhatIf{})
	return r
}

// worthTrying are the places of a lever beyond where it stands.
func (s *Sheet) worthTrying(l LeverRange, blend int) []float64 {
	limit := s.Blends[blend].Results[MoistureLimit]
	return slices.DeleteFunc(l.beyond(), func(to float64) bool {
		return l.Lever == LeverDrying && limit.Known() && to*100 > limit.Value // the polymer's own limit asks for more, and a note says so
	})
}

// try works out what each limit allows after some changes.
func (r *lifter) try(changes WhatIf) (list []limitAt) {
	r.tries--
	q := changes.Apply(r.sheet.project, r.of.Blend)
	m := Compile(&q)
	v := m.newLimitSolver(r.of.Blend, limitGrid)
	allowed := make([]float64, len(m.limits))
	v.solve(m.Nominal(), allowed)
	for i, w := range allowed {
		if finite(w) && !m.limits[i].advice {
			list = append(list, limitAt{m.limits[i].id, min(w, m.axis) * 100})
		}
	}
	if w := v.bend(); finite(w) {
		list = append(list, limitAt{LimitBend, w * 100})
	}
	return list
}

// singles tries each lever that acts on the first limit.
func (r *lifter) singles() iter.Seq[liftTry] {
	return func(yield func(liftTry) bool) {
		for _, l := range r.levers {
			if !l.lever.actsOn(r.limits[0]) {
				continue
			}
			if try, found := r.walk(r.limits[:1], []leverPlaces{l}); found && !yield(try) {
				return
			}
		}
	}
}

// pairs tries each lever that acts on the first limit with each that acts on the next one.
func (r *lifter) pairs() iter.Seq[liftTry] {
	return func(yield func(liftTry) bool) {
		if len(r.limits) < 2 {
			return
		}
		for _, a := range r.levers {
			for _, b := range r.levers {
				if a.lever == b.lever || !a.lever.actsOn(r.limits[0]) || !b.lever.actsOn(r.limits[1]) || r.hopeless(a.lever, b.lever) {
					continue
				}
				if try, found := r.walk(r.limits, []leverPlaces{a, b}); found && !yield(try) {
					return
				}
			}
		}
	}
}

// few are the changes that are drawn: each takes as long as some thousand tries.
func (r *lifter) few() iter.Seq[liftTry] {
	return func(yield func(liftTry) bool) {
		for try := range r.singles() {
			if !yield(try) {
				return
			}
		}
		for try := range r.pairs() {
			yield(try)
			return
		}
	}
}

// closeBy are the first limit and the one that keeps a change of a single lever from
// bringing anything; nil where it is still the first that stops, or where two were moved.
func (r *lifter) closeBy(lift Lift) []LimitID {
	if lift.Also != "" || lift.Next == "" || lift.Next == r.limits[0] {
		return nil
	}
	return []LimitID{r.limits[0], lift.Next}
}

// hopeless reports whether a limit that none of two levers acts on stops too soon anyway.
func (r *lifter) hopeless(a, b Lever) bool {
	rest := r.of.Most
	for _, l := range r.now {
		if !a.actsOn(l.id) && !b.actsOn(l.id) {
			rest = math.Min(rest, l.allowed)
		}
	}
	return rest*r.clear < enough(r.least(r.now))
}

// walk moves levers, each of which acts on the limit of the same place, one step after the
// other: always the one whose limit stops first, until all stop behind the rest or no lever
// goes further. It returns the least change that brings them as far; false where moving
// all of them brings nothing.
func (r *lifter) walk(limits []LimitID, levers []leverPlaces) (best liftTry, found bool) {
	moved, now, reached := make([]int, len(levers)), r.now, r.reach(r.now, limits)
	for r.tries > 0 {
		k := r.behind(now, limits, levers, moved)
		if k < 0 {
			break
		}
		moved[k]++
		try := liftTry{levers: levers, moved: slices.Clone(moved)}
		try.limits = r.try(try.changes())
		now = try.limits
		if reach := r.reach(now, limits); slices.Min(moved) > 0 && reach > reached*(1+1e-9) {
			best, reached, found = try, reach, true
		}
	}
	return best, found
}

// behind is the lever whose limit stops first of those that are not yet clear of the rest
// and whose levers go further, or -1.
func (r *lifter) behind(now []limitAt, limits []LimitID, levers []leverPlaces, moved []int) int {
	next, least := -1, r.clear*r.rest(now, limits)
	for k, id := range limits {
		if at := r.allowed(now, id); at < least && moved[k] < len(levers[k].places) {
			next, least = k, at
		}
	}
	return next
}

// reach is how far some limits let a blend go: what they allow, and no farther than counts.
func (r *lifter) reach(now []limitAt, limits []LimitID) float64 {
	far := r.clear * r.rest(now, limits)
	for _, id := range limits {
		far = math.Min(far, r.allowed(now, id))
	}
	return far
}

// rest is what all limits but some allow.
func (r *lifter) rest(now []limitAt, but []LimitID) float64 {
	least := r.of.Most
	for _, l := range now {
		if !slices.Contains(but, l.id) {
			least = math.Min(least, l.allowed)
		}
	}
	return least
}

func (r *lifter) least(now []limitAt) float64 { return r.rest(now, nil) }

// allowed is what one limit allows; the end of the axis where that is not known any more.
func (r *lifter) allowed(now []limitAt, id LimitID) float64 {
	for _, l := range now {
		if l.id == id {
			return l.allowed
		}
	}
	return r.of.Most
}

// changes are the levers as they were moved.
func (t *liftTry) changes() WhatIf {
	w := WhatIf{}
	for k, l := range t.levers {
		if t.moved[k] > 0 {
			w[l.lever] = l.places[t.moved[k]-1]
		}
	}
	return w
}

// told is a try as it is told.
func (r *lifter) told(t liftTry) Lift {
	lift := Lift{Lever: t.levers[0].lever, To: t.levers[0].places[t.moved[0]-1], Least: r.of.Most}
	if len(t.levers) > 1 {
		lift.Also, lift.AlsoTo = t.levers[1].lever, t.levers[1].places[t.moved[1]-1]
	}
	for _, l := range t.limits {
		if l.allowed < lift.Least {
			lift.Least, lift.Next = l.allowed, l.id
		}
	}
	return lift
}
