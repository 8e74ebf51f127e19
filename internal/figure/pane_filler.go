package figure

import (
	"strings"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// Card shows the properties of one material against the range of the library:
// the bar is the literature's range, the tick is the value in the project.
func Card(p *project.Project, index int, w *wording.Words) Picture {
	picture := Picture{Title: w.Text("picture.card.title"), Alt: w.Text("picture.card.alt"), Empty: w.Text("picture.card.empty")}
	if index < 0 || index >= len(p.Materials) {
		return picture
	}
	m := &p.Materials[index]
	twin, hasTwin := libraryTwin(m.ID)
	panel := Panel{X: Axis{Hide: true, Min: -0.5, Max: 1.5}}
	for _, f := range material.FieldsFor(m.Kind) {
		own, given := f.Estimate(m)
		if !given {
			continue
		}
		low, high := own.Value, own.Value // an own value alone has no range to stand in
		if _, library := m.SourceOf(f.Member); library {
			low, high = own.Low, own.High
		}
		if hasTwin {
			if lib, ok := f.Estimate(&twin); ok && lib.High > lib.Low {
				low, high = lib.Low, lib.High
			}
		}
		panel.Bars = append(panel.Bars, cardBar(own.Value, low, high, f, m, w))
	}
	if len(panel.Bars) > 0 {
		picture.Panels = []Panel{panel}
	}
	return picture
}

// cardBar places a value on a range that is drawn from 0 to 1: the range in
// grey, the value as a tick. A value without any range stands in the middle.
func cardBar(value, low, high float64, f material.Field, m *material.Material, w *wording.Words) Bar {
	bar := Bar{
		Label: w.Text(f.Label), Text: f.Pretty(m, w.DecimalComma()), Colour: InkMuted,
		Known: true, Low: 0.5, Likely: 0.5, High: 0.5,
	}
	source, library := m.SourceOf(f.Member)
	switch {
	case library && source.Confirm:
		bar.Sub = w.Text("picture.card.confirm")
	case library:
		bar.Sub = w.Text("picture.card.literature")
	default:
		bar.Sub, bar.Strong = w.Text("picture.card.own"), true
	}
	if high > low {
		bar.Low, bar.Likely, bar.High = 0, min(1.5, max(-0.5, (value-low)/(high-low))), 1
	}
	return bar
}

// libraryTwin is the built-in material that one of the project was copied from:
// a copy keeps the ID, with a number behind it when it is not the only one.
func libraryTwin(id material.ID) (material.Material, bool) {
	if m, ok := material.Lookup(id); ok {
		return m, true
	}
	base := strings.TrimRight(string(id), "0123456789")
	return material.Lookup(material.ID(strings.TrimSuffix(base, "-")))
}
