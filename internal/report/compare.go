package report

import (
	"encoding/csv"
	"io"
	"strconv"

	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// CompareCSV writes all figures of all blends against the reference: value and interval,
// and the change with its interval and what may be said of it. Numbers use a decimal
// point, the form is that of RFC 4180, and no cell is taken for a formula.
func CompareCSV(out io.Writer, s *bench.Sheet, list []bench.Comparison, w *wording.Words) error {
	c := csv.NewWriter(out)
	c.UseCRLF = true
	head := []string{w.Text("compare_csv.key"), w.Text("compare_csv.figure"), w.Text("compare_csv.unit")}
	for i := range s.Blends {
		named := func(id string) string { return w.Say(id, map[string]any{"Blend": s.Blends[i].Name}) }
		head = append(head, named("compare_csv.value"), named("compare_csv.low"), named("compare_csv.high"))
		if i != s.Reference {
			head = append(head, named("compare_csv.change"), named("compare_csv.change_low"), named("compare_csv.change_high"),
				named("compare_csv.change_unit"), named("compare_csv.verdict"))
		}
	}
	rows := [][]string{head}
	for i := range list {
		rows = append(rows, compareRow(s, &list[i], w))
	}
	for j := range rows[0] { // the names of blends are the only texts of somebody's own; a number may be negative
		rows[0][j] = inert(rows[0][j])
	}
	return c.WriteAll(rows)
}

func compareRow(s *bench.Sheet, c *bench.Comparison, w *wording.Words) []string {
	row := []string{c.Figure.Key(), w.Text("figure." + c.Figure.Key()), ""}
	for i := range c.Cells {
		cell := &c.Cells[i]
		if cell.Result.Known() {
			row[2] = wording.Unit(cell.Result.Unit)
		}
		row = append(row, numbers(cell.Result)...)
		if i == s.Reference {
			continue
		}
		verdict := ""
		if cell.Verdict != bench.VerdictNone {
			verdict = w.Text("compare_verdict." + string(cell.Verdict))
		}
		row = append(append(row, numbers(cell.Change)...), wording.Unit(cell.Change.Unit), verdict)
	}
	return row
}

// numbers are value, low and high with the digits of a float; empty where not known.
func numbers(r bench.Result) []string {
	if !r.Known() {
		return []string{"", "", ""}
	}
	plain := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }
	return []string{plain(r.Value), plain(r.Low), plain(r.High)}
}
