package pane

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/project"
)

// Spool is the pane of the strand and of the spools that it is wound on: its diameter by
// caliper or by the log of a gauge, how it lies on the reel, and the ledger of all spools.
type Spool struct {
	base
	*sections[spoolSection]
	made entries[project.MadeSpool]
	log  logView
	side *fyne.Container // the pictures, of which one kind is shown

	summed struct {
		of      *bench.Sheet
		summary bench.ReadingsSummary
		some    bool
	}
}

// spoolSection is a part of the pane.
type spoolSection string

// The parts, in the order of the work.
const (
	sectionStrand  spoolSection = "strand"
	sectionLog     spoolSection = "log"
	sectionWinding spoolSection = "winding"
	sectionMade    spoolSection = "made"
)

// spoolSections lists the parts with the catalogue IDs of their names.
var spoolSections = []sectionTitle[spoolSection]{
	{sectionStrand, "pane.spool.tab_strand"},
	{sectionLog, "pane.spool.tab_log"},
	{sectionWinding, "pane.spool.tab_winding"},
	{sectionMade, "pane.spool.tab_made"},
}

// NewSpool makes the pane.
func NewSpool(desk Desk) *Spool {
	p := &Spool{base: newBase(bench.PaneSpool, desk)}
	p.sections = newSections(&p.base, p.text("pane.spool.sections"), spoolSections, p.markOf, func() { p.Show(p.view) })
	p.made = p.newMade()
	p.log = newLogView(p)
	p.log.follow.view = &p.log
	p.side = container.NewStack(p.newPicture(p.drawPart), p.log.object)
	p.log.object.Hide()
	p.split = control.NewSplit(p.column, control.NewCard("", "", p.side))
	return p
}

// drawPart is the picture of the part that is open, unless that is the log.
func (p *Spool) drawPart(v View) figure.Picture {
	switch p.section {
	case sectionWinding:
		return figure.Bending(v.Project, v.Sheet, v.Chosen, p.words())
	case sectionMade:
		return figure.Ledger(v.Project, v.Sheet, p.made.at, p.words())
	}
	return figure.Length(v.Project, v.Sheet, v.Chosen, p.words())
}

func (p *Spool) markOf(section spoolSection) control.Mark {
	return markOfPart(&p.base, section, spoolSectionOf, p.holds)
}

// holds reports whether anything was entered in a part.
func (p *Spool) holds(section spoolSection) bool {
	s := &p.view.Project.Spool
	switch section {
	case sectionLog:
		for i := range s.Made {
			if s.Made[i].Trace.File != "" {
				return true
			}
		}
		return false
	case sectionWinding:
		return s.Reel.Core.Given() || len(s.Bend.Tests) > 0
	case sectionMade:
		return len(s.Made) > 0
	}
	return s.Diameter.Given()
}

// spoolSectionOf is the part that a place of the document belongs to.
func spoolSectionOf(place string) spoolSection {
	switch {
	case strings.HasPrefix(place, "/spool/reel"), strings.HasPrefix(place, "/spool/bend"):
		return sectionWinding
	case strings.HasPrefix(place, "/spool/made") && strings.Contains(place, "/trace"), place == "/spool/felt", place == "/print/inlet":
		return sectionLog
	case strings.HasPrefix(place, "/spool/made"), place == "/print/mass":
		return sectionMade
	}
	return sectionStrand
}

// Has reports whether a place belongs to the spool.
func (p *Spool) Has(place string) bool {
	return strings.HasPrefix(place, "/spool") || place == "/print/inlet" || p.base.Has(place)
}

// Lead opens the part that a place belongs to, then its field.
func (p *Spool) Lead(place string) bool {
	if !p.Has(place) {
		return false
	}
	p.section = spoolSectionOf(place)
	p.made.lead(place)
	p.Show(p.view)
	return p.leadOrStart(place)
}

// Show brings the pane up to date.
func (p *Spool) Show(v View) {
	p.made.follow(v.Project)
	p.take(v, p.keyOf(v), p.build)
	p.tabs.Sync()
	p.made.sync()
	p.log.forget()
	p.refresh()
	p.log.redraw()
	p.log.load()
}

// Redraw draws the pictures again.
func (p *Spool) Redraw() {
	p.base.Redraw()
	p.log.redraw()
}

// keyOf changes when other inputs are needed.
func (p *Spool) keyOf(v View) string {
	key := fmt.Sprint(p.section, p.made.key(v.Project), len(v.Project.Blends), v.Chosen)
	if p.section == sectionLog {
		key += fmt.Sprint(p.made.shownIn(v.Project).Trace.File != "")
	}
	return key
}

func (p *Spool) build() {
	p.made.chooser = nil
	objects := []fyne.CanvasObject{p.tabs}
	switch p.section {
	case sectionLog:
		objects = append(objects, p.buildLog()...)
	case sectionWinding:
		objects = append(objects, p.buildWinding()...)
	case sectionMade:
		objects = append(objects, p.buildMade()...)
	default:
		objects = append(objects, p.buildStrand()...)
	}
	p.fill(objects)
	p.drawing.Hidden = p.section == sectionLog
	p.log.object.Hidden = p.section != sectionLog
	p.side.Refresh()
}
