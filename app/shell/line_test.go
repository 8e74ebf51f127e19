package shell_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/app/shell"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// TestTypingAPieceChangesTheTest: a piece typed into a melt-flow test is in the document,
// its rate beside it, and the verdict follows.
func TestTypingAPieceChangesTheTest(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	r.bench.Lead("/melt/tests/1/rows")
	require.Contains(t, plain(r.said()), "The filled melt flows 1.12")
	r.enterInto("/melt/tests/1/rows", 5, 0, "30")
	r.enterInto("/melt/tests/1/rows", 5, 1, "0.4")
	rows := r.bench.Project().Melt.Tests[1].Rows
	require.Len(t, rows, 6)
	assert.Equal(t, "0.4 g", rows[5].Mass.String())
	assert.Contains(t, plain(r.said()), "differ by more than 15 %")
	require.NoError(t, r.bench.Edit("bubbles", "", func(p *project.Project) error { p.Melt.Tests[1].Rows[5].Bubbles = true; return nil }))
	assert.Contains(t, plain(r.said()), "a piece with bubbles does not count")
	assert.Contains(t, plain(r.said()), "The filled melt flows 1.12", "it is left out")
}

// TestAddedTestIsMadeLikeTheLast: what stays from test to test need not be typed again.
func TestAddedTestIsMadeLikeTheLast(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneMelt)
	r.bench.OpenSection("tests")
	r.tapped("pane.melt.add_test")
	tests := r.bench.Project().Melt.Tests
	require.Len(t, tests, 3)
	assert.Equal(t, tests[1].Temperature, tests[2].Temperature)
	assert.Equal(t, tests[1].Load, tests[2].Load)
	assert.Equal(t, project.BlendID("olive-10"), tests[2].Blend, "of the blend at work")
	assert.Empty(t, tests[2].Rows)
	r.tapped("pane.melt.remove_test")
	assert.Len(t, r.bench.Project().Melt.Tests, 2)
	r.undo()
	assert.Len(t, r.bench.Project().Melt.Tests, 3)
}

// TestLineFollowsItsInputs: throughput, puller, purge and what the pellets carry follow
// what is typed, and say what is missing.
func TestLineFollowsItsInputs(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneLine)
	assert.Contains(t, plain(r.said()), "2.77 m/min")
	r.enterInto("/line/outputs", 0, 2, "16.6")
	assert.Equal(t, "16.6 g", r.bench.Project().Line.Outputs[0].Mass.String())
	assert.NotContains(t, plain(r.said()), "2.77 m/min")
	r.enter("/line/machine/melt_volume", "")
	r.bench.OpenSection("changes")
	r.enter("/line/changes/stable_after", "")
	assert.Contains(t, plain(r.said()), "Start winding Olive 10", "by the time in the melt that was entered")
	r.bench.OpenSection("spreading")
	assert.Contains(t, plain(r.said()), "At 10 wt% powder falls off")
	r.enter("/line/spreading/pellet_diameter", "")
	assert.Contains(t, plain(r.said()), "What the pellets carry is not known yet")
	r.enter("/line/spreading/pellet_diameter", "-3 mm")
	assert.True(t, r.field("/line/spreading/pellet_diameter").Refused())
	r.bench.OpenSection("changes")
	r.bench.OpenSection("spreading")
	assert.Equal(t, "-3 mm", r.field("/line/spreading/pellet_diameter").Entry().Text, "refused text is kept")
}

// TestAnotherLawComesToTheFront: the other laws of washout are one click away, and no
// edit of the document.
func TestAnotherLawComesToTheFront(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneLine)
	r.bench.OpenSection("changes")
	before := r.bench.Revision()
	assert.NotContains(t, plain(r.said()), "21 min")
	var laws *control.SelectField
	for _, s := range all[*control.SelectField](r.bench.Content()) {
		if strings.Contains(reads(s), r.words.Text("pane.line.law")) {
			laws = s
		}
	}
	require.NotNil(t, laws)
	laws.Focus()
	r.key(fyne.KeyRight)
	r.key(fyne.KeyRight)
	assert.Contains(t, plain(r.said()), "Round pipe without mixing")
	assert.Contains(t, plain(r.said()), "21", "99 % by the pipe takes five times the mean, which is 4.1 min")
	assert.Equal(t, before, r.bench.Revision(), "it is no edit")
}

// TestLoadedEvennessIsTold: measured loadings and lumps of a blend give their spread.
func TestLoadedEvennessIsTold(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneLine)
	r.bench.Lead("/blends/2/evenness/loadings")
	said := plain(r.said())
	for _, want := range []string{"Evenness of Olive 10", "Relative standard deviation", "0 not mixed at all, 1 as even as chance allows", "tells little apart", "less than pellets and powder mixed at random: the screw", "Lumps per metre"} {
		assert.Contains(t, said, want)
	}
	r.change(func(p *project.Project) {
		p.Blends[2].Evenness.Loadings[0] = quantity.MustParse[quantity.Fraction]("15 %")
	})
	assert.NotContains(t, plain(r.said()), "less than pellets and powder mixed at random")
}

// TestClockWritesEvents: the clock of a run is shown as it goes, each press writes an
// event with its time, and the time of a stable colour can be taken over.
func TestClockWritesEvents(t *testing.T) {
	r := openSample(t, olive)
	r.clock.now = time.Date(2026, 8, 22, 9, 0, 0, 0, time.UTC)
	r.show(bench.PaneLine)
	r.bench.OpenSection("runs")
	r.tapped("pane.line.add_run")
	run := func() project.LineRun { return r.bench.Project().Line.Runs[1] }
	assert.Equal(t, "2026-08-22", run().Date)
	assert.Equal(t, project.BlendID("olive-10"), run().Blend)
	assert.Len(t, run().Zones, 4, "as the line is set")
	assert.True(t, r.tapped("event.lump").Disabled(), "the clock stands")

	r.tapped("pane.line.start_clock")
	r.clock.pass(62 * time.Second)
	assert.Contains(t, plain(r.said()), "0:01:02")
	r.tapped("event.new_material")
	r.clock.pass(9*time.Minute + 6*time.Second)
	r.tapped("event.colour_stable")
	require.Len(t, run().Events, 2)
	assert.Equal(t, "1.03 min", run().Events[0].Time.String())
	assert.Equal(t, project.ColourStable, run().Events[1].Kind)
	assert.Contains(t, plain(r.said()), "the colour was stable 9.1 min after the new material")
	r.tapped("pane.line.use_stable")
	assert.Equal(t, "9.1 min", r.bench.Project().Line.Changes.StableAfter.String())

	r.tapped("pane.line.stop_clock")
	assert.Nil(t, r.clock.every, "nobody listens any more")
	r.undo()
	assert.NotEqual(t, "9.1 min", r.bench.Project().Line.Changes.StableAfter.String())
	r.bench.OpenSection("runs")
	r.enter("/line/runs/1/date", "yesterday")
	assert.True(t, r.field("/line/runs/1/date").Refused())
	assert.Equal(t, "2026-08-22", run().Date)
}

// TestClockBelongsToItsRun: another run does not get its events, it goes on from where it
// stood, and a stop that is written stops it.
func TestClockBelongsToItsRun(t *testing.T) {
	r := openSample(t, olive)
	r.clock.now = time.Date(2026, 8, 22, 9, 0, 0, 0, time.UTC)
	r.show(bench.PaneLine)
	r.bench.OpenSection("runs")
	r.tapped("pane.line.add_run")
	events := func(run int) int { return len(r.bench.Project().Line.Runs[run].Events) }
	before := events(0)
	r.tapped("pane.line.start_clock")
	r.clock.pass(time.Minute)
	r.bench.Lead("/line/runs/0/date")
	assert.Contains(t, plain(r.said()), "it goes for Run 2")
	assert.True(t, r.tapped("event.lump").Disabled())
	assert.Equal(t, before, events(0))

	r.bench.Lead("/line/runs/1/date")
	r.tapped("pane.line.stop_clock")
	r.clock.pass(time.Hour)
	assert.Contains(t, plain(r.said()), "0:01:00")
	r.tapped("pane.line.start_clock")
	r.clock.pass(30 * time.Second)
	r.tapped("event.lump")
	assert.Equal(t, "1.50 min", r.bench.Project().Line.Runs[1].Events[0].Time.String())
	r.change(func(p *project.Project) {
		p.Line.Runs[1].Events = append(p.Line.Runs[1].Events, project.RunEvent{Time: quantity.MustParse[quantity.Duration]("2 h"), Kind: project.OtherEvent})
	})
	r.clock.pass(30 * time.Second)
	r.tapped("event.stopped")
	assert.Equal(t, project.Stopped, r.bench.Project().Line.Runs[1].Events[1].Kind, "in the order of time")
	assert.Nil(t, r.clock.every, "the clock was stopped")
	assert.True(t, r.tapped("event.lump").Disabled())
}

// TestRegrindComesIntoTheBlend: made from the blend at work with its own powder, brought
// into a recipe by its share, held against its limits, and taken out again.
func TestRegrindComesIntoTheBlend(t *testing.T) {
	r := openSample(t, olive)
	r.bench.Choose("olive-5")
	r.show(bench.PaneLine)
	r.bench.OpenSection("regrind")
	r.tapped("pane.line.add_regrind")
	p := r.bench.Project()
	made := len(p.Materials) - 1
	assert.Equal(t, "Regrind of Olive 5", p.Materials[made].Name)
	assert.Equal(t, "5 %", p.Materials[made].Regrind.Content.String())
	assert.Equal(t, p.Materials[0].ID, p.Materials[made].Regrind.Polymer)

	r.tappedText(r.words.Say("pane.line.put_in", map[string]any{"Blend": "Olive 5"}))
	share := "/blends/1/parts/3/amount"
	require.Equal(t, "10 wt%", r.field(share).Entry().Text)
	r.enter(share, "30")
	require.Equal(t, "30 wt%", r.bench.Project().Blends[1].Parts[3].Amount.String())
	assert.Contains(t, plain(r.said()), "more than the 25 wt% that are thought fine")
	assert.Equal(t, "3.5 wt%", r.bench.Project().Blends[1].Parts[1].Amount.String(), "5 wt% less the 5 % of 30 wt% within")
	r.change(func(p *project.Project) { p.Blends[1].Parts[1].Amount = contentOf("5 wt%") })
	assert.Contains(t, plain(r.said()), "6.5 wt%", "powder loose and within")
	r.enter(share, "damp")
	assert.True(t, r.field(share).Refused())
	r.enter(share, "20 wt%")
	assert.Contains(t, plain(r.said()), "Share and passes keep to their limits.")
	r.enter(fmt.Sprintf("/materials/%d/regrind/content", made), "")
	assert.True(t, slices.ContainsFunc(r.bench.Notes(), func(n bench.Note) bool { return n.ID == "regrind_content_missing" }), "its content is asked for")
	r.tapped("pane.line.take_out")
	assert.Len(t, r.bench.Project().Blends[1].Parts, 3)
}

// TestRunsArePrinted: a sheet to fill in, and one of a run as it was recorded.
func TestRunsArePrinted(t *testing.T) {
	r := openSample(t, olive)
	shell.ProtectFiles()
	r.show(bench.PaneLine)
	r.bench.OpenSection("runs")
	sizes := map[string]int{}
	for _, id := range []string{"pane.line.empty_sheet", "pane.line.run_sheet"} {
		r.tapped(id)
		name := strings.TrimPrefix(id, "pane.line.") + ".pdf"
		r.nameFile(name)
		r.press("Save")
		data, err := os.ReadFile(r.file(name))
		require.NoError(t, err)
		assert.True(t, strings.HasPrefix(string(data), "%PDF-"), id)
		sizes[id] = len(data)
	}
	assert.Greater(t, sizes["pane.line.run_sheet"], sizes["pane.line.empty_sheet"], "what was recorded stands in it")
	assert.False(t, r.bench.Dirty())
}

// TestScreensTakeMeshNumbers: as they are sold, and say which grains pass them.
func TestScreensTakeMeshNumbers(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneLine)
	r.enterInto("/line/machine/screens", 1, 1, "60 mesh")
	assert.Equal(t, "250 um", r.bench.Project().Line.Machine.Screens[1].String())
	assert.Contains(t, plain(r.said()), "308 µm", "250 µm and the largest opening that the standard lets it have")
	r.enterInto("/line/machine/screens", 1, 1, "61 mesh")
	assert.Equal(t, "250 um", r.bench.Project().Line.Machine.Screens[1].String(), "there is no such number")
}

// TestPurgeBecomesRegrind: what is purged into the blend at work is a material with a range
// of contents; where no change leads to it, or its polymer changes, it is not offered.
func TestPurgeBecomesRegrind(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneLine)
	r.bench.OpenSection("regrind")
	require.False(t, r.tapped("pane.line.add_purge").Disabled())
	p := r.bench.Project()
	made := &p.Materials[len(p.Materials)-1]
	assert.Equal(t, "Purge before Olive 10", made.Name)
	low, high := made.Regrind.Content.SI(), 0.0
	if e, given := made.Regrind.Content.Estimate(); assert.True(t, given) {
		low, high = e.Low, e.High
	}
	assert.Greater(t, low, 0.05)
	assert.Less(t, high, 0.10)
	assert.Less(t, low, high)
	assert.Equal(t, p.Materials[1].ID, made.Regrind.Filler)
	r.undo()
	r.change(func(p *project.Project) { p.Line.Changes.Sequence = nil })
	assert.True(t, r.tapped("pane.line.add_purge").Disabled())
	assert.Len(t, r.bench.Project().Materials, len(sample(t, olive).Materials))
}
