package pane

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// Line is the pane of the compounding line: how fast, how evenly, how long to purge,
// and the log of its runs.
type Line struct {
	base
	*sections[lineSection]
	law     bench.WashoutModel // whose curve is in front
	runs    entries[project.LineRun]
	regrind material.ID // that is shown
	time    runClock
}

// lineSection is a part of the pane.
type lineSection string

// The parts, in the order of the work.
const (
	sectionThroughput lineSection = "throughput"
	sectionSpreading  lineSection = "spreading"
	sectionChanges    lineSection = "changes"
	sectionRegrind    lineSection = "regrind"
	sectionRuns       lineSection = "runs"
)

// lineSections lists the parts with the catalogue IDs of their names.
var lineSections = []sectionTitle[lineSection]{
	{sectionThroughput, "pane.line.tab_throughput"},
	{sectionSpreading, "pane.line.tab_spreading"},
	{sectionChanges, "pane.line.tab_changes"},
	{sectionRegrind, "pane.line.tab_regrind"},
	{sectionRuns, "pane.line.tab_runs"},
}

// NewLine makes the pane.
func NewLine(desk Desk) *Line {
	p := &Line{base: newBase(bench.PaneLine, desk), law: bench.WashoutPlug}
	p.sections = newSections(&p.base, p.text("pane.line.sections"), lineSections, p.markOf, func() { p.Show(p.view) })
	p.runs = p.newRuns()
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
	case sectionRegrind:
		return figure.Regrind(v.Sheet, v.Chosen, p.words())
	case sectionRuns:
		return figure.RunLog(v.Project, p.runs.at, p.words())
	}
	return figure.Throughput(v.Project, v.Sheet, v.Chosen, p.words())
}

// markOf is the worst note of a part or, without any, whether it holds anything.
func (p *Line) markOf(section lineSection) control.Mark {
	return markOfPart(&p.base, section, p.partOf, p.holds)
}

// holds reports whether anything was entered in a part.
func (p *Line) holds(section lineSection) bool {
	l := &p.view.Project.Line
	switch section {
	case sectionSpreading:
		return l.Spreading.PelletDiameter.Given()
	case sectionChanges:
		return l.Machine.MeltVolume.Given() || l.Changes.StableAfter.Given() || len(l.Changes.Samples) > 0
	case sectionRegrind:
		return len(regrinds(p.view)) > 0
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
	case strings.Contains(place, "/regrind/"), strings.Contains(place, "/parts/"): // of a recipe the share of regrind only
		return sectionRegrind
	case strings.HasPrefix(place, "/line/changes"):
		return sectionChanges
	case strings.HasPrefix(place, "/line/runs"):
		return sectionRuns
	}
	return sectionThroughput
}

// partOf is lineSectionOf, and knows which materials are regrind.
func (p *Line) partOf(place string) lineSection {
	if p.regrindAt(place) >= 0 {
		return sectionRegrind
	}
	return lineSectionOf(place)
}

// Has reports whether a place belongs to the line.
func (p *Line) Has(place string) bool {
	return strings.HasPrefix(place, "/line/") || strings.Contains(place, "/evenness") || p.regrindAt(place) >= 0 || p.base.Has(place)
}

// Lead opens the part that a place belongs to, then its field.
func (p *Line) Lead(place string) bool {
	if !p.Has(place) {
		return false
	}
	p.section = p.partOf(place)
	p.runs.lead(place)
	if index := p.regrindAt(place); index >= 0 {
		p.regrind = p.view.Project.Materials[index].ID
	}
	p.Show(p.view)
	return p.leadOrStart(place)
}

// Show brings the pane up to date.
func (p *Line) Show(v View) {
	p.runs.follow(v.Project)
	p.time.follow(len(v.Project.Line.Runs), p.desk.Now())
	p.followRegrind(v)
	p.take(v, p.keyOf(v), p.build)
	p.tabs.Sync()
	p.runs.sync()
	p.refresh()
}

// keyOf changes when other inputs are needed.
func (p *Line) keyOf(v View) string {
	if p.section == sectionRuns {
		return fmt.Sprint(p.section, p.runs.key(v.Project), v.Chosen)
	}
	return fmt.Sprint(p.section, v.Chosen, v.Project.Currency, polymers(v), p.desk.TextScale(), p.regrind, p.recipeKey(v))
}

func (p *Line) build() {
	p.runs.chooser = nil
	objects := []fyne.CanvasObject{p.tabs}
	switch p.section {
	case sectionSpreading:
		objects = append(objects, p.buildSpreading()...)
	case sectionChanges:
		objects = append(objects, p.buildChanges()...)
	case sectionRegrind:
		objects = append(objects, p.buildRegrind()...)
	case sectionRuns:
		objects = append(objects, p.buildRuns()...)
	default:
		objects = append(objects, p.buildThroughput()...)
	}
	p.fill(objects)
}

// lineField makes a field for a quantity of the line. Its name, and its hint and remark
// if it has them, are in the catalogue under its place.
func lineField[D quantity.Dim](p *Line, place string, at func(*project.Project) *quantity.Of[D]) *control.Field {
	return newQuantity(&p.base, place, p.lookOf(place), at)
}

// lineSheet is what is told of the line with the blend at work; nil without one.
func (p *Line) lineSheet() *bench.BlendLine {
	if results := p.view.Results(); results != nil {
		return &results.Line
	}
	return nil
}
