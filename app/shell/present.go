package shell

import (
	"slices"
	"strings"

	"fillwright/app/control"
	"fillwright/app/pane"
	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// paneTitles are the names of the panes.
var paneTitles = map[bench.Pane]string{
	bench.PaneFiller: "pane.filler.title",
	bench.PaneBlend:  "pane.blend.title",
	bench.PaneMelt:   "pane.melt.title",
	bench.PaneLine:   "pane.line.title",
	bench.PaneSpool:  "pane.spool.title",
	bench.PanePlan:   "pane.plan.title",
	bench.PaneLimits: "pane.limits.title",
}

// railItems are the panes that compute, in the order of the work.
func (b *Workbench) railItems() []control.Item {
	var items []control.Item
	for _, id := range bench.Panes() {
		items = append(items, control.Item{ID: string(id), Title: b.words.Text(paneTitles[id])})
	}
	return items
}

// cards are the blends of the bar.
func (b *Workbench) cards(v pane.View) []control.BlendCard {
	var cards []control.BlendCard
	for i := range v.Sheet.Blends {
		r := v.Sheet.Blends[i].Result(bench.FillerMassFraction)
		line := b.words.Text("bar.unfinished")
		switch {
		case i == v.Sheet.Reference:
			line = b.words.Text("bar.reference")
		case r.Known():
			line = b.words.Say("bar.content", map[string]any{"Content": wording.Number{Value: r.Value, Unit: "wt%", Digits: 3}})
		}
		cards = append(cards, control.BlendCard{ID: string(v.Sheet.Blends[i].ID), Name: v.Sheet.Blends[i].Name, Line: line})
	}
	return cards
}

// verdictFigure is one figure of the strip.
type verdictFigure struct {
	figure  bench.Figure
	label   string  // catalogue ID
	scale   float64 // from the figure's unit to the one shown
	unit    string  // "" takes the figure's
	digits  int     // 0 takes those that the interval tells, as the panes do
	compare bool    // say the change against the reference
}

// strip lists the figures of the verdict strip. Cost is shown by length, because
// length is what a print uses up.
var strip = []verdictFigure{
	{figure: bench.Density, label: "verdict.density", scale: 1, digits: 4, compare: true},
	{figure: bench.CostPerMetre, label: "verdict.cost", scale: 100, unit: "CUR", digits: 3, compare: true},
	{figure: bench.CostPerSpool, label: "verdict.spool", scale: 1, digits: 4, compare: true},
	{figure: bench.LengthPerSpool, label: "verdict.length", scale: 1, digits: 3, compare: true},
	{figure: bench.MeltFlow, label: "verdict.flow", scale: 1, digits: 2},
	{figure: bench.BlendMoisture, label: "verdict.moisture", scale: 1, digits: 2},
}

// largeText is the scale of text from which the strip has room for its main figures only.
const largeText = 1.2

// figures are those of the verdict strip for the blend at work.
func (b *Workbench) figures(v pane.View) []control.Figure {
	results := v.Results()
	if results == nil {
		return nil
	}
	large := b.TextScale() > largeText
	kept, known := b.strengthKept(v, results)
	crowded := known && (large || slices.ContainsFunc(strip, func(f verdictFigure) bool { return !results.Result(f.figure).Known() }))
	var list, waiting []control.Figure
	for _, f := range strip {
		if f.figure == bench.CostPerSpool && crowded {
			continue // the cost of a length and the length tell it, and a reason needs its room
		}
		if f.figure == bench.CostPerMetre && !results.Result(f.figure).Known() && results.Result(bench.MaterialCostPerKg).Known() {
			f = verdictFigure{figure: bench.MaterialCostPerKg, label: "verdict.materials", scale: 1, digits: 4, compare: true}
		}
		if f.figure == bench.BlendMoisture && results.Result(bench.ClogChancePerSpool).Known() {
			f = verdictFigure{figure: bench.ClogChancePerSpool, label: "verdict.clog", scale: 1}
		}
		shown := b.verdictFigure(v, results, f)
		if large && shown.Value == "" { // it gives way to what is known, and the notes say what it waits for
			shown.Reason = b.words.Text("verdict.unknown")
			waiting = append(waiting, shown)
			continue
		}
		list = append(list, shown)
	}
	if known {
		list = append(list, kept)
	}
	list = append(list, waiting...)
	if large && known {
		toFourth(list, kept)
	}
	return list
}

// toFourth moves a figure among the first four: with large text the strip may have room for
// no more.
func toFourth(list []control.Figure, f control.Figure) {
	const place = 3
	if at := slices.Index(list, f); at > place {
		copy(list[place+1:at+1], list[place:at])
		list[place] = f
	}
}

// strengthKept is the strength that the weakest direction keeps, where any is known.
func (b *Workbench) strengthKept(v pane.View, results *bench.BlendSheet) (control.Figure, bool) {
	weakest, direction := bench.StrengthKeptUpright, "verdict.upright"
	flat, upright := results.Result(bench.StrengthKeptFlat), results.Result(weakest)
	if flat.Known() && (!upright.Known() || flat.Value < upright.Value) {
		weakest, direction = bench.StrengthKeptFlat, "verdict.flat"
	}
	if !results.Result(weakest).Known() {
		return control.Figure{}, false
	}
	shown := b.verdictFigure(v, results, verdictFigure{figure: weakest, label: "verdict.strength", scale: 1})
	shown.Change = b.words.Text(direction)
	return shown, true
}

func (b *Workbench) verdictFigure(v pane.View, results *bench.BlendSheet, f verdictFigure) control.Figure {
	r := results.Result(f.figure)
	shown := control.Figure{Label: b.words.Text(f.label)}
	if !r.Known() {
		shown.Reason = b.reason(results, f.figure)
		return shown
	}
	value, low, high := b.rounded(r, f)
	shown.Value, shown.Unit = value, wording.Unit(r.Unit)
	if f.unit == "CUR" {
		shown.Unit = wording.Unit(v.Sheet.Currency)
	}
	if r.Unit == "1" {
		shown.Value, shown.Unit = "×"+shown.Value, b.direction(r)
	}
	shown.Interval = b.words.Text("basis." + r.Basis.String())
	switch {
	case pane.Rare(f.figure, r):
		shown.Value, shown.Interval = b.words.Text("chance.rare_cell"), pane.RareBasis(b.words, results, f.figure, r)
	case !r.Certain():
		shown.Interval = b.words.Say("verdict.interval", map[string]any{"Low": low, "High": high})
	}
	if f.compare && v.Sheet.Reference >= 0 && v.Sheet.Reference != v.Chosen {
		shown.Change = b.change(r, v.Sheet.Blends[v.Sheet.Reference].Result(f.figure))
	}
	return shown
}

// rounded is a result and its ends as the strip shows them.
func (b *Workbench) rounded(r bench.Result, f verdictFigure) (value, low, high string) {
	if f.digits == 0 {
		return pane.Rounded(b.words, r)
	}
	number := func(v float64) string { return b.words.Number(v*f.scale, f.digits) }
	return number(r.Value), number(r.Low), number(r.High)
}

// direction says in a word what a melt-flow factor means.
func (b *Workbench) direction(r bench.Result) string {
	switch {
	case r.Low > 1:
		return b.words.Text("verdict.easier")
	case r.High < 1:
		return b.words.Text("verdict.stiffer")
	case r.Certain():
		return ""
	}
	return b.words.Text("verdict.open")
}

// change says how a figure differs from the reference, in percent.
func (b *Workbench) change(r, reference bench.Result) string {
	change, known := bench.Change(r, reference)
	if !known {
		return ""
	}
	return b.words.Signed(change, 1) + " %"
}

// reason says in a few words what an unknown figure waits for.
func (b *Workbench) reason(results *bench.BlendSheet, f bench.Figure) string {
	for _, n := range results.Notes {
		for _, blocked := range n.Blocks {
			if blocked == f {
				return b.words.Say(n.Message())
			}
		}
	}
	return b.words.Text("verdict.unknown")
}

// listNotes shows the notes of the blend at work and of the project.
func (b *Workbench) listNotes(v pane.View) {
	all := v.Sheet.NotesOf(v.Chosen)
	b.listed = all
	notes := make([]control.Note, len(all))
	for i, n := range all {
		notes[i] = control.Note{
			Severity: severity(n.Severity),
			Text:     b.words.Say(n.Message()), Action: b.words.Say(n.Action(), n.Values),
			Place: b.placeName(n),
		}
	}
	b.notes.SetNotes(notes)
}

func severity(s bench.Severity) control.Severity {
	switch s {
	case bench.Stop:
		return control.Stop
	case bench.Caution:
		return control.Caution
	}
	return control.Info
}

// placeName says where a note leads: the pane and the field.
func (b *Workbench) placeName(n bench.Note) string {
	switch {
	case n.Field == "" && n.Pane == bench.PaneLimits: // its picture shows what the note says
		return b.words.Text(paneTitles[n.Pane])
	case n.Field == "":
		return ""
	}
	pane := b.words.Text(paneTitles[n.Pane])
	if strings.Contains(n.Field, "/powder/") { // a note of another pane can lead to the bench
		pane = b.words.Text(paneTitles[bench.PaneFiller])
	}
	for _, id := range fieldTexts(n.Field) {
		if b.words.Has(id) {
			return b.words.Say("notes.place", map[string]any{"Pane": pane, "Field": b.words.Text(id)})
		}
	}
	return pane
}

// fieldTexts are the catalogue IDs that may name a place, the best first.
func fieldTexts(place string) []string {
	member := place[strings.LastIndexByte(place, '/')+1:]
	if _, below, is := strings.Cut(place, "/powder/"); is { // of the bench: its field, that of a run or step, its part
		part, _, _ := strings.Cut(below, "/")
		return []string{
			"field." + strings.ReplaceAll(below, "/", "."), "field.run." + member, "field.step." + member, "pane.filler.tab_" + part,
		}
	}
	return []string{
		"field" + strings.ReplaceAll(place, "/", "."), "field.blend." + member, "material." + member, "field.material." + member,
	}
}

func (b *Workbench) openNote(index int) {
	if index >= 0 && index < len(b.listed) {
		b.show(b.listed[index].Pane)
		b.Lead(b.listed[index].Field)
	}
}

// markRail gives each pane its mark: the worst of its notes, or that nothing
// was entered there yet.
func (b *Workbench) markRail(v pane.View) {
	worst := map[bench.Pane]bench.Severity{}
	cautions := 0
	for _, n := range b.listed {
		worst[n.Pane] = max(worst[n.Pane], n.Severity)
		if n.Severity != bench.Info {
			cautions++
		}
	}
	empty := 0
	for _, id := range bench.Panes() {
		mark := control.MarkFine
		switch {
		case worst[id] == bench.Stop:
			mark = control.MarkStop
		case worst[id] == bench.Caution:
			mark = control.MarkCaution
		case !b.entered(v, id):
			mark = control.MarkEmpty
			empty++
		}
		b.rail.SetMark(string(id), mark, b.words.Text("mark."+markID(mark)))
	}
	b.footer = b.words.Say("rail.footer", map[string]any{
		"Cautions": b.words.Say("rail.cautions", map[string]any{"Count": cautions}),
		"Empty":    b.words.Say("rail.empty", map[string]any{"Count": empty}),
	})
	b.sayMethod()
}

// sayMethod says below the rail how the intervals of the blend at work were found, where the
// window draws.
func (b *Workbench) sayMethod() {
	text, d := b.footer, b.draws.state
	switch {
	case b.draws.runner == nil:
	case d.Running:
		text += "\n" + b.words.Say("rail.drawing", map[string]any{"Percent": int(100 * d.Share)})
	case d.Draws > 0:
		text += "\n" + b.words.Text("rail.drawn")
	default:
		text += "\n" + b.words.Text("rail.first_order")
	}
	b.rail.SetFooter(text)
}

func markID(m control.Mark) string {
	switch m {
	case control.MarkStop:
		return "stop"
	case control.MarkCaution:
		return "caution"
	case control.MarkFine:
		return "fine"
	}
	return "empty"
}

// entered reports whether a pane has what it needs to compute anything.
func (b *Workbench) entered(v pane.View, id bench.Pane) bool {
	p := v.Project
	switch id {
	case bench.PaneFiller:
		return v.Results() != nil && v.Sheet.Model.Filled(v.Chosen)
	case bench.PaneBlend:
		return v.Results() != nil
	case bench.PaneMelt:
		return p.Melt.Temperature.Given() || p.Melt.Residence.Given()
	case bench.PaneLine:
		return len(p.Line.Outputs) > 0 || p.Line.Machine.MeltVolume.Given() || p.Line.Spreading.PelletDiameter.Given()
	case bench.PaneSpool:
		return p.Spool.Diameter.Given() || len(p.Spool.Readings) > 0
	case bench.PaneLimits:
		return v.Results() != nil && v.Sheet.Model.Filled(v.Chosen)
	}
	return v.Sheet.Plan.Known
}
