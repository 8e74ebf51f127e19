package control

import (
	"strings"
	"testing"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func lineTexts(lines []flowLine) []string {
	var out []string
	for _, l := range lines {
		s := ""
		for _, p := range l.pieces {
			s += p.Text
		}
		out = append(out, s)
	}
	return out
}

func TestFlowKeepsEveryWordAndFits(t *testing.T) {
	useTheme(t, Light, 1)
	runs := []Run{{Text: "At 10 wt% powder falls off whole pellets: expect lumps."}, {Text: " Grind part of them.", Bold: true}, {Text: " → Line, pellet size", Role: Accent}}
	plain := "At 10 wt% powder falls off whole pellets: expect lumps. Grind part of them. → Line, pellet size"
	for width := float32(80); width < 900; width += 37 {
		lines := flow(runs, 13, width, 0)
		assert.Equal(t, plain, strings.Join(lineTexts(lines), " "), "at %v", width)
		for _, l := range lines {
			assert.LessOrEqual(t, l.width, width+0.01)
		}
		assert.False(t, strings.HasSuffix(strings.Join(lineTexts(lines), "\n"), "→"))
		for _, s := range lineTexts(lines) {
			assert.False(t, strings.HasSuffix(s, arrow), "an arrow stays with what it points to")
		}
	}
}

func TestFlowKeepsUnitsWithTheirNumbers(t *testing.T) {
	useTheme(t, Light, 1)
	text := "Pass the whole lot through 90 µm, or below 0.1 % in 30 min: 12 g, 210 °C, 5 wt%. Row 3 is empty; 2.61 €/kg is paid."
	for width := float32(90); width < 700; width += 7 {
		for _, line := range lineTexts(flow([]Run{{Text: text}}, 13, width, 0)) {
			for _, unit := range []string{"µm", "%", "min", "g,", "°C", "wt%", "€/kg"} {
				assert.False(t, strings.HasPrefix(line, unit), "at %v: %q", width, line)
			}
		}
	}
	assert.Equal(t, []string{"Row 3", "is"}, lineTexts(flow([]Run{{Text: "Row 3 is"}}, 13, measure("Row 3", 13, fyne.TextStyle{})+1, 0)), "other words go on")
}

// TestNoWordIsBrokenThatFits: neither one that hard spaces hold to others, nor one whose end
// is of another role.
func TestNoWordIsBrokenThatFits(t *testing.T) {
	useTheme(t, Light, 2)
	held := strings.ReplaceAll("≤ 70 % of the melt, if none escapes", " ", "\u00a0")
	runs := []Run{{Text: held, Bold: true}, {Text: ", usual; the half-"}, {Text: "open", Bold: true}, {Text: "ed lid (of a jar) stays"}}
	whole := strings.Fields(strings.ReplaceAll(NewRuns(runs...).String(), "\u00a0", " "))
	const size = 26
	widest := float32(0)
	for _, w := range whole {
		widest = fyne.Max(widest, measure(w, size, fyne.TextStyle{Bold: true}))
	}
	broken := 0
	for width := widest + 1; width < 1200; width += 7 {
		lines := lineTexts(flow(runs, size, width, 0))
		assert.Equal(t, whole, strings.Fields(strings.Join(lines, " ")), "at %v", width)
		if !strings.Contains(strings.Join(lines, "\n"), strings.ReplaceAll(held, "\u00a0", " ")) {
			broken++
		}
	}
	assert.Greater(t, broken, 5, "some widths are too narrow for what is held together")
	long := lineTexts(flow([]Run{{Text: "a\u00a0" + strings.Repeat("x", 40)}}, size, 200, 0))
	assert.Equal(t, "a", long[0], "parted at the space before it is broken")
	assert.Equal(t, strings.Repeat("x", 40), strings.Join(long[1:], ""))
}

func TestFlowEdges(t *testing.T) {
	useTheme(t, Light, 1)
	assert.Empty(t, flow(nil, 13, 100, 0))
	assert.Empty(t, flow([]Run{{}}, 13, 100, 0))
	assert.Equal(t, []string{"a", "b"}, lineTexts(flow([]Run{{Text: "a\nb"}}, 13, 100, 0)))
	assert.Equal(t, []string{"a", "", "b"}, lineTexts(flow([]Run{{Text: "a\n\nb"}}, 13, 100, 0)))
	assert.Equal(t, []string{"Olive-stone"}, lineTexts(flow([]Run{{Text: "Olive-"}, {Text: "stone", Bold: true}}, 13, 500, 0)), "runs without a space stay together")
	assert.Equal(t, []string{"1 053 g"}, lineTexts(flow([]Run{{Text: "1\u202f053\u00a0g"}}, 13, 500, 0)), "the fonts have no hard spaces")

	long := strings.Repeat("x", 60)
	lines := flow([]Run{{Text: long}}, 13, 50, 0)
	assert.Greater(t, len(lines), 3)
	assert.Equal(t, long, strings.Join(lineTexts(lines), ""), "a long word is broken, not lost")
	assert.Len(t, flow([]Run{{Text: long}}, 13, 0, 0), 60, "no width: a letter a line, but no endless loop")

	cut := lineTexts(flow([]Run{{Text: "one two three four five six"}}, 13, 60, 2))
	require.Len(t, cut, 2)
	assert.True(t, strings.HasSuffix(cut[1], ellipsis))
	assert.Equal(t, ellipsis, fitted("abc", 13, fyne.TextStyle{}, 1))
	assert.Equal(t, "abc", fitted("abc", 13, fyne.TextStyle{}, 100))
}

func TestSpacesDoNotPullLetters(t *testing.T) {
	useTheme(t, Light, 1)
	var own []rune
	for r := '!'; r < 0x530; r++ {
		if unicode.IsPrint(r) && !unicode.IsMark(r) && ownLetter(r) {
			own = append(own, r)
		}
	}
	require.Greater(t, len(own), 400, "the letters of European languages")
	assert.False(t, ownLetters("Ϣ"), "which some machines have in another font only")
	for _, style := range []fyne.TextStyle{{}, {Bold: true}} {
		for _, size := range []float32{11.5, 13, 26} {
			n := measure("n", size, style)
			for _, r := range append(own, []rune(signs)...) {
				letter := string(r)
				require.True(t, ownLetters(letter), letter)
				spaced := measure(" "+letter, size, style)
				require.Equal(t, n+spaced, measure("n "+letter, size, style), "before %q", letter)
				require.Equal(t, spaced+measure(" n", size, style), measure(" "+letter+" n", size, style), "after %q", letter)
			}
		}
	}
	assert.False(t, ownLetters("sieve "+arrow), "from another font")
}

func TestPiecesAreAsWideAsTheyAreDrawn(t *testing.T) {
	useTheme(t, Light, 1.5)
	runs := []Run{
		{Text: "To be 90 % sure: sieve ↓ 80 µm and “dry” 粉 木 for 3 h → the tab Drying"},
		{Text: " or glued", Bold: true},
		{Text: "together, 1\u202f053\u00a0g", Bold: true},
		{Text: " → " + "Filler, nozzle", Role: Accent},
	}
	for width := float32(90); width < 1200; width += 13 {
		for _, line := range flow(runs, 19.5, width, 0) {
			x := float32(0)
			for _, p := range line.pieces {
				assert.InDelta(t, x, p.x, 1e-3, p.Text)
				assert.InDelta(t, measure(p.Text, 19.5, p.style()), p.width, 1e-3, p.Text)
				x += p.width
			}
			assert.InDelta(t, x, line.width, 1e-3)
		}
	}
	for _, r := range append(runs, Run{Text: "Pass the lot through 90 µm: 2.61 €/kg"}) {
		text := NewRuns(r)
		assert.Len(t, text.flow(text.NaturalWidth()), 1, "%q fits its own width", r.Text)
	}
}

func TestTextKeepsNoFlowOfAnotherTextOrSize(t *testing.T) {
	useTheme(t, Light, 1)
	text := NewText("Grind part of the pellets, or feed the powder late.", Plain)
	heights := func() (list []float32) {
		for width := float32(60); width < 400; width += 20 {
			list = append(list, text.HeightFor(width), float32(len(flow(text.runs, text.textSize(), width, 0)))*lineHeight(text.textSize()))
		}
		return list
	}
	agree := func() {
		t.Helper()
		for range 2 { // measured anew and remembered
			for list := heights(); len(list) > 0; list = list[2:] {
				assert.Equal(t, list[1], list[0])
			}
		}
	}
	agree()
	before := heights()
	test.ApplyTheme(t, NewTheme(Light, 2))
	agree()
	assert.NotEqual(t, before, heights())
	text.SetText("Short.")
	agree()
	text.Resize(fyne.NewSize(200, 100))
	assert.NotEmpty(t, text.pieces)
	text.Resize(fyne.NewSize(0, 100))
	text.Refresh()
	assert.Empty(t, text.pieces, "at no width nothing is shown")
}

func TestCutsAreAsLateAsTheyCanBe(t *testing.T) {
	useTheme(t, Light, 1)
	const text = "Ground olive stones, WiWiWi 0.25 mm"
	letters := []rune(text)
	for width := float32(0); width < 260; width += 3 {
		want := ellipsis
		for n := 1; n < len(letters); n++ {
			if cut := strings.TrimRight(string(letters[:n]), " ") + ellipsis; measure(cut, 13, fyne.TextStyle{}) <= width {
				want = cut
			}
		}
		if measure(text, 13, fyne.TextStyle{}) <= width {
			want = text
		}
		assert.Equal(t, want, fitted(text, 13, fyne.TextStyle{}, width), "at %v", width)
	}
	assert.Equal(t, ellipsis, fitted(ellipsis, 13, fyne.TextStyle{}, 1))
	assert.Len(t, flow([]Run{{Text: "a\n\nb"}}, 13, -5, 0), 3)
}
