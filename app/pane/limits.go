package pane

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
)

// Limits is the pane of how much powder a blend can carry: what stops it first, what the
// maker allows, and how strong its prints are.
type Limits struct {
	base
	*sections[limitsSection]
	limit   bench.LimitID   // the one told in detail; "" for the one that stops first
	rest    *control.Column // what explains the picture: below it where it lies below the headline
	side    *fyne.Container
	picture *drawn
	whatIf  whatIf
	next    measureNext
	compare compareView
}

// limitsSection is a part of the pane.
type limitsSection string

// The parts.
const (
	sectionLimits   limitsSection = "limits"
	sectionWhatIf   limitsSection = "what-if"
	sectionMeasure  limitsSection = "measure"
	sectionCompare  limitsSection = "compare"
	sectionStrength limitsSection = "strength"
	sectionAllowed  limitsSection = "allowed"
)

// limitsSections lists the parts with the catalogue IDs of their names.
var limitsSections = []sectionTitle[limitsSection]{
	{sectionLimits, "pane.limits.tab_limits"},
	{sectionAllowed, "pane.limits.tab_allowed"},
	{sectionWhatIf, "pane.limits.tab_what_if"},
	{sectionMeasure, "pane.limits.tab_measure"},
	{sectionCompare, "pane.limits.tab_compare"},
	{sectionStrength, "pane.limits.tab_strength"},
}

// limitsPicture is the least size of the picture where it lies below the inputs: it holds a
// row for each limit and, with large text, two lines of its name in each.
var limitsPicture = control.PictureOptions{Min: fyne.NewSize(300, 560), TextHeight: 550}

// NewLimits makes the pane.
func NewLimits(desk Desk) *Limits {
	p := &Limits{base: newBase(bench.PaneLimits, desk)}
	p.sections = newSections(&p.base, p.text("pane.limits.sections"), limitsSections, p.markOf, func() { p.Show(p.view) })
	options := limitsPicture
	options.OnTapped = p.tap
	p.picture = p.newDrawn(func(int) figure.Picture { return p.draw() }, options)
	p.drawing = p.picture.view
	p.compare.table = control.NewColumn(0)
	p.side = container.NewStack(p.drawing, control.NewScrollColumn(p.compare.table))
	p.split = control.NewSplit(p.column, control.NewCard("", "", p.side))
	p.rest = control.NewColumn(8)
	p.split.SetRest(p.rest)
	return p
}

// draw is the picture of the part that is open.
func (p *Limits) draw() figure.Picture {
	v := p.view
	switch p.section {
	case sectionStrength:
		return figure.Strength(v.Project, v.Sheet, v.Chosen, p.words())
	case sectionWhatIf:
		return p.drawPair()
	case sectionMeasure:
		return figure.VarianceShares(v.Project, p.shownShares(), p.words())
	}
	shown := bench.LimitID("")
	if l := p.shown(); l != nil {
		shown = l.ID
	}
	return figure.Limits(v.Sheet, v.Chosen, shown, p.words())
}

// drawPair is the limits as they are above those with the levers elsewhere.
func (p *Limits) drawPair() figure.Picture {
	now, then := p.compared()
	return figure.LimitsPair(p.view.Sheet, p.view.Chosen, now, then, p.words())
}

func (p *Limits) markOf(section limitsSection) control.Mark {
	return markOfPart(&p.base, section, limitsSectionOf, p.holds)
}

// holds reports whether a part has anything to show.
func (p *Limits) holds(section limitsSection) bool {
	if section == sectionStrength {
		return len(p.view.Project.Strength.Points) > 0
	}
	results := p.view.Results()
	return results != nil && results.Filled
}

// limitsSectionOf is the part that a place of the document belongs to.
func limitsSectionOf(place string) limitsSection {
	switch {
	case strings.HasPrefix(place, "/strength"), strings.HasPrefix(place, "/materials/"):
		return sectionStrength
	case strings.HasPrefix(place, "/loading/efforts"):
		return sectionMeasure
	case strings.HasPrefix(place, "/loading"):
		return sectionAllowed
	}
	return sectionLimits
}

// strengthProperties lists the materials of the blend at work, by their place in the
// project, whose strength and modulus this pane edits, each with these members.
func strengthProperties(v View) (materials []int, members map[int][]string) {
	materials, members = polymers(v), map[int][]string{}
	for _, i := range materials {
		members[i] = []string{"strength", "modulus"}
	}
	if results := v.Results(); results != nil && results.Powder >= 0 {
		materials = append(materials, results.Powder)
		members[results.Powder] = []string{"modulus"}
	}
	return materials, members
}

// Has reports whether a place belongs to limits or strength.
func (p *Limits) Has(place string) bool {
	if strings.HasPrefix(place, "/loading") || strings.HasPrefix(place, "/strength") || p.base.Has(place) {
		return true
	}
	if p.view.Project == nil {
		return false
	}
	materials, members := strengthProperties(p.view)
	for _, i := range materials {
		for _, member := range members[i] {
			if place == fmt.Sprintf("/materials/%d/%s", i, member) {
				return true
			}
		}
	}
	return false
}

// Lead opens the part that a place belongs to, then its field.
func (p *Limits) Lead(place string) bool {
	if !p.Has(place) {
		return false
	}
	p.section = limitsSectionOf(place)
	p.Show(p.view)
	return p.leadOrStart(place)
}

// Show brings the pane up to date.
func (p *Limits) Show(v View) {
	p.take(v, p.keyOf(v), p.build)
	p.tabs.Sync()
	comparing := p.section == sectionCompare
	p.drawing.Hidden = comparing
	p.side.Objects[1].(*control.ScrollColumn).Hidden = !comparing
	p.side.Refresh()
	p.drawWhatIf()
	p.refresh()
}

// keyOf changes when other inputs are needed.
func (p *Limits) keyOf(v View) string {
	materials, _ := strengthProperties(v)
	key := fmt.Sprint(p.section, v.Chosen, materials, v.Sheet.Limits(v.Chosen).Known)
	switch p.section {
	case sectionWhatIf:
		key += fmt.Sprint(v.Sheet.LeverRanges(v.Chosen))
	case sectionMeasure:
		key += fmt.Sprint(v.Sheet.Limits(v.Chosen).Targets())
	}
	for i := range v.Sheet.Blends {
		key += fmt.Sprintf("%q", v.Sheet.Blends[i].Name)
	}
	return key
}

func (p *Limits) build() {
	p.first = nil
	objects, rest := []fyne.CanvasObject{p.tabs}, []fyne.CanvasObject(nil)
	switch p.section {
	case sectionStrength:
		objects = append(objects, p.buildStrength()...)
	case sectionWhatIf:
		objects = append(objects, p.buildWhatIf()...)
	case sectionMeasure:
		objects = append(objects, p.buildMeasure()...)
	case sectionCompare:
		objects = append(objects, p.buildCompare()...)
	case sectionAllowed:
		objects = append(objects, p.settings(), p.drawsCard())
	default:
		objects = append(objects, p.answerCard())
		if p.sheet().Known {
			rest = append(rest, p.limitCard())
		}
	}
	p.fill(objects)
	p.rest.SetObjects(rest...)
}
