package pane

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/project"
)

// showHistory shows the state of the document as it is by now.
func showHistory(p *Limits, h *project.History) {
	v := p.view
	v.Project = h.Peek()
	v.Sheet = bench.Evaluate(v.Project)
	p.Show(v)
}

// TestATimeKeepsWhatWasMeasuredNext: it puts the measurements into another order, and leaves
// shares and intervals; any other change takes them away, and undo brings them back.
func TestATimeKeepsWhatWasMeasuredNext(t *testing.T) {
	p := newLimitsRig(t, "olive-stone-pla", 2)
	history := p.desk.(*logDesk).history
	p.open(sectionMeasure)
	p.next.target = bench.Target{Figure: bench.CostPerMetre}
	p.startMeasure()
	require.Greater(t, len(p.shownAdvice()), 1)
	first, shares, words := p.shownAdvice()[0].Measure, p.shownShares(), p.measureWords()
	was := p.adviceCell(0, 1).Text

	require.NoError(t, p.editEffort(0, 3, "300 h"))
	showHistory(p, history)
	require.Same(t, shares, p.shownShares(), "the picture stays")
	last := len(p.shownAdvice()) - 1
	assert.Equal(t, first, p.shownAdvice()[last].Measure)
	assert.Equal(t, was, p.adviceCell(last, 1).Text)
	assert.Equal(t, "300 h", plain(p.adviceCell(last, 3).Text))
	assert.NotEqual(t, words, p.measureWords(), "another one is best now")

	require.NoError(t, p.edit("/loading/seed", "Seed", func(d *project.Project) error { d.Loading.Seed = 7; return nil }))
	showHistory(p, history)
	assert.Nil(t, p.shownShares())
	assert.Equal(t, []string{p.text("pane.limits.measure_first")}, p.measureWords())
	history.Undo()
	history.Undo()
	showHistory(p, history)
	assert.Same(t, shares, p.shownShares())
	assert.Equal(t, words, p.measureWords())
}

// TestNoSingleMeasurementHelps is said where inputs can be measured; where none can, it is the
// models and choices.
func TestNoSingleMeasurementHelps(t *testing.T) {
	p := newLimitsRig(t, "olive-stone-pla", 2)
	p.open(sectionMeasure)
	p.startMeasure()
	require.NotNil(t, p.shownShares())
	p.next.advice = nil
	assert.Equal(t, []string{"No single measurement would make this much more certain. What it hangs on is in the picture."}, p.measureWords())
	p.next.shares.Inputs = []bench.InputShare{{Pointer: "/loading/clog_chance", Total: 1}}
	assert.Equal(t, []string{"Nothing that a maker measures would make this more certain: what is left are models and choices."}, p.measureWords())
}

// TestSurestChangesAreNamedAndRounded: whose they are, against which, in three digits at most.
func TestSurestChangesAreNamedAndRounded(t *testing.T) {
	p := newLimitsRig(t, "olive-stone-pla", 2)
	p.open(sectionCompare)
	blends := p.view.Sheet.Blends
	require.NotEmpty(t, p.surest())
	assert.Equal(t, []string{"The surest changes of “" + blends[2].Name + "” against “" + blends[p.view.Sheet.Reference].Name + "”"}, p.surestWords())
	v := p.view
	v.Chosen = v.Sheet.Reference
	p.Show(v)
	assert.Empty(t, p.surestWords(), "nothing against itself")

	known := p.comparison()[0].Cells[2].Change
	require.Equal(t, "%", known.Unit)
	for want, r := range map[string]bench.Result{
		"−8.67 %":                     {Value: -8.672, Low: -8.673, High: -8.671},
		"12.3 % (12.2 to 12.4)":       {Value: 12.34, Low: 12.24, High: 12.44},
		"123 % (122 to 125)":          {Value: 123.4, Low: 122.2, High: 124.6},
		"0.0123 % (0.0121 to 0.0125)": {Value: 0.01234, Low: 0.01214, High: 0.01254},
		"5 % (0.004 to 10)":           {Value: 5, Low: 0.004, High: 10},
		"−20 % (−30 to −10)":          {Value: -20, Low: -30, High: -10},
	} {
		change := known
		change.Value, change.Low, change.High = r.Value, r.Low, r.High
		f := p.changeFact(bench.Density, change)
		assert.Equal(t, want, plain(f.value+f.more))
	}
}

// TestPracticallyNoneIsSaidInBeforeAndAfter: digits of next to nothing are none to go by.
func TestPracticallyNoneIsSaidInBeforeAndAfter(t *testing.T) {
	p := newLimitsRig(t, "olive-stone-pla", 2)
	s := *p.sheet()
	told := func(value, low, high float64) string {
		s.Least.Value, s.Least.Low, s.Least.High = value, low, high
		f := p.leastFact("pane.limits.then", &s)
		return plain(f.value + f.more)
	}
	first := "\n" + p.firstOf(&s)
	assert.Equal(t, "practically none (< 0.1 wt%)"+first, told(0.00001, 0.000003, 0.008652))
	assert.Equal(t, "practically none, at best 0.4 wt%"+first, told(0.05, 0, 0.4))
	assert.Equal(t, "0.10 wt% (0 to 0.40)"+first, told(0.1, 0, 0.4))
}
