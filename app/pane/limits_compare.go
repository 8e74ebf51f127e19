package pane

import (
	"io"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/report"
	"fillwright/internal/wording"
)

// compareView is the part that holds all blends against the reference.
type compareView struct {
	of     *bench.Sheet
	list   []bench.Comparison
	sorted bool
	table  *control.Column // at the right, where it has room
}

// comparison is worked out once for a sheet.
func (p *Limits) comparison() []bench.Comparison {
	c := &p.compare
	if c.of != p.view.Sheet {
		c.of, c.list = p.view.Sheet, p.view.Sheet.Compare()
	}
	list := append([]bench.Comparison(nil), c.list...)
	if c.sorted && p.view.Chosen >= 0 {
		bench.SortByChange(list, p.view.Chosen)
	}
	return list
}

// buildCompare is the table, in the order of the figures or by how sure a change is.
func (p *Limits) buildCompare() []fyne.CanvasObject {
	order := control.NewSelectField(control.SelectOptions{
		Label: p.text("pane.limits.order"), Value: func() string {
			if p.compare.sorted {
				return "sure"
			}
			return "figures"
		},
		Choices: []control.Choice{
			{Value: "figures", Text: p.text("pane.limits.order_figures")},
			{Value: "sure", Text: p.text("pane.limits.order_sure")},
		},
		OnCommit: func(value string) error {
			p.compare.sorted = value == "sure"
			p.refresh()
			return nil
		},
	})
	export := widget.NewButton(p.text("pane.limits.compare_csv"), func() {
		v, list := p.view, p.comparison()
		p.desk.Export(p.text("pane.limits.compare_file"), func(out io.Writer) error { return report.CompareCSV(out, v.Sheet, list, p.words()) })
	})
	p.compare.table.SetObjects(p.compareTable())
	return []fyne.CanvasObject{section(p.text("pane.limits.compare"), p.lines(p.compareWords), order, container.NewHBox(export), p.captions(p.surestWords), p.facts(p.surest))}
}

// compareWords say what the verdicts are, or that there is nothing to compare with.
func (p *Limits) compareWords() []string {
	switch {
	case len(p.view.Sheet.Blends) == 0:
		return []string{p.text("pane.no_blend")}
	case p.view.Sheet.Reference < 0:
		return []string{p.text("pane.limits.compare_no_reference")}
	}
	return []string{p.text("pane.limits.compare_remark")}
}

// compareTable has a row for each figure and a column for each blend.
func (p *Limits) compareTable() fyne.CanvasObject {
	columns := []control.GridColumn{{Title: p.text("pane.limits.compare_figure"), Width: 220, Least: 185}}
	for i := range p.view.Sheet.Blends {
		columns = append(columns, control.GridColumn{Title: shortened(p.view.Sheet.Blends[i].Name), Width: 135, Align: fyne.TextAlignTrailing})
	}
	var list []bench.Comparison
	grid := control.NewGrid(control.GridOptions{
		Label: p.text("pane.limits.compare"), Columns: columns, MaxRows: 14, Empty: p.text("pane.no_blend"),
		Rows: func() int { return len(list) },
		Cell: func(row, col int) control.Cell { return p.compareCell(&list[row], col) },
	})
	p.remarks = append(p.remarks, func() {
		list = p.comparison()
		grid.Sync()
	})
	return grid
}

// shortened is a name that fits above a column of numbers.
func shortened(name string) string {
	const most = 18
	if runes := []rune(name); len(runes) > most {
		return string(runes[:most-1]) + "…"
	}
	return name
}

// compareCell is a figure, and how it stands against the reference where that can be told.
func (p *Limits) compareCell(c *bench.Comparison, col int) control.Cell {
	if col == 0 {
		return control.Cell{Text: p.compareName(c)}
	}
	cell := &c.Cells[col-1]
	if !cell.Result.Known() {
		return control.Cell{Text: "–", State: control.CellMuted}
	}
	value := p.ends(cell.Result)
	if Rare(c.Figure, cell.Result) {
		value = p.text("chance.rare_cell")
	}
	if col-1 == p.view.Sheet.Reference || cell.Verdict == bench.VerdictNone {
		return control.Cell{Text: value, State: control.CellMuted}
	}
	state := control.CellNormal
	if cell.Verdict == bench.VerdictMore || cell.Verdict == bench.VerdictLess {
		state = control.CellStrong
	}
	return control.Cell{Text: value + " " + p.text("compare_sign."+string(cell.Verdict)), State: state}
}

// compareName is a figure with its unit; names that are long are told shorter.
func (p *Limits) compareName(c *bench.Comparison) string {
	name := p.text("figure." + c.Figure.Key())
	if id := "figure_short." + c.Figure.Key(); p.words().Has(id) {
		name = p.text(id)
	}
	for i := range c.Cells {
		if r := c.Cells[i].Result; r.Known() && r.Unit != "1" {
			return name + ", " + wording.Unit(r.Unit)
		}
	}
	return name
}

// ends are a value and how far either end is from it, without the unit: in a table there is
// no room for more.
func (p *Limits) ends(r bench.Result) string {
	down, up, even := r.Halves()
	decimals := decimalsOf(r)
	value := p.fixed(r.Value, decimals)
	switch {
	case r.Certain() || p.fixed(r.Low, decimals) == p.fixed(r.High, decimals):
		return p.words().Number(r.Value, 3)
	case even:
		return whole(p.words().Say("pane.limits.even", map[string]any{"Value": value, "Off": p.fixed(up, decimals)}))
	}
	return whole(p.words().Say("pane.limits.uneven", map[string]any{"Value": value, "Down": p.fixed(down, decimals), "Up": p.fixed(up, decimals)}))
}

// surest are the changes of the blend at work that are known best.
func (p *Limits) surest() []fact {
	const most = 6
	list := append([]bench.Comparison(nil), p.comparison()...)
	chosen := p.view.Chosen
	if chosen < 0 || chosen == p.view.Sheet.Reference {
		return nil
	}
	bench.SortByChange(list, chosen)
	var facts []fact
	for i := range list {
		cell := &list[i].Cells[chosen]
		if cell.Verdict != bench.VerdictMore && cell.Verdict != bench.VerdictLess {
			continue
		}
		if facts = append(facts, p.changeFact(list[i].Figure, cell.Change)); len(facts) == most {
			break
		}
	}
	return facts
}

// surestWords say which blend the changes are of, and against which, where there are any.
func (p *Limits) surestWords() []string {
	if len(p.surest()) == 0 {
		return nil
	}
	blends := p.view.Sheet.Blends
	return []string{p.words().Say("pane.limits.surest", map[string]any{
		"Blend": blends[p.view.Chosen].Name, "Reference": blends[p.view.Sheet.Reference].Name,
	})}
}

// changeFact is a change to three digits at most: nobody chooses a blend by the fourth.
func (p *Limits) changeFact(f bench.Figure, change bench.Result) fact {
	const most = 3
	decimals := min(decimalsOf(change), decimalsIn(change.Value, most))
	value, interval := p.figuresTo(change, decimals)
	return fact{label: p.text("figure." + f.Key()), value: value, more: interval}
}
