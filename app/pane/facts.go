package pane

import (
	"math"
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
func (b *base) figures(r bench.Result) (value, interval string) { return b.figuresTo(r, decimalsOf(r)) }

// figuresTo is a result as it is printed, with so many decimals.
func (b *base) figuresTo(r bench.Result, decimals int) (value, interval string) {
	if !r.Known() {
		return "", ""
	}
	if r.Unit == "1" {
		r.Unit = "" // a ratio or an exponent is no factor
	}
	value, low, high := rounded(b.words(), r, decimals)
	if low == high {
		return b.words().Say("pane.value", map[string]any{"Value": shown(r, 3)}), ""
	}
	if r.Unit != "" {
		value += " " + wording.Unit(r.Unit)
	}
	return whole(value), b.interval(low, high)
}

// Rounded is a result and its ends to the digits that its interval tells; all three are alike
// where that has no width to be seen. What is shown of a figure in two places must not differ.
func Rounded(w *wording.Words, r bench.Result) (value, low, high string) {
	return rounded(w, r, decimalsOf(r))
}

// rounded is a result and its ends with so many decimals.
func rounded(w *wording.Words, r bench.Result, decimals int) (value, low, high string) {
	least := leastEnd * max(math.Abs(r.Low), math.Abs(r.High))
	low, high = ending(w, r.Low, least, decimals), ending(w, r.High, least, decimals)
	if r.Certain() || low == high {
		value = w.Number(r.Value, 3)
		return value, value, value
	}
	return fixed(w, r.Value, decimals), low, high
}

// leastEnd is the share of the greater end from which the other does not count as none.
const leastEnd = 1e-4

// ending is an end of an interval with so many decimals, with more where it would look like
// none and is not.
func ending(w *wording.Words, v, least float64, decimals int) string {
	if math.Abs(v) > least && w.Fixed(math.Abs(v), decimals) == w.Fixed(0, decimals) {
		return w.Number(v, 1)
	}
	return fixed(w, v, decimals)
}

// rare is the chance in % below which digits say no more: neither a sieve nor a count leaves
// none at all.
const rare = 0.1

// Rare reports a figure that is a chance too small to be told in digits.
func Rare(f bench.Figure, r bench.Result) bool { return f.Chance() && r.Known() && r.Value < rare }

// RareBasis says what a rare chance rests on: its upper end, where that is not rare, else what
// was counted or sieved.
func RareBasis(w *wording.Words, results *bench.BlendSheet, f bench.Figure, r bench.Result) string {
	switch {
	case r.High >= rare:
		return w.Say("chance.up_to", map[string]any{"High": wording.Number{Value: r.High, Unit: "%", Digits: 2}})
	case f == bench.ClogChancePerSpool && results != nil && results.Clog.BySieve():
		return w.Text("chance.by_sieve")
	}
	return w.Text("basis." + r.Basis.String())
}

// interval is the two ends of an interval, behind its value.
func (b *base) interval(low, high string) string {
	return " " + whole(b.words().Say("pane.interval", map[string]any{"Low": low, "High": high}))
}

// whole keeps a text on one line.
func whole(text string) string { return strings.ReplaceAll(text, " ", "\u00a0") }

func (b *base) fixed(v float64, decimals int) string { return fixed(b.words(), v, decimals) }

// fixed is a number with so many decimals; nothing at all needs none.
func fixed(w *wording.Words, v float64, decimals int) string {
	if v == 0 {
		decimals = 0
	}
	return w.Fixed(v, decimals)
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

// decimalsIn is how many decimals a number has in so many digits.
func decimalsIn(v float64, digits int) int {
	decimals := digits - 1
	for size := math.Abs(v); size >= 10 && decimals > 0; size /= 10 {
		decimals--
	}
	for size := math.Abs(v); size > 0 && size < 1 && decimals < 9; size *= 10 {
		decimals++
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
