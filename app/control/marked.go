package control

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
)

// Item is one of several things to choose from, with its state: a pane in the
// [Rail], or a section in [Tabs].
type Item struct {
	ID    string
	Title string
	Mark  Mark
	// MarkText says the mark in words, for a screen reader.
	MarkText string
}

// AccessibilityLabel says title and mark.
func (i Item) AccessibilityLabel() string {
	if i.MarkText == "" {
		return i.Title
	}
	return i.Title + ", " + i.MarkText
}

// AccessibilityRole implements fyne.Accessible.
func (Item) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleButton }

// marked is how an item looks: its mark and its title on a ground.
type marked struct {
	Item
	ground *canvas.Rectangle
	sign   *sign
	title  *canvas.Text
}

func newMarked(item Item) marked {
	return marked{Item: item, ground: newBox(), sign: newSign(item.Mark.icon()), title: canvas.NewText("", nil)}
}

// paint brings mark and title up to date; the ground is the owner's.
func (m *marked) paint(chosen bool) {
	m.sign.Resource = m.Mark.icon()
	m.sign.Refresh()
	m.title.Text, m.title.TextSize = m.Title, theme.TextSize()
	m.title.TextStyle.Bold = chosen
	m.title.Color = colour(theme.ColorNameForeground)
}

// boldWidth is the width of the title in bold, so that nothing moves when it is chosen.
func (m *marked) boldWidth() float32 {
	return measure(m.Title, theme.TextSize(), fyne.TextStyle{Bold: true})
}

// asObjects are widgets of one kind as the toolkit wants them.
func asObjects[T fyne.CanvasObject](list []T) []fyne.CanvasObject {
	objects := make([]fyne.CanvasObject, len(list))
	for i, o := range list {
		objects[i] = o
	}
	return objects
}
