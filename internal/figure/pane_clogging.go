package figure

import (
	"math"

	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// ClogEvidence shows how many grains above the critical size each kind of
// evidence lets a spool of the blend expect, and the chance of at least one.
func ClogEvidence(b *bench.BlendSheet, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.clog.title"), Alt: w.Text("picture.clog.alt"), Empty: w.Text("picture.clog.empty")}
	if b == nil || len(b.Clog.Evidence) == 0 {
		return p
	}
	panel := Panel{X: Axis{Label: w.Text("picture.clog.per_spool"), Log: true}}
	metres := 1.0
	if length := b.Result(bench.LengthPerSpool); length.Known() && length.Value > 0 {
		metres = length.Value
		panel.Marks = []Mark{{X: 1, Dashed: true, Label: w.Text("picture.clog.one_each")}}
	} else {
		panel.X.Label = w.Text("picture.clog.per_metre")
	}
	for i := range b.Clog.Evidence {
		panel.Bars = append(panel.Bars, evidenceBar(&b.Clog.Evidence[i], metres, w))
	}
	panel.X.Min, panel.X.Max = countSpan(panel.Bars)
	panel.X.Ticks = powersOfTen(panel.X.Min, panel.X.Max, w)
	p.Panels = []Panel{panel}
	return p
}

// evidenceBar is one kind of evidence: grains to expect in so many metres, and the chance of any in a spool.
func evidenceBar(e *bench.ClogChance, metres float64, w *wording.Words) Bar {
	id := "picture.clog." + string(e.Kind)
	bar := Bar{Label: w.Text(id), Sub: w.Text(id + "_sub"), Colour: InkMuted, Strong: e.Used}
	if e.Used {
		bar.Colour = 0
		bar.Sub = w.Say("picture.clog.used", map[string]any{"Basis": bar.Sub})
	}
	if e.Kind == bench.FromTail && !e.Used {
		bar.Colour = InkWarn
	}
	if !e.PerMetre.Known() {
		return unknownBar(bar, w)
	}
	bar = barOf(bar, e.PerMetre, perMetreText(e.PerMetre, w), w)
	bar.Low, bar.Likely, bar.High = metres*bar.Low, metres*bar.Likely, metres*bar.High
	if e.Spool.Known() {
		bar.Text = chanceText(e.Spool, w)
	}
	return bar
}

func perMetreText(r bench.Result, w *wording.Words) string {
	return w.Say("picture.clog.metre", map[string]any{"Grains": wording.Number{Value: r.Value, Digits: 2}})
}

// sure is the chance in % from which the digits say no more.
const sure = 99.5

// chanceText is a chance in %, with its range.
func chanceText(r bench.Result, w *wording.Words) string {
	const unsure = 1.0 // % from which a lower end says something
	percent := func(v float64) wording.Number { return wording.Number{Value: v, Unit: "%", Digits: 2} }
	switch {
	case r.High <= 0:
		return w.Text("picture.clog.none")
	case r.Low >= sure:
		return w.Text("picture.clog.sure")
	case r.Value <= 0:
		return w.Say("picture.clog.up_to", map[string]any{"High": percent(r.High)})
	case r.Value >= sure && r.Low < unsure:
		return w.Text("picture.clog.anything")
	case r.Value >= sure:
		return w.Say("picture.clog.sure_from", map[string]any{"Low": percent(r.Low)})
	}
	return ranged(r, "%", 2, w)
}

// Ends of the axis of counted grains: at least from one in a hundred spools to ten in each.
const (
	fewestGrains, mostGrains = 0.01, 10.0
	fewestEver, mostEver     = 1e-8, 1e9
)

// countSpan is an axis that holds every bar. A bar that begins at none at all begins at its left end.
func countSpan(bars []Bar) (low, high float64) {
	low, high = fewestGrains, mostGrains
	for i := range bars {
		b := &bars[i]
		if !b.Known {
			continue
		}
		for _, v := range [...]float64{b.Low, b.Likely, b.High} {
			if v > 0 {
				low, high = min(low, v), max(high, v)
			}
		}
	}
	low, high = max(low, fewestEver), min(high, mostEver)
	return math.Pow(10, math.Floor(math.Log10(low))), math.Pow(10, math.Ceil(math.Log10(high)))
}

// powersOfTen are the ticks of that axis.
func powersOfTen(low, high float64, w *wording.Words) []Tick {
	const most = 6 // ticks; beyond them only every second power has one, or third
	first, last := int(math.Round(math.Log10(low))), int(math.Round(math.Log10(high)))
	stride := 1 + (last-first)/most
	var ticks []Tick
	for e := first; e <= last; e++ {
		if e%stride == 0 { // so that one grain always has a tick
			v := min(max(math.Pow(10, float64(e)), low), high)
			ticks = append(ticks, Tick{Value: v, Label: w.Number(v, 1)})
		}
	}
	return ticks
}

// Clogging stacks the evidence over the table of sieves and nozzles, which a small image goes without.
func Clogging(b *bench.BlendSheet, w *wording.Words) Picture {
	p := ClogEvidence(b, w)
	if b == nil {
		return p
	}
	table := ClogTable(&b.Clog, w)
	if len(p.Panels) == 0 {
		return table
	}
	if len(table.Panels) == 0 {
		return p
	}
	p.Title, p.Panels[0].Share = w.Text("picture.clog.both"), 0.5
	table.Panels[0].Spare = true
	p.Panels, p.Legend = append(p.Panels, table.Panels...), append(p.Legend, table.Legend...)
	p.Alt += " " + table.Alt
	return p
}

// ClogTable shows for sieves and nozzles whether a grain that the sieve may let
// through is critical for the nozzle, and the chance of such a grain in a spool.
func ClogTable(clog *bench.BlendClog, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.clog_table.title"), Alt: w.Text("picture.clog_table.alt"), Empty: w.Text("picture.clog_table.empty")}
	if clog == nil || len(clog.Nozzles) == 0 {
		return p
	}
	sieves := clog.Table()
	panel := Panel{Y: Axis{Label: w.Text("picture.clog_table.corner")}}
	for _, mm := range clog.Nozzles {
		panel.Columns = append(panel.Columns, w.Number(mm, 3))
	}
	for _, f := range sieveFits {
		text := w.Say("picture.clog_table.legend", map[string]any{
			"Short": f.short, "Meaning": wording.ID("picture.clog_table." + string(f.fit) + "_sub"),
		})
		p.Legend = append(p.Legend, LegendItem{Text: text, Swatch: SwatchTile, Colour: f.colour})
	}
	for row := range sieves {
		s := &sieves[row]
		panel.Rows = append(panel.Rows, sieveRow(s, w))
		for col := range min(len(s.Cells), len(clog.Nozzles)) {
			tile := clogTile(&s.Cells[col], w)
			tile.Row, tile.Col = row, col
			panel.Tiles = append(panel.Tiles, tile)
		}
	}
	p.Panels = []Panel{panel}
	return p
}

// sieveRow names a sieve by its opening; its number is a label only.
func sieveRow(s *bench.ClogRow, w *wording.Words) Row {
	r := Row{Label: sized("picture.clog_table.opening", s.OpeningUM, w)}
	if s.Mesh != "" {
		values := map[string]any{"Size": wording.Number{Value: s.OpeningUM, Unit: micrometre}, "Mesh": s.Mesh}
		r.Label = w.Say("picture.clog_table.mesh", values)
	}
	if s.LargestUM > 0 && !math.IsInf(s.LargestUM, 0) {
		r.Sub = w.Say("picture.clog_table.largest", map[string]any{"Size": wording.Number{Value: s.LargestUM, Unit: micrometre, Digits: 2}})
	}
	return r
}

// sieveFits tell the fits apart in colour and in a sign, which stands for the
// words where a cell is too narrow: how the largest grains compare with the critical size.
var sieveFits = []struct {
	fit    bench.SieveFit
	colour int
	short  string
}{
	{bench.SieveKeepsAll, 2, "<"},
	{bench.SieveMarginal, 4, "~"},
	{bench.SieveCoarse, 1, "!"},
	{bench.SieveBlocks, InkForeground, "×"},
}

// clogTile is one sieve with one nozzle.
func clogTile(c *bench.ClogCell, w *wording.Words) Tile {
	for _, f := range sieveFits {
		if f.fit != c.Fit {
			continue
		}
		safe := c.Fit == bench.SieveKeepsAll
		t := Tile{Text: w.Text("picture.clog_table." + string(c.Fit)), Short: f.short, Colour: f.colour, Done: safe}
		if c.Chance.Known() && !safe { // the chance says more than the words, which go below it
			t.Text, t.Sub = f.short+" "+cellChance(c.Chance.Value, w), t.Text
		}
		return t
	}
	return Tile{Text: w.Text("picture.not_known"), Short: "?", Colour: InkMuted, Done: true}
}

// cellChance is a chance in % as it fits into a cell.
func cellChance(percent float64, w *wording.Words) string {
	const rare = 0.1
	if percent > 0 && percent < rare {
		return w.Text("picture.clog_table.rare")
	}
	return w.Say("picture.powder.value", map[string]any{"Value": wording.Number{Value: percent, Unit: "%", Digits: 2}})
}
