package shell_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/app/shell"
	"fillwright/internal/bench"
)

func TestSpoiltPreferencesDoNoHarm(t *testing.T) {
	r := newRig(t)
	p := r.app.Preferences()
	p.SetString("pane", "gone")
	p.SetString("theme", "purple")
	p.SetInt("text", 0)
	p.SetFloat("width", -5)
	p.SetFloat("height", 1e9)
	again := shell.RememberedAppearance(p)
	assert.Contains(t, []float32{1, 1.25, 1.5, 2}, again.Text, "a size of text that can be chosen")
	r.open(sample(t, olive), "", again)
	assert.Equal(t, bench.PaneBlend, r.bench.Pane())
	assert.Greater(t, r.window.wanted.Width, float32(300))
	assert.Less(t, r.window.wanted.Height, float32(10000))
}
