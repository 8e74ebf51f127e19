package pane

import (
	"errors"
	"slices"
	"strings"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// base is what all panes have in common: a column of inputs at the left, a
// picture at the right.
type base struct {
	id     bench.Pane
	desk   Desk
	view   View
	inputs control.Inputs
	column *control.Column
	split  *control.Split
	first  control.Input // the one that is used first
	key    string        // of what the inputs were built for

	drawing *control.PictureView
	kept    map[string]control.Refusal // refused texts of inputs that are not there now, by lasting place
	remarks []func()                   // bring the remarks beside the inputs up to date
	tables  []table
	held    map[string]any // what tables that are not there now must not lose, by lasting place
}

func newBase(id bench.Pane, desk Desk) base {
	return base{id: id, desk: desk, column: control.NewColumn(8), kept: map[string]control.Refusal{}, held: map[string]any{}}
}

// ID names the pane.
func (b *base) ID() bench.Pane { return b.id }

// Object is what the window shows.
func (b *base) Object() fyne.CanvasObject { return b.split }

// Start focuses the input that is used first.
func (b *base) Start() {
	if b.first != nil {
		b.first.Focus()
	}
}

// words is short for the catalogue.
func (b *base) words() *wording.Words { return b.desk.Words() }

func (b *base) text(id string) string { return b.words().Text(id) }

// Lead focuses the field of a place, or its cell in a table.
func (b *base) Lead(place string) bool {
	if b.inputs.Lead(place) {
		return true
	}
	return slices.ContainsFunc(b.tables, func(t table) bool { return t.Lead(place) })
}

// Commit hands on what is typed in a table; entries are committed by the window.
func (b *base) Commit() {
	for _, t := range b.tables {
		t.Commit()
	}
}

// leadOrStart focuses the field of a place, else the input that is used first; false
// where there is neither.
func (b *base) leadOrStart(place string) bool {
	if b.Lead(place) {
		return true
	}
	if b.first == nil {
		return false
	}
	b.first.Focus()
	return true
}

// fill puts inputs into the column, with their remarks as they are now: else the column would
// shrink for a moment and lose its place.
func (b *base) fill(objects []fyne.CanvasObject) {
	for _, bring := range b.remarks {
		bring()
	}
	b.column.SetObjects(objects...)
}

// refresh shows the committed values of all inputs and draws the picture.
func (b *base) refresh() {
	b.inputs.Sync()
	for _, t := range b.tables {
		t.Sync()
	}
	for _, bring := range b.remarks {
		bring()
	}
	b.Redraw()
}

// take makes a view the one shown. Inputs are built anew when the key says that
// others are needed; never for a mere change of value, because that would take
// the keyboard away from the next field.
func (b *base) take(v View, key string, build func()) {
	if key == b.key {
		b.view = v
		return
	}
	for place, refusal := range b.inputs.Refused() {
		b.kept[lasting(b.view.Project, place)] = refusal
	}
	b.holdTables()
	b.view, b.key = v, key
	b.inputs.Clear()
	b.remarks, b.first, b.tables = nil, nil, nil
	build()
	b.takeBackTables()
	for place, refusal := range b.kept {
		if now, there := current(v.Project, place); there && b.inputs.At(now) != nil {
			b.inputs.At(now).RestoreRefused(refusal.Text, refusal.Message)
			delete(b.kept, place)
		}
	}
}

// edit changes the document, naming the field in the label of the history.
func (b *base) edit(place, field string, change func(*project.Project) error) error {
	return b.desk.Edit(b.words().Say("edit.change", map[string]any{"Field": field}), place, change)
}

// labelOf is the catalogue ID of a field's name, by its place in the document.
func labelOf(place string) string { return "field" + strings.ReplaceAll(place, "/", ".") }

// fieldLook is how a quantity field is shown.
type fieldLook struct {
	label  string // already worded; empty takes the name of the place
	hint   string // already worded; empty takes the forms of the dimension
	remark string
}

// lookOf takes the name of a field, and its hint and remark if it has them, from the
// catalogue under a place.
func (b *base) lookOf(place string) fieldLook {
	id := strings.ReplaceAll(place, "/", ".")
	optional := func(id string) string {
		if b.words().Has(id) {
			return b.text(id)
		}
		return ""
	}
	return fieldLook{label: b.text("field" + id), hint: optional("hint" + id), remark: optional("remark" + id)}
}

// newQuantity makes a field for a quantity of the document. at points at it.
func newQuantity[D quantity.Dim](b *base, place string, look fieldLook, at func(*project.Project) *quantity.Of[D]) *control.Field {
	if look.label == "" {
		look.label = b.text(labelOf(place))
	}
	if own := "hint" + strings.ReplaceAll(place, "/", "."); look.hint == "" && b.words().Has(own) {
		look.hint = b.text(own)
	}
	if look.hint == "" {
		look.hint = b.text("hint." + quantity.Name[D]())
	}
	f := control.NewField(control.FieldOptions{
		ID: place, Label: look.label, Hint: b.hint(look.hint), Remark: look.remark,
		Text: func() string {
			if b.view.Project == nil {
				return ""
			}
			return at(b.view.Project).Pretty(b.words().DecimalComma())
		},
		OnCommit: func(text string) error {
			if b.view.Project != nil && strings.TrimSpace(text) == at(b.view.Project).Pretty(b.words().DecimalComma()) {
				return nil // the printed form of a unit is not the one that was typed
			}
			return b.edit(place, look.label, func(p *project.Project) error {
				q, err := parseLike(text, orUsual(*at(p), p.Currency))
				if err != nil {
					return err
				}
				*at(p) = q
				return nil
			})
		},
	})
	b.inputs.Add(f)
	return f
}

// hint puts the project's currency into the accepted forms.
func (b *base) hint(text string) string {
	currency := "EUR"
	if b.view.Project != nil {
		currency = b.view.Project.Currency
	}
	return strings.ReplaceAll(text, "CUR", currency)
}

// parseLike reads a quantity. A bare number takes the unit that stood there
// before, so that "5" over "10 wt%" is "5 wt%".
func parseLike[D quantity.Dim](text string, before quantity.Of[D]) (quantity.Of[D], error) {
	q, err := quantity.Parse[D](text)
	if lacksUnit(err) && before.Given() {
		if again, second := quantity.Parse[D](text + " " + before.Unit()); second == nil {
			return again, nil
		}
	}
	return q, err
}

// largeText is the scale of text from which a picture keeps its side to itself.
const largeText = 1.2

// beside is the right side of a pane: a picture that takes what is left, with
// what explains it below.
type beside struct {
	*control.Column
	picture, explanation fyne.CanvasObject
}

func newBeside(picture, explanation fyne.CanvasObject) beside {
	b := beside{Column: control.NewColumn(4, picture, explanation), picture: picture, explanation: explanation}
	b.Stretch = picture
	return b
}

// place puts the explanation below the picture or, with large text, at the end
// of the inputs, and returns the inputs.
func (b beside) place(textScale float32, inputs []fyne.CanvasObject) []fyne.CanvasObject {
	if textScale > largeText {
		b.SetObjects(b.picture)
		return append(inputs, b.explanation)
	}
	b.SetObjects(b.picture, b.explanation)
	return inputs
}

// pairs is a titled group of short inputs, two to a line.
func pairs(title string, objects ...fyne.CanvasObject) fyne.CanvasObject {
	return control.NewCard(title, "", control.NewPairs(8, objects...))
}

// orUsual is a quantity or, for a price that was not given, nothing in the
// project's currency and the usual unit, for a bare number to take its unit from.
func orUsual[D quantity.Dim](q quantity.Of[D], currency string) quantity.Of[D] {
	if q.Given() {
		return q
	}
	usual, known := usualPrices[quantity.Name[D]()]
	if !known {
		return q
	}
	return quantity.FromSI[D](0, currency+usual, 0)
}

// usualPrices are the units behind the currency, by dimension.
var usualPrices = map[string]string{
	"price": "", "price_per_mass": "/kg", "price_per_energy": "/kWh", "price_per_time": "/h",
}

// lacksUnit reports a number that was refused only for want of its unit.
func lacksUnit(err error) bool {
	var refusal *quantity.Refusal
	return errors.As(err, &refusal) && (refusal.ID == "quantity.no_unit" || refusal.ID == "quantity.no_currency")
}

// named is a group of inputs whose title is a name that can change.
func (b *base) named(name func() string, objects ...fyne.CanvasObject) fyne.CanvasObject {
	card := control.NewCard(name(), "", control.NewColumn(8, objects...))
	b.remarks = append(b.remarks, func() { card.SetTitle(name()) })
	return card
}

// materialName is the name of a material as it is now.
func (b *base) materialName(index int) string {
	if index >= len(b.view.Project.Materials) {
		return ""
	}
	return b.view.Project.Materials[index].Name
}

// section is a titled group of inputs.
func section(title string, objects ...fyne.CanvasObject) fyne.CanvasObject {
	return control.NewCard(title, "", control.NewColumn(8, objects...))
}

// newText makes a field for plain text of the document.
func newText(b *base, place, label string, at func(*project.Project) *string) *control.Field {
	return newHintedText(b, place, label, "", at)
}

// newHintedText is newText with an example of what is entered.
func newHintedText(b *base, place, label, hint string, at func(*project.Project) *string) *control.Field {
	f := control.NewTextField(control.FieldOptions{
		ID: place, Label: label, Hint: hint,
		Text: func() string {
			if b.view.Project == nil {
				return ""
			}
			return *at(b.view.Project)
		},
		OnCommit: func(text string) error {
			if b.view.Project != nil && strings.TrimSpace(text) == *at(b.view.Project) {
				return nil
			}
			return b.edit(place, label, func(p *project.Project) error {
				*at(p) = strings.TrimSpace(text)
				return nil
			})
		},
	})
	b.inputs.Add(f)
	return f
}

// amountText is an amount as people read it.
func (b *base) amountText(amount project.Amount) string {
	if amount.Balance() {
		return b.text("amount.balance")
	}
	return amount.Pretty(b.words().DecimalComma())
}

// newNumber makes a field for a whole number of the document; 0 is not given.
func newNumber(b *base, place string, at func(*project.Project) *int) *control.Field {
	return newNamedNumber(b, place, b.text(labelOf(place)), at)
}

// newNamedNumber is newNumber with a label of its own.
func newNamedNumber(b *base, place, label string, at func(*project.Project) *int) *control.Field {
	lowest, highest := project.WholeLimits(place)
	set := func(n int) error {
		return b.edit(place, label, func(p *project.Project) error {
			*at(p) = n
			return nil
		})
	}
	hint := ""
	if id := "hint" + strings.ReplaceAll(place, "/", "."); b.words().Has(id) {
		hint = b.text(id)
	}
	f := control.NewNumberField(control.NumberOptions{
		ID: place, Label: label, Hint: hint, Min: lowest, Max: highest,
		Refusal: b.words().Say("refused.whole_number", map[string]any{"Low": lowest, "High": highest}),
		Number: func() (int, bool) {
			if b.view.Project == nil {
				return 0, false
			}
			n := *at(b.view.Project)
			return n, n != 0
		},
		OnCommit: set,
		OnClear:  func() error { return set(0) },
	})
	b.inputs.Add(f)
	return f
}

// Has reports whether the pane has an input for a place.
func (b *base) Has(place string) bool {
	return b.inputs.At(place) != nil || slices.ContainsFunc(b.tables, func(t table) bool { return t.Has(place) })
}
