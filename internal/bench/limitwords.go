package bench

import (
	"math"

	"fillwright/internal/wording"
)

// Words are the sentences about what stops a blend first, most important first. None
// blames one limit while others may as well be the first.
func (s *LimitSheet) Words() []Answer {
	if !s.Known {
		return []Answer{{ID: s.Problem}}
	}
	first := s.Binding()
	if first == nil {
		return append([]Answer{{"limits_free", map[string]any{"Most": number(s.Most, "wt%", 3)}}}, s.unknownWords()...)
	}
	values := map[string]any{
		"Least": number(s.Least.Value, "wt%", 2), "Low": number(s.Least.Low, "", 2), "High": number(s.Least.High, "", 2),
		"First": first.Said(),
	}
	id := "limits_stops"
	switch {
	case first.State == LimitNone && s.Least.High == 0:
		id = "limits_none"
	case first.State == LimitNone:
		id = "limits_none_likely"
	case s.Method == MonteCarlo:
		id = s.drawn(values)
	}
	list := []Answer{{id, values}}
	if s.Method == FirstOrder {
		list = append(list, s.rivals()...)
	}
	return append(list, s.unknownWords()...)
}

// Name is the catalogue ID of a limit's name.
func (l *Limit) Name() wording.ID { return wording.ID("limit." + string(l.ID)) }

// Said is the catalogue ID of a limit within a sentence.
func (l *Limit) Said() wording.ID { return wording.ID("limit_said." + string(l.ID)) }

// mostTold is how many limits a sentence names.
const mostTold = 3

// rivals names the limits that may come first as well, before draws tell how often.
func (s *LimitSheet) rivals() []Answer {
	first := s.Binding()
	var names []wording.ID
	for i := range s.Limits {
		if l := &s.Limits[i]; l != first && l.Known() && l.State != LimitFree && l.Allowed.Low < first.Allowed.High {
			names = append(names, l.Said())
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []Answer{{"limits_rivals", map[string]any{"Rivals": names[:min(mostTold, len(names))]}}}
}

// drawnIDs are the sentences by how many limits they name.
var drawnIDs = [mostTold + 1]string{"limits_stops", "limits_drawn_1", "limits_drawn_2", "limits_drawn_3"}

// drawn adds in how many of ten draws each limit comes first, and returns the sentence that
// tells them.
func (s *LimitSheet) drawn(values map[string]any) string {
	told := 0
	for i := range s.Limits {
		l := &s.Limits[i]
		if !(l.First >= tellFirst) || told == mostTold {
			break
		}
		values[[]string{"First", "Second", "Third"}[told]] = l.Said()
		values[[]string{"Tenths", "SecondTenths", "ThirdTenths"}[told]] = tenths(l.First)
		told++
	}
	return drawnIDs[told]
}

// tenths are shares as people say them: never none and never all where it is neither.
func tenths(share float64) int {
	n := int(math.Round(10 * share))
	return max(1, min(n, 10))
}

// unknownWords name what is not known at all.
func (s *LimitSheet) unknownWords() []Answer {
	var names []wording.ID
	for i := range s.Limits {
		if l := &s.Limits[i]; l.State == LimitUnknown {
			names = append(names, l.Said())
		}
	}
	if len(names) == 0 {
		return nil
	}
	return []Answer{{"limits_unknown", map[string]any{"Limits": names}}}
}

// liftIDs are the sentences of what one change would do, by its lever.
var liftIDs = map[Lever]string{
	LeverSieve: "limits_lift_sieve", LeverDrying: "limits_lift_drying", LeverNozzle: "limits_lift_nozzle",
	LeverPellets: "limits_lift_pellets", LeverOil: "limits_lift_oil", LeverCore: "limits_lift_core",
}

// Words is the sentence about a change; most is the end of the axis, wt%.
func (l Lift) Words(most float64) Answer {
	unit, perSI := l.Lever.Unit()
	values := map[string]any{"Value": number(l.To*perSI, unit, 3), "Least": number(l.Least, "wt%", 2)}
	if l.Next == "" || l.Least >= most {
		return Answer{"limits_lift_free", values}
	}
	values["First"] = wording.ID("limit_said." + string(l.Next))
	return Answer{liftIDs[l.Lever], values}
}

// LimitWords are the sentences about what stops a blend first, with what would lift it.
func (s *Sheet) LimitWords(blend int) []Answer {
	limits := s.Limits(blend)
	list := limits.Words()
	second := []Answer{}
	if limits.Binding() != nil {
		second = append(second, limits.holds(s.Blends[blend].Name))
	}
	if lift, there := s.Lift(blend); there {
		second = append(second, lift.Words(limits.Most))
	}
	return append(list[:1:1], append(second, list[1:]...)...)
}

// holds says whether the blend itself keeps to its limits.
func (s *LimitSheet) holds(blend string) Answer {
	id := "limits_within"
	switch content := s.Content.Value; {
	case content == 0:
		id = "limits_empty"
	case content > s.Least.High:
		id = "limits_over"
	case content > s.Least.Value:
		id = "limits_likely_over"
	case content > s.Least.Low:
		id = "limits_perhaps"
	}
	return Answer{id, map[string]any{"Blend": blend, "Content": number(s.Content.Value, "wt%", 3)}}
}
