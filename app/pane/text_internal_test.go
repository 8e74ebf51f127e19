package pane

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

func TestListsOfContents(t *testing.T) {
	for text, want := range map[string]string{
		"0; 5; 10 %":      "0 %; 5 %; 10 %",
		"0;5;10":          "0 %; 5 %; 10 %",
		"0, 5, 10":        "0 %; 5 %; 10 %",
		"2,5; 5":          "2.5 %; 5 %",
		"2,5, 5":          "2.5 %; 5 %",
		"0 %\t5 %\r\n8 %": "0 %; 5 %; 8 %",
		" ; ":             "",
		"":                "",
		"2.50 %":          "2.50 %",
		"5 ± 1 %; 500ppm": "5 ± 1 %; 500 ppm",
	} {
		list, err := splitQuantities[quantity.Fraction](text, "%")
		require.NoError(t, err, text)
		assert.Equal(t, want, plain(joinQuantities(list, false)), text)
		again, err := splitQuantities[quantity.Fraction](joinQuantities(list, true), "%")
		require.NoError(t, err, text)
		assert.Equal(t, list, again, "%q shown with decimal commas reads back", text)
	}
	for _, text := range []string{"0; x", "5 g", "1,2,3", "0 5 10", "1.234.5", "5 %%"} {
		_, err := splitQuantities[quantity.Fraction](text, "%")
		var refusal *quantity.Refusal
		assert.ErrorAs(t, err, &refusal, text)
	}
}

func plain(text string) string {
	runes := []rune(text)
	for i, r := range runes {
		if r == '\u00a0' || r == '\u202f' {
			runes[i] = ' '
		}
	}
	return string(runes)
}

func TestABareNumberTakesTheUnitBefore(t *testing.T) {
	before := quantity.MustParse[quantity.Length]("1.75 ± 0.05 mm")
	for text, want := range map[string]string{"1.7": "1.7 mm", "1.7 ± 0.1": "1.7 ± 0.1 mm", "2 cm": "2 cm", "1.7-1.8": "1.7-1.8 mm", "": ""} {
		q, err := parseLike(text, before)
		require.NoError(t, err, text)
		assert.Equal(t, want, q.String(), text)
	}
	_, err := parseLike("1.7", quantity.Of[quantity.Length]{})
	assert.Error(t, err, "nothing stood there before")
	_, err = parseLike("x", before)
	assert.Error(t, err)
	_, err = parseLike("1.7 kg", before)
	assert.Error(t, err)
}

func TestAPercentageIsAmbiguousForAnAmountOnly(t *testing.T) {
	_, err := quantity.Parse[quantity.Content]("5 %")
	_, ambiguous := isAmbiguous(err)
	assert.True(t, ambiguous)
	_, err = quantity.Parse[quantity.Content]("5 g")
	_, ambiguous = isAmbiguous(err)
	assert.False(t, ambiguous)
	_, ambiguous = isAmbiguous(nil)
	assert.False(t, ambiguous)
}

func TestPlacesHaveNames(t *testing.T) {
	assert.Equal(t, "field.spool.net_mass", labelOf("/spool/net_mass"))
	view := View{Chosen: -1}
	assert.Nil(t, view.Blend())
	view = View{Sheet: &bench.Sheet{}, Chosen: 3}
	assert.Nil(t, view.Results())
}

func TestAFirstPriceTakesTheCurrencyOfTheProject(t *testing.T) {
	perKg, err := parseLike("19", orUsual(quantity.Of[quantity.PricePerMass]{}, "SEK"))
	require.NoError(t, err)
	assert.Equal(t, "19 SEK/kg", perKg.String())
	perKWh, err := parseLike("0,32", orUsual(quantity.Of[quantity.PricePerEnergy]{}, "EUR"))
	require.NoError(t, err)
	assert.Equal(t, "0.32 EUR/kWh", perKWh.String())
	given := quantity.MustParse[quantity.PricePerMass]("2 EUR/lb")
	again, err := parseLike("3", orUsual(given, "EUR"))
	require.NoError(t, err)
	assert.Equal(t, "3 EUR/lb", again.String(), "what stood there comes first")
	_, err = parseLike("19", orUsual(quantity.Of[quantity.Density]{}, "EUR"))
	assert.Error(t, err, "a density has no usual unit to guess")

	price, _ := material.FieldOf("price")
	var m material.Material
	require.NoError(t, setProperty(price, &m, "19", "EUR"))
	assert.Equal(t, "19 EUR/kg", m.Price.String())
	density, _ := material.FieldOf("density")
	assert.Error(t, setProperty(density, &m, "1.2", "EUR"))
}
