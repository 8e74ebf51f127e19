package bench

import (
	"math"

	"fillwright/internal/blend"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

// RegrindSheet is what becomes of the polymer when as much of every charge as of this one
// is fed back for long.
type RegrindSheet struct {
	Known    bool      // there is regrind in the blend
	Most     int       // passes through the heat that are thought fine
	Usual    bool      // nothing was entered for them
	Standing Result    // passes of the polymer on average
	Beyond   Result    // share of it that has been through more often than Most
	ByPasses []float64 // shares by passes, from one; the last is all that is left
}

// mostPasses is how often regrind may go through the heat.
func mostPasses(r *material.Regrind) int {
	if r.MostPasses > 0 {
		return r.MostPasses
	}
	return usualRegrindPasses
}

// histogram is the share of the polymer by its passes through the heat, from one, when
// share of every charge is fed back for long; the last is all that is left.
func histogram(share float64, n int) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = blend.ShareBeyond(share, i)
		if i < n-1 {
			list[i] -= blend.ShareBeyond(share, i+1)
		}
	}
	return list
}

// shownPasses is how far a sheet tells the passes apart.
const shownPasses = 6

func regrindSheet(p *project.Project, m *Model, s *Sheet, index int) RegrindSheet {
	share := s.Blends[index].Results[RegrindShare]
	sheet := RegrindSheet{Standing: unknownIn("1"), Beyond: unknownIn("%")}
	for i, part := range p.Blends[index].Parts {
		if r := &p.Materials[p.MaterialByID(part.Material)].Regrind; r.Is() && m.blends[index].parts[i].regrind != nil {
			sheet.Most, sheet.Usual = mostPasses(r), r.MostPasses == 0
			break
		}
	}
	if sheet.Most == 0 || !share.Known() {
		return sheet
	}
	sheet.Known = true
	of := func(f func(share float64) float64, unit string) Result {
		return newResult(f(share.Value/100), f(share.Low/100), f(share.High/100), unit, Estimated)
	}
	sheet.Standing = of(blend.SteadyPasses, "1")
	sheet.Beyond = of(func(r float64) float64 { return blend.ShareBeyond(r, sheet.Most) * 100 }, "%")
	sheet.ByPasses = histogram(share.Value/100, shownPasses)
	return sheet
}

// Loose is the content of powder that was not within regrind already: what must find
// room on the pellets. What makes the powder within regrind uncertain is in the filler
// content too, so it is taken out of that.
func (b *BlendSheet) Loose() Result {
	all, within := b.Results[FillerMassFraction], b.Results[FillerFromRegrind]
	if !within.Known() || !all.Known() {
		return all
	}
	value := all.Value - within.Value
	low := value - withoutPart(all.Value-all.Low, within.Value-within.Low)
	high := value + withoutPart(all.High-all.Value, within.High-within.Value)
	return newResult(value, math.Max(0, low), high, all.Unit, all.Basis)
}

// withoutPart is what is left of a half width when the half width of a part that is
// independent of the rest is taken out: √(whole² - part²), and 0 for what rounding leaves.
func withoutPart(whole, part float64) float64 {
	left := whole*whole - part*part
	if left < 1e-9*whole*whole {
		return 0
	}
	return math.Sqrt(left)
}
