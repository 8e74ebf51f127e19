package control

import (
	"slices"
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

func naturalWidth(runs []Run, size float32) float32 {
	w := float32(0)
	for _, r := range runs {
		w += measure(r.Text, size, r.style())
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

// flow breaks runs into lines of at most the given width. A word wider than a
// line is broken inside. With a limit of lines the last one ends in an ellipsis.
func flow(runs []Run, size, width float32, limit int) []flowLine {
	b := lineBuilder{size: size, width: width}
	all := words(runs)
	for i, w := range all {
		if w.newline {
			b.end()
		}
		b.next = ""
		if i+1 < len(all) && staysWith(w.Text, all[i+1]) {
			b.next = " " + all[i+1].Text
		}
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
	next        string // what has to fit behind the word
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
		if len(b.line.pieces) == 0 {
			head.Text, tail = b.split(w)
		}
		b.put(head)
		if tail == "" {
			return
		}
		b.end()
		w.Text = tail
	}
}

func (b *lineBuilder) fits(w word) bool {
	text := w.Text
	if !w.glued {
		text = " " + text
	}
	return b.line.width+measure(text+b.next, b.size, w.style()) <= b.width
}

// split takes as much of a word as a whole line holds, at least one letter.
func (b *lineBuilder) split(w word) (head, tail string) {
	if measure(w.Text, b.size, w.style()) <= b.width {
		return w.Text, ""
	}
	letters := []rune(w.Text)
	n := len(letters)
	for n > 1 && measure(string(letters[:n]), b.size, w.style()) > b.width {
		n--
	}
	return string(letters[:n]), string(letters[n:])
}

func (b *lineBuilder) put(w word) {
	b.started = true
	text := w.Text
	if !w.glued && len(b.line.pieces) > 0 {
		text = " " + text
	}
	if n := len(b.line.pieces); n > 0 {
		last := &b.line.pieces[n-1]
		// The arrow comes from another font of the toolkit, which has no space: it
		// must stand alone.
		if last.Role == w.Role && last.Bold == w.Bold && !strings.HasSuffix(last.Text, arrow) {
			last.Text += text
			last.width = measure(last.Text, b.size, last.style())
			b.line.width = last.x + last.width
			return
		}
	}
	r := w.Run
	r.Text = text
	p := flowPiece{Run: r, x: b.line.width, width: measure(text, b.size, r.style())}
	b.line.pieces = append(b.line.pieces, p)
	b.line.width += p.width
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
	for n := len(letters) - 1; n > 0; n-- {
		short := strings.TrimRight(string(letters[:n]), " ") + ellipsis
		if measure(short, size, style) <= width {
			return short
		}
	}
	return ellipsis
}
