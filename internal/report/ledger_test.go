package report

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// spooled is a spool of the ledger.
type spooled struct {
	Name, Blend string
	Figures     map[string]readFigure
	Remarks     []struct{ ID, Text string }
}

// calc carries the ledger, what is left on each spool, and each blend on the reel.
func TestCalcCarriesTheLedger(t *testing.T) {
	p := sample(t, "olive-stone-pla")
	s, w := bench.Evaluate(&p), wording.New("en")
	var out bytes.Buffer
	require.NoError(t, CalcJSON(&out, s, nil, w))
	var got sheet
	require.NoError(t, json.Unmarshal(out.Bytes(), &got))
	require.Len(t, got.Spools, 3)
	first := got.Spools[0]
	assert.Equal(t, "O10-1", first.Name)
	assert.Equal(t, "olive-10", first.Blend)
	assert.InDelta(t, 840, *first.Figures["left"].Value, 1e-9)
	assert.Equal(t, "g", first.Figures["left"].Unit)
	assert.Less(t, *first.Figures["length"].Low, *first.Figures["length"].Value)
	require.NotEmpty(t, first.Remarks)
	assert.Contains(t, first.Remarks[0].Text, "enough for a print of 60 g")
	assert.InDelta(t, 2.1407, *got.Blends[2].Winding["core_strain"].Value, 1e-3)

	out.Reset()
	require.NoError(t, CalcTable(&out, p.Title, s, w))
	for _, want := range []string{"O10-1, Olive 10", "Length, by mass", "Left ", "enough for a print of 60 g"} {
		assert.Contains(t, out.String(), want)
	}
}
