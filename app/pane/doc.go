// Package pane holds the panes of the window, one file each: inputs at the
// left, a live picture at the right. A pane shows a view, which is one state of
// the document with everything computed from it, and asks the desk to change the
// document. It computes nothing itself.
package pane

import (
	"image/color"
	"io"
	"time"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// View is what panes show. The project is read only.
type View struct {
	Project *project.Project
	Sheet   *bench.Sheet
	Chosen  int // index of the blend at work, -1 when there is none
	Draws   Draws
}

// Draws is how far the Monte Carlo method is with the blend at work.
type Draws struct {
	Running bool
	Share   float64 // done
	Draws   int     // that the intervals rest on; 0 while they are those of first order
	Off     bool    // nothing is to be drawn: in pictures to first order, or stopped by the user
}

// DrawsShower is a pane that shows how far the draws are.
type DrawsShower interface{ ShowDraws(Draws) }

// Blend is the blend at work, nil when there is none.
func (v View) Blend() *project.Blend {
	if v.Chosen < 0 || v.Chosen >= len(v.Project.Blends) {
		return nil
	}
	return &v.Project.Blends[v.Chosen]
}

// Results is the sheet of the blend at work, nil when there is none.
func (v View) Results() *bench.BlendSheet {
	if v.Chosen < 0 || v.Chosen >= len(v.Sheet.Blends) {
		return nil
	}
	return &v.Sheet.Blends[v.Chosen]
}

// Desk is what a pane may ask of the window.
type Desk interface {
	// Edit changes the document. An error is worded already.
	Edit(label, place string, change func(*project.Project) error) error
	// Words renders texts.
	Words() *wording.Words
	// Colours are those of pictures on a card.
	Colours() (background, foreground, muted, grid color.Color)
	// TextScale is 1 for text of normal size.
	TextScale() float32
	// Ask puts a question with answers under it; chosen is told which.
	Ask(title, question string, answers []string, chosen func(int))
	// Menu shows a list to choose from below an object.
	Menu(below fyne.CanvasObject, items ...*fyne.MenuItem)
	// Export asks for a file and writes it.
	Export(name string, write func(io.Writer) error)
	// OpenText asks for a file with one of some endings, such as ".csv", and hands on
	// its name and what is in it, cut off after most bytes. Nobody hears of a file
	// that was not chosen or cannot be read; the latter is said to the user.
	OpenText(title string, endings []string, most int, take func(name, text string))
	// OpenPath asks for a file with one of some endings and hands on its path. Nobody hears
	// of a file that was not chosen.
	OpenPath(title string, endings []string, take func(path string))
	// OpenBeside opens a file that the document names.
	OpenBeside(name string) (io.ReadSeekCloser, error)
	// Beside is how the document names a file: by its path from the folder of the project.
	Beside(path string) string
	// Runner makes a runner for one kind of long work; progress may be nil.
	Runner(progress func(share float64, running bool)) control.Runner
	// StopDraws ends drawing until the next change, or until StartDraws.
	StopDraws()
	StartDraws()
	// Now is the time of day.
	Now() time.Time
	// Tick calls a function every second until it is stopped.
	Tick(every func()) (stop func())
	// Lead shows the field of a place in the document, wherever it is.
	Lead(place string)
	// Choose makes another blend the one at work.
	Choose(blend project.BlendID)
}

// Pane is one pane of the window.
type Pane interface {
	ID() bench.Pane
	Object() fyne.CanvasObject
	// Show brings the pane up to date with a view.
	Show(View)
	// Redraw draws the picture again, in new colours or at a new text size.
	Redraw()
	// Has reports whether the pane has an input for a place.
	Has(place string) bool
	// Lead focuses the field of a place and reports whether the pane has it.
	Lead(place string) bool
	// Start focuses the entry that is used first.
	Start()
	// Commit hands on what is being typed in a table.
	Commit()
}

// Sectioned is a pane of several parts, of which one is open.
type Sectioned interface {
	// Sections lists the parts.
	Sections() []string
	// OpenSection shows a part, and reports whether it was another one before.
	OpenSection(id string) bool
}

// All makes the panes, in the order of the work.
func All(desk Desk) []Pane {
	return []Pane{NewFiller(desk), NewBlend(desk), NewMelt(desk), NewLine(desk), NewSpool(desk), NewPlan(desk), NewLimits(desk)}
}
