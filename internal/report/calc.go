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
	Notes   []calcNote  `json:"notes"` // of the project as a whole
}

type calcBlend struct {
	ID      string                `json:"id"`
	Name    string                `json:"name"`
	Figures map[string]calcFigure `json:"figures"`
	Notes   []calcNote            `json:"notes"`
	Limits  []struct{}            `json:"limits"`
}

// calcFigure is null in all three numbers while it is not known; a note of the
// same blend whose figures list names it then says why.
type calcFigure struct {
	Value *float64 `json:"value"`
	Low   *float64 `json:"low"`
	High  *float64 `json:"high"`
	Unit  string   `json:"unit"`
	Basis string   `json:"basis"`
}

type calcNote struct {
	ID       string   `json:"id"`
	Severity string   `json:"severity"`
	Text     string   `json:"text"`
	Action   string   `json:"action"`
	Field    string   `json:"field"`
	Figures  []string `json:"figures,omitempty"` // those that wait for this
}

// CalcJSON writes the sheet for other programs.
func CalcJSON(out io.Writer, s *bench.Sheet, w *wording.Words) error {
	sheet := calcSheet{Format: CalcFormat, Version: CalcVersion, Notes: calcNotes(s.Notes, w), Blends: []calcBlend{}}
	for i := range s.Blends {
		b := &s.Blends[i]
		sheet.Blends = append(sheet.Blends, calcBlend{
			ID: string(b.ID), Name: b.Name, Figures: calcFigures(b), Notes: calcNotes(b.Notes, w), Limits: []struct{}{},
		})
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
			c.Value, c.Low, c.High = &r.Value, &r.Low, &r.High
		}
		figures[f.Key()] = c
	}
	return figures
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
