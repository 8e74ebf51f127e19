package shell_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/assets"
	"fillwright/internal/bench"
	"fillwright/internal/project"
)

// TestLogOfTheSampleIsShown: missing beside a copy of the sample, it is said, and what was
// kept still shows; put back beside it, it is read.
func TestLogOfTheSampleIsShown(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneSpool)
	r.bench.OpenSection("log")
	said := plain(r.said())
	assert.Contains(t, said, "olive-10-spool-1.csv is not where it was")
	assert.Contains(t, said, "Holds 1.7 mm to 1.8 mm, with little room")
	assert.Contains(t, said, "comes with the turns of the screw")

	data, err := assets.Samples.ReadFile("samples/logs/olive-10-spool-1.csv")
	require.NoError(t, err)
	require.NoError(t, os.MkdirAll(r.file("logs"), 0o755))
	require.NoError(t, os.WriteFile(r.file("logs/olive-10-spool-1.csv"), data, 0o600))
	r.change(func(p *project.Project) { p.Spool.Made[0].Trace.Header = 2 }) // read again: the first row is taken for a heading
	said = plain(r.said())
	assert.Contains(t, said, "says something else than what the project keeps")
	r.change(func(p *project.Project) { p.Spool.Made[0].Trace.Header = 1 })
	assert.Contains(t, plain(r.said()), "olive-10-spool-1.csv: read, and kept with the project")
}

// TestLogOfAProjectWithoutAFile is that of the sample it came from.
func TestLogOfAProjectWithoutAFile(t *testing.T) {
	r := newRig(t).open(sample(t, olive), "", look)
	r.show(bench.PaneSpool)
	r.bench.OpenSection("log")
	assert.Contains(t, plain(r.said()), "read, and kept with the project")
}

// TestLogsKeepTheirPlacesWhenTheProjectMoves: saved into another folder, the project names
// them from there.
func TestLogsKeepTheirPlacesWhenTheProjectMoves(t *testing.T) {
	r := openSample(t, olive)
	require.NoError(t, os.MkdirAll(r.file("elsewhere"), 0o755))
	r.bench.WriteTo(r.file("elsewhere/project.json"))
	p, _, err := project.Load(r.file("elsewhere/project.json"))
	require.NoError(t, err)
	assert.Equal(t, "../logs/olive-10-spool-1.csv", p.Spool.Made[0].Trace.File)
	r.bench.WriteTo(r.file("project.json"))
	assert.Equal(t, "logs/olive-10-spool-1.csv", filepath.ToSlash(r.bench.Project().Spool.Made[0].Trace.File))
}

// TestLogsKeepTheirPlacesWhenSavingFails: nothing of the project changes then.
func TestLogsKeepTheirPlacesWhenSavingFails(t *testing.T) {
	r := openSample(t, olive)
	require.NoError(t, os.WriteFile(r.file("taken"), nil, 0o600))
	r.bench.WriteTo(r.file("taken/sub/project.json")) // its folder is a file
	assert.Equal(t, "logs/olive-10-spool-1.csv", r.bench.Project().Spool.Made[0].Trace.File)
	assert.False(t, r.bench.Dirty())
}

// TestBendVerdictFollowsTheCore: the maker sees what to do.
func TestBendVerdictFollowsTheCore(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneSpool)
	r.bench.OpenSection("winding")
	assert.Contains(t, plain(r.said()), "the strand bears 2.76 % (safety factor 2)")
	r.enter("/spool/reel/core", "50 mm")
	assert.Contains(t, plain(r.said()), "it may snap. Take a core of")
	r.change(func(p *project.Project) { p.Spool.Bend.Tests = nil })
	assert.Contains(t, plain(r.said()), "is not known: bend ten pieces")
}

// TestLedgerAddsUp: what is on a spool, and the totals by blend.
func TestLedgerAddsUp(t *testing.T) {
	r := openSample(t, olive)
	r.show(bench.PaneSpool)
	r.bench.OpenSection("made")
	said := plain(r.said())
	assert.Contains(t, said, "Olive 10: 2 spools")
	r.enter("/spool/made/0/weighed", "200 g")
	assert.Contains(t, plain(r.said()), "less than an empty one")
	r.bench.Lead("/spool/made/2/name")
	assert.True(t, r.field("/spool/made/2/name") != nil)
}
