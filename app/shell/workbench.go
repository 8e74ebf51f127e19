package shell

import (
	"cmp"
	"errors"
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"fillwright/app/control"
	"fillwright/app/pane"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// Options is what the workbench needs from outside.
type Options struct {
	Words       *wording.Words
	Preferences fyne.Preferences // nil while drawing without a window
	Appearance  Appearance
	// Later leaves computing and building the pane to Started, so that the window
	// stands before there is anything in it.
	Later bool
	// AutosaveEvery is how often unsaved work is kept beside its file; 0 is the usual
	// half minute. Tests, where the threads of a real window are missing, take a long time.
	AutosaveEvery time.Duration
	// Clock is that of run logs; nil is the time of day.
	Clock Clock
	// Folder is where files that the project names lie while it has no file of its own; ""
	// stands for the samples.
	Folder string
	// Immediate does long work at once: for tests, and while drawing without a window.
	Immediate bool
	// Draw has intervals found by the Monte Carlo method after every change.
	Draw bool
}

// Workbench is the content of the window.
type Workbench struct {
	words      *wording.Words
	prefs      fyne.Preferences
	appearance Appearance

	session *session
	sheet   *bench.Sheet
	chosen  project.BlendID
	before  project.BlendID // the one at work before
	panes   []pane.Pane
	current pane.Pane
	stale   map[bench.Pane]bool // panes that have not seen the newest view

	rail    *control.Rail
	bar     *control.BlendBar
	verdict *control.Verdict
	notes   *control.NoteList
	listed  []bench.Note
	stage   *fyne.Container
	desk    *fyne.Container // stage and strip
	content fyne.CanvasObject

	autosaveFailed bool
	keepEvery      time.Duration
	folder         string // where the files that the project names lie while it has none itself
	immediate      bool
	clock          Clock
	draws          draws
	footer         string      // of the rail, without how the intervals were found
	recovering     bool        // the question about kept work stands
	questions      int         // that wait for an answer
	dialogs        int         // that stand open, questions among them
	menuShown      string      // state of the menu as it is shown
	leave          func()      // closes the page of help that stands open; nil for none
	window         fyne.Window // nil while drawing without one
	changed        func()      // the window's title and menu follow
}

// New makes a workbench for a project. path is "" while it has no file.
func New(p project.Project, path string, o Options) *Workbench {
	b := &Workbench{words: o.Words, prefs: o.Preferences, appearance: o.Appearance, stale: map[bench.Pane]bool{}, changed: func() {}}
	b.keepEvery = cmp.Or(o.AutosaveEvery, autosaveEvery)
	b.folder, b.immediate = o.Folder, o.Immediate
	b.clock = o.Clock
	if b.clock == nil {
		b.clock = dayClock{}
	}
	if o.Draw {
		b.followDraws()
	}
	b.panes = pane.All(b)
	b.build()
	if o.Later {
		b.session = newSession(p, path, b.update)
		return b
	}
	b.open(p, path)
	return b
}

// Content is what the window shows.
func (b *Workbench) Content() fyne.CanvasObject { return b.content }

// build lays out rail, bar, stage, verdict strip and notes.
func (b *Workbench) build() {
	b.rail = control.NewRail(func(id string) { b.show(bench.Pane(id)) }, b.railItems()...)
	b.bar = control.NewBlendBar(control.BlendBarOptions{
		OnSelect: func(id string) { b.choose(project.BlendID(id)) },
		OnAdd:    b.addBlend,
		AddText:  b.words.Text("bar.add"),
		Menu:     b.blendMenu,
		MenuText: b.words.Text("bar.menu"),
	})
	b.verdict = control.NewVerdict()
	b.notes = control.NewNoteList(5, b.openNote)
	b.notes.Empty = b.words.Text("notes.none")
	b.stage = container.NewStack()
	figures := control.NewColumn(8, b.verdict, b.notes)
	figures.Stretch = b.notes // the figures stay in view, the notes scroll
	strip := control.NewCard("", "", figures)
	const edge = 8
	b.desk = container.New(deskLayout{gap: 4, edge: edge}, b.stage, control.NewGround(), strip)
	right := container.New(layout.NewCustomPaddedLayout(6, edge, edge, edge), container.NewBorder(b.bar, nil, nil, nil, b.desk))
	b.content = container.NewBorder(nil, nil, b.rail, nil, right)
}

// open makes a project the one at work.
func (b *Workbench) open(p project.Project, path string) {
	if b.session != nil {
		b.session.close()
	}
	b.draws.stop()
	b.session = newSession(p, path, b.update)
	b.begin()
}

// begin shows the project from its start.
func (b *Workbench) begin() {
	p := b.session.history.Peek()
	b.chosen = firstBlend(p)
	b.update()
	if b.current == nil {
		b.show(b.firstPane())
	}
}

// firstPane is the pane shown last time.
func (b *Workbench) firstPane() bench.Pane {
	if b.prefs != nil {
		for _, p := range b.panes {
			if id := p.ID(); string(id) == b.prefs.String(prefPane) {
				return id
			}
		}
	}
	return bench.PaneBlend
}

// firstBlend is the blend to begin with: the one that trials are planned for, else the
// last.
func firstBlend(p *project.Project) project.BlendID {
	if p.BlendByID(p.Plan.Base) >= 0 {
		return p.Plan.Base
	}
	if len(p.Blends) == 0 {
		return ""
	}
	return p.Blends[len(p.Blends)-1].ID
}

// view is the state that panes show.
func (b *Workbench) view() pane.View {
	p := b.session.history.Peek()
	return pane.View{Project: p, Sheet: b.sheet, Chosen: p.BlendByID(b.chosen), Draws: b.draws.shown()}
}

// update follows a change of the document.
func (b *Workbench) update() {
	p := b.session.history.Peek()
	b.sheet = bench.Evaluate(p)
	if p.BlendByID(b.chosen) < 0 { // it was removed, or undo took it back
		b.chosen = firstBlend(p)
		if p.BlendByID(b.before) >= 0 {
			b.chosen = b.before
		}
	}
	b.draws.stopped = false
	b.startDraws()
	b.showView()
}

// showView brings everything up to date with the view.
func (b *Workbench) showView() {
	v := b.view()
	for _, p := range b.panes {
		b.stale[p.ID()] = true
	}
	b.freshen(b.current, v)
	b.bar.SetCards(b.cards(v), string(b.chosen))
	b.verdict.SetFigures(b.figures(v)...)
	b.listNotes(v)
	b.desk.Layout.Layout(b.desk.Objects, b.desk.Size()) // the strip is as high as what is in it
	b.markRail(v)
	b.changed()
}

// freshen shows a pane the newest view if it has not seen it.
func (b *Workbench) freshen(p pane.Pane, v pane.View) {
	if p != nil && b.stale[p.ID()] {
		b.stale[p.ID()] = false
		p.Show(v)
	}
}

// show changes to a pane.
func (b *Workbench) show(id bench.Pane) {
	for _, p := range b.panes {
		if p.ID() != id {
			continue
		}
		if p != b.current {
			b.commit()
		}
		b.current = p
		b.freshen(p, b.view())
		b.stage.Objects = []fyne.CanvasObject{p.Object()}
		b.stage.Refresh()
		b.rail.Select(string(id))
		if b.prefs != nil {
			b.prefs.SetString(prefPane, string(id))
		}
	}
}

// commit hands on what is being typed, before anything that leaves the entry.
func (b *Workbench) commit() {
	if b.current != nil {
		b.current.Commit()
	}
	if b.window != nil {
		control.CommitFocused(b.window.Canvas())
	}
}

// choose makes another blend the one at work.
func (b *Workbench) choose(id project.BlendID) {
	if id == b.chosen {
		return
	}
	b.commit()
	b.before, b.chosen = b.chosen, id
	b.startDraws()
	b.showView()
}

// Edit implements pane.Desk.
func (b *Workbench) Edit(label, place string, change func(*project.Project) error) error {
	if err := b.session.history.Edit(label, string(b.chosen)+" "+place, change); err != nil {
		return errors.New(b.words.Error(err))
	}
	return nil
}

// Words implements pane.Desk.
func (b *Workbench) Words() *wording.Words { return b.words }

// Lead implements pane.Desk: it shows the field of a place, wherever it is, and
// chooses the blend that the place belongs to.
func (b *Workbench) Lead(place string) {
	switch place {
	case "":
		return
	case "/blends", "/reference":
		b.bar.Focus()
		return
	}
	if id, other := b.blendOf(place); other {
		b.choose(id)
	}
	for _, p := range append([]pane.Pane{b.current}, b.panes...) {
		b.freshen(p, b.view())
		if p != b.current {
			if !p.Has(place) {
				continue
			}
			b.show(p.ID())
		}
		if p.Lead(place) {
			return
		}
	}
}

// blendOf is the blend to choose for a place to be shown: the one that it
// belongs to or, for a material that the blend at work does not hold, one that does.
func (b *Workbench) blendOf(place string) (project.BlendID, bool) {
	p := b.session.history.Peek()
	var index int
	if n, _ := fmt.Sscanf(place, "/blends/%d/", &index); n == 1 && index < len(p.Blends) {
		return p.Blends[index].ID, p.Blends[index].ID != b.chosen
	}
	if n, _ := fmt.Sscanf(place, "/materials/%d/", &index); n != 1 || index >= len(p.Materials) {
		return "", false
	}
	id := p.Materials[index].ID
	if at := p.BlendByID(b.chosen); at >= 0 && p.Blends[at].Holds(id) {
		return "", false
	}
	for i := range p.Blends {
		if p.Blends[i].Holds(id) {
			return p.Blends[i].ID, true
		}
	}
	return "", false
}

// Sections lists the parts of the pane shown; none where it has no parts.
func (b *Workbench) Sections() []string {
	if s, is := b.current.(pane.Sectioned); is {
		return s.Sections()
	}
	return nil
}

// OpenSection shows a part of the pane, and reports whether it was another one before.
func (b *Workbench) OpenSection(id string) bool {
	s, is := b.current.(pane.Sectioned)
	return is && s.OpenSection(id)
}
