package figure

import (
	"math"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/spool"
	"fillwright/internal/wording"
)

// Bending shows how far the strand is bent on cores of any size, with the core of the reel,
// the mandrels that it was tested on, and what it bears.
func Bending(p *project.Project, s *bench.Sheet, chosen int, w *wording.Words) Picture {
	picture := Picture{Title: w.Text("picture.bending.title"), Alt: w.Text("picture.bending.alt"), Empty: w.Text("picture.bending.empty")}
	diameter := s.Model.Diameter()
	if chosen < 0 || chosen >= len(s.Blends) || !diameter.Known() {
		return picture
	}
	bend := &s.Blends[chosen].Winding.Bend
	low, high := coreSpan(p, bend)
	line := Line{}
	for _, core := range even(low, high, 80, true) {
		line.X, line.Y = append(line.X, core), append(line.Y, 100*spool.CoreStrain(diameter.Value, core))
	}
	panel := Panel{
		X:     Axis{Label: w.Text("picture.bending.core"), Unit: "mm", Log: true, Min: low, Max: high},
		Y:     Axis{Label: w.Text("picture.bending.strain"), Unit: "%", Min: 0, Max: 1.05 * line.Y[0]},
		Lines: []Line{line},
	}
	if core, given := p.Spool.Reel.Core.Estimate(); given {
		panel.Marks = append(panel.Marks, Mark{X: core.Value * 1e3, Label: w.Text("picture.bending.reel"), Strong: true})
	}
	if bend.SafeCore.Known() && bend.SafeCore.Value > 0 {
		panel.Marks = append(panel.Marks, Mark{X: bend.SafeCore.Value, Label: w.Text("picture.bending.safe"), Dashed: true})
		panel.Levels = append(panel.Levels, Level{Y: bend.Allowed.Value, Label: w.Text("picture.bending.allowed"), Dashed: true})
	}
	panel.addBendTests(p, s.Blends[chosen].ID, diameter.Value, w)
	picture.Panels = []Panel{panel}
	return picture
}

// coreSpan is an axis that holds the core, the mandrels and the smallest safe core, in mm.
func coreSpan(p *project.Project, b *bench.BendSheet) (low, high float64) {
	low, high = 20, 120
	hold := func(mm float64) {
		if drawable(mm, true) && mm > 0 {
			low, high = math.Min(low, 0.8*mm), math.Max(high, 1.25*mm)
		}
	}
	hold(p.Spool.Reel.Core.SI() * 1e3)
	for _, t := range p.Spool.Bend.Tests {
		hold(t.Mandrel.SI() * 1e3)
	}
	if b.SafeCore.Known() {
		hold(b.SafeCore.Value)
	}
	return low, high
}

// addBendTests marks each mandrel: a ring where all pieces survived, a cross where one broke.
func (p *Panel) addBendTests(doc *project.Project, blend project.BlendID, diameterMM float64, w *wording.Words) {
	whole := Points{Name: w.Text("picture.bending.survived"), Colour: 2, Marker: Ring}
	broken := Points{Name: w.Text("picture.bending.broken"), Colour: 1, Marker: Cross}
	for _, t := range doc.Spool.Bend.Tests {
		if !t.Mandrel.Given() || t.Pieces == 0 || t.Blend != "" && t.Blend != blend {
			continue
		}
		to := &whole
		if t.Broken > 0 {
			to = &broken
		}
		mandrel := t.Mandrel.SI() * 1e3
		to.X, to.Y = append(to.X, mandrel), append(to.Y, 100*spool.CoreStrain(diameterMM, mandrel))
		to.Labels = append(to.Labels, w.Say("picture.bending.pieces", map[string]any{"Broken": t.Broken, "Pieces": t.Pieces}))
	}
	for _, points := range []Points{whole, broken} {
		if len(points.X) > 0 {
			p.Points = append(p.Points, points)
		}
	}
}

// SpoolName is what a spool of the ledger is called, its number while it has no name.
func SpoolName(s *bench.Sheet, index int, w *wording.Words) string {
	if name := s.Spools[index].Name; name != "" {
		return name
	}
	return w.Say("pane.spool.made_number", map[string]any{"Number": index + 1})
}

// Ledger shows how much of each spool is left.
func Ledger(p *project.Project, s *bench.Sheet, shown int, w *wording.Words) Picture {
	picture := Picture{Title: w.Text("picture.ledger.title"), Alt: w.Text("picture.ledger.alt"), Empty: w.Text("picture.ledger.empty")}
	panel := Panel{X: Axis{Label: w.Text("picture.ledger.left"), Unit: "g"}}
	most := 0.0
	for i := range s.Spools {
		made := &s.Spools[i]
		bar := Bar{Label: SpoolName(s, i, w), Strong: i == shown, Filled: true, Colour: max(made.Blend, 0)}
		if made.Blend >= 0 {
			bar.Sub = s.Blends[made.Blend].Name
		}
		if left := made.Results[bench.SpoolLeftMass]; left.Known() {
			bar.Known, bar.Low, bar.Likely, bar.High = true, math.Max(left.Low, 0), math.Max(left.Value, 0), math.Max(left.High, 0)
			bar.Text = w.Number(left.Value, 3) + " g"
			most = math.Max(most, left.High)
		}
		most = math.Max(most, p.Spool.Made[i].Mass.SI()*1e3)
		panel.Bars = append(panel.Bars, bar)
	}
	if len(panel.Bars) == 0 {
		return picture
	}
	panel.X.Min, panel.X.Max = 0, math.Max(1.02*most, 1)
	picture.Panels = []Panel{panel}
	return picture
}
