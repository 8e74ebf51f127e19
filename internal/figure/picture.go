package figure

// Picture is one image as data. The texts in it are shown as they stand.
type Picture struct {
	Title  string
	Panels []Panel // from top to bottom
	// SharedX stacks the panels over one X axis, that of the last panel: they
	// share its range, and only the last one shows its ticks and its title.
	SharedX bool
	Legend  []LegendItem // only where a direct label cannot do
	Alt     string       // what the picture shows, in words, for those who cannot see it
	Empty   string       // shown instead when there is nothing to draw
}

// Colours of things. From 0 up they count through the palette of the style and
// start over at its end.
const (
	InkForeground = -1 // that of the text
	InkMuted      = -2 // that of the secondary text
	InkWarn       = -3 // that of warnings
)

// Panel is one plot. Bars and Tiles set their rows on their own, so a panel
// holds either of them, or bands, lines and points; marks go with bars too.
type Panel struct {
	X, Y   Axis
	Share  float64 // height relative to the other panels; 0 means 1
	Spare  bool    // left out with the legend where the image has no room for everything; stands behind the others
	Bands  []Band
	Strips []Strip
	Lines  []Line
	Points []Points
	Marks  []Mark
	Levels []Level
	Bars   []Bar
	Tiles  []Tile
	Rows   []Row // names of the rows of tiles
	// Columns are headings of the columns of tiles; the label of Y then stands before them.
	Columns []string
	Empty   string // shown in the panel when it has nothing to draw, else that of the picture
}

// Axis is one axis of a panel. The title is Label and Unit with a comma
// between them, or the one that is given.
type Axis struct {
	Label, Unit string
	// Min and Max are the ends. Equal, the axis spans the data with a margin.
	Min, Max float64
	Log      bool   // logarithmic: only data above zero is shown
	Hide     bool   // no line, ticks or title
	Prefix   string // stands before the number of every tick, such as "×"
	Suffix   string // stands behind it, such as " %"
	Ticks    []Tick // stand in place of the computed ones
}

// Tick is a named place on an axis.
type Tick struct {
	Value float64
	Label string
}

// Band is an area between two lines over X, drawn translucent.
type Band struct {
	Name         string // direct label, when no line of this colour has one
	X, Low, High []float64
	Colour       int
}

// Strip is what a series spans at each of many places, close together, such as all
// readings in a column of pixels: filled from Low to High, and from place to place. X
// rises; a number that is not finite leaves a gap.
type Strip struct {
	X, Low, High []float64
	Colour       int
}

// Line is a line through points. A value that is not finite leaves a gap.
type Line struct {
	Name   string // direct label at its right end
	X, Y   []float64
	Colour int
	Dash   bool
	Width  float64 // pixels at scale 1; 0 means 2
}

// Marker is the shape of a point.
type Marker int

// The markers. They differ in shape, so that colour need not carry the meaning alone.
const (
	Disc Marker = iota
	Square
	Triangle
	Ring
	Cross
	Diamond
)

// Points are single points with error bars.
type Points struct {
	Name            string // for the listing of targets
	X, Y            []float64
	LowErr, HighErr []float64 // lengths of the error bars below and above Y, ≥ 0; nil for none
	Labels          []string  // beside the points; nil or shorter than X for none
	Colour          int
	Marker          Marker
}

// Mark is a vertical line at one X with a label at its top. With a shared X
// axis a label that was already shown in a panel above is not shown again.
type Mark struct {
	X      float64
	Label  string
	Dashed bool
	Strong bool // the chosen one
}

// Level is a horizontal line at one Y with a label above its right end.
type Level struct {
	Y      float64
	Label  string
	Dashed bool
	Strong bool
}

// Bar is a horizontal bar on a row of its own, from Low to High with a tick at
// Likely. Its label and a smaller second line stand at the left, Text at the right.
type Bar struct {
	Label, Sub, Text  string
	Low, Likely, High float64
	Known             bool    // false: an empty outline over the whole axis
	Filled            bool    // a tint reaches from the left end of the axis to Likely: an amount that counts from there
	Reach             bool    // how far something goes from the left end of the axis: filled to Low, fading from there to High
	From              float64 // of a reach that does not begin at the left end
	Open              bool    // the reach goes on beyond the axis
	Rest              bool    // an outline follows the reach to the end of the axis: nobody knows
	Colour            int
	Strong            bool // label in bold
	Chosen            bool // the row stands out
}

// Row names a row of tiles.
type Row struct {
	Label, Sub string
}

// Tile is one step of a list that reads like a calendar: rows from the top,
// columns from the left, both counted from 0.
type Tile struct {
	Row, Col  int
	Text, Sub string
	Short     string // stands in place of Text where that does not fit
	Colour    int
	Done      bool // drawn as an outline
	Strong    bool // the chosen one
}

// Swatch is the sample that stands before the text of a legend.
type Swatch int

// The samples.
const (
	SwatchTile Swatch = iota
	SwatchLine
	SwatchDash
	SwatchBand
	SwatchPoint
)

// LegendItem is one entry of the legend.
type LegendItem struct {
	Text   string
	Swatch Swatch
	Colour int
	Marker Marker // of a SwatchPoint
}
