package pane

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/trace"
	"fillwright/internal/wording"
)

// logFiles are the endings of files that may be the log of a gauge.
var logFiles = []string{".csv", ".txt", ".tsv", ".log", ".dat"}

// buildLog is the log of one spool of the ledger: what it says, where the lumps are, what
// makes the waves, and how its file is written.
func (p *Spool) buildLog() []fyne.CanvasObject {
	p.first = nil
	add := p.made.adder()
	if len(p.view.Project.Spool.Made) == 0 {
		return []fyne.CanvasObject{section(p.text("pane.spool.log"), control.NewCaption(p.text("pane.spool.log_no_spool")), container.NewHBox(add))}
	}
	read := widget.NewButton(p.text("pane.spool.read_log"), p.askLog)
	keep := widget.NewButton(p.text("pane.spool.keep"), p.log.keep)
	p.remarks = append(p.remarks, func() {
		if p.log.mayKeep() {
			keep.Enable()
		} else {
			keep.Disable()
		}
	})
	head := section(p.text("pane.spool.log"), append(p.madeChooser(read, keep), p.lines(p.log.state))...)
	if p.made.shown(p.made.at).Trace.File == "" {
		return []fyne.CanvasObject{head}
	}
	objects := []fyne.CanvasObject{
		head, p.log.follow.build(),
		section(p.text("pane.spool.says"), p.lines(p.logVerdict), p.facts(p.logFacts), p.lines(p.logRemarks)),
	}
	return append(objects,
		section(p.text("pane.spool.lumps"), p.lines(p.lumpLines), p.lumpChooser()),
		section(p.text("pane.spool.waves"), p.lines(p.waveLines)),
		section(p.text("pane.spool.printer"), control.NewPairs(8,
			newQuantity(&p.base, "/spool/felt", p.lookOf("/spool/felt"), func(d *project.Project) *length { return &d.Spool.Felt }),
			newQuantity(&p.base, "/print/inlet", p.lookOf("/print/inlet"), func(d *project.Project) *length { return &d.Print.Inlet }))),
		p.buildLayout())
}

// askLog asks for the log of the spool that is shown.
func (p *Spool) askLog() {
	at := p.made.at
	p.desk.OpenPath(p.text("pane.spool.read_log"), logFiles, func(path string) {
		name := p.desk.Beside(path)
		place := p.made.placeOf(at, "trace/file")
		err := p.desk.Edit(p.text("edit.read_log"), place, func(d *project.Project) error {
			t := &p.made.in(d, at).Trace
			*t = project.Trace{File: name, Speed: t.Speed}
			return nil
		})
		if err == nil {
			p.log.keepWhenRead()
		}
	})
}

// traceOf is the log of the spool that is shown, as the document has it.
func (p *Spool) traceOf() *project.Trace { return &p.made.shown(p.made.at).Trace }

// sheetOfLog is what the log says: as it was read or, without its file, as it was kept.
func (p *Spool) sheetOfLog() *bench.TraceSheet {
	if sheet := p.log.sheet(); sheet != nil {
		return sheet
	}
	if made := p.madeSheet(p.made.at); made != nil {
		return made.Trace
	}
	return nil
}

func (p *Spool) logVerdict() []string {
	sheet := p.sheetOfLog()
	if sheet == nil {
		return nil
	}
	return []string{p.words().Say(sheet.Verdict.Message())}
}

func (p *Spool) logFacts() []fact {
	sheet := p.sheetOfLog()
	if sheet == nil {
		return nil
	}
	var list []fact
	for _, f := range bench.TraceFigures() {
		if r, known := sheet.Figures[f]; known {
			list = append(list, p.factWith("trace.figure."+string(f), r, ""))
		}
	}
	return list
}

func (p *Spool) logRemarks() []string {
	sheet := p.sheetOfLog()
	if sheet == nil {
		return nil
	}
	var list []string
	for _, r := range sheet.Remarks {
		list = append(list, p.words().Say(r.Message()))
	}
	for _, line := range sheet.Summary.Shown[:min(len(sheet.Summary.Shown), shownBadRows)] {
		list = append(list, p.words().Say("report.trace.line", map[string]any{
			"Line": int(line.Number), "Fault": p.text("trace.fault." + line.Fault.Key()), "Text": line.Text,
		}))
	}
	return list
}

const (
	shownBadRows = 3
	shownLumps   = 5 // that are listed
	mostChoices  = 50
)

// lumpLines list the highest lumps.
func (p *Spool) lumpLines() []string {
	sheet := p.sheetOfLog()
	switch {
	case sheet == nil:
		return nil
	case len(sheet.Lumps) == 0:
		return []string{p.text("pane.spool.no_lumps")}
	}
	list := []string{p.words().Say("pane.spool.lumps_head", map[string]any{"Shown": min(len(sheet.Lumps), shownLumps), "All": int(sheet.Summary.LumpCount)})}
	for i := range sheet.Lumps[:min(len(sheet.Lumps), shownLumps)] {
		list = append(list, p.lumpText(sheet, i))
	}
	return list
}

// lumpChooser leads to a lump in the picture.
func (p *Spool) lumpChooser() fyne.CanvasObject {
	choices := func() []control.Choice {
		list := []control.Choice{{Value: "-1", Text: p.text("pane.spool.whole_log")}}
		if sheet := p.sheetOfLog(); sheet != nil {
			for i := range sheet.Lumps[:min(len(sheet.Lumps), mostChoices)] {
				list = append(list, control.Choice{Value: strconv.Itoa(i), Text: p.lumpText(sheet, i)})
			}
		}
		return list
	}
	chooser := control.NewSelectField(control.SelectOptions{
		Label: p.text("pane.spool.show_lump"), Choices: choices(), Wide: true,
		Value: func() string { return strconv.Itoa(p.log.selected) },
		OnCommit: func(value string) error {
			if i, err := strconv.Atoi(value); err == nil && i >= 0 {
				p.log.showLump(i)
			} else {
				p.log.showAll()
			}
			return nil
		},
	})
	p.inputs.Add(chooser)
	p.remarks = append(p.remarks, func() { chooser.SetChoices(choices()) })
	p.log.chooser = chooser
	return chooser
}

// lumpText tells where a lump is, how high, and whether it matters.
func (p *Spool) lumpText(sheet *bench.TraceSheet, i int) string {
	l, w := &sheet.Lumps[i], p.words()
	state := "trace.lump.within"
	switch {
	case l.Blocks:
		state = "trace.lump.blocks"
	case l.Out:
		state = "trace.lump.out"
	}
	place := w.Number(l.At, 6) + unitOfAxis(sheet.Summary.Axis)
	if sheet.PerUnit > 0 {
		place = w.Fixed(l.AtM, 2) + " m"
	}
	return w.Say("pane.spool.lump", map[string]any{
		"Place": place, "Peak": wording.Number{Value: l.PeakM * 1e3, Unit: "mm", Digits: 4}, "Height": w.Signed(l.HeightM*1e3, 3) + " mm", "State": wording.ID(state),
	})
}

func unitOfAxis(a trace.Axis) string {
	return map[trace.Axis]string{trace.BySecond: " s", trace.ByMetre: " m"}[a]
}

// waveLines tell the waves and what turns as fast.
func (p *Spool) waveLines() []string {
	sheet := p.sheetOfLog()
	if sheet == nil || len(sheet.Waves) == 0 {
		return []string{p.text("pane.spool.no_waves")}
	}
	var list []string
	for _, v := range sheet.Waves {
		period := wording.Number{Value: v.Period, Unit: p.text("trace.axis.reading"), Digits: 3}
		if v.PeriodS > 0 {
			period = wording.Number{Value: v.PeriodS, Unit: "s", Digits: 3}
		} else if v.PeriodM > 0 {
			period = wording.Number{Value: v.PeriodM, Unit: "m", Digits: 3}
		}
		line := p.words().Say("pane.spool.wave", map[string]any{
			"Period": period, "Amplitude": wording.Number{Value: v.AmplitudeM * 1e6, Unit: "um", Digits: 2}, "Share": wording.Number{Value: 100 * v.Share, Unit: "%", Digits: 2},
		})
		for _, m := range v.Matches {
			line += " " + p.words().Say("pane.spool.wave_from", map[string]any{"Part": wording.ID("trace.turning." + m.Turning.Key)})
		}
		list = append(list, line)
	}
	return list
}

// buildLayout is how the file of the log is written, for the maker to correct.
func (p *Spool) buildLayout() fyne.CanvasObject {
	i := p.made.at
	at := func(d *project.Project) *project.Trace { return &p.made.in(d, i).Trace }
	place := func(member string) string { return p.made.placeOf(i, "trace/"+member) }
	choices := func(area string, values []string) (list []control.Choice) {
		for _, v := range values {
			list = append(list, control.Choice{Value: v, Text: p.text(area + v)})
		}
		return list
	}
	look := fieldLook{label: p.text("field.trace.speed"), hint: p.text("hint.trace.speed"), remark: p.text("remark.trace.speed")}
	return section(p.text("pane.spool.layout"),
		newQuantity(&p.base, place("speed"), look, func(d *project.Project) *quantity.Of[quantity.Speed] { return &at(d).Speed }),
		control.NewPairs(8,
			p.choiceField(place("separator"), p.text("field.trace.separator"), choices("trace.separator.", trace.SeparatorNames()),
				func(d *project.Project) string { return p.log.written(at(d)).Separator }, func(d *project.Project, v string) { p.log.settle(at(d)).Separator = v }),
			p.choiceField(place("decimal"), p.text("field.trace.decimal"), choices("trace.decimal.", trace.DecimalNames()),
				func(d *project.Project) string { return p.log.written(at(d)).Decimal }, func(d *project.Project, v string) { p.log.settle(at(d)).Decimal = v }),
			newNamedNumber(&p.base, place("header"), p.text("field.trace.header"), func(d *project.Project) *int { return &at(d).Header })),
		p.columnTable(i).object(),
		p.lines(p.preview))
}

// columnTable says what the columns of a log hold.
func (p *Spool) columnTable(i int) *rowsTable[project.TraceColumn] {
	roles := []control.Choice{}
	for _, r := range trace.Roles() {
		roles = append(roles, control.Choice{Value: string(r), Text: p.text("trace.role." + string(r))})
	}
	units := []control.Choice{{Value: "", Text: "—"}}
	for _, unit := range append(trace.Units(trace.Diameter), trace.Units(trace.Time)...) {
		units = append(units, control.Choice{Value: unit, Text: wording.Unit(unit)})
	}
	inLog := computedColumn[project.TraceColumn](p.text("pane.spool.in_log"), 150, func(index int) control.Cell { return control.Cell{Text: p.log.sample(index)} })
	inLog.align = fyne.TextAlignLeading // it is text
	return newRowsTable(&p.base, rowsOptions[project.TraceColumn]{
		place: fmt.Sprintf("/spool/made/%d/trace/columns", i), label: p.text("pane.spool.columns"), most: project.MostRows("/spool/made/*/trace/columns"), shown: 4,
		list: func(d *project.Project) *[]project.TraceColumn { return &p.made.in(d, i).Trace.Columns },
		columns: []column[project.TraceColumn]{
			numberColumn[project.TraceColumn](p.text("pane.spool.column"), 50),
			inLog,
			choiceColumn("role", p.text("pane.spool.role"), 110, roles,
				func(c *project.TraceColumn) string { return c.Role }, func(c *project.TraceColumn, v string) { c.Role = v }),
			choiceColumn("unit", p.text("pane.spool.unit"), 90, units,
				func(c *project.TraceColumn) string { return c.Unit }, func(c *project.TraceColumn, v string) { c.Unit = v }),
		},
	})
}

// preview shows the first lines of the log and what is taken from each.
func (p *Spool) preview() []string {
	var list []string
	for _, row := range p.log.preview() {
		line := fmt.Sprintf("%d: %s", row.Number, strings.Join(row.Cells, " | "))
		switch {
		case row.Header:
			line = p.words().Say("pane.spool.preview_header", map[string]any{"Line": line})
		case row.Fault != trace.Sound:
			line = p.words().Say("pane.spool.preview_bad", map[string]any{"Line": line, "Fault": wording.ID("trace.fault." + row.Fault.Key())})
		default:
			line = p.words().Say("pane.spool.preview_row", map[string]any{"Line": line, "Diameter": wording.Number{Value: row.Diameter * 1e3, Unit: "mm", Digits: 5}})
		}
		list = append(list, line)
	}
	return list
}

// state says what became of the file.
func (v *logView) state() []string {
	p := v.pane
	t := p.traceOf()
	if t.File == "" {
		return []string{p.text("pane.spool.log_none")}
	}
	file := map[string]any{"File": filepath.Base(filepath.FromSlash(t.File))}
	switch {
	case v.running:
		file["Share"] = wording.Number{Value: math.Floor(100 * v.share), Unit: "%", Digits: 3}
		return []string{p.words().Say("pane.spool.log_reading", file)}
	case errors.Is(v.err, fs.ErrNotExist) && t.Summary.Readings > 0:
		return []string{p.words().Say("pane.spool.log_missing_kept", file)}
	case errors.Is(v.err, fs.ErrNotExist):
		return []string{p.words().Say("pane.spool.log_missing", file)}
	case v.err != nil:
		return []string{p.words().Say("pane.spool.log_refused", file), p.words().Error(v.err)}
	case v.data == nil:
		return nil
	}
	list := []string{p.words().Say(keptTexts[v.kept()], file)}
	if v.data.Doubt != trace.NoDoubt {
		list = append(list, p.text("trace.doubt."+v.data.Doubt.Key()))
	}
	return list
}

// keptTexts say how what is kept of a log stands to its file.
var keptTexts = map[bench.TraceKept]string{
	bench.TraceKeptNone: "pane.spool.log_not_kept", bench.TraceKeptSame: "pane.spool.log_kept",
	bench.TraceKeptFile: "pane.spool.log_changed", bench.TraceKeptOther: "pane.spool.log_other",
}
