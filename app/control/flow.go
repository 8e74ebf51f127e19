package control

import (
	"slices"
	"sort"
	"strings"

	"fyne.io/fyne/v2"
)

const (
	ellipsis = "…"
	arrow    = "→"
)

// flowPiece is a stretch of one line in one role.
type flowPiece struct {
	Run
	x, width float32
	adds     bool // its width adds up with that of what follows
}

type flowLine struct {
	pieces []flowPiece
	width  float32
}

// word is what is kept together, with the role of its run. A word that follows
// another without a space in between is glued to it.
type word struct {
	Run
	glued, newline bool
	width, spaced  float32 // without and with a space before it
	adds           bool    // its width adds up with those of its neighbours
}

// spaces that the fonts of the toolkit have no letter for; they keep words together.
var hardSpaces = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ")

func measure(text string, size float32, style fyne.TextStyle) float32 {
	if text == "" {
		return 0
	}
	return fyne.MeasureText(text, size, style).Width
}

func lineHeight(size float32) float32 {
	return fyne.MeasureText("Mg", size, fyne.TextStyle{}).Height
}

// naturalWidth is the width of runs on one line, given their words.
func naturalWidth(runs []Run, all []word, size float32) float32 {
	w := float32(0)
	if slices.ContainsFunc(all, func(w word) bool { return !w.adds }) {
		for _, r := range runs {
			w += measure(r.Text, size, r.style())
		}
		return w
	}
	for i := range all {
		if i == 0 || all[i].glued || all[i].newline {
			w += all[i].width
		} else {
			w += all[i].spaced
		}
	}
	return w
}

// words cuts the runs at spaces and line ends.
func words(runs []Run) []word {
	var out []word
	glued := false
	for _, r := range runs {
		for i, part := range strings.Split(r.Text, "\n") {
			newline := i > 0
			if newline {
				glued = false
			}
			for _, field := range strings.SplitAfter(part, " ") {
				bare := strings.TrimSuffix(field, " ")
				if bare != "" || newline {
					w := r
					w.Text = hardSpaces.Replace(bare)
					out = append(out, word{Run: w, glued: glued, newline: newline})
				}
				newline = false
				glued = !strings.HasSuffix(field, " ") && bare != ""
			}
		}
	}
	return out
}

// measured are the words of runs with their widths. Words come again and again, in
// other texts and at other widths of the window, whole lines do not: to measure
// words is what makes wrapping cheap.
func measured(runs []Run, size float32) []word {
	all := words(runs)
	space := float32(0)
	for i := range all {
		w := &all[i]
		if i == 0 || w.Bold != all[i-1].Bold {
			space = measure(" ", size, w.style())
		}
		w.width = measure(w.Text, size, w.style())
		if w.adds = ownLetters(w.Text); w.adds {
			w.spaced = space + w.width
		} else {
			w.spaced = measure(" "+w.Text, size, w.style())
		}
	}
	return all
}

// signs beyond the usual letters that the font of the toolkit has.
const signs = "–—‘’“”…€"

// ownLetters reports a text that the font of the toolkit has all letters for. That
// font pulls no letter closer to a space, so a line is as wide as its words are
// together. Beside letters of another font, which a machine may have or not, the
// space may be that font's too.
func ownLetters(text string) bool {
	for _, r := range text {
		if !ownLetter(r) {
			return false
		}
	}
	return true
}

// ownLetter reports the letters of European languages and the usual signs.
func ownLetter(r rune) bool {
	const latinEnd = 0x180 // Latin Extended-A included
	switch {
	case r < latinEnd, 'Α' <= r && r <= 'ω' && r != 0x3A2, 'А' <= r && r <= 'я':
		return true
	}
	return strings.ContainsRune(signs, r)
}

// flow breaks runs into lines of at most the given width. A word wider than a
// line is broken inside. With a limit of lines the last one ends in an ellipsis.
func flow(runs []Run, size, width float32, limit int) []flowLine {
	return flowWords(measured(runs, size), size, width, limit)
}

func flowWords(all []word, size, width float32, limit int) []flowLine {
	b := lineBuilder{size: size, width: width}
	for i, w := range all {
		if w.newline {
			b.end()
		}
		b.next = mustFollow(all[i:])
		b.add(w)
	}
	b.end()
	if limit > 0 && len(b.lines) > limit {
		rest := b.lines[limit-1]
		b.lines = b.lines[:limit]
		b.lines[limit-1] = closeLine(rest, size, width)
	}
	return b.lines
}

// mustFollow is the width of what has to stand on the same line as the first of these words:
// the rest of a word that goes on in another run, a unit, what an arrow points to.
func mustFollow(all []word) float32 {
	width := float32(0)
	for i := 1; i < len(all); i++ {
		switch w := &all[i]; {
		case w.newline:
			return width
		case w.glued:
			width += w.width
		case staysWith(all[i-1].Text, *w):
			width += w.spaced
		default:
			return width
		}
	}
	return width
}

// shortUnits are those that begin as a word might; signs such as % and µ need no list.
var shortUnits = []string{"g", "kg", "mm", "m", "mL", "h", "min", "ppm", "kWh", "wt%", "vol%", "K", "MPa"}

// staysWith reports words that no line may end between: an arrow and what it points
// to, a number and its unit.
func staysWith(text string, next word) bool {
	if text == arrow {
		return true
	}
	if text == "" || next.newline || next.Text == "" {
		return false
	}
	if last := text[len(text)-1]; last < '0' || last > '9' {
		return false
	}
	unit := strings.TrimRight(next.Text, ".,:;)")
	return strings.ContainsRune("%µ°€", []rune(next.Text)[0]) || slices.Contains(shortUnits, unit)
}

type lineBuilder struct {
	size, width float32
	lines       []flowLine
	line        flowLine
	started     bool
	next        float32 // what has to fit behind the word
}

func (b *lineBuilder) end() {
	if b.started {
		b.lines = append(b.lines, b.line)
	}
	b.line, b.started = flowLine{}, false
}

func (b *lineBuilder) add(w word) {
	if b.started && len(b.line.pieces) > 0 && !b.fits(w) {
		b.end()
	}
	for {
		head, tail := w, ""
		if len(b.line.pieces) == 0 && b.tooWide(w) {
			head.Text, tail = b.split(w)
			head.width = measure(head.Text, b.size, w.style())
		}
		b.put(head)
		if tail == "" {
			return
		}
		b.end()
		w.Text, w.width = tail, measure(tail, b.size, w.style())
	}
}

// tooWide reports a word that has to be parted on a line of its own: one that is wider, or
// that several make up and that leaves no room for what must follow it.
func (b *lineBuilder) tooWide(w word) bool {
	return w.width > b.width || w.width+b.next > b.width && strings.Contains(w.Text, " ")
}

func (b *lineBuilder) fits(w word) bool {
	_, width := b.behind(w)
	if p := b.joins(w); p != nil {
		width = p.with(w, b.size) - p.width
	}
	return b.line.width+width+b.next <= b.width
}

// behind is what a word adds to a line that has begun, and how wide it is alone.
func (b *lineBuilder) behind(w word) (text string, width float32) {
	if w.glued || len(b.line.pieces) == 0 {
		return w.Text, w.width
	}
	return " " + w.Text, w.spaced
}

// split takes as much of a word as a whole line holds, at least one letter. What hard
// spaces hold together is parted at one of them, before a word is broken inside.
func (b *lineBuilder) split(w word) (head, tail string) {
	letters := []rune(w.Text)
	n := longest(min(1, len(letters)), len(letters), func(n int) bool {
		return measure(string(letters[:n]), b.size, w.style()) <= b.width
	})
	for at := min(n, len(letters)-1); at > 0; at-- {
		if letters[at] == ' ' {
			return string(letters[:at]), string(letters[at+1:])
		}
	}
	return string(letters[:n]), string(letters[n:])
}

// longest is the greatest length up to most that fits, and least where none does.
func longest(least, most int, fits func(n int) bool) int {
	return least + sort.Search(most-least, func(i int) bool { return !fits(least + i + 1) })
}

func (b *lineBuilder) put(w word) {
	b.started = true
	text, width := b.behind(w)
	if p := b.joins(w); p != nil {
		p.width = p.with(w, b.size)
		p.Text += text
		p.adds = p.adds && w.adds
		b.line.width = p.x + p.width
		return
	}
	r := w.Run
	r.Text = text
	b.line.pieces = append(b.line.pieces, flowPiece{Run: r, x: b.line.width, width: width, adds: w.adds})
	b.line.width += width
}

// joins is the piece that a word becomes a part of, nil where it begins its own.
// The arrow comes from another font of the toolkit, which has no space: it must
// stand alone.
func (b *lineBuilder) joins(w word) *flowPiece {
	if n := len(b.line.pieces); n > 0 {
		last := &b.line.pieces[n-1]
		if last.Role == w.Role && last.Bold == w.Bold && !strings.HasSuffix(last.Text, arrow) {
			return last
		}
	}
	return nil
}

// with is the width of a piece with a word behind it. What adds up need not be
// measured, and that is nearly everything.
func (p *flowPiece) with(w word, size float32) float32 {
	switch {
	case w.glued:
		return measure(p.Text+w.Text, size, p.style())
	case p.adds && w.adds:
		return p.width + w.spaced
	}
	return measure(p.Text+" "+w.Text, size, p.style())
}

// closeLine ends a line that has more to come in an ellipsis.
func closeLine(line flowLine, size, width float32) flowLine {
	if len(line.pieces) == 0 {
		return line
	}
	last := &line.pieces[len(line.pieces)-1]
	last.Text = fitted(last.Text+ellipsis, size, last.style(), width-last.x)
	last.width = measure(last.Text, size, last.style())
	line.width = last.x + last.width
	return line
}

// fitted shortens one line of text to a width, ending it in an ellipsis.
func fitted(text string, size float32, style fyne.TextStyle, width float32) string {
	text = hardSpaces.Replace(text)
	if measure(text, size, style) <= width {
		return text
	}
	letters := []rune(strings.TrimSuffix(text, ellipsis))
	short := func(n int) string { return strings.TrimRight(string(letters[:n]), " ") + ellipsis }
	return short(longest(0, len(letters)-1, func(n int) bool { return measure(short(n), size, style) <= width }))
}
