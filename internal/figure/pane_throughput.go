package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// Throughput is the picture of that part of the line.
func Throughput(s *bench.Sheet, chosen int, w *wording.Words) Picture {
	return Picture{Title: w.Text("pane.line.tab_throughput"), Alt: w.Text("pane.line.tab_throughput"), Empty: w.Text("pane.line.tab_throughput")}
}
