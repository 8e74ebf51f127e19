package figure

import (
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// Changes is the picture of that part of the line.
func Changes(p *project.Project, s *bench.Sheet, chosen int, w *wording.Words) Picture {
	return Picture{Title: w.Text("pane.line.tab_changes"), Alt: w.Text("pane.line.tab_changes"), Empty: w.Text("pane.line.tab_changes")}
}
