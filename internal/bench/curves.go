package bench

import (
	"math"

	"fillwright/internal/uncertain"
)

// Curve is one figure along a row of values, with its band.
type Curve struct {
	X, Y, Low, High []float64
	Unit            string
}

// sweepPoints keeps a sweep cheap enough to be drawn while typing: the curves
// are so smooth that a line through this many points shows no corner.
const sweepPoints = 13

// ContentSweep follows some figures of a blend over the filler content, from
// none to most (a mass fraction); X is in wt%. It is nil for a blend without powder.
func (m *Model) ContentSweep(blendIndex int, most float64, figures ...Figure) []Curve {
	contents := Contents(sweepPoints, most)
	swept := m.Sweep(blendIndex, contents)
	if swept == nil {
		return nil
	}
	results := swept.Results()
	curves := make([]Curve, len(figures))
	for i, f := range figures {
		for j, content := range contents {
			r := results[j][f]
			curves[i].Unit = r.Unit
			if !r.Known() {
				continue
			}
			curves[i].X = append(curves[i].X, content*100)
			curves[i].Y = append(curves[i].Y, r.Value)
			curves[i].Low = append(curves[i].Low, r.Low)
			curves[i].High = append(curves[i].High, r.High)
		}
	}
	return curves
}

// LengthCurve follows the length on a full spool over the mean diameter of the
// strand, in mm and m. The band is that of mass and density alone, because the
// diameter is what is varied. ok is false while the length is not known.
func (m *Model) LengthCurve(blendIndex int, lowMM, highMM float64) (Curve, bool) {
	d := m.set.diameter
	if d < 0 || lowMM <= 0 || highMM <= lowMM {
		return Curve{}, false
	}
	fixed := *m
	fixed.inputs = append([]Input(nil), m.inputs...)
	fixed.input(d).Input = uncertain.Input{Value: m.input(d).Value}
	fixed.blends = m.blends[blendIndex : blendIndex+1]
	fixed.reference = -1
	r := fixed.Results()[0][LengthPerSpool]
	if !r.Known() {
		return Curve{}, false
	}
	const points = 41
	c := Curve{Unit: r.Unit}
	nominal := m.input(d).Value * 1e3
	for i := range points {
		x := lowMM + (highMM-lowMM)*float64(i)/(points-1)
		scale := math.Pow(nominal/x, 2)
		c.X = append(c.X, x)
		c.Y = append(c.Y, r.Value*scale)
		c.Low = append(c.Low, r.Low*scale)
		c.High = append(c.High, r.High*scale)
	}
	return c, true
}

// Diameter is the mean diameter that the figures use, in mm, with its interval.
func (m *Model) Diameter() Result {
	d := m.set.diameter
	if d < 0 {
		return Result{Unit: "mm"}
	}
	in := m.input(d)
	return newResult(in.Value*1e3, (in.Value-coverage*in.UMinus)*1e3, (in.Value+coverage*in.UPlus)*1e3, "mm", in.Basis)
}
