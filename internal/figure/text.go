package figure

import (
	"image/color"
	"math"
	"strings"
	"unicode"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// typeface is one font at one size.
type typeface struct {
	face            font.Face
	size            float64
	ascent, descent float64 // of the boxes of its texts
	cap             float64 // height of its capitals and digits
}

// Shares of the font size for Liberation Sans: a box that holds accented
// capitals and descenders, and the height of its digits.
const (
	ascentShare  = 0.905
	descentShare = 0.212
	capShare     = 0.69
	lineShare    = ascentShare + descentShare // what one line needs at least
)

func newTypeface(size float64, bold bool) typeface {
	f := font.Font{Typeface: "Liberation", Variant: "Sans"}
	if bold {
		f.Weight = xfont.WeightBold
	}
	return typeface{
		face: font.DefaultCache.Lookup(f, vg.Length(size)),
		size: size, ascent: ascentShare * size, descent: descentShare * size, cap: capShare * size,
	}
}

// width is the length of a text that went through [plain].
func (t *typeface) width(text string) float64 {
	return float64(t.face.Width(text))
}

// baseline is where the text must stand for its digits to be centred on y.
func (t *typeface) baseline(y float64) float64 { return y + t.cap/2 }

// longestText is the number of characters beyond which a text is cut before it is measured.
const longestText = 300

// plain makes one line of a text: line breaks and other control characters become spaces.
func plain(text string) string {
	clean := true
	for _, r := range text {
		if unicode.IsControl(r) || r == unicode.ReplacementChar {
			clean = false
			break
		}
	}
	if clean && len(text) <= longestText {
		return text
	}
	out := []rune(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, text))
	if len(out) > longestText {
		out = append(out[:longestText-1], '…')
	}
	return string(out)
}

// fit shortens a text with an ellipsis until it is no wider than most. It is
// empty when there is not even room for two characters and the ellipsis.
func (t *typeface) fit(text string, most float64) string {
	text = plain(text)
	if t.width(text) <= most {
		return text
	}
	runes := []rune(text)
	low, high := 0, len(runes) // the longest start that fits lies in [low, high)
	for high-low > 1 {
		mid := (low + high) / 2
		if t.width(string(runes[:mid])+"…") <= most {
			low = mid
		} else {
			high = mid
		}
	}
	if low < 2 {
		return ""
	}
	return strings.TrimRight(string(runes[:low]), " ,;:") + "…"
}

// label is a text with its place.
type label struct {
	text  string
	face  *typeface
	ink   color.Color
	x     float64 // of the point that align tells
	base  float64 // of the baseline
	align float64 // 0: x is the left end, 0.5 the middle, 1 the right end
	most  float64 // width beyond which it is shortened; 0 for that of the image
}

// box is the place that the label takes, with the text as it will be shown.
func (p *painter) box(l label) (Rect, string) {
	most := p.w - 2
	if l.most > 0 {
		most = min(most, l.most)
	}
	shown := l.face.fit(l.text, most)
	width := l.face.width(shown)
	x := math.Round(l.x - l.align*width)
	x = max(1, min(x, math.Floor(p.w-1-width)))
	base := math.Round(l.base)
	return Rect{X0: x, Y0: base - l.face.ascent, X1: x + width, Y1: base + l.face.descent}, shown
}

// put draws a label and returns its box, which is empty when nothing was drawn.
func (p *painter) put(l label) Rect {
	box, shown := p.box(l)
	if shown == "" || box.Y0 < -1 || box.Y1 > p.h+1 {
		return Rect{}
	}
	base := math.Round(l.base)
	p.c.SetColor(l.ink)
	p.c.FillString(l.face.face, p.point(box.X0, base), shown)
	p.lay.Texts = append(p.lay.Texts, Text{Box: box, Shown: shown, Whole: l.text})
	return box
}

// wrap breaks a text into lines no wider than most, at most so many of them.
func (t *typeface) wrap(text string, most float64, lines int) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(plain(text)) {
		longer := strings.TrimSpace(line + " " + word)
		if line == "" || t.width(longer) <= most || len(out) == lines-1 {
			line = longer
			continue
		}
		out = append(out, line)
		line = word
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}
