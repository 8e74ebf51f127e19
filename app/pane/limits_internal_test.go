package pane

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/assets"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// newLimitsRig shows the Limits pane of a sample's blend.
func newLimitsRig(t *testing.T, name string, blend int) *Limits {
	t.Helper()
	test.NewTempApp(t)
	fyne.CurrentApp().Settings().SetTheme(control.NewTheme(control.Light, 1))
	data, err := assets.Samples.ReadFile("samples/" + name + ".json")
	require.NoError(t, err)
	p, _, err := project.Decode(data)
	require.NoError(t, err)
	desk := &logDesk{fakeDesk: fakeDesk{words: wording.New("en"), history: project.NewHistory(p, 64<<20)}}
	pane := NewLimits(desk)
	pane.Show(View{Project: &p, Sheet: bench.Evaluate(&p), Chosen: blend})
	return pane
}

// TestEachStateOfALimitIsSaid: how far it lets the blend go, how sure that is, and what it
// means where it ends beyond the axis.
func TestEachStateOfALimitIsSaid(t *testing.T) {
	p := newLimitsRig(t, "olive-stone-pla", 2)
	find := func(id bench.LimitID) bench.Limit {
		p.limit = id
		return *p.shown()
	}
	clog, cost, bend, pick := find(bench.LimitClog), find(bench.LimitCost), find(bench.LimitBend), find(bench.LimitPickUp)
	from, pays := cost, cost
	cost.From = 0
	pays.State, pays.Allowed, pays.Open = bench.LimitBinds, pick.Allowed, false
	free := clog
	free.State = bench.LimitFree
	none, never := pick, cost
	none.State, never.State = bench.LimitNone, bench.LimitNone
	never.Allowed.Value, never.Allowed.Low, never.Allowed.High = 0, 0, 0
	hardly, advice := pick, pick
	hardly.Allowed.Value, hardly.Allowed.Low, hardly.Allowed.High = 0.05, 0, 0.4
	advice.Advice = true
	exact := cost
	exact.State = bench.LimitBinds
	exact.Open = false
	for want, l := range map[string]bench.Limit{
		"Allows 5.2 wt% (4.7 to 6.2).":                                                                      pick,
		"Allows 5.6 wt% (1.3 to more than 30 wt%).":                                                         clog,
		"Stops nothing up to 30 wt%.":                                                                       cost,
		"Keeps to it from 5 wt% on. Below that it costs too much.":                                          from,
		"Keeps to it from 5 wt% up to 5.2 wt% (4.7 to 6.2). Below that it costs too much.":                  pays,
		"Allows practically none; at best 0.4 wt%.":                                                         hardly,
		"Would allow 5.2 wt% (4.7 to 6.2). It is advice, and stops nothing until you enter what you allow.": advice,
		"Allows 10 wt%: so far it was tested. Beyond that nothing is known.":                                bend,
		"Likely stops nothing up to 30 wt%, but perhaps from 1.3 wt% on.":                                   free,
		"Likely allows no powder at all; at best 6.2 wt%.":                                                  none,
		"Allows no powder at all.":                                                                          never,
		"Allows 30 wt%.":                                                                                    exact,
		"Not known.":                                                                                        {State: bench.LimitUnknown},
		"Does not apply.":                                                                                   {State: bench.LimitIdle},
	} {
		assert.Equal(t, want, plain(p.allows(&l)))
	}
}

// TestLimitsOfAPlainBlendHaveWords: no limit, and the settings all the same.
func TestLimitsOfAPlainBlendHaveWords(t *testing.T) {
	p := newLimitsRig(t, "olive-stone-pla", 0)
	assert.Nil(t, p.shown())
	assert.Empty(t, p.limitFacts())
	assert.NotEmpty(t, p.draw().Empty)
	assert.NotNil(t, p.inputs.At("/loading/most"))
	p.tap(control.Pixel{X: 10, Y: 100})
	assert.Empty(t, p.limit, "nothing to choose")
	p.open(sectionStrength)
	require.NotEmpty(t, p.strengthWords())
	assert.Contains(t, p.strengthWords()[0], "Neat")
	assert.NotEmpty(t, p.draw().Empty)
}

// TestALimitThatIsGoneGivesWay: the limit told in detail stays from blend to blend.
func TestALimitThatIsGoneGivesWay(t *testing.T) {
	p := newLimitsRig(t, "olive-stone-pla", 2)
	assert.Equal(t, bench.LimitPickUp, p.shown().ID, "the first of all")
	p.choose(bench.LimitCost)
	v := p.view
	v.Chosen = 1
	p.Show(v)
	assert.Equal(t, bench.LimitCost, p.shown().ID)
	v.Chosen = 0
	p.Show(v)
	assert.Nil(t, p.shown())
}
