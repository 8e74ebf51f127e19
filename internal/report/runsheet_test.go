package report

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

var madeAt = time.Date(2026, 8, 21, 9, 0, 0, 0, time.UTC)

// pageText is what stands in the pages of a sheet: fonts with all of Unicode write their
// texts as UTF-16 (ISO 32000-1, 9.7), which is looked for in pages that are not packed.
type pageText []byte

func (p pageText) has(text string) bool {
	var wide []byte
	for _, u := range utf16.Encode([]rune(text)) {
		for _, b := range []byte{byte(u >> 8), byte(u)} {
			if b == '(' || b == ')' || b == '\\' {
				wide = append(wide, '\\')
			}
			if b == '\r' {
				wide = append(wide, '\\', 'r')
				continue
			}
			wide = append(wide, b)
		}
	}
	return bytes.Contains(p, wide)
}

// printedSheet is the sheet of a run, unpacked, and how many pages it has.
func printedSheet(t *testing.T, p *project.Project, blend, run int) (pageText, int) {
	t.Helper()
	s := newRunSheet(p, bench.Evaluate(p), blend, run, madeAt, wording.New("en"))
	s.pdf.SetCompression(false)
	s.write()
	var out bytes.Buffer
	require.NoError(t, s.pdf.Output(&out))
	return out.Bytes(), s.pdf.PageCount()
}

// The empty sheet says what to weigh, to set and when to begin winding, and leaves room.
func TestEmptyRunSheet(t *testing.T) {
	p := sample(t, "olive-stone-pla")
	page, pages := printedSheet(t, &p, 2, -1)
	assert.Equal(t, 1, pages)
	for _, text := range []string{
		"Run sheet", "Olive 10, 10 wt%", "Olive stone flour", "To weigh", "Zone 1", "What happened", "Start winding", "about 2.77 m/min",
		"Safety data sheets, local rules and qualified advice",
	} {
		assert.True(t, page.has(text), text)
	}
	assert.False(t, page.has(p.Line.Runs[0].Spool), "nothing of a run that was made")
}

// A run of the log stands filled in, however long it is.
func TestSheetOfARun(t *testing.T) {
	p := sample(t, "olive-stone-pla")
	page, pages := printedSheet(t, &p, 2, 0)
	assert.Equal(t, 1, pages)
	for _, text := range []string{p.Line.Runs[0].Date, p.Line.Runs[0].Spool, p.Line.Runs[0].Zones[0].Actual.Pretty(false), wording.New("en").Text("event.new_material")} {
		require.NotEmpty(t, text)
		assert.True(t, page.has(text), text)
	}
	for i := range 200 {
		p.Line.Runs[0].Events = append(p.Line.Runs[0].Events, project.RunEvent{
			Time: quantity.MustParse[quantity.Duration](fmt.Sprintf("%d min", i)), Kind: project.LumpSeen, Text: strings.Repeat("long remark ", 40),
		})
	}
	_, pages = printedSheet(t, &p, 2, 0)
	assert.Greater(t, pages, 4)
}

// Whatever is missing, there is a sheet to write on; and the same run gives the same file.
func TestRunSheetOfLittle(t *testing.T) {
	p := project.New("EUR")
	p.Title = strings.Repeat("A very long title ", 30)
	p.Blends = []project.Blend{{ID: "a", Name: "Плав Ω ≥ 5 µm"}}
	page, pages := printedSheet(t, &p, 0, -1)
	assert.Equal(t, 1, pages)
	assert.True(t, page.has("nothing can be weighed out yet"))
	assert.True(t, page.has("Плав Ω ≥ 5 µm"))
	var one, two bytes.Buffer
	for _, out := range []*bytes.Buffer{&one, &two} {
		require.NoError(t, RunSheet(out, &p, bench.Evaluate(&p), 0, -1, madeAt, wording.New("en")))
	}
	assert.Equal(t, one.Bytes(), two.Bytes())
	assert.True(t, bytes.HasPrefix(one.Bytes(), []byte("%PDF-1.")))
	assert.Less(t, one.Len(), 200_000)
	assert.Error(t, RunSheet(&failing{}, &p, bench.Evaluate(&p), 0, -1, madeAt, wording.New("en")), "a disk that is full is said")
}
