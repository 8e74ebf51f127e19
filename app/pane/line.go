package pane

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// Line is the pane of the compounding line: how fast, how evenly, how long to purge,
// and the log of its runs.
type Line struct {
	base
	section lineSection
	law     bench.WashoutModel   // whose curve is in front
	run     int                  // of the log that is shown
	runs    *control.SelectField // nil while there is nothing to choose from
	time    runClock
	tabs    *control.Tabs
}

// lineSection is a part of the pane.
type lineSection string

// The parts, in the order of the work.
const (
	sectionThroughput lineSection = "throughput"
	sectionSpreading  lineSection = "spreading"
	sectionChanges    lineSection = "changes"
	sectionRuns       lineSection = "runs"
)

// lineSections lists the parts with the catalogue IDs of their names.
var lineSections = []struct {
	id    lineSection
	title string
}{
	{sectionThroughput, "pane.line.tab_throughput"},
	{sectionSpreading, "pane.line.tab_spreading"},
	{sectionChanges, "pane.line.tab_changes"},
	{sectionRuns, "pane.line.tab_runs"},
}

// NewLine makes the pane.
func NewLine(desk Desk) *Line {
	p := &Line{base: newBase(bench.PaneLine, desk), section: sectionThroughput, law: bench.WashoutPlug}
	p.tabs = control.NewTabs(control.TabsOptions{
		Label: p.text("pane.line.sections"), Items: p.tabItems,
		Chosen:   func() string { return string(p.section) },
		OnChoose: func(id string) { p.open(lineSection(id)) },
	})
	picture := p.newPicture(p.draw)
	p.split = control.NewSplit(p.column, control.NewCard("", "", picture))
	return p
}

// draw is the picture of the part that is open.
func (p *Line) draw(v View) figure.Picture {
	switch p.section {
	case sectionSpreading:
		return figure.Spreading(v.Sheet, v.Chosen, p.words())
	case sectionChanges:
		return figure.Changes(v.Project, v.Sheet, v.Chosen, p.law, p.words())
	case sectionRuns:
		return figure.RunLog(v.Project, p.run, p.words())
	}
	return figure.Throughput(v.Project, v.Sheet, v.Chosen, p.words())
}

// Sections lists the parts of the pane, for pictures of each.
func (p *Line) Sections() []string {
	var list []string
	for _, s := range lineSections {
		list = append(list, string(s.id))
	}
	return list
}

// OpenSection shows a part of the pane.
func (p *Line) OpenSection(id string) bool {
	before := p.section
	p.open(lineSection(id))
	return p.section != before
}

func (p *Line) open(section lineSection) {
	if section != p.section {
		p.section = section
		p.Show(p.view)
	}
}

// tabItems are the parts with their marks.
func (p *Line) tabItems() []control.Item {
	var items []control.Item
	for _, s := range lineSections {
		mark := p.markOf(s.id)
		items = append(items, control.Item{ID: string(s.id), Title: p.text(s.title), Mark: mark, MarkText: p.text(markTexts[mark])})
	}
	return items
}

// markOf is the worst note of a part or, without any, whether it holds anything.
func (p *Line) markOf(section lineSection) control.Mark {
	if p.view.Project == nil {
		return control.MarkEmpty
	}
	return markFor(p.view, bench.PaneLine, func(place string) bool { return lineSectionOf(place) == section }, p.holds(section))
}

// holds reports whether anything was entered in a part.
func (p *Line) holds(section lineSection) bool {
	l := &p.view.Project.Line
	switch section {
	case sectionSpreading:
		return l.Spreading.PelletDiameter.Given()
	case sectionChanges:
		return l.Machine.MeltVolume.Given() || l.Changes.StableAfter.Given() || len(l.Changes.Samples) > 0
	case sectionRuns:
		return len(l.Runs) > 0
	}
	return len(l.Outputs) > 0 || p.view.Project.Cost.Throughput.Given() || l.Machine.ScrewDiameter.Given()
}

// lineSectionOf is the part that a place of the document belongs to.
func lineSectionOf(place string) lineSection {
	switch {
	case strings.HasPrefix(place, "/line/spreading"), strings.Contains(place, "/evenness"):
		return sectionSpreading
	case strings.HasPrefix(place, "/line/changes"):
		return sectionChanges
	case strings.HasPrefix(place, "/line/runs"):
		return sectionRuns
	}
	return sectionThroughput
}

// Has reports whether a place belongs to the line.
func (p *Line) Has(place string) bool {
	return strings.HasPrefix(place, "/line/") || strings.Contains(place, "/evenness") || p.base.Has(place)
}

// Lead opens the part that a place belongs to, then its field.
func (p *Line) Lead(place string) bool {
	if !p.Has(place) {
		return false
	}
	p.section = lineSectionOf(place)
	var run int
	if _, err := fmt.Sscanf(place, "/line/runs/%d", &run); err == nil {
		p.run = run
	}
	p.Show(p.view)
	if p.base.Lead(place) {
		return true
	}
	if p.first == nil {
		return false
	}
	p.first.Focus()
	return true
}

// Show brings the pane up to date.
func (p *Line) Show(v View) {
	p.run = max(0, min(p.run, len(v.Project.Line.Runs)-1))
	p.take(v, p.keyOf(v), p.build)
	p.tabs.Sync()
	if p.runs != nil {
		p.runs.SetChoices(p.runChoices())
	}
	p.refresh()
}

// keyOf changes when other inputs are needed.
func (p *Line) keyOf(v View) string {
	if p.section == sectionRuns {
		return fmt.Sprint(p.section, p.run, len(v.Project.Line.Runs), v.Chosen)
	}
	return fmt.Sprint(p.section, v.Chosen, v.Project.Currency, polymers(v), p.desk.TextScale())
}

func (p *Line) build() {
	p.runs = nil
	objects := []fyne.CanvasObject{p.tabs}
	switch p.section {
	case sectionSpreading:
		objects = append(objects, p.buildSpreading()...)
	case sectionChanges:
		objects = append(objects, p.buildChanges()...)
	case sectionRuns:
		objects = append(objects, p.buildRuns()...)
	default:
		objects = append(objects, p.buildThroughput()...)
	}
	for _, bring := range p.remarks { // now, or the column would shrink for a moment and lose its place
		bring()
	}
	p.column.SetObjects(objects...)
}

// lineField makes a field for a quantity of the line. Its name, and its hint and remark
// if it has them, are in the catalogue under its place.
func lineField[D quantity.Dim](p *Line, place string, at func(*project.Project) *quantity.Of[D]) *control.Field {
	id := strings.ReplaceAll(place, "/", ".")
	look := fieldLook{label: p.text("field" + id)}
	if hint := "hint" + id; p.words().Has(hint) {
		look.hint = p.text(hint)
	}
	if remark := "remark" + id; p.words().Has(remark) {
		look.remark = p.text(remark)
	}
	return newQuantity(&p.base, place, look, at)
}

// lineSheet is what is told of the line with the blend at work; nil without one.
func (p *Line) lineSheet() *bench.BlendLine {
	if results := p.view.Results(); results != nil {
		return &results.Line
	}
	return nil
}
