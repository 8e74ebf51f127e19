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
		"Least": number(s.Least.Value, "wt%", 2), "Low": number(s.Least.Low, "wt%", 2), "High": number(s.Least.High, "wt%", 2),
		"First": first.Name(),
	}
	id := "limits_stops"
	if first.State == LimitNone {
		id = "limits_none"
	}
	return append([]Answer{{id, values}}, append(s.firstWords(), s.unknownWords()...)...)
}

// Name is the catalogue ID of a limit's name.
func (l *Limit) Name() wording.ID { return wording.ID("limit." + string(l.ID)) }

// firstWords tell how often each limit is the first or, before draws were made, which
// others may be.
func (s *LimitSheet) firstWords() []Answer {
	first := s.Binding()
	if s.Method == MonteCarlo {
		return s.drawnWords()
	}
	var rivals []wording.ID
	for i := range s.Limits {
		if l := &s.Limits[i]; l != first && l.Known() && l.State != LimitFree && l.Allowed.Low < first.Allowed.High {
			rivals = append(rivals, l.Name())
		}
	}
	const most = 3
	if len(rivals) == 0 {
		return nil
	}
	return []Answer{{"limits_rivals", map[string]any{"Rivals": rivals[:min(most, len(rivals))]}}}
}

// drawnWords tell in how many of ten draws a limit is the first.
func (s *LimitSheet) drawnWords() []Answer {
	var out []Answer
	for i := range s.Limits {
		l := &s.Limits[i]
		if !(l.First >= tellFirst) {
			continue
		}
		id := "limits_also"
		if len(out) == 0 {
			id = "limits_first"
		}
		out = append(out, Answer{id, map[string]any{"First": l.Name(), "Tenths": tenths(l.First)}})
		if len(out) == 3 {
			break
		}
	}
	return out
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
			names = append(names, l.Name())
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
	values["First"] = wording.ID("limit." + string(l.Next))
	return Answer{liftIDs[l.Lever], values}
}
