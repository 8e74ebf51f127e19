package bench

import (
	"cmp"
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
	if !s.Least.Known() {
		return Answer{ID: "limits_all_unknown"}
	}
	values := map[string]any{
		"Least": number(s.Least.Value, "wt%", 2), "Low": lowEnd(s.Least.Low), "High": s.highEnd(), "Most": number(s.Most, "wt%", 3),
	}
	switch {
	case s.Least.Low >= s.Most:
		return Answer{"limits_free", values}
	case s.Least.Value >= s.Most:
		values["First"] = s.Soonest().Said()
		return Answer{"limits_free_likely", values}
	case s.Least.High < PracticallyNone:
		values["First"] = s.forbidding()
		return Answer{"limits_none", values}
	case s.Least.Value < PracticallyNone:
		values["First"] = s.forbidding()
		return Answer{"limits_none_likely", values}
	}
	values["First"] = s.first().Said()
	if s.Method == MonteCarlo {
		return Answer{s.drawn(values), values}
	}
	return Answer{"limits_stops", values}
}

// first is the limit that most likely stops first, else the one that may stop first of all.
func (s *LimitSheet) first() *Limit {
	if l := s.Binding(); l != nil {
		return l
	}
	return s.Soonest()
}

// forbidding are the limits that likely allow practically no powder; the first of all where
// none does so by itself.
func (s *LimitSheet) forbidding() (names []wording.ID) {
	for i := range s.Limits {
		if l := &s.Limits[i]; l.Stops() && l.Allowed.Value < PracticallyNone {
			names = append(names, l.Said())
		}
	}
	if len(names) == 0 {
		names = append(names, s.first().Said())
	}
	return names
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

// rivals names the limits that may come first as well, the soonest first, before draws tell
// how often.
func (s *LimitSheet) rivals() []Answer {
	first := s.Binding()
	if first == nil || s.Least.Value < PracticallyNone {
		return nil
	}
	var near []*Limit
	for i := range s.Limits {
		if l := &s.Limits[i]; l != first && l.Stops() && l.Allowed.Low < math.Min(first.Allowed.High, s.Most) {
			near = append(near, l)
		}
	}
	if len(near) == 0 {
		return nil
	}
	slices.SortStableFunc(near, func(a, b *Limit) int { return cmp.Compare(a.Allowed.Low, b.Allowed.Low) })
	var names []wording.ID
	for _, l := range near[:min(mostTold, len(near))] {
		names = append(names, l.Said())
	}
	return []Answer{{"limits_rivals", map[string]any{"Rivals": names}}}
}

// drawnIDs are the sentences by how many limits they name.
var drawnIDs = [mostTold + 1]string{"limits_stops", "limits_drawn_1", "limits_drawn_2", "limits_drawn_3"}

// drawn adds in how many of ten draws each limit comes first, and returns the sentence that
// tells them.
func (s *LimitSheet) drawn(values map[string]any) string {
	var shares []float64
	for i := range s.Limits {
		if l := &s.Limits[i]; l.First >= tellFirst && len(shares) < mostTold {
			values[[]string{"First", "Second", "Third"}[len(shares)]] = l.Said()
			shares = append(shares, l.First)
		}
	}
	for k, n := range tenths(shares) {
		values[[]string{"Tenths", "SecondTenths", "ThirdTenths"}[k]] = n
	}
	return drawnIDs[len(shares)]
}

// tenths are shares as people say them: never none and never all where it is neither, and no
// more than ten together.
func tenths(shares []float64) []int {
	list, sum := make([]int, len(shares)), 0.0
	order := make([]int, len(shares))
	for k, share := range shares {
		list[k], order[k] = max(1, int(10*share)), k
		sum += share
	}
	most := int(math.Round(10 * sum))
	if sum < 1 {
		most = min(most, 9)
	}
	rest := func(k int) float64 { return 10*shares[k] - float64(list[k]) }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rest(b), rest(a)) })
	for _, k := range order { // what was cut off goes to those of whom most was
		if told := sumOf(list); told < most && rest(k) > 0 {
			list[k]++
		}
	}
	return list
}

func sumOf(list []int) (sum int) {
	for _, n := range list {
		sum += n
	}
	return sum
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
	if len(names) >= manyUnknown && s.Least.Known() {
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
	if l.Lever == LeverPellets && l.To >= wholePelletM {
		return Answer{"limits_lift_whole", values}
	}
	return Answer{liftIDs[l.Lever], values}
}

// LimitWords are the sentences about what stops a blend first, with what would lift it.
func (s *Sheet) LimitWords(blend int) []Answer {
	limits := s.Limits(blend)
	list := limits.Words()
	second := []Answer{}
	if limits.Least.Known() && (limits.Least.Low < limits.Most || limits.below() != nil || limits.Content.Value > limits.Most) {
		second = append(second, limits.holds(s.Blends[blend].Name))
	}
	second = append(second, s.liftWords(blend)...)
	return append(list[:1:1], append(second, list[1:]...)...)
}

// over reports whether the blend holds more than its limits likely allow.
func (s *LimitSheet) over() bool {
	return s.Least.Known() && s.Least.Value < s.Most && s.Content.Value > s.Least.Value
}

// below is the limit that asks for more powder than the blend holds, such as that of cost;
// nil where none does.
func (s *LimitSheet) below() *Limit {
	i := slices.IndexFunc(s.Limits, func(l Limit) bool { return l.Stops() && s.Content.Value > 0 && s.Content.Value < l.From })
	if i < 0 || s.over() {
		return nil
	}
	return &s.Limits[i]
}

// broken is a limit that the blend breaks although it holds no more than is allowed: something
// measured of it differs from what the models say; nil for none.
func (s *LimitSheet) broken() *Limit {
	i := slices.IndexFunc(s.Limits, func(l Limit) bool { return l.Stops() && l.State != LimitNone && l.Broken() })
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
	case content == 0:
		id = "limits_empty"
	case below != nil && below.Here.Low > below.Threshold.High:
		id = "limits_below"
	case below != nil:
		id = "limits_likely_below"
	case content > s.Least.High && s.Least.High < s.Most:
		id = "limits_over"
	case s.over():
		id = "limits_likely_over"
	case s.broken() != nil:
		return Answer{"limits_but_here", map[string]any{"Blend": blend, "Content": number(s.Content.Value, "wt%", 3), "Limit": s.broken().Said()}}
	case content > s.Most:
		id = "limits_past_axis"
	case content > s.Least.Low:
		id = "limits_perhaps"
	}
	return Answer{id, map[string]any{"Blend": blend, "Content": number(s.Content.Value, "wt%", 3)}}
}
