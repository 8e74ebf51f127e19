// Package report writes what was computed for other programs and for paper:
// the calc sheet as a table and as JSON, and lists as CSV.
package report

import (
	"io"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// The head of the calc sheet as JSON.
const (
	CalcFormat  = "fillwright sheet"
	CalcVersion = 1
)

type calcSheet struct {
	Format  string      `json:"format"`
	Version int         `json:"version"`
	Blends  []calcBlend `json:"blends"`
	Spools  []calcSpool `json:"spools"` // the ledger
	Notes   []calcNote  `json:"notes"`  // of the project as a whole
}

type calcBlend struct {
	ID      string                `json:"id"`
	Name    string                `json:"name"`
	Figures map[string]calcFigure `json:"figures"`
	Notes   []calcNote            `json:"notes"`
	Limits  []calcLimit           `json:"limits"`
	Least   *calcFigure           `json:"least,omitzero"`    // where the first of the limits stops
	Shares  []calcShares          `json:"shares,omitempty"`  // of the inputs in the variance of the limits
	Draws   int                   `json:"draws,omitzero"`    // that the intervals rest on
	Winding map[string]calcFigure `json:"winding,omitempty"` // on the reel of the project
}

// calcSpool is a spool of the ledger. Blend is its ID, or empty.
type calcSpool struct {
	Name    string                `json:"name"`
	Blend   string                `json:"blend"`
	Figures map[string]calcFigure `json:"figures"`
	Remarks []traceText           `json:"remarks"`
}

// calcFigure is null in all three numbers while it is not known; a note of the
// same blend whose figures list names it then says why.
type calcFigure struct {
	Value *float64 `json:"value"`
	Low   *float64 `json:"low"`
	High  *float64 `json:"high"`
	Unit  string   `json:"unit"`
	Basis string   `json:"basis"`

	Method string `json:"method,omitzero"` // of the interval, where it is not first order
	Bent   bool   `json:"first_order_differs,omitzero"`
}

type calcNote struct {
	ID       string   `json:"id"`
	Severity string   `json:"severity"`
	Text     string   `json:"text"`
	Action   string   `json:"action"`
	Field    string   `json:"field"`
	Figures  []string `json:"figures,omitempty"` // those that wait for this
}

// CalcJSON writes the sheet for other programs, with the variance shares of each blend's
// limits where there are any.
func CalcJSON(out io.Writer, s *bench.Sheet, shares map[int][]bench.Shares, w *wording.Words) error {
	sheet := calcSheet{Format: CalcFormat, Version: CalcVersion, Notes: calcNotes(s.Notes, w), Blends: []calcBlend{}, Spools: calcSpools(s, w)}
	for i := range s.Blends {
		b := &s.Blends[i]
		limits := s.Limits(i)
		blend := calcBlend{
			ID: string(b.ID), Name: b.Name, Figures: calcFigures(b), Notes: calcNotes(s.BlendNotes(i), w), Limits: calcLimits(limits, w),
			Winding: calcWinding(&b.Winding), Shares: calcVariance(shares[i]), Draws: b.Draws,
		}
		if limits.Least.Known() {
			least := figureJSON(limits.Least)
			blend.Least = &least
		}
		sheet.Blends = append(sheet.Blends, blend)
	}
	err := json.MarshalWrite(out, sheet, jsontext.WithIndent("  "), json.Deterministic(true))
	if err != nil {
		return err
	}
	_, err = io.WriteString(out, "\n")
	return err
}

func calcFigures(b *bench.BlendSheet) map[string]calcFigure {
	figures := map[string]calcFigure{}
	for _, f := range bench.Figures() {
		r := b.Result(f)
		if !b.Shows(f) {
			continue
		}
		c := calcFigure{Unit: r.Unit, Basis: r.Basis.String()}
		if r.Known() {
			c = figureJSON(r)
		}
		figures[f.Key()] = c
	}
	return figures
}

// calcWinding lists what is known of a blend on the reel.
func calcWinding(b *bench.BlendWinding) map[string]calcFigure {
	out := map[string]calcFigure{}
	for _, f := range bench.WindingFigures() {
		if r := b.Result(f); r.Known() {
			out[string(f)] = figureJSON(r)
		}
	}
	return out
}

func calcSpools(s *bench.Sheet, w *wording.Words) []calcSpool {
	out := []calcSpool{}
	for i := range s.Spools {
		made := &s.Spools[i]
		c := calcSpool{Name: made.Name, Figures: map[string]calcFigure{}, Remarks: []traceText{}}
		if made.Blend >= 0 {
			c.Blend = string(s.Blends[made.Blend].ID)
		}
		for f, r := range made.Results {
			c.Figures[string(f)] = figureJSON(r)
		}
		for _, r := range made.Told() {
			c.Remarks = append(c.Remarks, traceText{r.ID, w.Say(r.Message())})
		}
		out = append(out, c)
	}
	return out
}

// figureJSON is a figure that is known.
func figureJSON(r bench.Result) calcFigure {
	c := calcFigure{Value: &r.Value, Low: &r.Low, High: &r.High, Unit: r.Unit, Basis: r.Basis.String(), Bent: r.Bent}
	if r.Method != bench.FirstOrder {
		c.Method = r.Method.String()
	}
	return c
}

func calcNotes(notes []bench.Note, w *wording.Words) []calcNote {
	list := []calcNote{}
	for _, n := range notes {
		note := calcNote{
			ID: n.ID, Severity: n.Severity.String(), Field: n.Field,
			Text: w.Say(n.Message()), Action: w.Say(n.Action(), n.Values),
		}
		for _, f := range n.Blocks {
			note.Figures = append(note.Figures, f.Key())
		}
		list = append(list, note)
	}
	return list
}
