package pane

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/quantity"
)

// column is one column of a [rowsTable]. The makers below fill it in; the others
// of its members are set by hand.
type column[T any] struct {
	member string // name in the file, below the row: "time", "masses/2"; empty when a row is nothing but its value
	title  string
	also   []string // other titles that files may have for it, most telling first
	vague  []string // more of them, which count only where a unit says that they are meant
	width  float32  // see control.GridColumn
	align  fyne.TextAlign

	show func(*T) string // as people read it
	file func(*T) string // as files have it: with a decimal point
	// set takes a text in either form; an empty one is not given. It must not write
	// into a slice that the row shares with its original. Nil for a computed column.
	set func(*T, string) error
	// unit is that of the value which stands there, for a bare number below it, and
	// usual that for a bare number with nothing above. CUR stands for the currency.
	unit    func(*T) string
	usual   string
	bare    bool     // the head does not name the usual unit: the title does, or every value
	choices []string // to choose from instead of typing
	// given reports that something stands there; that file gives a text when nil.
	given func(*T) bool

	cell    func(index int) control.Cell // of a computed column, by the index in the list
	numbers bool                         // counts the rows
}

// numberColumn counts the rows.
func numberColumn[T any](title string, width float32) column[T] {
	return column[T]{title: title, width: width, align: fyne.TextAlignTrailing, numbers: true}
}

// computedColumn shows what follows from a row.
func computedColumn[T any](title string, width float32, cell func(index int) control.Cell) column[T] {
	return column[T]{title: title, width: width, align: fyne.TextAlignTrailing, cell: cell}
}

// quantityColumn holds a quantity of each row. A bare number takes the unit that
// stood there before, else that of the cell above, else the usual one.
func quantityColumn[T any, D quantity.Dim](b *base, member, title string, width float32, usual string, at func(*T) *quantity.Of[D]) column[T] {
	return quantityOf(b, column[T]{member: member, title: title, width: width, usual: usual},
		func(row *T) quantity.Of[D] { return *at(row) },
		func(row *T, q quantity.Of[D]) { *at(row) = q })
}

// listColumn holds one quantity out of a list of each row: the mass of one tray.
// The list grows as far as it is filled, and not given ones at its end are left out.
func listColumn[T any, D quantity.Dim](b *base, member string, number int, title string, width float32, usual string, at func(*T) *[]quantity.Of[D]) column[T] {
	get := func(row *T) (q quantity.Of[D]) {
		if list := *at(row); number < len(list) {
			q = list[number]
		}
		return q
	}
	set := func(row *T, q quantity.Of[D]) {
		list := make([]quantity.Of[D], max(len(*at(row)), number+1)) // never in place: rows may share it
		copy(list, *at(row))
		list[number] = q
		for len(list) > 0 && !list[len(list)-1].Given() {
			list = list[:len(list)-1]
		}
		*at(row) = list
	}
	return quantityOf(b, column[T]{member: member + "/" + strconv.Itoa(number), title: title, width: width, usual: usual}, get, set)
}

func quantityOf[T any, D quantity.Dim](b *base, c column[T], get func(*T) quantity.Of[D], set func(*T, quantity.Of[D])) column[T] {
	c.show = func(row *T) string { return get(row).Pretty(b.words().DecimalComma()) }
	c.file = func(row *T) string { return get(row).String() }
	c.unit = func(row *T) string { return get(row).Unit() }
	c.set = func(row *T, text string) error {
		if text == c.show(row) {
			return nil // the printed form of a unit is not the one that was typed
		}
		q, err := quantity.Parse[D](text)
		if err == nil {
			set(row, q)
		}
		return err
	}
	return c
}

// textColumn holds a line of text of each row.
func textColumn[T any](member, title string, width float32, at func(*T) *string) column[T] {
	get := func(row *T) string { return *at(row) }
	return column[T]{
		member: member, title: title, width: width, show: get, file: get,
		set: func(row *T, text string) error {
			*at(row) = text
			return nil
		},
	}
}

// wholeColumn holds a whole number of each row. Zero is shown where it is a
// number that counts, and is not given where the least is one.
func wholeColumn[T any](member, title string, width float32, least, most int, at func(*T) *int) column[T] {
	get := func(row *T) string {
		if *at(row) == 0 && least > 0 {
			return ""
		}
		return strconv.Itoa(*at(row))
	}
	return column[T]{
		member: member, title: title, width: width, align: fyne.TextAlignTrailing, show: get, file: get,
		given: func(row *T) bool { return *at(row) != 0 },
		set: func(row *T, text string) error {
			n, err := strconv.Atoi(text)
			switch {
			case text == "":
				n = 0
			case err != nil || n < least || n > most:
				return said{"refused.whole_number", map[string]any{"Low": least, "High": most}}
			}
			*at(row) = n
			return nil
		},
	}
}

// choiceColumn holds one of several values of each row. The value stands in files,
// its text in the window; both are read.
func choiceColumn[T any](member, title string, width float32, choices []control.Choice, get func(*T) string, set func(*T, string)) column[T] {
	c := column[T]{member: member, title: title, width: width, file: get}
	for _, choice := range choices {
		c.choices = append(c.choices, choice.Text)
	}
	c.show = func(row *T) string {
		if i := slices.IndexFunc(choices, func(c control.Choice) bool { return c.Value == get(row) }); i >= 0 {
			return choices[i].Text
		}
		return get(row)
	}
	c.set = func(row *T, text string) error {
		i := slices.IndexFunc(choices, func(c control.Choice) bool {
			return strings.EqualFold(c.Text, text) || strings.EqualFold(c.Value, text)
		})
		switch {
		case text == "":
			set(row, "")
		case i < 0:
			return said{"table.not_a_choice", map[string]any{"Text": text, "Choices": c.choices}}
		default:
			set(row, choices[i].Value)
		}
		return nil
	}
	return c
}

// has reports that something stands in a row.
func (c *column[T]) has(row *T) bool {
	if c.given != nil {
		return c.given(row)
	}
	return c.file(row) != ""
}

// take puts a text into a row. unit is that of a bare number, if it is known; above
// gives the unit of the cell above.
func (c *column[T]) take(row *T, text, unit, currency string, above func() string) error {
	text = strings.TrimSpace(text)
	err := c.set(row, text)
	if c.unit == nil || !lacksUnit(err) {
		return err
	}
	if unit == "" {
		unit = c.unit(row)
	}
	if unit == "" {
		unit = above()
	}
	if unit == "" {
		unit = strings.ReplaceAll(c.usual, "CUR", currency)
	}
	if unit == "" {
		return err
	}
	return c.set(row, text+" "+unit)
}

// unitAbove is the unit of all values above a row; empty where they have none, or
// several: a time below 60 min and 1.5 h may be either.
func (c *column[T]) unitAbove(list []T, index int) (unit string) {
	for i := range index {
		switch here := c.unit(&list[i]); {
		case here == "":
		case unit == "":
			unit = here
		case here != unit:
			return ""
		}
	}
	return unit
}

// said is a refusal in words of the catalogue.
type said struct {
	id     string
	values map[string]any
}

// Message hands the refusal to whoever renders texts.
func (s said) Message() (id string, values map[string]any) { return s.id, s.values }

// Error is for logs; people read the text of the Message.
func (s said) Error() string { return s.id }
