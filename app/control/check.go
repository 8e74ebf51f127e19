package control

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// CheckOptions say what a [CheckField] shows and whom it tells.
type CheckOptions struct {
	ID     string
	Label  string // stands beside the box
	Remark string
	// Checked returns the committed state. Optional.
	Checked func() bool
	// OnCommit takes the new state; an error, already worded, refuses it.
	OnCommit func(checked bool) error
}

// CheckField is a box to tick. A refused tick is taken back at once, with the
// reason under it.
type CheckField struct {
	row
	opts      CheckOptions
	box       *checkInput
	committed bool
	message   string
	asking    bool
}

// NewCheckField returns a field with a box to tick.
func NewCheckField(opts CheckOptions) *CheckField {
	f := &CheckField{opts: opts}
	f.box = newCheckInput(f)
	f.snug, f.inset = true, 6 // the box of the toolkit is set in by its own padding
	f.build(f, "", opts.Remark, f.box)
	f.Sync()
	return f
}

func (f *CheckField) ticked(on bool) {
	if f.asking || on == f.committed {
		f.settle("")
		return
	}
	var err error
	if f.opts.OnCommit != nil {
		f.asking = true
		err = f.opts.OnCommit(on)
		f.asking = false
	}
	if err != nil {
		f.settle(err.Error())
		return
	}
	f.committed = on
	if f.opts.Checked != nil {
		f.committed = f.opts.Checked()
	}
	f.settle("")
}

func (f *CheckField) settle(message string) {
	f.message = message
	f.box.Checked = f.committed
	f.box.Refresh()
	f.showMessage(message)
}

// Checked is the committed state.
func (f *CheckField) Checked() bool { return f.committed }

// ID is the place of the value in the document.
func (f *CheckField) ID() string { return f.opts.ID }

// Sync shows the committed state again.
func (f *CheckField) Sync() {
	if f.opts.Checked != nil {
		f.SetCommitted(f.opts.Checked())
	}
}

// SetCommitted tells the field the state of the document.
func (f *CheckField) SetCommitted(checked bool) {
	if f.asking || checked == f.committed {
		return
	}
	f.committed = checked
	f.settle("")
}

// Commit is always done: a tick commits by itself.
func (f *CheckField) Commit() bool { return true }

// Uncommitted is never true: a refused tick is taken back at once.
func (f *CheckField) Uncommitted() bool { return false }

// Refused reports a tick that was not accepted.
func (f *CheckField) Refused() bool { return f.message != "" }

// RefusedText is the state that was not accepted, true or false; empty when none was.
func (f *CheckField) RefusedText() string {
	if f.message == "" {
		return ""
	}
	return strconv.FormatBool(!f.committed)
}

// RefusedMessage says why the tick was not accepted.
func (f *CheckField) RefusedMessage() string { return f.message }

// RestoreRefused shows again why a tick was not accepted.
func (f *CheckField) RestoreRefused(_, message string) { f.settle(message) }

// Focus moves the keyboard to the box.
func (f *CheckField) Focus() { focusOn(f.box) }

// Highlight frames the box until the focus leaves it and scrolls to it.
func (f *CheckField) Highlight() {
	f.box.lit = true
	f.box.Refresh()
	f.revealed(f)
}

// Enable lets the box be used.
func (f *CheckField) Enable() { f.box.Enable() }

// Disable shows the box without letting it be used.
func (f *CheckField) Disable() { f.box.Disable() }

// CreateRenderer implements fyne.Widget.
func (f *CheckField) CreateRenderer() fyne.WidgetRenderer { return f.renderer(f) }

// checkInput is the box of the toolkit with a frame for Highlight.
type checkInput struct {
	widget.Check
	field *CheckField
	frame *canvas.Rectangle
	lit   bool
}

func newCheckInput(f *CheckField) *checkInput {
	c := &checkInput{field: f, frame: newBox()}
	c.Text = f.opts.Label
	c.OnChanged = f.ticked
	c.ExtendBaseWidget(c)
	return c
}

func (c *checkInput) FocusGained() {
	c.Check.FocusGained()
	c.field.revealed(c.field)
}

func (c *checkInput) FocusLost() {
	c.lit = false
	c.Check.FocusLost()
}

func (c *checkInput) TypedKey(ev *fyne.KeyEvent) {
	if ev.Name == fyne.KeyReturn || ev.Name == fyne.KeyEnter {
		c.TypedRune(' ')
		return
	}
	c.Check.TypedKey(ev)
}

func (c *checkInput) CreateRenderer() fyne.WidgetRenderer {
	return &checkFrame{WidgetRenderer: c.Check.CreateRenderer(), input: c}
}

type checkFrame struct {
	fyne.WidgetRenderer
	input *checkInput
}

func (f *checkFrame) Layout(size fyne.Size) {
	f.WidgetRenderer.Layout(size)
	f.input.frame.Resize(size)
}

func (f *checkFrame) Objects() []fyne.CanvasObject {
	base := f.WidgetRenderer.Objects()
	return append(base[:len(base):len(base)], f.input.frame)
}

func (f *checkFrame) Refresh() {
	f.WidgetRenderer.Refresh()
	if f.input.lit {
		paintBox(f.input.frame, "", theme.ColorNamePrimary, 2.5, radius())
		return
	}
	paintBox(f.input.frame, "", "", 0, radius())
}
