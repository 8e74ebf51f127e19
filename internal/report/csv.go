package report

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"

	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// PlanCSV writes the trials as a check list to print: what to weigh for each
// spool, in the order to make them, with boxes to tick and lines to fill in,
// and the material for all of them at the end. Numbers use a decimal point, the
// form is that of RFC 4180, and no cell is taken for a formula.
func PlanCSV(out io.Writer, s *bench.PlanSheet, w *wording.Words) error {
	c := csv.NewWriter(out)
	c.UseCRLF = true
	head := []string{
		w.Text("plan_csv.order"), w.Text("plan_csv.day"), w.Text("plan_csv.spool"), w.Text("plan_csv.content"),
		w.Text("plan_csv.replicate"), w.Text("plan_csv.purge_first"),
	}
	for _, row := range s.Budget {
		head = append(head, w.Say("plan_csv.weigh", map[string]any{"Material": row.Name}))
	}
	head = append(head, w.Text("plan_csv.specimens"), w.Text("plan_csv.done"), w.Text("plan_csv.remarks"))
	rows := [][]string{head}
	for _, r := range s.Runs {
		rows = append(rows, planRow(r, w))
	}
	rows = append(rows, budgetRow(s, w))
	for i := range rows {
		for j := range rows[i] {
			rows[i][j] = inert(rows[i][j])
		}
	}
	return c.WriteAll(rows)
}

func planRow(r bench.PlanRun, w *wording.Words) []string {
	purge := ""
	if r.Change {
		purge = w.Text("plan_csv.yes")
	}
	row := []string{
		strconv.Itoa(r.Order), strconv.Itoa(r.Day), r.Spool, content(r.Content), strconv.Itoa(r.Replicate), purge,
	}
	for _, p := range r.Parts {
		row = append(row, plain(p.WeighG, 1))
	}
	return append(row, strconv.Itoa(r.Specimens), "[ ]", "")
}

func budgetRow(s *bench.PlanSheet, w *wording.Words) []string {
	row := []string{"", "", w.Text("plan_csv.total"), "", "", ""}
	for _, b := range s.Budget {
		row = append(row, plain(b.WeighG, 1))
	}
	return append(row, strconv.Itoa(s.Specimens), "", "")
}

func plain(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }

// content drops the last digits that a change from fraction to wt% leaves.
func content(v float64) string {
	const decimals = 1e9
	return plain(math.Round(v*decimals)/decimals, -1)
}

// inert keeps a spreadsheet from taking a name for a formula.
func inert(cell string) string {
	if cell != "" && strings.ContainsRune("=+-@\t\r\n", rune(cell[0])) {
		return "'" + cell
	}
	return cell
}
