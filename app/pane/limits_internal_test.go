package pane

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/assets"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
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
		"Allows practically none, at best 0.4 wt%.":                                                         hardly,
		"Would allow 5.2 wt% (4.7 to 6.2). It is advice, and stops nothing until you enter what you allow.": advice,
		"Tested up to 10 wt%; beyond that nothing is known.":                                                bend,
		"Likely stops nothing up to 30 wt%, but perhaps from 1.3 wt% on.":                                   free,
		"Likely allows no powder at all, at best 6.2 wt%.":                                                  none,
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
	p.open(sectionAllowed)
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

// TestEndsOfAnIntervalTellMoreThanNone: an end that is above zero is not rounded to it.
func TestEndsOfAnIntervalTellMoreThanNone(t *testing.T) {
	w := wording.New("en")
	for _, c := range []struct {
		value, low, high float64
		want             [3]string
	}{
		{8.79, 0.0113, 31.9, [3]string{"9", "0.01", "32"}},
		{8.79, 0, 31.9, [3]string{"9", "0", "32"}},
		{8.79, 0.0001, 31.9, [3]string{"9", "0", "32"}},
		{0.5, -0.004, 1.5, [3]string{"0.5", "−0.004", "1.5"}},
		{55.2, 36.1, 79.3, [3]string{"55", "36", "79"}},
		{5, 5, 5, [3]string{"5", "5", "5"}},
	} {
		value, low, high := Rounded(w, bench.Result{Value: c.value, Low: c.low, High: c.high, Unit: "%", Basis: bench.Estimated})
		assert.Equal(t, c.want, [3]string{value, low, high})
	}
}

// TestRareChances: below a thousandth digits say no more, and what they rest on is said; what
// is no chance keeps its digits.
func TestRareChances(t *testing.T) {
	w := wording.New("en")
	f := bench.ClogChancePerSpool
	known := newLimitsRig(t, "olive-stone-pla", 2).view.Results().Result(f)
	chance := func(value, high float64) bench.Result {
		r := known
		r.Value, r.Low, r.High = value, 0, high
		return r
	}
	assert.True(t, Rare(f, chance(0, 0)))
	assert.True(t, Rare(f, chance(0.0999, 2)))
	assert.False(t, Rare(f, chance(0.1, 2)))
	assert.False(t, Rare(bench.MolarMassLoss, chance(0, 0)))
	sieved := &bench.BlendSheet{Clog: bench.BlendClog{Evidence: []bench.ClogChance{{Kind: bench.FromPrints}, {Kind: bench.FromTail, Used: true}}}}
	counted := &bench.BlendSheet{Clog: bench.BlendClog{Evidence: []bench.ClogChance{{Kind: bench.FromPrints, Used: true}, {Kind: bench.FromTail}}}}
	assert.Equal(t, "by the sieve", RareBasis(w, sieved, f, chance(0, 0)))
	assert.Equal(t, "estimated", RareBasis(w, counted, f, chance(0, 0)))
	assert.Equal(t, "estimated", RareBasis(w, sieved, bench.LumpChancePerPrint, chance(0, 0)))
	assert.Equal(t, "up to 2 %", plain(RareBasis(w, sieved, f, chance(0.01, 2))))
}

// TestEveryMissingHasAButton that says what it leads to.
func TestEveryMissingHasAButton(t *testing.T) {
	data, err := assets.Lang.ReadFile("lang/en.limits.toml")
	require.NoError(t, err)
	w, seen := wording.New("en"), 0
	for _, line := range strings.Split(string(data), "\n") {
		id, _, is := strings.Cut(line, " = ")
		if !is || !strings.HasPrefix(id, "limit_missing_") && id != "limit_idle_moisture" || id == "limit_missing_polymer" { // for which there is no field
			continue
		}
		seen++
		assert.True(t, w.Has(enterTexts[id]), id)
	}
	assert.Len(t, enterTexts, seen)
	for _, l := range []bench.Limit{{ID: bench.LimitBend, Field: "/spool/bend/safety"}, {ID: bench.LimitPrintHeat}, {ID: bench.LimitLineHeat}, {Field: "/loading/most"}} {
		assert.True(t, w.Has(changeText(&l)))
	}
}

// TestBarsStandBesideTheCurve: each that counts, with what the curve says at its content.
func TestBarsStandBesideTheCurve(t *testing.T) {
	p := newLimitsRig(t, "olive-stone-pla", 2)
	p.open(sectionStrength)
	assert.Empty(t, p.barsFacts())
	assert.Empty(t, p.barsWords())
	q := project.Clone(*p.view.Project)
	q.Strength.Points = []project.StrengthPoint{
		{Blend: "olive-5", Direction: project.Flat, Mean: quantity.MustParse[quantity.Pressure]("44 ± 1 MPa"), Spools: 2},
		{Blend: "olive-5", Direction: project.Upright, Mean: quantity.MustParse[quantity.Pressure]("20 ± 1 MPa"), Spools: 2, Content: quantity.MustParse[quantity.Fraction]("6 %")},
		{Blend: "olive-5", Direction: project.Flat},
	}
	p.Show(View{Project: &q, Sheet: bench.Evaluate(&q), Chosen: 2})
	list := p.barsFacts()
	require.Len(t, list, 2, "not the one without a mean")
	assert.Equal(t, []string{"Olive 5, printed flat", "44 ± 1 MPa"}, []string{list[0].label, plain(list[0].value)})
	curve, _ := p.figures(p.view.Sheet.Blends[1].Result(bench.StrengthFlat))
	assert.Equal(t, ", measured\nthe curve: "+plain(curve), plain(list[0].more))
	assert.NotEqual(t, "44 MPa", plain(curve), "the curve weighs more than this bar")
	assert.Equal(t, "Olive 5, 6 wt%, printed upright", plain(list[1].label))
	assert.Equal(t, ", measured", list[1].more, "the curve of another content would mislead")

	q.Strength.Points[1].Mean, q.Strength.Points[1].Spools = quantity.MustParse[quantity.Pressure]("20 MPa"), 4
	p.Show(View{Project: &q, Sheet: bench.Evaluate(&q), Chosen: 2})
	assert.Equal(t, ", measured\nno ± entered: counts with ± 2 MPa (k = 2), the usual spread between spools", plain(p.barsFacts()[1].more), "20 % over the root of 4 spools")
}

// TestMeasureNextBeginsWithTheFirstLimit, keeps what was chosen, the first figure too, and takes
// a figure where a blend has no limits.
func TestMeasureNextBeginsWithTheFirstLimit(t *testing.T) {
	p := newLimitsRig(t, "olive-stone-pla", 1)
	p.open(sectionMeasure)
	assert.Equal(t, bench.TargetLeast, p.next.target.Limit)
	p.next.target = bench.Target{Figure: bench.Density}
	p.open(sectionLimits)
	p.open(sectionMeasure)
	assert.Equal(t, bench.Target{Figure: bench.Density}, p.next.target)

	p.next.target = bench.Target{Limit: bench.LimitClog}
	v := p.view
	v.Chosen = 0 // the plain polymer
	p.Show(v)
	assert.Empty(t, p.next.target.Limit)
}

// TestFiguresOfACompareTableAreToldApart: no two have the same name there.
func TestFiguresOfACompareTableAreToldApart(t *testing.T) {
	p := newLimitsRig(t, "olive-stone-pla", 1)
	seen := map[string]bench.Figure{}
	for _, c := range p.comparison() {
		name := p.compareName(&c)
		assert.LessOrEqual(t, len([]rune(name)), 34, name)
		other, twice := seen[name]
		assert.False(t, twice, "%s: %s and %s", name, other.Key(), c.Figure.Key())
		seen[name] = c.Figure
	}
}
