package figure

import (
	"math"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// Throughput shows the diameter of the strand over the speed of the puller, at the
// throughput of the line, with the tolerance and the speed to set.
func Throughput(p *project.Project, s *bench.Sheet, chosen int, w *wording.Words) Picture {
	out := Picture{Title: w.Text("picture.throughput.title"), Alt: w.Text("picture.throughput.alt"), Empty: w.Text("picture.throughput.empty")}
	if chosen < 0 || chosen >= len(s.Blends) {
		return out
	}
	speed, mean := s.Blends[chosen].Result(bench.PullerSpeed), s.Model.Diameter()
	if !speed.Known() || !mean.Known() {
		return out
	}
	nominal, half, limited := tolerance(p, mean.Value)
	// The diameter goes with the root of the speed; the band is that of throughput and
	// density, without the one of the diameter itself.
	set := speed.Value * (mean.Value / nominal) * (mean.Value / nominal)
	at := func(v float64) float64 { return nominal * math.Sqrt(set/v) }
	xs := even(0.8*set, 1.25*set, 41, true)
	ys := make([]float64, len(xs))
	for i, x := range xs {
		ys[i] = at(x)
	}
	panel := Panel{
		X:     Axis{Label: w.Text("picture.throughput.speed"), Unit: wording.Unit(speed.Unit), Min: xs[0], Max: xs[len(xs)-1]},
		Y:     Axis{Label: w.Text("picture.throughput.diameter"), Unit: "mm"},
		Lines: []Line{{X: xs, Y: ys}},
		Marks: []Mark{{X: set, Strong: true, Label: w.Say("picture.throughput.set", map[string]any{
			"Speed": wording.Number{Value: set, Unit: speed.Unit, Digits: 3},
		})}},
	}
	if limited {
		ends := []float64{xs[0], xs[len(xs)-1]}
		panel.Bands = []Band{{
			Name: w.Text("picture.throughput.tolerance"), X: ends, Colour: 1,
			Low: []float64{nominal - half, nominal - half}, High: []float64{nominal + half, nominal + half},
		}}
	}
	out.Panels = []Panel{panel}
	return out
}
