package pane

import (
	"testing"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// TestMachineGoesFromProjectToProject: saved from one, loaded into another in one edit
// that can be undone; what is no machine changes nothing, and is said.
func TestMachineGoesFromProjectToProject(t *testing.T) {
	test.NewTempApp(t)
	p := project.New("EUR")
	p.Line.Machine.Name, p.Line.Machine.DieBore = "Bench line", quantity.MustParse[quantity.Length]("2.0 mm")
	desk := &fakeDesk{words: wording.New("en"), history: project.NewHistory(p, 64<<20)}
	pane := NewLine(desk)
	pane.view = View{Project: &p, Sheet: bench.Evaluate(&p), Chosen: -1}
	pane.saveMachine()
	require.Contains(t, desk.written.String(), `"format": "fillwright machine"`)

	other := project.New("USD")
	desk.history = project.NewHistory(other, 64<<20)
	desk.file = desk.written.String()
	pane.loadMachine()
	assert.Equal(t, p.Line.Machine, desk.history.Peek().Line.Machine)
	assert.Empty(t, desk.said)
	desk.history.Undo()
	assert.Equal(t, project.Machine{}, desk.history.Peek().Line.Machine)

	desk.file = `{"format": "fillwright machine", "version": 1, "machine": {"die_bore": "2 kg"}}`
	pane.loadMachine()
	require.Len(t, desk.said, 1)
	assert.Contains(t, desk.said[0], "file.csv was not taken")
	assert.Equal(t, project.Machine{}, desk.history.Peek().Line.Machine)
}
