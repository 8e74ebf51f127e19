package project

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/quantity"
)

func TestParseAmount(t *testing.T) {
	for text, want := range map[string]Amount{
		"":            {},
		"  ":          {},
		"balance":     Balance(),
		" Balance ":   Balance(),
		"10 wt%":      Content(quantity.MustParse[quantity.Content]("10 wt%")),
		"10,0 wt%":    Content(quantity.MustParse[quantity.Content]("10.0 wt%")),
		"3 vol%":      Content(quantity.MustParse[quantity.Content]("3 vol%")),
		"5 ± 0.1 phr": Content(quantity.MustParse[quantity.Content]("5 ± 0.1 phr")),
	} {
		got, err := ParseAmount(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
		assert.True(t, want == got, "amounts are comparable")

		back, err := ParseAmount(got.String())
		require.NoError(t, err)
		assert.Equal(t, got, back, "text and amount are inverses")
		data, err := got.MarshalText()
		require.NoError(t, err)
		var read Amount
		require.NoError(t, read.UnmarshalText(data))
		assert.Equal(t, got, read)
	}
}

func TestAmountTellsWhatItIs(t *testing.T) {
	none, balance := Amount{}, Balance()
	ten := Content(quantity.MustParse[quantity.Content]("10 phr"))

	assert.True(t, none.IsZero())
	assert.False(t, balance.IsZero())
	assert.False(t, ten.IsZero())
	assert.True(t, balance.Given())
	assert.True(t, balance.Balance())
	assert.False(t, ten.Balance())
	assert.False(t, balance.Content().Given())
	assert.Equal(t, "phr", ten.Unit())
	assert.Equal(t, "10 phr", ten.Content().String())
	assert.Equal(t, "balance", balance.Pretty(true))
	_, known := balance.Estimate()
	assert.False(t, known, "a balance states no content")
}

func TestAmountRefuses(t *testing.T) {
	for text, id := range map[string]string{
		"5 %":           "quantity.percent_ambiguous", // of the whole, or on the polymer?
		"10":            "quantity.no_unit",
		"balance 5 wt%": "",
		"rest":          "",
	} {
		_, err := ParseAmount(text)
		var refusal *quantity.Refusal
		require.ErrorAs(t, err, &refusal, text)
		if id != "" {
			assert.Equal(t, id, refusal.ID, text)
		}
		kept := Balance()
		require.Error(t, kept.UnmarshalText([]byte(text)))
		assert.Equal(t, Balance(), kept, "a refused text changes nothing")
	}
}
