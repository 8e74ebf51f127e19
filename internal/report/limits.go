package report

import (
	"fmt"
	"io"
	"text/tabwriter"

	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/wording"
)

// calcLimit is one limit of the filler content. Its numbers are null while it is not known;
// missing then says what would tell it.
type calcLimit struct {
	ID      string   `json:"id"`
	Low     *float64 `json:"low"`
	Likely  *float64 `json:"likely"`
	High    *float64 `json:"high"`
	Unit    string   `json:"unit"`
	Binding bool     `json:"binding"`
	State   string   `json:"state"`
	Open    bool     `json:"open"`           // high is the end of what was looked at: the limit may lie beyond
	From    *float64 `json:"from,omitzero"`  // below it the rule is broken as well
	Advice  bool     `json:"advice"`         // told, but it stops nothing
	First   *float64 `json:"first,omitzero"` // share of the draws in which it comes first

	Allowed *calcThreshold `json:"allowed,omitzero"`
	Figure  string         `json:"figure,omitempty"` // that is held against what is allowed
	Field   string         `json:"field"`
	Missing string         `json:"missing,omitempty"`
	Where   string         `json:"where,omitempty"` // field that would tell it
}

// calcThreshold is what is allowed, and whether the maker entered it.
type calcThreshold struct {
	Value   float64 `json:"value"`
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
	Unit    string  `json:"unit"`
	Entered bool    `json:"entered"`
}

// calcShares are the shares of the inputs in the variance of a limit.
type calcShares struct {
	Target  string       `json:"target"`
	Defined float64      `json:"defined"`
	Inputs  []calcInputs `json:"inputs"`
}

type calcInputs struct {
	Input string  `json:"input"`
	First float64 `json:"first"`
	Total float64 `json:"total"`
	Error float64 `json:"error"`
}

func calcLimits(s *bench.LimitSheet, w *wording.Words) []calcLimit {
	list := []calcLimit{}
	binding := s.Binding()
	for i := range s.Limits {
		l := &s.Limits[i]
		c := calcLimit{ID: string(l.ID), Unit: "wt%", Binding: l == binding, State: string(l.State), Field: l.Field, Where: l.Where, Open: l.Open, Advice: l.Advice}
		if l.From > 0 {
			c.From = &l.From
		}
		if r := &l.Allowed; r.Known() {
			c.Low, c.Likely, c.High = &r.Low, &r.Value, &r.High
		}
		if s.Method == bench.MonteCarlo && l.First >= 0 {
			c.First = &l.First
		}
		if t := l.Threshold; t.Known() {
			c.Allowed = &calcThreshold{t.Value, t.Low, t.High, t.Unit, l.Entered}
		}
		if l.ID != bench.LimitBend {
			c.Figure = l.Figure.Key()
		}
		if l.Missing.ID != "" {
			c.Missing = w.Say(l.Missing.Message())
		}
		list = append(list, c)
	}
	return list
}

func calcVariance(shares []bench.Shares) []calcShares {
	var list []calcShares
	for _, s := range shares {
		c := calcShares{Target: string(s.Target.Limit), Defined: s.Defined, Inputs: []calcInputs{}}
		for _, in := range s.Inputs {
			c.Inputs = append(c.Inputs, calcInputs{in.Pointer, in.First, in.Total, in.Err})
		}
		list = append(list, c)
	}
	return list
}

// limitInterval prints the interval of a limit, whose high end may lie beyond what was
// looked at.
func limitInterval(l *bench.Limit, w *wording.Words) string {
	if !l.Open || l.Allowed.Certain() {
		return intervalOf(l.Allowed, 3, w)
	}
	return w.Say("calc.interval_open", map[string]any{
		"Low": wording.Number{Value: l.Allowed.Low, Digits: 3}, "High": wording.Number{Value: l.Allowed.High, Digits: 3},
	})
}

// limitTable writes how much powder a blend can carry, for people.
func limitTable(out io.Writer, sheet *bench.Sheet, blend int, w *wording.Words) {
	s := sheet.Limits(blend)
	if !s.Known {
		return
	}
	fmt.Fprintf(out, "\n%s\n", w.Text("calc.limits"))
	t := tabwriter.NewWriter(out, 0, 4, 2, ' ', 0)
	for i := range s.Limits {
		l := &s.Limits[i]
		value, interval, state := "—", "", string(l.State)
		if l.Allowed.Known() {
			value = figure.LimitContent(l, s.Most, w)
		}
		if l.Known() {
			interval = limitInterval(l, w)
		}
		switch {
		case l == s.Binding():
			state = "first"
		case l.Advice && l.Known():
			state = "advice"
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\n", w.Text("limit."+string(l.ID)), value, interval, w.Text("limit_state."+state))
	}
	_ = t.Flush() // the error is kept by the writer below
	if s.Method == bench.FirstOrder {
		fmt.Fprintf(out, "  %s\n", w.Text("calc.first_order"))
	}
	for _, a := range sheet.LimitWords(blend) {
		fmt.Fprintf(out, "  %s\n", w.Say(a.Message()))
	}
}
