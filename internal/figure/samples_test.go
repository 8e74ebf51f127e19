package figure

import "math"

// costAndDensity is two stacked panels with bands, lines and marks over a shared axis.
func costAndDensity() Picture {
	const n = 60
	x := make([]float64, n)
	cost, costLow, costHigh := make([]float64, n), make([]float64, n), make([]float64, n)
	density, densityLow, densityHigh := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range x {
		w := 20 * float64(i) / (n - 1)
		x[i] = w
		cost[i] = 19.1 - 0.15*w - 0.002*w*w
		costLow[i], costHigh[i] = cost[i]-0.35-0.025*w, cost[i]+0.35+0.03*w
		density[i] = 1 / ((1-w/100)/1.24 + w/100/1.45)
		densityLow[i], densityHigh[i] = density[i]-0.003-0.0003*w, density[i]+0.003+0.0003*w
	}
	marks := []Mark{
		{X: 0, Label: "Neat", Dashed: true},
		{X: 5, Label: "Olive 5", Dashed: true},
		{X: 10, Label: "Olive 10", Strong: true},
	}
	filler := Axis{Label: "olive-stone flour", Unit: "wt%"}
	return Picture{
		Title:   "Cost and density against filler content",
		SharedX: true,
		Empty:   "Enter a density and a price for each part.",
		Panels: []Panel{
			{
				X: filler, Y: Axis{Unit: "€ per kg"}, Marks: marks,
				Bands: []Band{{X: x, Low: costLow, High: costHigh, Colour: 0}},
				Lines: []Line{{X: x, Y: cost, Colour: 0}},
			},
			{
				X: filler, Y: Axis{Unit: "g/cm³"}, Marks: marks,
				Bands: []Band{{X: x, Low: densityLow, High: densityHigh, Colour: 3}},
				Lines: []Line{{X: x, Y: density, Colour: 3}},
			},
		},
	}
}

// meltFlow is rows of range bars on a logarithmic axis.
func meltFlow() Picture {
	return Picture{
		Title: "What changes the melt flow",
		Panels: []Panel{{
			X: Axis{Label: "melt flow against the plain polymer", Log: true, Prefix: "×"},
			Bars: []Bar{
				{Label: "Grains", Sub: "6.1 vol%, thicker", Text: "×0.81", Low: 0.74, Likely: 0.81, High: 0.86, Known: true, Colour: 0},
				{Label: "Water", Sub: "1.1 % moisture, thinner", Text: "×2.1", Low: 1.2, Likely: 2.1, High: 9.9, Known: true, Colour: 1},
				{Label: "Oil", Sub: "not entered", Text: "not known", Colour: 2},
				{Label: "Together", Text: "×1.8", Low: 1.1, Likely: 1.8, High: 9.9, Known: true, Colour: 6, Strong: true},
			},
			Marks: []Mark{{X: 1, Label: "no change", Strong: true}},
		}},
	}
}

// runList is tiles by day.
func runList() Picture {
	names := []string{"Neat", "Olive 5", "Olive 10", "Olive 5", "Neat", "Olive 10", "Olive 10", "Neat", "Olive 5"}
	colours := map[string]int{"Neat": 6, "Olive 5": 0, "Olive 10": 1}
	p := Panel{Rows: []Row{{Label: "Day 1", Sub: "3 spools"}, {Label: "Day 2", Sub: "3 spools"}, {Label: "Day 3", Sub: "3 spools"}}}
	for i, name := range names {
		p.Tiles = append(p.Tiles, Tile{
			Row: i / 3, Col: i % 3, Text: name, Sub: "spool " + string(rune('A'+i)), Colour: colours[name],
			Done: i < 2, Strong: i == 2,
		})
	}
	return Picture{
		Title:  "Run list",
		Panels: []Panel{p},
		Legend: []LegendItem{{Text: "Neat", Colour: 6}, {Text: "Olive 5 wt%", Colour: 0}, {Text: "Olive 10 wt%", Colour: 1}},
	}
}

// lengthAndPoints is one panel with points, error bars, levels and named lines.
func lengthAndPoints() Picture {
	const n = 41
	x, length, thick := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range x {
		d := 1.65 + 0.2*float64(i)/(n-1)
		x[i] = d
		length[i] = 1 / (1240 * math.Pi / 4 * d * d * 1e-6)
		thick[i] = 1 / (1310 * math.Pi / 4 * d * d * 1e-6)
	}
	return Picture{
		Title: "Length on a spool of 1 kg",
		Panels: []Panel{{
			X: Axis{Label: "diameter", Unit: "mm"}, Y: Axis{Label: "length", Unit: "m"},
			Lines: []Line{{Name: "Neat", X: x, Y: length, Colour: 6}, {Name: "Mussel 20", X: x, Y: thick, Colour: 2, Dash: true}},
			Points: []Points{{
				X: []float64{1.75, 1.74, 1.79}, Y: []float64{335.3, 339.1, 302}, LowErr: []float64{8, 5, 12}, HighErr: []float64{9, 5, 10},
				Labels: []string{"spool A", "spool B", "spool C"}, Colour: 1,
			}},
			Marks:  []Mark{{X: 1.70, Label: "−0.05", Dashed: true}, {X: 1.80, Label: "+0.05", Dashed: true}},
			Levels: []Level{{Y: 330, Label: "as sold", Dashed: true}},
		}},
	}
}

// properties is one panel per property, each on its own hidden axis.
func properties() Picture {
	row := func(name, sub, text string, low, likely, high, from, to float64) Panel {
		return Panel{
			X:    Axis{Min: from, Max: to, Hide: true},
			Bars: []Bar{{Label: name, Sub: sub, Text: text, Low: low, Likely: likely, High: high, Known: high > 0, Colour: 2}},
		}
	}
	return Picture{
		Title: "Olive-stone flour",
		Panels: []Panel{
			row("Density", "of the grain", "1.40 to 1.50 g/cm³", 1.40, 1.45, 1.50, 1.2, 1.7),
			row("Moisture", "as bought", "6 to 9 %", 6, 7.5, 9, 0, 15),
			row("Oil", "", "not known", 0, 0, 0, 0, 1),
		},
	}
}
