package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// Spreading is the picture of that part of the line.
func Spreading(s *bench.Sheet, chosen int, w *wording.Words) Picture {
	return Picture{Title: w.Text("pane.line.tab_spreading"), Alt: w.Text("pane.line.tab_spreading"), Empty: w.Text("pane.line.tab_spreading")}
}
