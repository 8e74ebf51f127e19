package pane

import (
	"context"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/assets"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// stepRunner keeps work until it is told to do it, reports as the window's does, and can
// be cancelled.
type stepRunner struct {
	progress  func(share float64, running bool)
	work      func() (done func())
	cancelled int
}

func (r *stepRunner) Go(work func(context.Context, func(float64)) func()) (cancel func()) {
	ctx, stop := context.WithCancel(context.Background())
	r.work = func() func() { return work(ctx, func(share float64) { r.progress(share, true) }) }
	r.progress(0, true)
	return func() {
		if ctx.Err() == nil && r.work != nil {
			r.cancelled++
			stop()
			r.progress(0, false)
		}
	}
}

// finish does the work that was asked for last.
func (r *stepRunner) finish() {
	done := r.work()
	r.work = nil
	r.progress(1, false)
	if done != nil {
		done()
	}
}

type stepDesk struct {
	fakeDesk
	runner stepRunner
}

func (d *stepDesk) Runner(progress func(float64, bool)) control.Runner {
	d.runner.progress = progress
	return &d.runner
}

// newWhatIfRig shows What if of a sample's blend, with draws that wait.
func newWhatIfRig(t *testing.T, name string, blend int) (*Limits, *stepDesk) {
	t.Helper()
	test.NewTempApp(t)
	fyne.CurrentApp().Settings().SetTheme(control.NewTheme(control.Light, 1))
	data, err := assets.Samples.ReadFile("samples/" + name + ".json")
	require.NoError(t, err)
	p, _, err := project.Decode(data)
	require.NoError(t, err)
	desk := &stepDesk{fakeDesk: fakeDesk{words: wording.New("en"), history: project.NewHistory(p, 64<<20)}}
	pane := NewLimits(desk)
	pane.Show(View{Project: &p, Sheet: bench.Evaluate(&p), Chosen: blend})
	pane.open(sectionWhatIf)
	return pane, desk
}

// sieveTo moves the sieve.
func sieveTo(p *Limits, to float64) {
	r := p.view.Sheet.LeverRanges(p.view.Chosen)[0]
	p.setLever(r, to)
}

// methods are those of both sides, which are never two.
func methods(t *testing.T, p *Limits) bench.Method {
	t.Helper()
	now, then := p.compared()
	require.Equal(t, now.Method, then.Method, "one method for both sides")
	return now.Method
}

// TestWhatIfIsDrawn: first order is shown at once, and both sides are drawn a moment later.
func TestWhatIfIsDrawn(t *testing.T) {
	p, desk := newWhatIfRig(t, "olive-mill-pla", 1)
	assert.Equal(t, bench.FirstOrder, methods(t, p))
	assert.Equal(t, []string{"Both to first order; drawing 0 %."}, p.whatIfMethod())
	desk.runner.finish()
	assert.Equal(t, bench.MonteCarlo, methods(t, p))
	now, then := p.compared()
	assert.Same(t, now, then, "no lever was moved")
	assert.Equal(t, []string{"Both by Monte Carlo, 4096 draws (95 %)."}, p.whatIfMethod())

	sieveTo(p, 90e-6)
	assert.Equal(t, bench.FirstOrder, methods(t, p), "both sides go back together")
	firstOrder := p.thenSheet().Make()
	desk.runner.finish()
	assert.Equal(t, bench.MonteCarlo, methods(t, p))
	again, then := p.compared()
	assert.Same(t, now, again, "what was drawn as it is stays")
	want, err := bench.WhatIf{bench.LeverSieve: 90e-6}.Draw(context.Background(), p.view.Project, 1, bench.Drawing{Draws: whatIfUsualDraws, Seed: bench.SeedOf(p.view.Project)})
	require.NoError(t, err)
	assert.InDelta(t, want.Least.Value, then.Least.Value, 0)
	assert.Less(t, then.Make(), firstOrder, "several limits together stop sooner than each alone")

	p.resetLevers()
	assert.Equal(t, bench.MonteCarlo, methods(t, p), "that was drawn before")
	assert.Nil(t, desk.runner.work)
}

// TestWhatIfGivesUpWhatIsOld: the next change cancels, and what comes late is not shown.
func TestWhatIfGivesUpWhatIsOld(t *testing.T) {
	p, desk := newWhatIfRig(t, "olive-mill-pla", 1)
	sieveTo(p, 90e-6)
	assert.Equal(t, 1, desk.runner.cancelled)
	p.Show(p.view)
	assert.Equal(t, 1, desk.runner.cancelled, "nothing has changed")
	late := desk.runner.work
	sieveTo(p, 75e-6)
	assert.Equal(t, 2, desk.runner.cancelled)
	assert.Nil(t, late(), "cancelled work comes to nothing")
	p.takeWhatIf(whatIfAsked{p.view.Sheet.Model, 1, bench.WhatIf{bench.LeverSieve: 90e-6}}, p.sheet(), p.sheet())
	assert.Equal(t, bench.FirstOrder, methods(t, p))

	v := p.view
	v.Sheet = bench.Evaluate(v.Project)
	p.Show(v)
	assert.Equal(t, 3, desk.runner.cancelled, "another state of the document")
	desk.runner.finish()
	assert.Equal(t, bench.MonteCarlo, methods(t, p))
	v.Chosen = 2
	p.Show(v)
	assert.Equal(t, bench.FirstOrder, methods(t, p), "another blend")
	v.Draws.Off = true
	p.Show(v)
	assert.Equal(t, 4, desk.runner.cancelled)
	assert.Equal(t, []string{"Both to first order (k = 2)."}, p.whatIfMethod())
}

// TestWhatIfTakesTheDrawsOfTheSheet: what Limits shows is what What if shows as it is.
func TestWhatIfTakesTheDrawsOfTheSheet(t *testing.T) {
	p, desk := newWhatIfRig(t, "olive-mill-pla", 1)
	v := p.view
	d, err := v.Sheet.DrawLimits(context.Background(), 1, bench.Drawing{Draws: bench.LeastDraws, Seed: 1})
	require.NoError(t, err)
	v.Sheet = v.Sheet.WithLimits(d)
	p.Show(v)
	assert.Equal(t, 1, desk.runner.cancelled, "they need not be drawn again")
	now, then := p.compared()
	assert.Same(t, v.Sheet.Limits(1), now)
	assert.Same(t, now, then)
	sieveTo(p, 90e-6)
	desk.runner.finish()
	now, then = p.compared()
	assert.Same(t, v.Sheet.Limits(1), now)
	assert.Equal(t, whatIfUsualDraws, then.Draws)
	assert.Equal(t, []string{"Both by Monte Carlo (95 %): 1024 draws as it is, 4096 then."}, p.whatIfMethod())
}

// TestMakeTakesWhatWasDrawn: the blend holds what the draws say, and while they run none can
// be made.
func TestMakeTakesWhatWasDrawn(t *testing.T) {
	p, desk := newWhatIfRig(t, "olive-mill-pla", 1)
	sieveTo(p, 90e-6)
	button := buttonSaying(t, p, "Add a blend with")
	assert.True(t, button.Disabled())
	desk.runner.finish()
	require.False(t, button.Disabled())
	content := p.thenSheet().Make()
	assert.Contains(t, plain(button.Text), p.words().Number(content, 2))
	p.makeBlend()
	made := bench.Evaluate(desk.history.Peek())
	last := made.Blends[len(made.Blends)-1]
	assert.Equal(t, last.ID, desk.chose, "it is at work now")
	assert.InDelta(t, content, last.Results[bench.FillerMassFraction].Value, 1e-6)
}

// TestWhatIfAsksWhatToMeasure where no single change helps.
func TestWhatIfAsksWhatToMeasure(t *testing.T) {
	p, _ := newWhatIfRig(t, "mussel-shell-petg", 1)
	assert.Equal(t, []string{"As it is, none of these sliders helps much by itself. To know the limits better may help more."}, p.unliftedWords())
	buttonSaying(t, p, "What should I measure?").OnTapped()
	assert.Equal(t, sectionMeasure, p.section)
	p, _ = newWhatIfRig(t, "olive-mill-pla", 1)
	assert.False(t, p.view.Sheet.NoLift(1))
	assert.Nil(t, findButton(p, "What should I measure?"), "a sieve helps")
}

// findButton is the visible button of the column whose text begins so; nil for none.
func findButton(p *Limits, begins string) (found *widget.Button) {
	var look func(o fyne.CanvasObject)
	look = func(o fyne.CanvasObject) {
		if !o.Visible() {
			return
		}
		switch o := o.(type) {
		case *widget.Button:
			if strings.HasPrefix(plain(o.Text), begins) {
				found = o
			}
		case *fyne.Container:
			for _, child := range o.Objects {
				look(child)
			}
		case fyne.Widget:
			for _, child := range test.WidgetRenderer(o).Objects() {
				look(child)
			}
		}
	}
	look(p.column)
	return found
}

func buttonSaying(t *testing.T, p *Limits, begins string) *widget.Button {
	t.Helper()
	found := findButton(p, begins)
	require.NotNil(t, found, begins)
	return found
}
