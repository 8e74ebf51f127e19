package pane

import (
	"strings"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// fact is one result of the bench: what it is, its value, and what follows that:
// interval, basis, the same in another measure. A fact without a value is not
// shown.
type fact struct {
	label, value string
	more         string // with the sign or the line end that parts it from the value
	strong       bool   // the one among several that is used
}

// factRow shows one fact, its name at the left and its value at the right, or
// one below the other where there is no room.
type factRow struct {
	object      fyne.CanvasObject
	label, text *control.Text
}

func newFactRow() factRow {
	r := factRow{label: control.NewText("", control.Muted), text: control.NewText("", control.Plain)}
	r.object = control.NewPairs(0, r.label, r.text)
	return r
}

func (r factRow) set(f fact) {
	name := control.Run{Text: f.label, Role: control.Muted}
	if f.strong {
		name.Role, name.Bold = control.Plain, true
	}
	r.label.SetRuns(name)
	r.text.SetRuns(control.Run{Text: f.value, Bold: true}, control.Run{Text: f.more})
}

// facts is a list of results that is brought up to date with the view.
func (b *base) facts(tell func() []fact) fyne.CanvasObject {
	column := control.NewColumn(5)
	column.Hidden = true
	var rows []factRow
	shown := 0
	b.remarks = append(b.remarks, func() {
		n := 0
		for _, f := range tell() {
			if f.value == "" {
				continue
			}
			if n == len(rows) {
				rows = append(rows, newFactRow())
			}
			rows[n].set(f)
			n++
		}
		if n == shown {
			return
		}
		shown = n
		objects := make([]fyne.CanvasObject, n)
		for i := range objects {
			objects[i] = rows[i].object
		}
		column.Hidden = n == 0
		column.SetObjects(objects...)
	})
	return column
}

// fact is a result under its name, with interval and basis.
func (b *base) fact(label string, r bench.Result) fact {
	return b.factWith(label, r, b.basis(r))
}

// factWith is a result under its name, with its interval and more behind it.
func (b *base) factWith(label string, r bench.Result, more string) fact {
	value, interval := b.figures(r)
	return fact{label: b.text(label), value: value, more: interval + more}
}

// basis says what a result rests on, behind it.
func (b *base) basis(r bench.Result) string {
	if !r.Known() {
		return ""
	}
	return b.words().Say("pane.basis", map[string]any{"Basis": wording.ID("basis." + r.Basis.String())})
}

// below is a text on a line of its own.
func below(text string) string {
	if text == "" {
		return ""
	}
	return "\n" + text
}

// figures is a result as it is printed: the value with its unit, and its
// interval behind it, empty where that has no width to be seen.
func (b *base) figures(r bench.Result) (value, interval string) {
	if !r.Known() {
		return "", ""
	}
	if r.Unit == "1" {
		r.Unit = "" // a ratio or an exponent is no factor
	}
	decimals := decimalsOf(r)
	low, high := b.fixed(r.Low, decimals), b.fixed(r.High, decimals)
	if r.Certain() || low == high {
		return b.words().Say("pane.value", map[string]any{"Value": shown(r, 3)}), ""
	}
	value = b.fixed(r.Value, decimals)
	if r.Unit != "" {
		value += " " + wording.Unit(r.Unit)
	}
	return whole(value), b.interval(low, high)
}

// interval is the two ends of an interval, behind its value.
func (b *base) interval(low, high string) string {
	return " " + whole(b.words().Say("pane.interval", map[string]any{"Low": low, "High": high}))
}

// whole keeps a text on one line.
func whole(text string) string { return strings.ReplaceAll(text, " ", "\u00a0") }

// fixed is a number with so many decimals; nothing at all needs none.
func (b *base) fixed(v float64, decimals int) string {
	if v == 0 {
		decimals = 0
	}
	return b.words().Fixed(v, decimals)
}

// ranged is a result and its interval in one text.
func (b *base) ranged(r bench.Result) string {
	value, interval := b.figures(r)
	return value + interval
}

// decimalsOf is how many decimals tell the ends of an interval from its middle:
// one digit of the nearer end's distance, two where that begins with 1 or 2, as
// uncertainties are stated; no more than the value has in four digits.
func decimalsOf(r bench.Result) int {
	near := min(r.Value-r.Low, r.High-r.Value)
	if near <= 0 {
		near = max(r.Value-r.Low, r.High-r.Value)
	}
	size := max(r.Value, -r.Value)
	decimals := 0
	for near < 2.95 && size < 1000 && decimals < 9 { // 2.95 prints as 3
		if near >= 0.95 {
			return decimals + 1
		}
		near, size, decimals = 10*near, 10*size, decimals+1
	}
	return decimals
}

// joined puts texts together, leaving out empty ones.
func joined(separator string, texts ...string) string {
	var list []string
	for _, text := range texts {
		if text != "" {
			list = append(list, text)
		}
	}
	return strings.Join(list, separator)
}

// lines is a text that is brought up to date with the view; empty lines are left out.
func (b *base) lines(tell func() []string) fyne.CanvasObject {
	return b.following(control.NewText("", control.Plain), tell)
}

// captions is lines in small muted text: what to bear in mind.
func (b *base) captions(tell func() []string) fyne.CanvasObject {
	return b.following(control.NewCaption(""), tell)
}

func (b *base) following(text *control.Text, tell func() []string) fyne.CanvasObject {
	text.Hidden = true
	b.remarks = append(b.remarks, func() {
		text.Tell(joined("\n", tell()...))
	})
	return text
}

// remark is what a table says beside a row.
func (b *base) remark(r bench.Remark) string {
	if r.ID == "" {
		return ""
	}
	return b.words().Say(r.Message())
}
