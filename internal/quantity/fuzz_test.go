package quantity

import (
	"errors"
	"math"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzParse reads any text in any dimension. What is read has one file form
// that reads back as the same quantity; what is refused names a known text and
// proposes only what is read.
func FuzzParse(f *testing.F) {
	for i, k := range kinds {
		for _, entry := range accepted {
			if entry.dimension == k.name {
				f.Add(uint8(i), entry.text)
			}
		}
	}
	for _, row := range refusedEntries(f) {
		for i, k := range kinds {
			if row.dimension == k.name {
				f.Add(uint8(i), row.text)
			}
		}
	}
	patterns := make([]*regexp.Regexp, len(kinds))
	for i, k := range kinds {
		q, _ := k.parse("")
		_, pattern := q.Schema()
		patterns[i] = regexp.MustCompile(pattern)
	}
	texts := catalogue(f)
	f.Fuzz(func(t *testing.T, dimension uint8, text string) {
		i := int(dimension) % len(kinds)
		q, err := kinds[i].parse(text)
		if err != nil {
			checkRefused(t, kinds[i], texts, err)
			require.False(t, q.Given())
			return
		}
		require.Regexp(t, patterns[i], q.String())
		checkRead(t, kinds[i], q)
	})
}

func checkRead(t *testing.T, k kind, q read) {
	t.Helper()
	again, err := k.parse(q.String())
	require.NoError(t, err)
	require.True(t, q == again, "%q reads as %q", q, again)
	e, given := q.Estimate()
	require.Equal(t, q.Given(), given)
	require.True(t, e.Low <= e.Value && e.Value <= e.High, "%q: %+v", q, e)
	for _, v := range []float64{e.Low, e.High, e.StdU} {
		require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%q: %+v", q, e)
	}
	for _, comma := range []bool{false, true} {
		window, err := k.parse(q.Pretty(comma))
		require.NoError(t, err, "%q", q.Pretty(comma))
		same, _ := window.Estimate()
		require.Equal(t, e, same, "%q", q.Pretty(comma))
	}
}

func checkRefused(t *testing.T, k kind, texts messages, err error) {
	t.Helper()
	var refusal *Refusal
	require.True(t, errors.As(err, &refusal))
	require.NotEmpty(t, texts.render(t, refusal))
	for name, value := range refusal.Values {
		if p, ok := value.(proposal); ok {
			_, err := k.parse(string(p))
			require.NoError(t, err, "%s of %s", name, refusal.ID)
		}
	}
}
