package bench

import (
	"math"
	"slices"

	"fillwright/internal/wording"
)

// Words are the sentences about what stops a blend first, most important first. None
// blames one limit while others may as well be the first.
func (s *LimitSheet) Words() []Answer {
	if !s.Known {
		return []Answer{{ID: s.Problem}}
	}
	list := append([]Answer{s.headline()}, s.fromWords()...)
	if s.Method == FirstOrder {
		list = append(list, s.rivals()...)
	}
	return append(append(list, s.adviceWords()...), s.unknownWords()...)
}

// PracticallyNone is the filler content, wt%, below which nobody would make a blend (own
// judgement): numbers below it only look exact.
const PracticallyNone = 0.1

// Hardly reports whether a limit allows practically no powder.
func (l *Limit) Hardly() bool {
	return l.State == LimitBinds && l.Allowed.Value < PracticallyNone
}

// headline says where the first limit stops, and which that is.
func (s *LimitSheet) headline() Answer {
	first := s.Binding()
	if first == nil {
		return Answer{"limits_free", map[string]any{"Most": number(s.Most, "wt%", 3)}}
	}
	values := map[string]any{
		"Least": number(s.Least.Value, "wt%", 2), "Low": lowEnd(s.Least.Low), "High": s.highEnd(), "First": first.Said(),
	}
	switch {
	case s.Least.High < PracticallyNone:
		return Answer{"limits_none", values}
	case s.Least.Value < PracticallyNone:
		return Answer{"limits_none_likely", values}
	case s.Method == MonteCarlo:
		return Answer{s.drawn(values), values}
	}
	return Answer{"limits_stops", values}
}

// lowEnd is the low end of a filler content.
func lowEnd(content float64) wording.Number {
	if content < PracticallyNone {
		content = 0
	}
	return number(content, "", 2)
}

// highEnd is the high end of where the first limit stops: it may lie beyond the axis.
func (s *LimitSheet) highEnd() any {
	if s.Least.High >= s.Most {
		return Answer{"limits_beyond", map[string]any{"Most": number(s.Most, "", 3)}}
	}
	return number(s.Least.High, "", 2)
}

// fromWords tells of a limit that little powder breaks as well, such as that of cost.
func (s *LimitSheet) fromWords() []Answer {
	for i := range s.Limits {
		if l := &s.Limits[i]; l.From > 0 && l.Stops() {
			id := "limits_from"
			if l.From > s.Least.Value {
				id = "limits_from_beyond"
			}
			return []Answer{{id, map[string]any{"From": number(l.From, "wt%", 2)}}}
		}
	}
	return nil
}

// adviceWords tell what asks for less than all that stops, without stopping anything.
func (s *LimitSheet) adviceWords() []Answer {
	for i := range s.Limits {
		if l := &s.Limits[i]; l.Advice && l.Known() && l.Allowed.Value < s.Least.Value {
			return []Answer{{"limits_advice", map[string]any{"Content": s.contentWords(l.Allowed.Value)}}}
		}
	}
	return nil
}

// contentWords is a filler content within a sentence.
func (s *LimitSheet) contentWords(content float64) any {
	if content < PracticallyNone {
		return Answer{ID: "limits_hardly"}
	}
	return number(content, "wt%", 2)
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
		if l := &s.Limits[i]; l != first && l.Stops() && l.State != LimitFree && l.Allowed.Low < first.Allowed.High {
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

// manyUnknown is how many unknown limits make what is told doubtful (own judgement).
const manyUnknown = 4

// unknownWords name what is not known at all.
func (s *LimitSheet) unknownWords() []Answer {
	var names []wording.ID
	for i := range s.Limits {
		if l := &s.Limits[i]; l.State == LimitUnknown && !l.Advice {
			names = append(names, l.Said())
		}
	}
	if len(names) == 0 {
		return nil
	}
	if len(names) >= manyUnknown {
		return []Answer{{"limits_unknown_many", map[string]any{"Count": len(names), "Limits": names}}}
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
	if limits.Binding() != nil || limits.below() != nil {
		second = append(second, limits.holds(s.Blends[blend].Name))
	}
	if lift, there := s.Lift(blend); there {
		second = append(second, lift.Words(limits.Most))
	}
	return append(list[:1:1], append(second, list[1:]...)...)
}

// over reports whether the blend holds more than its limits likely allow.
func (s *LimitSheet) over() bool { return s.Content.Value > s.Least.Value }

// below is the limit that asks for more powder than the blend holds, such as that of cost;
// nil where none does.
func (s *LimitSheet) below() *Limit {
	i := slices.IndexFunc(s.Limits, func(l Limit) bool { return l.Stops() && s.Content.Value < l.From })
	if i < 0 || s.over() {
		return nil
	}
	return &s.Limits[i]
}

// holds says whether the blend itself keeps to its limits.
func (s *LimitSheet) holds(blend string) Answer {
	id := "limits_within"
	below := s.below()
	switch content := s.Content.Value; {
	case below != nil && below.Here.Low > below.Threshold.High:
		id = "limits_below"
	case below != nil:
		id = "limits_likely_below"
	case content > s.Least.High:
		id = "limits_over"
	case s.over():
		id = "limits_likely_over"
	case content > s.Least.Low:
		id = "limits_perhaps"
	}
	return Answer{id, map[string]any{"Blend": blend, "Content": number(s.Content.Value, "wt%", 3)}}
}
