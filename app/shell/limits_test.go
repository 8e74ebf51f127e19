package shell_test

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
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
	assert.NotContains(t, said, "usual: 30 wt%", "what is allowed has a part of its own")

	r.bench.OpenSection("allowed")
	said = plain(r.said())
	assert.Contains(t, said, "usual: 2.0 (1.5 to 3.0)")
	assert.Contains(t, said, "usual: 30 wt%")
	assert.Contains(t, said, "usual: 5 %")
	r.enter("/loading/clog_chance", "1 %")
	assert.NotContains(t, plain(r.said()), "usual: 5 %")
	r.bench.OpenSection("limits")
	said = plain(r.said())
	assert.Contains(t, said, "the chance of a clog.")
	assert.Contains(t, said, "≤ 1 % per spool")
	assert.Contains(t, said, "yours")
	r.bench.OpenSection("allowed")
	r.enter("/loading/clog_chance", "-1 %")
	assert.True(t, r.field("/loading/clog_chance").Refused())
	r.bench.OpenSection("strength")
	r.bench.OpenSection("allowed")
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
	assert.Contains(t, plain(r.said()), "The usual 110 % of the reference is a choice")
	assert.Contains(t, plain(r.said()), "Below that it costs too much")
	pressRow(r, r.words.Text("limit.bend"))
	assert.Contains(t, plain(r.said()), "Tested up to 10 wt%; beyond that nothing is known.")
	limitChooser(r).Focus()
	r.key(fyne.KeyLeft)
	assert.Equal(t, "moisture", limitChooser(r).Value())
	assert.Contains(t, plain(r.said()), "It is advice, and stops nothing")
	assert.Equal(t, before, r.bench.Revision())
}

// TestMissingOfALimitLeadsToItsField, and so does what is allowed.
func TestMissingOfALimitLeadsToItsField(t *testing.T) {
	r := openSample(t, mussel)
	r.bench.Choose("mussel-20")
	for limit, want := range map[string]struct {
		pane   bench.Pane
		place  string
		button string
	}{
		"limit.pick_up": {bench.PaneFiller, "/materials/1/powder/sieving/sieves", "limit_enter.sieves"},
		"limit.bend":    {bench.PaneSpool, "/spool/bend/tests", "limit_enter.bend"},
	} {
		r.show(bench.PaneLimits)
		pressRow(r, r.words.Text(limit))
		r.tapped(want.button)
		assert.Equal(t, want.pane, r.bench.Pane(), limit)
		assert.True(t, reached(r, want.place), limit)
	}
	r.show(bench.PaneLimits)
	pressRow(r, r.words.Text("limit.viscosity"))
	r.tapped("pane.limits.change_allowed")
	assert.True(t, reached(r, "/loading/viscosity_rise"))
	assert.Contains(t, plain(r.said()), "An empty field takes the usual value", "in the part of what is allowed")
	pressRow(r, r.words.Text("limit.bubbles"))
	assert.True(t, reached(r, "/loading/bubbles"), "a row of the picture leads to its field there")
	r.bench.OpenSection("limits")
	pressRow(r, r.words.Text("limit.heat_nozzle"))
	assert.Contains(t, plain(r.said()), r.words.Text("limit_enter.nozzle_heat"))
	pressRow(r, r.words.Text("limit.heat_line"))
	r.tapped("limit_enter.line_heat")
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

// TestStripTellsTheStrengthKept of the weakest direction: with large text among the first
// four, and while another figure is not known too; it is rounded as on the card of its limit.
func TestStripTellsTheStrengthKept(t *testing.T) {
	r := openSample(t, olive)
	r.bench.Choose("olive-10")
	kept := r.figure("verdict.strength")
	assert.Equal(t, "55", kept.Value)
	assert.Equal(t, "upright", kept.Change)
	assert.Contains(t, r.figures(), r.words.Text("verdict.spool"))
	clog := r.figure("verdict.clog")
	assert.Equal(t, "9", clog.Value)
	assert.Equal(t, "0 to 33", plain(clog.Second))
	r.show(bench.PaneLimits)
	pressRow(r, r.words.Text("limit.clog_chance"))
	assert.Contains(t, plain(r.said()), "9 % (0 to 33), estimated")
	r.bench.Choose("neat")
	assert.NotContains(t, r.figures(), r.words.Text("verdict.strength"), "a plain blend keeps all")

	for _, scale := range []float32{1, 1.5, 2} {
		r = newRig(t).open(sample(t, mussel), "", shell.Appearance{Variant: control.Light, Text: scale})
		r.bench.Choose("mussel-20")
		assert.Contains(t, r.figures(), r.words.Text("verdict.strength"), "%v: though the melt flow is not known", scale)
		assert.Contains(t, r.figures(), r.words.Text("verdict.flow"), scale)
		assert.NotContains(t, r.figures(), r.words.Text("verdict.spool"), "%v: the reason needs room", scale)
		r.window.Resize(fyne.NewSize(1000, 700))
		settle(r.bench.Content())
		assert.LessOrEqual(t, r.bottomOf("verdict.strength"), float32(700), "%v: it lies in the window", scale)
		r.window.Close()
	}
}

// bottomOf is where a figure of the strip ends in the window.
func (r *rig) bottomOf(id string) float32 {
	r.t.Helper()
	for _, o := range test.WidgetRenderer(all[*control.Verdict](r.bench.Content())[0]).Objects() {
		if cell, is := o.(fyne.Widget); is && slices.Contains(texts(cell), r.words.Text(id)) {
			return fyne.CurrentApp().Driver().AbsolutePositionForObject(cell).Y + cell.Size().Height
		}
	}
	require.Fail(r.t, "no such figure", id)
	return 0
}

// TestPictureOfTheLimitsFollowsTheHeadline where it does not fit beside the inputs: the
// details of one limit come after it.
func TestPictureOfTheLimitsFollowsTheHeadline(t *testing.T) {
	for _, scale := range []float32{1, 2} {
		r := newRig(t).open(sample(t, olive), "", shell.Appearance{Variant: control.Dark, Text: scale})
		r.bench.Choose("olive-10")
		r.show(bench.PaneLimits)
		top := func(o fyne.CanvasObject) float32 { return fyne.CurrentApp().Driver().AbsolutePositionForObject(o).Y }
		for _, width := range []float32{700, 1280} {
			r.window.Resize(fyne.NewSize(width, 900))
			settle(r.bench.Content())
			stacked := all[*control.Split](r.bench.Content())[0].Stacked()
			assert.Equal(t, stacked, top(limitChooser(r)) >= top(r.picture())+r.picture().Size().Height, "%v at %v", width, scale)
			assert.Equal(t, width == 700 || scale == 2, stacked)
		}
		r.window.Resize(fyne.NewSize(1000, 700))
		settle(r.bench.Content())
		size := r.picture().Image().Bounds().Size()
		style := figure.DefaultStyle(float64(size.X), float64(size.Y), true)
		style.TextSize = 12.5 * float64(scale)
		_, lay := new(figure.Renderer).Render(figure.Limits(bench.Evaluate(r.bench.Project()), 2, "", r.words), style)
		for _, text := range lay.Texts {
			below := strings.HasPrefix(text.Whole, "≤") || strings.HasPrefix(text.Whole, "≥") // what is allowed may be cut
			assert.True(t, below || scale == 1 || !strings.Contains(text.Shown, "…"), "%v: there is room for the names: %q", scale, text.Shown)
		}
		r.window.Close()
	}
}

// TestAnEmptyBlendHearsWhatCouldGoIn, not that it keeps to its limits.
func TestAnEmptyBlendHearsWhatCouldGoIn(t *testing.T) {
	r := openSample(t, olive)
	r.bench.Choose("olive-10")
	r.show(bench.PaneLimits)
	r.change(func(p *project.Project) {
		zero, err := project.ParseAmount("0 wt%")
		require.NoError(t, err)
		blend := &p.Blends[p.BlendByID("olive-10")]
		for i := range blend.Parts {
			if !blend.Parts[i].Amount.Balance() {
				blend.Parts[i].Amount = zero
			}
		}
	})
	said := plain(r.said())
	assert.Contains(t, said, "Olive 10 holds 0 wt% of powder so far: this is how much could go in.")
	assert.NotContains(t, said, "keeps to all that is known")
}

// TestRareChanceIsNotNone: what a sieve alone rules out is said to be rare, on the card, in
// the strip and in the comparison.
func TestRareChanceIsNotNone(t *testing.T) {
	r := openSample(t, mussel)
	r.bench.Choose("mussel-20")
	assert.Equal(t, "<0.1", r.figure("verdict.clog").Value)
	assert.Equal(t, "by the sieve", r.figure("verdict.clog").Second)
	r.show(bench.PaneLimits)
	pressRow(r, r.words.Text("limit.clog_chance"))
	assert.Contains(t, plain(r.said()), "below 0.1 %, by the sieve")
	r.bench.OpenSection("compare")
	assert.Contains(t, plain(r.said()), "<0.1")
}
