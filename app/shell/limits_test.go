package shell_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/app/shell"
	"fillwright/internal/bench"
	"fillwright/internal/figure"
	"fillwright/internal/project"
)

// limitChooser is the list of the limits.
func limitChooser(r *rig) *control.SelectField {
	r.t.Helper()
	for _, s := range all[*control.SelectField](r.bench.Content()) {
		if s.ID() == "" {
			return s
		}
	}
	require.Fail(r.t, "no list of limits")
	return nil
}

// pressRow presses the row of a limit in the picture, at its name.
func pressRow(r *rig, label string) {
	r.t.Helper()
	view := r.picture()
	settle(r.bench.Content())
	size := view.Image().Bounds().Size()
	p := r.bench.Project()
	style := figure.DefaultStyle(float64(size.X), float64(size.Y), false)
	style.TextSize = 12.5
	_, lay := new(figure.Renderer).Render(figure.Limits(bench.Evaluate(p), p.BlendByID(r.bench.Chosen()), "", r.words), style)
	for _, target := range lay.Targets {
		if target.Kind == figure.OnBar && target.Text == label {
			view.Tapped(&fyne.PointEvent{Position: fyne.NewPos(30, float32((target.Box.Y0+target.Box.Y1)/2)*view.Size().Height/float32(size.Y))})
			return
		}
	}
	require.Fail(r.t, "no such row", label)
}

// TestLimitsSayWhatStopsFirst, and a setting changes that.
func TestLimitsSayWhatStopsFirst(t *testing.T) {
	r := openSample(t, olive)
	r.bench.Choose("olive-10")
	r.show(bench.PaneLimits)
	said := plain(r.said())
	assert.Contains(t, said, "Most likely stops at 5.2 wt% (1.3 to 6.2): what the pellets carry.")
	assert.Contains(t, said, "It may as well be the chance of a clog")
	assert.Contains(t, said, "Allows 5.2 wt%", "the first of all is told in detail")
	assert.Contains(t, said, "usual: 2.0 (1.5 to 3.0)")
	assert.Contains(t, said, "usual: 30 wt%")

	r.enter("/loading/clog_chance", "1 %")
	said = plain(r.said())
	assert.Contains(t, said, "the chance of a clog.")
	assert.Contains(t, said, "≤ 1 % per spool")
	assert.Contains(t, said, "yours")
	assert.NotContains(t, said, "usual: 5 %")
	r.enter("/loading/clog_chance", "-1 %")
	assert.True(t, r.field("/loading/clog_chance").Refused())
	r.bench.OpenSection("strength")
	r.bench.OpenSection("limits")
	assert.Equal(t, "-1 %", r.field("/loading/clog_chance").Entry().Text, "refused text is kept")
}

// TestLimitIsChosenByPointerAndByKey: no edit of the document.
func TestLimitIsChosenByPointerAndByKey(t *testing.T) {
	r := openSample(t, olive)
	r.bench.Choose("olive-10")
	r.show(bench.PaneLimits)
	before := r.bench.Revision()
	pressRow(r, r.words.Text("limit.cost"))
	assert.Equal(t, "cost", limitChooser(r).Value())
	assert.Contains(t, plain(r.said()), "Your prices; 110 % of the reference")
	assert.Contains(t, plain(r.said()), "Stops nothing up to 30 wt%")
	pressRow(r, r.words.Text("limit.bend"))
	assert.Contains(t, plain(r.said()), "Allows 10 wt%: so far it was tested.")
	limitChooser(r).Focus()
	r.key(fyne.KeyLeft)
	assert.Equal(t, "heat_nozzle", limitChooser(r).Value())
	assert.Contains(t, plain(r.said()), "Onset of decomposition")
	assert.Equal(t, before, r.bench.Revision())
}

// TestMissingOfALimitLeadsToItsField, and so does what is allowed.
func TestMissingOfALimitLeadsToItsField(t *testing.T) {
	r := openSample(t, mussel)
	r.bench.Choose("mussel-20")
	for limit, want := range map[string]struct {
		pane  bench.Pane
		place string
	}{
		"limit.pick_up": {bench.PaneFiller, "/materials/1/powder/sieving/sieves"},
		"limit.bend":    {bench.PaneSpool, "/spool/bend/tests"},
	} {
		r.show(bench.PaneLimits)
		pressRow(r, r.words.Text(limit))
		r.tapped("pane.limits.enter_missing")
		assert.Equal(t, want.pane, r.bench.Pane(), limit)
		assert.True(t, reached(r, want.place), limit)
	}
	r.show(bench.PaneLimits)
	pressRow(r, r.words.Text("limit.viscosity"))
	r.tapped("pane.limits.change_allowed")
	assert.True(t, reached(r, "/loading/viscosity_rise"))
	pressRow(r, r.words.Text("limit.heat_line"))
	r.tapped("pane.limits.change_setting")
	assert.Equal(t, bench.PaneMelt, r.bench.Pane())
	assert.True(t, reached(r, "/melt/temperature"))
}

// TestEveryMissingLeadsSomewhere: each limit that lacks something has a field to enter it.
func TestEveryMissingLeadsSomewhere(t *testing.T) {
	for _, name := range []string{olive, mussel} {
		p := sample(t, name)
		seen := map[string]bool{}
		for _, s := range tried(unfinished(&p)) {
			q := project.Clone(p)
			s.change(&q)
			if project.Validate(&q) != nil {
				continue
			}
			for _, l := range bench.Evaluate(&q).Limits(2).Limits {
				if l.Where == "" || seen[l.Where] {
					continue
				}
				seen[l.Where] = true
				r := newRig(t).open(q, "", look)
				r.bench.Choose(q.Blends[2].ID)
				r.show(bench.PaneLimits)
				r.bench.Lead(l.Where)
				alive(r, name+", "+s.name+": "+l.Where)
				r.window.Close()
			}
		}
		assert.Greater(t, len(seen), 5, name)
	}
}

// TestBarsCalibrateTheStrength: typed into the table they take the place of the estimate.
func TestBarsCalibrateTheStrength(t *testing.T) {
	r := openSample(t, olive)
	r.bench.Choose("olive-10")
	r.show(bench.PaneLimits)
	r.bench.OpenSection("strength")
	require.True(t, strings.Contains(plain(r.said()), "78 % (62 to 89), estimated"))
	const table = "/strength/points"
	pick := func(row, col int, text string) {
		r.table(table).FocusCell(row, col)
		r.key(fyne.KeyReturn)
		r.press(text)
	}
	told := func(text string) bool { return strings.Contains(plain(r.said()), text) }
	for row, bars := range [][2]string{{"Neat", "54 ± 1"}, {"Olive 5", "48 ± 1"}} {
		pick(row, 0, bars[0])
		assert.True(t, told("Say how the bars were printed"))
		pick(row, 1, "printed flat")
		assert.True(t, told("Enter the mean strength"))
		r.enterInto(table, row, 2, bars[1])
		r.enterInto(table, row, 3, "2")
	}
	points := r.bench.Project().Strength.Points
	require.Len(t, points, 2)
	assert.Equal(t, project.Flat, points[1].Direction)
	assert.Equal(t, "48 ± 1 MPa", points[1].Mean.String())
	assert.False(t, points[1].Content.Given(), "that of the recipe")
	assert.True(t, told(", calibrated"))
	assert.False(t, told("does not count yet"))
	assert.Equal(t, bench.Calibrated, bench.Evaluate(r.bench.Project()).Blends[2].Result(bench.StrengthKeptFlat).Basis)
	r.undo()
	r.undo()
	assert.False(t, told(", calibrated"))
}

// TestStripTellsTheStrengthKept of the weakest direction, where there is room.
func TestStripTellsTheStrengthKept(t *testing.T) {
	r := openSample(t, olive)
	r.bench.Choose("olive-10")
	kept := r.figure("verdict.strength")
	assert.Equal(t, "55", kept.Value)
	assert.Equal(t, "upright", kept.Change)
	r.bench.Choose("neat")
	assert.NotContains(t, r.figures(), r.words.Text("verdict.strength"), "a plain blend keeps all")
	large := newRig(t).open(sample(t, olive), "", shell.Appearance{Variant: control.Light, Text: 2})
	assert.NotContains(t, large.figures(), large.words.Text("verdict.strength"), "large text needs the room")
}
