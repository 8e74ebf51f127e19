package figure

import "math"

// Rect is a rectangle in device pixels, its origin at the top left of the image.
type Rect struct {
	X0, Y0, X1, Y1 float64
}

// W is the width.
func (r Rect) W() float64 { return r.X1 - r.X0 }

// H is the height.
func (r Rect) H() float64 { return r.Y1 - r.Y0 }

// Contains says whether the point lies in the rectangle or on its edge.
func (r Rect) Contains(x, y float64) bool {
	return x >= r.X0 && x <= r.X1 && y >= r.Y0 && y <= r.Y1
}

// Overlaps says whether the two share more than an edge.
func (r Rect) Overlaps(o Rect) bool {
	return r.X0 < o.X1 && o.X0 < r.X1 && r.Y0 < o.Y1 && o.Y0 < r.Y1
}

// with is the smallest rectangle that holds both; an empty one counts for nothing.
func (r Rect) with(o Rect) Rect {
	if r.W() <= 0 {
		return o
	}
	if o.W() <= 0 {
		return r
	}
	return Rect{X0: min(r.X0, o.X0), Y0: min(r.Y0, o.Y0), X1: max(r.X1, o.X1), Y1: max(r.Y1, o.Y1)}
}

// distance is that of a point from the rectangle; 0 inside.
func (r Rect) distance(x, y float64) float64 {
	dx := max(r.X0-x, 0, x-r.X1)
	dy := max(r.Y0-y, 0, y-r.Y1)
	return math.Hypot(dx, dy)
}

// Layout tells where the parts of a drawn picture are.
type Layout struct {
	Panels  []PanelLayout
	Targets []Target // what can be chosen, in reading order
	Texts   []Text   // every text that was drawn
}

// PanelLayout is where one panel of the picture is. The Y axis of rows counts
// them downwards from 0, and the X axis of tiles counts columns.
type PanelLayout struct {
	Area Rect // of the data, without ticks and titles
	X, Y Scale
	Rows int // of bars or tiles; 0 for a panel of another kind
}

// ToPixel is the place of a value in the image.
func (p PanelLayout) ToPixel(x, y float64) (px, py float64) {
	return p.X.ToPixel(x), p.Y.ToPixel(y)
}

// ToValue is the value at a place of the image.
func (p PanelLayout) ToValue(px, py float64) (x, y float64) {
	return p.X.ToValue(px), p.Y.ToValue(py)
}

// Scale carries values along one axis to device pixels and back.
type Scale struct {
	Min, Max float64 // values at the ends, Min < Max, both above 0 when Log
	Log      bool
	From, To float64 // pixels at Min and at Max
}

// ToPixel is the pixel of a value. On a logarithmic axis a value that is not
// above zero lies at the lower end.
func (s Scale) ToPixel(v float64) float64 {
	return s.From + s.norm(v)*(s.To-s.From)
}

// norm is the place of a value as a share of the axis: 0 at Min, 1 at Max.
func (s Scale) norm(v float64) float64 {
	if !s.Log {
		return (v - s.Min) / (s.Max - s.Min)
	}
	if v <= 0 {
		return 0
	}
	return math.Log(v/s.Min) / math.Log(s.Max/s.Min)
}

// ToValue is the value at a pixel.
func (s Scale) ToValue(px float64) float64 {
	if s.To == s.From {
		return s.Min
	}
	t := (px - s.From) / (s.To - s.From)
	if s.Log {
		return s.Min * math.Pow(s.Max/s.Min, t)
	}
	return s.Min + t*(s.Max-s.Min)
}

// holds says whether the value lies on the axis.
func (s Scale) holds(v float64) bool { return v >= s.Min && v <= s.Max }

// Kind is what a target is.
type Kind int

// The kinds of targets.
const (
	OnMark Kind = iota
	OnPoint
	OnBar
	OnTile
)

// Target is a part of the picture that can be chosen.
type Target struct {
	Kind   Kind
	Panel  int
	Series int    // which Points; 0 for other kinds
	Index  int    // in Marks, Points, Bars or Tiles
	Box    Rect   // the part itself
	Label  Rect   // of its label, empty when that is not drawn
	Text   string // its label, whole
}

// At finds the target under a place in the image: the one whose label or box holds it, the
// nearest by its middle when there are several, or else the nearest box within reach (in device pixels).
func (l Layout) At(px, py, reach float64) (Target, bool) {
	best, found := Target{}, false
	least := math.Inf(1)
	for _, t := range l.Targets {
		d := min(t.Box.distance(px, py), t.labelDistance(px, py))
		if d > reach {
			continue
		}
		// Among several that hold the place, the middle decides; it weighs far less than being outside.
		d += 1e-3 * math.Abs(px-(t.Box.X0+t.Box.X1)/2)
		if d < least {
			best, found, least = t, true, d
		}
	}
	return best, found
}

// Row finds the row of bars or tiles at a height of the image, its name included.
func (l Layout) Row(py float64) (panel, row int, found bool) {
	for i := range l.Panels {
		p := &l.Panels[i]
		if p.Rows > 0 && py >= p.Area.Y0 && py < p.Area.Y1 {
			return i, min(int(p.Y.ToValue(py)), p.Rows-1), true
		}
	}
	return 0, 0, false
}

func (t Target) labelDistance(px, py float64) float64 {
	if t.Label.W() <= 0 {
		return math.Inf(1)
	}
	return t.Label.distance(px, py)
}

// Text is a text as it was drawn.
type Text struct {
	Box   Rect
	Shown string
	Whole string // longer than Shown when that was shortened
}
