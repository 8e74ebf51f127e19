package pane

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2/widget"

	"fillwright/app/control"
	"fillwright/internal/project"
)

// entries are those of a list of the document, such as tests or runs, of which the pane
// shows one at a time.
type entries[T any] struct {
	base    *base
	place   string // of the list
	list    func(*project.Project) *[]T
	name    func(i int) string
	fresh   func(*project.Project) T // a new one
	texts   entryTexts
	show    func()               // brings the pane up to date
	at      int                  // the one that is shown
	chooser *control.SelectField // nil while there is nothing to choose from
}

// entryTexts are catalogue IDs.
type entryTexts struct{ one, add, remove string }

// placeOf is the place of a member of an entry.
func (e *entries[T]) placeOf(i int, member string) string {
	return fmt.Sprintf("%s/%d/%s", e.place, i, member)
}

// in is an entry of the document; an empty one when it is gone.
func (e *entries[T]) in(d *project.Project, i int) *T {
	list := *e.list(d)
	if i < 0 || i >= len(list) {
		return new(T)
	}
	return &list[i]
}

// shown is an entry of the document that is shown.
func (e *entries[T]) shown(i int) *T { return e.in(e.base.view.Project, i) }

// shownIn is the entry of a document that is shown; an empty one when there is none.
func (e *entries[T]) shownIn(d *project.Project) *T { return e.in(d, e.at) }

// lead shows the entry that a place belongs to, if any.
func (e *entries[T]) lead(place string) {
	var i int
	if _, err := fmt.Sscanf(place, e.place+"/%d", &i); err == nil {
		e.at = i
	}
}

// follow keeps to the entries that are there, and to their names.
func (e *entries[T]) follow(d *project.Project) {
	e.at = max(0, min(e.at, len(*e.list(d))-1))
}

// key changes when other inputs are needed.
func (e *entries[T]) key(d *project.Project) string { return fmt.Sprint(e.at, len(*e.list(d))) }

// adder is the button for one more.
func (e *entries[T]) adder() *widget.Button {
	return widget.NewButton(e.base.text(e.texts.add), func() {
		at := len(*e.list(e.base.view.Project))
		err := e.base.desk.Edit(e.base.text(e.texts.add), fmt.Sprintf("%s/%d", e.place, at), func(d *project.Project) error {
			list := e.list(d)
			*list = append(*list, e.fresh(d))
			return nil
		})
		if err == nil {
			e.at = at
			e.show()
		}
	})
}

// remover is the button that takes an entry out.
func (e *entries[T]) remover(i int) *widget.Button {
	return widget.NewButton(e.base.text(e.texts.remove), func() {
		_ = e.base.desk.Edit(e.base.text(e.texts.remove), fmt.Sprintf("%s/%d", e.place, i), func(d *project.Project) error {
			if list := e.list(d); i < len(*list) {
				*list = slices.Delete(slices.Clone(*list), i, i+1)
			}
			return nil
		}) // taking out is never refused
	})
}

// newChooser is the list of the entries.
func (e *entries[T]) newChooser() *control.SelectField {
	e.chooser = control.NewSelectField(control.SelectOptions{
		Label: e.base.text(e.texts.one), Choices: e.choices(), Wide: true,
		Value: func() string { return fmt.Sprint(e.at) },
		OnCommit: func(value string) error {
			_, _ = fmt.Sscan(value, &e.at) // a number of the list
			e.show()
			return nil
		},
	})
	return e.chooser
}

func (e *entries[T]) choices() (choices []control.Choice) {
	for i := range *e.list(e.base.view.Project) {
		choices = append(choices, control.Choice{Value: fmt.Sprint(i), Text: e.name(i)})
	}
	return choices
}

// sync brings the names in the chooser up to date.
func (e *entries[T]) sync() {
	if e.chooser != nil {
		e.chooser.SetChoices(e.choices())
	}
}
