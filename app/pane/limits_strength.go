package pane

import (
	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// buildStrength is what bars broke at, and how strong and stiff the blend is by that.
func (p *Limits) buildStrength() []fyne.CanvasObject {
	objects := []fyne.CanvasObject{
		section(p.text("pane.limits.blend_strength"), p.lines(p.strengthWords), p.facts(p.strengthFacts),
			p.captions(p.barsWords), p.facts(p.barsFacts), control.NewCaption(p.text("pane.limits.weakest_leads"))),
		section(p.text("pane.limits.points"), control.NewCaption(p.text("pane.limits.points_remark")), p.pointTable().object(),
			control.NewCaption(p.text("pane.limits.spread_remark")), control.NewCaption(p.text("pane.limits.break_safely"))),
	}
	materials, members := strengthProperties(p.view)
	for _, i := range materials {
		var fields []fyne.CanvasObject
		for _, member := range members[i] {
			field := newProperty(&p.base, i, member)
			if p.first == nil {
				p.first = field
			}
			fields = append(fields, field)
		}
		card := []fyne.CanvasObject{control.NewPairs(8, fields...)}
		if len(fields) > 1 {
			card = append(card, control.NewCaption(p.text("pane.limits.plain_remark")))
		}
		objects = append(objects, p.named(func() string { return p.materialName(i) }, card...))
	}
	return objects
}

// pointTable holds the strengths that were measured.
func (p *Limits) pointTable() *rowsTable[project.StrengthPoint] {
	direction := []control.Choice{
		{Value: string(project.Flat), Text: p.text("direction.flat")}, {Value: string(project.Upright), Text: p.text("direction.upright")},
	}
	return newRowsTable(&p.base, rowsOptions[project.StrengthPoint]{
		place: "/strength/points", label: p.text("pane.limits.points"), most: project.MostRows("/strength/points"), shown: 5,
		list: func(d *project.Project) *[]project.StrengthPoint { return &d.Strength.Points }, file: p.text("pane.limits.points_file"),
		rowNote: p.pointNote,
		columns: []column[project.StrengthPoint]{
			choiceColumn("blend", p.text("pane.limits.point_blend"), 165, p.blendChoices(),
				func(t *project.StrengthPoint) string { return string(t.Blend) }, func(t *project.StrengthPoint, v string) { t.Blend = project.BlendID(v) }),
			choiceColumn("direction", p.text("pane.limits.point_direction"), 190, direction,
				func(t *project.StrengthPoint) string { return string(t.Direction) }, func(t *project.StrengthPoint, v string) { t.Direction = project.Direction(v) }),
			quantityColumn(&p.base, "mean", p.text("pane.limits.point_mean"), 165, "MPa", func(t *project.StrengthPoint) *pressure { return &t.Mean }),
			wholeColumn("spools", p.text("pane.limits.point_spools"), 95, 1, 1000, func(t *project.StrengthPoint) *int { return &t.Spools }),
			wholeColumn("bars", p.text("pane.limits.point_bars"), 85, 1, 10000, func(t *project.StrengthPoint) *int { return &t.Bars }),
			quantityColumn(&p.base, "content", p.text("pane.limits.point_content"), 130, "%", func(t *project.StrengthPoint) *fraction { return &t.Content }),
			textColumn("notes", p.text("pane.limits.point_notes"), 260, func(t *project.StrengthPoint) *string { return &t.Notes }),
		},
	})
}

// pointNote says what a row lacks to count.
func (p *Limits) pointNote(index int) string {
	points := p.view.Project.Strength.Points
	if index >= len(points) {
		return ""
	}
	pt := &points[index]
	blend := p.view.Project.BlendByID(pt.Blend)
	switch {
	case blend < 0:
		return p.text("pane.limits.point_no_blend")
	case pt.Direction == "":
		return p.text("pane.limits.point_no_direction")
	case !pt.Mean.Given():
		return p.text("pane.limits.point_no_mean")
	case !pt.Content.Given() && !p.view.Sheet.Blends[blend].Result(bench.FillerMassFraction).Known():
		return p.text("pane.limits.point_no_content")
	}
	return ""
}

// strengthFigures are those of strength and stiffness.
var strengthFigures = []bench.Figure{
	bench.StrengthFlat, bench.StrengthUpright, bench.StrengthKeptFlat, bench.StrengthKeptUpright, bench.Modulus, bench.StiffnessKept,
}

func (p *Limits) strengthFacts() (list []fact) {
	results := p.view.Results()
	if results == nil {
		return nil
	}
	for _, f := range strengthFigures {
		list = append(list, p.fact("figure."+f.Key(), results.Result(f)))
	}
	return list
}

// barsWords say what the list of the bars that count is.
func (p *Limits) barsWords() []string {
	if len(p.barsFacts()) == 0 {
		return nil
	}
	return []string{p.text("pane.limits.bars_beside")}
}

// barsFacts are what the bars that count for the blend at work broke at, each with what the
// curve says at its content: the curve passes between the points, not through them.
func (p *Limits) barsFacts() (list []fact) {
	if !p.sheet().Known {
		return nil
	}
	doc := p.view.Project
	for _, i := range p.view.Sheet.Model.CountedPoints(p.view.Chosen) {
		pt := &doc.Strength.Points[i]
		of := doc.BlendByID(pt.Blend)
		if of < 0 {
			continue
		}
		direction, figure := "direction.flat", bench.StrengthFlat
		if pt.Direction == project.Upright {
			direction, figure = "direction.upright", bench.StrengthUpright
		}
		bars := fact{
			label: joined(", ", p.view.Sheet.Blends[of].Name, p.ownContent(pt), p.text(direction)),
			value: whole(pt.Mean.Pretty(p.words().DecimalComma())), more: p.text("pane.limits.bars_measured"),
		}
		if around := p.spoolSpread(pt); around != "" {
			bars.more += below(around)
		}
		if r := p.view.Sheet.Blends[of].Result(figure); r.Known() && !pt.Content.Given() {
			value, _ := p.figures(r)
			bars.more += below(p.words().Say("pane.limits.bars_curve", map[string]any{"Value": value}))
		}
		list = append(list, bars)
	}
	return list
}

// spoolSpread says which ± stands in for one that was not entered; empty beside one that was.
func (p *Limits) spoolSpread(pt *project.StrengthPoint) string {
	around, stands := bench.StandInMPa(pt)
	if !stands {
		return ""
	}
	value := whole("± " + p.words().Number(around, 2) + " " + wording.Unit("MPa"))
	return p.words().Say("pane.limits.bars_usual_spread", map[string]any{"Value": value})
}

// ownContent is the filler content that was entered for a point.
func (p *Limits) ownContent(pt *project.StrengthPoint) string {
	if !pt.Content.Given() {
		return ""
	}
	return whole(p.words().Number(100*pt.Content.SI(), 3) + " " + wording.Unit("wt%"))
}

// strengthWords name the blend, and say what is missing to tell its strength.
func (p *Limits) strengthWords() []string {
	results := p.view.Results()
	if results == nil {
		return []string{p.text("pane.no_blend")}
	}
	list := []string{p.words().Say("pane.limits.of_blend", map[string]any{"Blend": results.Name})}
	for i := range p.sheet().Limits {
		switch l := &p.sheet().Limits[i]; l.ID {
		case bench.LimitFlat, bench.LimitUpright, bench.LimitStiffness:
			if text := p.missing(l); text != "" {
				list = append(list, text)
			}
		}
	}
	if !results.Filled && !results.Result(bench.StrengthFlat).Known() {
		list = append(list, p.text("answer.limit_missing_plain_strength"))
	}
	return list
}
