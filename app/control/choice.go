package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Choice is one entry of a [SelectField].
type Choice struct {
	Value string // what is committed
	Text  string // what is shown; distinct within a field
}

// SelectOptions say what a [SelectField] shows and whom it tells.
type SelectOptions struct {
	ID, Label, Remark string
	// Hint is shown while nothing is chosen.
	Hint    string
	Choices []Choice
	// Value returns the committed value. Optional.
	Value func() string
	// OnCommit takes the chosen value; an error, already worded, refuses it.
	OnCommit func(value string) error
	// Wide gives the list the whole width; the remark goes below.
	Wide bool
}

// SelectField lets one of several values be chosen. A choice commits at once; a
// refused one stays shown with the reason until another is chosen or Escape.
type SelectField struct {
	row
	opts      SelectOptions
	list      *selectInput
	committed string
	refused   *Refusal
	asking    bool
}

// NewSelectField returns a field with a list to choose from.
func NewSelectField(opts SelectOptions) *SelectField {
	f := &SelectField{opts: opts}
	f.list = newSelectInput(f)
	f.wide = opts.Wide
	f.build(f, opts.Label, opts.Remark, f.list)
	f.SetChoices(opts.Choices)
	f.Sync()
	return f
}

// SetChoices replaces the list to choose from.
func (f *SelectField) SetChoices(choices []Choice) {
	f.opts.Choices = choices
	texts := make([]string, len(choices))
	for i, c := range choices {
		texts[i] = c.Text
	}
	f.list.Options = texts
	f.show(f.shownValue())
}

// Value is the value chosen and accepted.
func (f *SelectField) Value() string { return f.committed }

func (f *SelectField) shownValue() string {
	if f.refused != nil {
		return f.refused.Text
	}
	return f.committed
}

func (f *SelectField) show(value string) {
	f.list.Selected = ""
	for _, c := range f.opts.Choices {
		if c.Value == value {
			f.list.Selected = c.Text
		}
	}
	f.list.Refresh()
}

func (f *SelectField) chosen(text string) {
	if f.asking {
		return
	}
	for _, c := range f.opts.Choices {
		if c.Text == text {
			f.submit(c.Value)
			return
		}
	}
}

func (f *SelectField) submit(value string) {
	if value == f.committed {
		f.settle(nil)
		return
	}
	var err error
	if f.opts.OnCommit != nil {
		f.asking = true
		err = f.opts.OnCommit(value)
		f.asking = false
	}
	if err != nil {
		f.settle(&Refusal{Text: value, Message: err.Error()})
		return
	}
	f.committed = value
	if f.opts.Value != nil {
		f.committed = f.opts.Value()
	}
	f.settle(nil)
}

func (f *SelectField) settle(refused *Refusal) {
	f.refused = refused
	f.show(f.shownValue())
	f.showMessage(f.RefusedMessage())
}

// ID is the place of the value in the document.
func (f *SelectField) ID() string { return f.opts.ID }

// Sync shows the committed value again, unless a refused one stands there.
func (f *SelectField) Sync() {
	if f.opts.Value != nil {
		f.SetCommitted(f.opts.Value())
	}
}

// SetCommitted tells the field the value of the document.
func (f *SelectField) SetCommitted(value string) {
	if f.asking || value == f.committed {
		f.show(f.shownValue())
		return
	}
	f.committed = value
	f.settle(nil)
}

// Commit reports whether nothing is refused; a choice commits by itself.
func (f *SelectField) Commit() bool { return f.refused == nil }

// Uncommitted reports a refused choice.
func (f *SelectField) Uncommitted() bool { return f.refused != nil }

// Refused reports a choice that was not accepted.
func (f *SelectField) Refused() bool { return f.refused != nil }

// RefusedText is the value that was not accepted.
func (f *SelectField) RefusedText() string {
	if f.refused == nil {
		return ""
	}
	return f.refused.Text
}

// RefusedMessage says why the choice was not accepted.
func (f *SelectField) RefusedMessage() string {
	if f.refused == nil {
		return ""
	}
	return f.refused.Message
}

// RestoreRefused puts a refused choice back.
func (f *SelectField) RestoreRefused(text, message string) {
	f.settle(&Refusal{Text: text, Message: message})
}

// Focus moves the keyboard to the list.
func (f *SelectField) Focus() { focusOn(f.list) }

// Highlight frames the list until the focus leaves it and scrolls to it.
func (f *SelectField) Highlight() {
	f.list.lit = true
	f.list.Refresh()
	f.revealed(f)
}

// Enable lets the field be used.
func (f *SelectField) Enable() { f.list.Enable() }

// Disable shows the field without letting it be used.
func (f *SelectField) Disable() { f.list.Disable() }

// CreateRenderer implements fyne.Widget.
func (f *SelectField) CreateRenderer() fyne.WidgetRenderer { return f.renderer(f) }

// selectInput is the list of the toolkit with a frame like that of an entry.
type selectInput struct {
	widget.Select
	field   *SelectField
	frame   *canvas.Rectangle
	focused bool
	lit     bool
}

func newSelectInput(f *SelectField) *selectInput {
	s := &selectInput{field: f, frame: newBox()}
	s.PlaceHolder = f.opts.Hint
	if s.PlaceHolder == "" {
		s.PlaceHolder = " " // empty would bring in the toolkit's own words
	}
	s.OnChanged = f.chosen
	s.ExtendBaseWidget(s)
	return s
}

// Commit lets the window treat the focused list as it treats an entry.
func (s *selectInput) Commit() bool { return s.field.Commit() }

// Uncommitted reports a refused choice.
func (s *selectInput) Uncommitted() bool { return s.field.Uncommitted() }

func (s *selectInput) FocusGained() {
	s.focused = true
	s.Select.FocusGained()
	s.field.revealed(s.field)
}

func (s *selectInput) FocusLost() {
	s.focused, s.lit = false, false
	s.Select.FocusLost()
}

func (s *selectInput) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyEscape:
		s.field.settle(nil)
		return
	case fyne.KeyReturn, fyne.KeyEnter:
		ev = &fyne.KeyEvent{Name: fyne.KeySpace}
	}
	s.Select.TypedKey(ev)
}

func (s *selectInput) CreateRenderer() fyne.WidgetRenderer {
	return &selectFrame{WidgetRenderer: s.Select.CreateRenderer(), input: s}
}

type selectFrame struct {
	fyne.WidgetRenderer
	input *selectInput
}

func (f *selectFrame) Layout(size fyne.Size) {
	f.WidgetRenderer.Layout(size)
	f.input.frame.Resize(size)
}

func (f *selectFrame) Objects() []fyne.CanvasObject {
	base := f.WidgetRenderer.Objects()
	return append(base[:len(base):len(base)], f.input.frame)
}

func (f *selectFrame) Refresh() {
	f.WidgetRenderer.Refresh()
	switch in := f.input; {
	case in.field.refused != nil:
		paintBox(in.frame, "", theme.ColorNameError, 2, radius())
	case in.lit:
		paintBox(in.frame, "", theme.ColorNamePrimary, 2.5, radius())
	case in.focused:
		paintBox(in.frame, "", theme.ColorNamePrimary, 1, radius())
	default:
		paintBox(in.frame, "", theme.ColorNameInputBorder, 1, radius())
	}
}
