package shell_test

import (
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
)

const nonsense = "12 xyz"

// standsRefused asserts that a field still shows refused text with its reason.
func standsRefused(r *rig, place, text string) {
	r.t.Helper()
	f := r.field(place)
	assert.Equal(r.t, text, f.Entry().Text)
	assert.True(r.t, f.Refused())
	assert.Contains(r.t, reads(f), plain(f.RefusedMessage()), "the reason is shown")
	assert.Contains(r.t, f.RefusedMessage(), "g/cm", "the reason says what is accepted")
}

func TestRefusedTextStays(t *testing.T) {
	r := openSample(t, olive)
	const place = "/blends/2/measured_density"
	r.enterCell(1, amountColumn, "11 wt%")
	r.enter(place, nonsense)
	standsRefused(r, place, nonsense)
	before := r.bench.Revision()

	r.show(bench.PaneMelt)
	r.show(bench.PaneBlend)
	standsRefused(r, place, nonsense)
	assert.Equal(t, before, r.bench.Revision())

	r.choose("menu.save")
	standsRefused(r, place, nonsense)
	assert.False(t, r.bench.Dirty())

	r.undo()
	standsRefused(r, place, nonsense)

	r.bench.Choose("olive-5")
	assert.False(t, r.field("/blends/1/measured_density").Refused(), "another blend has nothing refused")
	r.bench.Choose("olive-10")
	standsRefused(r, place, nonsense)

	r.field(place).Focus()
	r.key(fyne.KeyEscape)
	assert.False(t, r.field(place).Refused())
	assert.Empty(t, r.field(place).Entry().Text)
}

func TestRefusedTextIsCorrected(t *testing.T) {
	r := openSample(t, olive)
	const place = "/blends/2/measured_density"
	r.enter(place, nonsense)
	r.enter(place, "1.25 g/cm3")
	assert.False(t, r.field(place).Refused())
	assert.Equal(t, "1.25 g/cm3", r.bench.Project().Blends[2].MeasuredDensity.String())
	assert.NotContains(t, reads(r.field(place)), "xyz")
}

func TestRefusedTextInTheTableStays(t *testing.T) {
	r := openSample(t, olive)
	refusedCell := func() {
		t.Helper()
		refusals := r.grid().Refusals()
		require.Len(t, refusals, 1)
		assert.Equal(t, nonsense, refusals[0].Text)
		assert.Equal(t, 1, refusals[0].Row)
		assert.Contains(t, reads(r.grid()), nonsense)
		assert.Contains(t, reads(r.grid()), plain(refusals[0].Message))
	}
	r.enterCell(1, amountColumn, nonsense)
	refusedCell()
	r.show(bench.PaneSpool)
	r.show(bench.PaneBlend)
	refusedCell()
	r.choose("menu.save")
	refusedCell()
	assert.Equal(t, "10 wt%", r.bench.Project().Blends[2].Parts[1].Amount.String())
}

// ask types an amount that does not say of what.
func ask(t *testing.T) *rig {
	r := openSample(t, olive)
	r.enterCell(1, amountColumn, "5 %")
	require.Equal(t, 1, r.dialogs())
	text := reads(r.dialog())
	assert.Contains(t, text, "5 wt%")
	assert.Contains(t, text, "5 phr")
	assert.Contains(t, text, " g in this batch")
	return r
}

func amountOf(r *rig) string { return r.bench.Project().Blends[2].Parts[1].Amount.String() }

// answerStarting presses the button whose text begins so.
func (r *rig) answerStarting(text string) {
	r.t.Helper()
	for _, line := range texts(r.dialog()) {
		if len(line) >= len(text) && line[:len(text)] == text {
			r.press(line)
			return
		}
	}
	require.Fail(r.t, "no answer "+text)
}

func TestAPercentageAsksOfWhat(t *testing.T) {
	for _, c := range []struct{ answer, amount string }{
		{"5 wt%", "5 wt%"}, {"5 phr", "5 phr"}, {"Keep", "10 wt%"},
	} {
		t.Run(c.answer, func(t *testing.T) {
			r := ask(t)
			r.answerStarting(c.answer)
			assert.Equal(t, c.amount, amountOf(r))
			assert.Zero(t, r.dialogs())
			assert.False(t, r.grid().Refused())

			r.show(bench.PaneMelt)
			r.show(bench.PaneBlend)
			assert.Zero(t, r.dialogs(), "it asks once")
			assert.Equal(t, c.amount, amountOf(r))
			assert.NotContains(t, reads(r.grid()), "5 %")
			assert.Contains(t, reads(r.grid()), c.amount)
		})
	}
}
