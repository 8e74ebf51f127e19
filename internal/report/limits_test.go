package report

import (
	"bytes"
	"context"
	"encoding/csv"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// Each limit has numbers in order, or says what would tell it; one binds.
func TestCalcJSONHoldsTheLimits(t *testing.T) {
	for _, name := range samples {
		p := sample(t, name)
		_, s := calc(t, p)
		for i, b := range s.Blends {
			if i == 0 {
				assert.Empty(t, b.Limits, "the plain polymer carries no powder")
				continue
			}
			require.NotEmpty(t, b.Limits)
			binding := 0
			for _, l := range b.Limits {
				assert.Equal(t, "wt%", l.Unit)
				assert.NotEmpty(t, l.Field, l.ID)
				if l.Binding {
					binding++
				}
				if l.State == "unknown" {
					assert.Nil(t, l.Likely, l.ID)
					assert.NotEmpty(t, l.Missing, l.ID)
					assert.NotEmpty(t, l.Where, l.ID)
					continue
				}
				require.NotNil(t, l.Likely, l.ID)
				assert.LessOrEqual(t, *l.Low, *l.Likely, l.ID)
				assert.LessOrEqual(t, *l.Likely, *l.High, l.ID)
				assert.Nil(t, l.First, "nothing was drawn")
			}
			assert.Equal(t, 1, binding, b.ID)
			require.NotNil(t, b.Least)
		}
	}
}

// With draws the intervals say so, the shares of the draws add up, and a seed gives the
// same bytes.
func TestCalcJSONWithDraws(t *testing.T) {
	p := sample(t, samples[0])
	p.Blends = p.Blends[:2]
	p.Plan.Base, p.Line.Runs, p.Line.Changes.Sequence, p.Spool.Made, p.Spool.Bend.Tests = "", nil, nil, nil, nil
	p.Melt.Tests = nil
	write := func() []byte {
		drawn, shares, err := bench.Evaluate(&p).WithAllDraws(context.Background(), bench.Drawing{Draws: bench.LeastDraws, Seed: 3})
		require.NoError(t, err)
		var out bytes.Buffer
		require.NoError(t, CalcJSON(&out, drawn, shares, wording.New("en")))
		return out.Bytes()
	}
	first := write()
	s := read(t, first, wording.New("en"))
	b := s.Blends[1]
	assert.Equal(t, bench.LeastDraws, b.Draws)
	assert.Equal(t, "monte_carlo", b.Figures["density"].Method)
	sum := 0.0
	for _, l := range b.Limits {
		if l.First != nil {
			sum += *l.First
		}
	}
	assert.InDelta(t, 1, sum, 0.02, "some limit stops in nearly every draw")
	require.NotEmpty(t, b.Shares)
	assert.Equal(t, "least", b.Shares[0].Target)
	for i, in := range b.Shares[0].Inputs {
		assert.True(t, in.Total >= 0 && in.Total <= 1 && in.First <= 1, in.Input)
		if i > 0 {
			assert.LessOrEqual(t, in.Total, b.Shares[0].Inputs[i-1].Total)
		}
	}
	assert.Equal(t, first, write(), "the same seed")
}

// The comparison as CSV has a row for each figure, numbers with a point, and a verdict only
// where the interval of the change leaves no doubt.
func TestCompareCSV(t *testing.T) {
	p := sample(t, samples[0])
	s := bench.Evaluate(&p)
	w := wording.New("de") // with a decimal comma in the window
	var out bytes.Buffer
	list := s.Compare()
	require.NoError(t, CompareCSV(&out, s, list, w))
	rows, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+len(list))
	assert.Len(t, rows[0], 3+3+3*8, "the reference, and three blends against it")
	assert.Empty(t, w.Missing())
	verdicts := map[string]int{}
	for _, row := range rows[1:] {
		for i := 6; i < len(row); i += 8 {
			verdict := row[i+7]
			verdicts[verdict]++
			if row[i+4] == "" {
				continue
			}
			low, err := strconv.ParseFloat(row[i+4], 64)
			require.NoError(t, err)
			high, err := strconv.ParseFloat(row[i+5], 64)
			require.NoError(t, err)
			if verdict == "more" || verdict == "less" {
				assert.True(t, low > 0 || high < 0, row[0])
			}
		}
	}
	assert.Positive(t, verdicts["more"])
	assert.Positive(t, verdicts["less"])
	assert.Positive(t, verdicts["cannot be told"])
}

// A note that belongs to no field names none.
func TestNotesOfNoFieldNameNone(t *testing.T) {
	p := sample(t, samples[0])
	var out bytes.Buffer
	require.NoError(t, CalcTable(&out, "", bench.Evaluate(&p), wording.New("en")))
	text := out.String()
	assert.Contains(t, text, "what one change would lift.\n", "of the limits")
	assert.NotContains(t, text, "()")
	assert.Contains(t, text, " (/materials/")
}
