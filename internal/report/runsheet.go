package report

import (
	"cmp"
	"io"
	"slices"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"

	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// Measures of a run sheet on A4, in millimetres and points.
const (
	sheetMargin  = 15.0
	sheetWidth   = 210 - 2*sheetMargin
	sheetRow     = 7.0 // a line to write on by hand
	sheetText    = 9.5
	sheetHeading = 11.5
	sheetTitle   = 16.0
	eventRows    = 12 // at least; the rest are left to fill in
)

// runSheet is one sheet while it is written.
type runSheet struct {
	pdf *fpdf.Fpdf
	p   *project.Project
	b   *bench.BlendSheet
	run *project.LineRun // what was recorded; empty for a sheet to fill in
	w   *wording.Words
}

// RunSheet writes a sheet of A4 for one run of a blend to a PDF: what to weigh and to set,
// when to begin winding, and room for all that is seen. A run of the log stands filled
// in; run -1 gives a sheet to fill in by hand. The time stands in the file only, as when
// it was made.
func RunSheet(out io.Writer, p *project.Project, s *bench.Sheet, blend, run int, made time.Time, w *wording.Words) error {
	sheet := newRunSheet(p, s, blend, run, made, w)
	sheet.write()
	return sheet.pdf.Output(out)
}

func newRunSheet(p *project.Project, s *bench.Sheet, blend, run int, made time.Time, w *wording.Words) *runSheet {
	sheet := &runSheet{pdf: fpdf.New("P", "mm", "A4", ""), p: p, b: &s.Blends[blend], run: &project.LineRun{}, w: w}
	if run >= 0 {
		sheet.run = &p.Line.Runs[run]
	}
	sheet.prepare(made)
	return sheet
}

func (s *runSheet) write() {
	s.head()
	s.weigh()
	s.set()
	s.events()
	s.reminders()
}

func (s *runSheet) prepare(made time.Time) {
	pdf := s.pdf
	pdf.SetCreationDate(made)
	pdf.SetModificationDate(made)
	pdf.SetCatalogSort(true)
	pdf.SetTitle(s.w.Text("run_sheet.title"), true)
	pdf.SetLang("en")
	pdf.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	pdf.AddUTF8FontFromBytes("sans", "B", liberationsansbold.TTF)
	pdf.SetMargins(sheetMargin, sheetMargin, sheetMargin)
	pdf.SetAutoPageBreak(true, sheetMargin)
	pdf.SetDrawColor(150, 150, 150)
	pdf.AddPage()
}

func (s *runSheet) text(id string) string { return s.w.Text("run_sheet." + id) }

// head names the run.
func (s *runSheet) head() {
	s.pdf.SetFont("sans", "B", sheetTitle)
	s.pdf.CellFormat(sheetWidth/2, 9, s.text("title"), "", 0, "L", false, 0, "")
	s.pdf.SetFont("sans", "", sheetText)
	s.pdf.CellFormat(sheetWidth/2, 9, s.fit(s.p.Title, sheetWidth/2), "", 1, "R", false, 0, "")
	content := s.b.Result(bench.FillerMassFraction)
	name := s.b.Name
	if content.Known() && content.Value > 0 {
		name += ", " + s.w.Number(content.Value, 3) + " wt%"
	}
	s.pairs([][2]string{
		{s.text("date"), s.run.Date},
		{s.text("blend"), name},
		{s.text("spool"), s.run.Spool},
		{s.text("lots"), s.run.Lots},
	})
}

// weigh lists what goes on the scale.
func (s *runSheet) weigh() {
	s.heading("weigh")
	if !s.b.Batch.Known {
		s.line(s.text("weigh_open"))
		return
	}
	widths := []float64{80, 30, 35, 35}
	s.row(widths, "B", s.text("material"), s.text("content"), s.text("to_weigh"), s.text("weighed"))
	for _, r := range s.b.Batch.Rows {
		mass := ""
		if r.HasWeigh && r.WeighG > 0 {
			mass = s.w.Number(r.WeighG, 4) + " g"
		}
		s.row(widths, "", r.Name, s.w.Number(r.MassPercent, 3)+" wt%", mass, "")
	}
}

// set lists what is set on the line, and what it is to give.
func (s *runSheet) set() {
	s.heading("set")
	s.zones()
	l, comma := &s.p.Line, s.w.DecimalComma()
	speed := s.run.ScrewSpeed
	if !speed.Given() {
		speed = l.ScrewSpeed
	}
	s.pairs([][2]string{
		{s.text("screw_speed"), speed.Pretty(comma)},
		{s.text("puller"), s.entered(s.run.Puller.Pretty(comma), s.b.Result(bench.PullerSpeed))},
		{s.text("current"), s.run.Current.Pretty(comma)},
		{s.text("pressure"), s.run.Pressure.Pretty(comma)},
		{s.text("cooling"), s.run.Cooling},
		{s.text("diameter"), s.p.Spool.Diameter.Pretty(comma)},
	})
	if after, mass := s.b.Result(bench.PurgeTime99), s.b.Result(bench.PurgeMass99); after.Known() && mass.Known() {
		s.pdf.Ln(2)
		s.line(s.w.Say("run_sheet.wind", map[string]any{"Time": numberOf(after), "Mass": numberOf(mass)}))
	}
}

// entered is what was recorded, else what is reckoned.
func (s *runSheet) entered(recorded string, r bench.Result) string {
	if recorded != "" || !r.Known() {
		return recorded
	}
	return s.w.Say("run_sheet.reckoned", map[string]any{"Value": numberOf(r)})
}

func numberOf(r bench.Result) wording.Number {
	return wording.Number{Value: r.Value, Unit: r.Unit, Digits: 3}
}

// zones has a column for each heated zone: as set, and as it is.
func (s *runSheet) zones() {
	comma := s.w.DecimalComma()
	var head, set, actual []string
	read := func(q quantity.Of[quantity.Temperature]) string { return q.Pretty(comma) }
	const usualZones = 4
	for i := range max(len(s.run.Zones), len(s.p.Line.Zones), usualZones) {
		head = append(head, s.w.Say("run_sheet.zone", map[string]any{"Number": i + 1}))
		var a, b string
		switch {
		case i < len(s.run.Zones):
			a, b = read(s.run.Zones[i].Set), read(s.run.Zones[i].Actual)
		case i < len(s.p.Line.Zones) && len(s.run.Zones) == 0:
			a = read(s.p.Line.Zones[i])
		}
		set, actual = append(set, a), append(actual, b)
	}
	const first = 20.0
	widths := []float64{first}
	for range head {
		widths = append(widths, (sheetWidth-first)/float64(len(head)))
	}
	s.row(widths, "B", append([]string{""}, head...)...)
	s.row(widths, "", append([]string{s.text("as_set")}, set...)...)
	s.row(widths, "", append([]string{s.text("as_is")}, actual...)...)
}

// events has a row for each thing that happened, and empty ones.
func (s *runSheet) events() {
	s.heading("events")
	widths := []float64{30, 50, 100}
	s.row(widths, "B", s.text("after"), s.text("event"), s.text("remark"))
	inOrder := slices.Clone(s.run.Events)
	slices.SortStableFunc(inOrder, func(a, b project.RunEvent) int { return cmp.Compare(a.Time.SI(), b.Time.SI()) })
	for _, e := range inOrder {
		s.row(widths, "", e.Time.Pretty(s.w.DecimalComma()), figure.EventName(e.Kind, s.w), e.Text)
	}
	for range eventRows - len(s.run.Events) {
		s.row(widths, "", "", "", "")
	}
	if s.run.Notes != "" {
		s.pdf.Ln(2)
		s.line(s.run.Notes)
	}
}

// reminders are what is easily forgotten.
func (s *runSheet) reminders() {
	s.heading("remember")
	s.pdf.SetFont("sans", "", sheetText)
	for _, id := range []string{"dried", "guards", "purge_old", "shut_down", "data_sheets"} {
		const box = 3.0
		s.pdf.Rect(s.pdf.GetX()+1, s.pdf.GetY()+1, box, box, "D")
		s.pdf.SetX(sheetMargin + 2*box)
		s.pdf.MultiCell(sheetWidth-2*box, 5, s.text(id), "", "L", false)
	}
}

func (s *runSheet) heading(id string) {
	s.pdf.Ln(3)
	s.pdf.SetFont("sans", "B", sheetHeading)
	s.pdf.CellFormat(sheetWidth, sheetRow, s.text(id), "", 1, "L", false, 0, "")
	s.pdf.SetFont("sans", "", sheetText)
}

// line is a sentence over the whole width.
func (s *runSheet) line(text string) {
	s.pdf.SetFont("sans", "", sheetText)
	s.pdf.MultiCell(sheetWidth, 5, text, "", "L", false)
}

// pairs are names with room behind them, two in a row.
func (s *runSheet) pairs(list [][2]string) {
	const name = 32.0
	for i, pair := range list {
		s.pdf.SetFont("sans", "", sheetText)
		s.pdf.CellFormat(name, sheetRow, s.fit(pair[0], name), "", 0, "L", false, 0, "")
		s.pdf.SetFont("sans", "B", sheetText)
		s.pdf.CellFormat(sheetWidth/2-name-4, sheetRow, s.fit(pair[1], sheetWidth/2-name-4), "B", 0, "L", false, 0, "")
		s.pdf.CellFormat(4, sheetRow, "", "", i%2, "L", false, 0, "")
	}
	if len(list)%2 == 1 {
		s.pdf.Ln(sheetRow)
	}
}

func (s *runSheet) row(widths []float64, style string, cells ...string) {
	s.pdf.SetFont("sans", style, sheetText)
	for i, cell := range cells {
		next := 0
		if i == len(cells)-1 {
			next = 1
		}
		s.pdf.CellFormat(widths[i], sheetRow, s.fit(cell, widths[i]), "1", next, "L", false, 0, "")
	}
}

// fit cuts a text off where it would run out of its cell.
func (s *runSheet) fit(text string, width float64) string {
	const inside = 2.5 // of a cell, left and right
	runes := []rune(text)
	for len(runes) > 1 && s.pdf.GetStringWidth(string(runes)) > width-inside {
		runes = append(runes[:len(runes)-2], '…')
	}
	return string(runes)
}
