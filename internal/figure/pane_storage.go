package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/wording"
)

const (
	driestToDampest = 90.0 // % of relative humidity: nearer to 100 % no isotherm can be trusted
	isothermPoints  = 46
)

// storageLaws names what the curve follows.
var storageLaws = map[string]string{
	"gab":  "picture.storage.gab",
	"wood": "picture.storage.wood",
}

// Storage shows what moisture the powder takes on in air of each humidity, with
// that of the room where it is stored, and what it holds after lying open.
func Storage(m *material.Material, ps *bench.PowderSheet, w *wording.Words) Picture {
	p := Picture{Title: w.Text("picture.storage.title"), Alt: w.Text("picture.storage.alt"), Empty: w.Text("picture.storage.empty")}
	if m == nil || ps == nil {
		return p
	}
	s := &ps.Storage
	panel := Panel{
		X: Axis{Label: w.Text("picture.storage.humidity"), Unit: "%", Min: 0, Max: driestToDampest},
		Y: Axis{Label: w.Text("picture.storage.moisture"), Unit: "%"},
	}
	if x, y := s.Isotherm(isothermPoints, driestToDampest); len(x) > 0 {
		panel.Lines = []Line{{X: x, Y: y, Name: oneOf(storageLaws, s.From, w)}}
	}
	if room, given := m.Powder.Storage.Humidity.Estimate(); given {
		panel.addRoom(100*room.Value, s, w)
	}
	if panel.empty() {
		return p
	}
	p.Panels = []Panel{panel}
	return p
}

// addRoom marks the humidity of the store and what the powder holds there.
func (p *Panel) addRoom(humidity float64, s *bench.StorageSheet, w *wording.Words) {
	if humidity > p.X.Max {
		p.X.Max = 100
	}
	values := map[string]any{"Humidity": wording.Number{Value: humidity, Unit: "%"}}
	p.Marks = []Mark{{X: humidity, Dashed: true, Label: w.Say("picture.storage.room", values)}}
	p.addMoisture(humidity, s.Equilibrium, "picture.storage.equilibrium", Points{Marker: Disc}, w)
	p.addMoisture(humidity, s.After, "picture.storage.after", Points{Marker: Diamond, Colour: 1}, w)
}

// addMoisture draws a moisture of the powder as a point with its range.
func (p *Panel) addMoisture(humidity float64, r bench.Result, id string, points Points, w *wording.Words) {
	if !r.Known() {
		return
	}
	points.X, points.Y = []float64{humidity}, []float64{r.Value}
	points.LowErr, points.HighErr = []float64{r.Value - r.Low}, []float64{r.High - r.Value}
	points.Labels = []string{percentText(id, r, w)}
	p.Points = append(p.Points, points)
}
