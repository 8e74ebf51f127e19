package project

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

func TestSetCurrencyRenamesEveryPrice(t *testing.T) {
	p := New("EUR")
	p.Materials = []material.Material{{
		ID: "pla", Name: "PLA", Kind: material.Polymer,
		Price: quantity.MustParse[quantity.PricePerMass]("18.90 ± 0.10 EUR/kg"),
	}}
	p.Cost.EnergyPrice = quantity.MustParse[quantity.PricePerEnergy]("0.30-0.35 EUR/kWh")
	p.Cost.EmptySpool = quantity.MustParse[quantity.Price]("0 EUR")
	require.NoError(t, p.SetCurrency("SEK"))
	assert.Equal(t, "18.90 ± 0.10 SEK/kg", p.Materials[0].Price.String())
	assert.Equal(t, "0.30-0.35 SEK/kWh", p.Cost.EnergyPrice.String())
	assert.Equal(t, "0 SEK", p.Cost.EmptySpool.String())
	require.NoError(t, Validate(&p))
}

func TestSetCurrencyRefusesWhatIsNoCurrency(t *testing.T) {
	p := New("EUR")
	p.Cost.EmptySpool = quantity.MustParse[quantity.Price]("1 EUR")
	require.Error(t, p.SetCurrency("XXX"))
	assert.Equal(t, "EUR", p.Currency)
	assert.Equal(t, "1 EUR", p.Cost.EmptySpool.String())
}
