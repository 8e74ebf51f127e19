package bench

import (
	"context"
	"math"
	"slices"

	"fillwright/internal/wording"
)

// Lift is what one change, or two together, would do to the limit that stops first.
type Lift struct {
	Lever  Lever
	To     float64 // SI
	Also   Lever   // that must be moved too; "" where one change is enough
	AlsoTo float64
	Least  float64 // wt%, where the first then stops
	Next   LimitID // what stops then; "" where nothing does
}

// changes are what a lift changes.
func (l Lift) changes() WhatIf {
	w := WhatIf{l.Lever: l.To}
	if l.Also != "" {
		w[l.Also] = l.AlsoTo
	}
	return w
}

// lifted is what would lift the first limit of a blend, if anything.
type lifted struct {
	lift  Lift
	there bool
	near  []LimitID // the two that lie so close together that no single change helps; else empty
}

// remedies are the levers that act on a limit.
var remedies = map[LimitID][]Lever{
	LimitClog: {LeverSieve, LeverNozzle}, LimitTopSize: {LeverSieve, LeverNozzle}, LimitPickUp: {LeverOil, LeverPellets},
	LimitHydrolysis: {LeverDrying}, LimitBubbles: {LeverDrying}, LimitMoisture: {LeverDrying}, LimitBend: {LeverCore},
}

const (
	// liftEnough is by how much a change must lift a limit to be told, as a share (own judgement).
	liftEnough = 1.05
	// liftLeast is the least content, wt%, that is worth a change (own judgement).
	liftLeast = 0.1
	// liftTries is how many changes are tried at most: the window waits for them (own judgement).
	liftTries = 30
	// liftClear is how far beyond the next limit, over it, a limit is brought before it is
	// drawn: limits are uncertain, and one that likely stops just behind the next still
	// comes first in many draws (own judgement).
	liftClear = 1.5
)

// enough is the content, wt%, that a change must reach to be told.
func enough(least float64) float64 { return math.Max(least*liftEnough, liftLeast) }

// Lift finds the smallest change of a lever that brings the limit that stops a blend first
// behind the next one, or as far as its lever goes; where no single one helps, two changes
// together, one for each of the first two limits; false where those do not help either. It
// is remembered. Of limits that were drawn it tells what was drawn with them: see
// DrawLimits.
func (s *Sheet) Lift(blend int) (Lift, bool) {
	found := s.liftOf(blend)
	return found.lift, found.there
}

// CloseLimits are the two limits that lie so close together that no single change, and no
// two, lift a blend by much; false where that is not what it is.
func (s *Sheet) CloseLimits(blend int) (first, second LimitID, near bool) {
	found := s.liftOf(blend)
	if len(found.near) < 2 {
		return "", "", false
	}
	return found.near[0], found.near[1], true
}

func (s *Sheet) liftOf(blend int) *lifted {
	if blend < 0 || blend >= len(s.lifts) {
		return &lifted{}
	}
	if s.lifts[blend] == nil {
		s.lifts[blend] = s.findLift(s.Limits(blend))
	}
	return s.lifts[blend]
}

// findLift looks for changes at the best estimates.
func (s *Sheet) findLift(sheet *LimitSheet) *lifted {
	r := s.newLifter(sheet, 1)
	if r == nil {
		return &lifted{}
	}
	least := enough(r.least(r.now))
	var near []LimitID
	for try := range r.singles() {
		lift := r.told(try)
		if lift.Least >= least {
			return &lifted{lift: lift, there: true}
		}
		if near == nil {
			near = r.closeBy(lift)
		}
	}
	for try := range r.pairs() {
		if lift := r.told(try); lift.Least >= least {
			return &lifted{lift: lift, there: true}
		}
	}
	return &lifted{near: near}
}

// DrawLimits runs the Monte Carlo method for the limits of one blend, and for what would
// lift the first of them: changes are found at the best estimates, and told with what was
// drawn for them. It leaves alone what the sheet remembers, so that it can run beside the
// window.
func (s *Sheet) DrawLimits(ctx context.Context, blend int, d Drawing) (LimitDraws, error) {
	first := s.Model.Limits(s.project, s, blend)
	drawn, err := s.Model.DrawLimits(ctx, blend, d)
	if err != nil {
		return LimitDraws{}, err
	}
	sheet := first.WithDraws(s.Model, drawn)
	if drawn.lift, err = s.drawLift(ctx, &sheet, d); err != nil {
		return LimitDraws{}, err
	}
	return drawn, nil
}

// liftDraws are the draws from which it is told what a change does (own judgement: its
// median is told to two digits).
const liftDraws = 1 << 11

// drawLift draws the changes that may help, until one does.
func (s *Sheet) drawLift(ctx context.Context, sheet *LimitSheet, d Drawing) (*lifted, error) {
	r := s.newLifter(sheet, liftClear)
	if r == nil {
		return &lifted{}, nil
	}
	d.Draws, d.Digits, d.Progress = min(orUsualDraws(d.Draws, liftDraws), liftDraws), 0, nil
	least := enough(sheet.Least.Value)
	var near []LimitID
	for try := range r.few() {
		lift, err := s.liftDrawn(ctx, sheet.Blend, r.told(try), d)
		if err != nil {
			return nil, err
		}
		if lift.Least >= least {
			return &lifted{lift: lift, there: true}, nil
		}
		if near == nil {
			near = r.closeBy(lift)
		}
	}
	return &lifted{near: near}, nil
}

// liftDrawn tells a lift as it is drawn: where the first limit then likely stops is defined as
// it is for the blend as it is.
func (s *Sheet) liftDrawn(ctx context.Context, blend int, lift Lift, d Drawing) (Lift, error) {
	then, err := lift.changes().Draw(ctx, s.project, blend, d)
	if err != nil {
		return Lift{}, err
	}
	lift.Least, lift.Next = then.Least.Value, ""
	if next := then.Binding(); next != nil {
		lift.Next = next.ID
	}
	return lift, nil
}

// liftWords are the sentences about what would lift the first limit of a blend.
func (s *Sheet) liftWords(blend int) []Answer {
	found := s.liftOf(blend)
	switch most := s.Limits(blend).Most; {
	case found.there && found.lift.Also != "":
		return []Answer{found.lift.pairWords(most)}
	case found.there:
		return []Answer{found.lift.Words(most)}
	}
	return s.CloseWords(blend)
}

// CloseWords name the two limits that lie so close together that no single change helps.
func (s *Sheet) CloseWords(blend int) []Answer {
	first, second, near := s.CloseLimits(blend)
	if !near {
		return nil
	}
	return []Answer{{"limits_close", map[string]any{"First": first.said(), "Second": second.said()}}}
}

// NoLift reports whether something stops a blend first and no change lifts it.
func (s *Sheet) NoLift(blend int) bool {
	return s.Limits(blend).Binding() != nil && !s.liftOf(blend).there
}

// liftDone are what is done to lift a limit, within a sentence, by lever.
var liftDone = map[Lever]string{
	LeverSieve: "limits_do_sieve", LeverDrying: "limits_do_drying", LeverNozzle: "limits_do_nozzle",
	LeverPellets: "limits_do_pellets", LeverOil: "limits_do_oil", LeverCore: "limits_do_core",
}

// done is a change within a sentence.
func done(l Lever, to float64) Answer {
	unit, perSI := l.Unit()
	id := liftDone[l]
	if l == LeverPellets && to >= wholePelletM {
		id = "limits_do_whole"
	}
	return Answer{id, map[string]any{"Value": number(to*perSI, unit, 3)}}
}

// pairWords is the sentence about two changes; most is the end of the axis, wt%.
func (l Lift) pairWords(most float64) Answer {
	values := map[string]any{
		"Change": done(l.Lever, l.To), "Other": done(l.Also, l.AlsoTo), "Least": number(l.Least, "wt%", 2),
	}
	if l.Next == "" || l.Least >= most {
		return Answer{"limits_lift_both_free", values}
	}
	values["Next"] = l.Next.said()
	return Answer{"limits_lift_both", values}
}

// actsOn reports whether a lever acts on a limit.
func (l Lever) actsOn(id LimitID) bool { return slices.Contains(remedies[id], l) }

// said is the catalogue ID of a limit within a sentence.
func (id LimitID) said() wording.ID { return wording.ID("limit_said." + string(id)) }
