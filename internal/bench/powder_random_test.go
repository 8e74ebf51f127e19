package bench

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// chancer fills in members of a bench at random.
type chancer struct{ *rand.Rand }

// some gives one of the texts half of the time, now and then with a wide ±.
func some[D quantity.Dim](c chancer, into *quantity.Of[D], unit string, numbers ...string) {
	if c.IntN(2) == 0 {
		return
	}
	number := numbers[c.IntN(len(numbers))]
	if c.IntN(6) == 0 {
		value, _ := strconv.ParseFloat(number, 64)
		number += fmt.Sprintf(" ± %.3g", value*[]float64{0.001, 0.02, 0.2, 0.8}[c.IntN(4)])
	}
	if parsed, err := quantity.Parse[D](number + " " + unit); err == nil {
		*into = parsed
	}
}

func (c chancer) run() (r material.DryingRun) {
	some(c, &r.OvenTemperature, "degC", "20", "60", "103", "140", "300")
	some(c, &r.RoomTemperature, "degC", "0", "21", "40")
	some(c, &r.RoomHumidity, "%", "0", "50", "95", "100")
	some(c, &r.DryMass, "g", "1", "60", "100", "150")
	some(c, &r.Layer, "mm", "1", "5", "20")
	rows := c.IntN(9)
	mass, end := 140.0, []float64{0, 60, 100, 135, 140}[c.IntN(5)]
	for i := range rows {
		reading := material.DryingReading{}
		if c.IntN(12) > 0 {
			reading.Time = q[quantity.Duration](fmt.Sprintf("%d min", []int{0, 10, 30, 60}[c.IntN(4)]*c.IntN(2)+30*i))
		}
		if c.IntN(12) > 0 {
			reading.Masses = append(reading.Masses, q[quantity.Mass](fmt.Sprintf("%.1f g", mass)))
		}
		r.Readings = append(r.Readings, reading)
		mass = end + (mass-end)*c.Float64()*1.02
	}
	return r
}

func (c chancer) step() (s material.Step) {
	s.Kind = []material.StepKind{"", material.Wash, material.Extract, material.Dry, material.Grind, material.Sift}[c.IntN(6)]
	some(c, &s.MassIn, "kg", "0", "1", "10")
	some(c, &s.MassOut, "kg", "0", "1", "4")
	some(c, &s.MoistureIn, "%", "0", "5", "60", "99")
	some(c, &s.MoistureOut, "%", "0", "3", "70")
	some(c, &s.Yield, "%", "0", "50", "100", "120")
	some(c, &s.Energy, "kWh", "0", "4")
	some(c, &s.Cost, "EUR", "0", "3")
	some(c, &s.Time, "min", "0", "30")
	some(c, &s.Recycled, "%", "0", "50", "100")
	return s
}

func (c chancer) powder() (b material.Powder) {
	c.drying(&b)
	c.preparation(&b)
	c.sieving(&b)
	c.clogging(&b)
	c.grain(&b)
	return b
}

func (c chancer) drying(b *material.Powder) {
	for range c.IntN(3) {
		b.Drying.Runs = append(b.Drying.Runs, c.run())
	}
	some(c, &b.Drying.Target, "%", "0", "0.1", "1", "50")
	b.Drying.SetAside = c.IntN(8) == 0
	some(c, &b.Drying.OtherTemperature, "degC", "20", "80", "105", "250")
	some(c, &b.Drying.OtherLayer, "mm", "1", "10")
	some(c, &b.Drying.ActivationEnergy, "kJ/mol", "1", "38", "100")
	some(c, &b.Drying.LayerExponent, "", "0.5", "1", "2")
	some(c, &b.Storage.Temperature, "degC", "0", "20", "60")
	some(c, &b.Storage.Humidity, "%", "0", "50", "95", "100")
	some(c, &b.Storage.OpenTime, "h", "0", "1", "1000")
	some(c, &b.Storage.UptakeTime, "h", "0.1", "3")
	some(c, &b.Storage.Monolayer, "%", "1", "4.5")
	some(c, &b.Storage.GABC, "", "1", "12")
	some(c, &b.Storage.GABK, "", "0.5", "0.9")
	some(c, &b.Storage.Equilibrium, "%", "0", "9", "40")
}

func (c chancer) preparation(b *material.Powder) {
	some(c, &b.Preparation.WetMass, "kg", "1", "10")
	some(c, &b.Preparation.WetPrice, "EUR/kg", "0", "0.2")
	some(c, &b.Preparation.Transport, "EUR/kg", "0", "0.1")
	b.Preparation.SetAside = c.IntN(8) == 0
	for range c.IntN(5) {
		b.Preparation.Steps = append(b.Preparation.Steps, c.step())
	}
}

func (c chancer) sieving(b *material.Powder) {
	some(c, &b.Sieving.Charge, "g", "0", "80", "100")
	some(c, &b.Sieving.Pan, "g", "0", "5", "20")
	some(c, &b.Sieving.CheckSieve, "um", "45", "125", "250", "500")
	for range c.IntN(7) {
		row := material.Sieve{}
		some(c, &row.Opening, "um", "1", "45", "63", "90", "125", "130", "250", "500")
		some(c, &row.Retained, "g", "0", "0.001", "5", "30", "100")
		b.Sieving.Sieves = append(b.Sieving.Sieves, row)
	}
}

func (c chancer) clogging(b *material.Powder) {
	some(c, &b.Clogging.Control.Opening, "um", "45", "125", "250")
	some(c, &b.Clogging.Control.Mass, "g", "0", "1", "100")
	some(c, &b.Clogging.Control.Retained, "g", "0", "0.02", "5")
	for range c.IntN(3) {
		i := material.Inspection{Found: c.IntN(3) * c.IntN(20)}
		some(c, &i.Mass, "g", "0.001", "1", "100")
		some(c, &i.Size, "um", "50", "133", "200", "500")
		b.Clogging.Inspections = append(b.Clogging.Inspections, i)
	}
	for range c.IntN(3) {
		r := material.NozzleRun{Blockages: c.IntN(3) * c.IntN(4)}
		some(c, &r.Nozzle, "mm", "0.2", "0.4", "0.6")
		some(c, &r.Strand, "kg", "0.001", "1", "100")
		some(c, &r.Content, "%", "0", "5", "100")
		b.Clogging.Prints = append(b.Clogging.Prints, r)
	}
}

func (c chancer) grain(b *material.Powder) {
	g := &b.Grain
	some(c, &g.Full, "g", "0.01", "352", "380")
	some(c, &g.Powder, "g", "0.001", "40")
	some(c, &g.FullWithPowder, "g", "0.01", "363", "392", "400")
	some(c, &g.LiquidDensity, "g/cm3", "0.8", "1")
	some(c, &g.LiquidTemperature, "degC", "0", "20", "60")
	some(c, &g.HeapMass, "g", "0.01", "100")
	some(c, &g.HeapVolume, "mL", "80", "150")
	some(c, &g.TappedVolume, "mL", "60", "110", "160")
	some(c, &g.Moisture, "%", "0", "5", "90")
	g.DensitySetAside, g.PackingSetAside = c.IntN(8) == 0, c.IntN(8) == 0
}

// project is quiet with a bench at random, and with some of the cards missing.
func (c chancer) project() project.Project {
	p := quiet()
	some(c, &p.Print.Nozzle, "mm", "0.25", "0.4", "0.6", "1")
	some(c, &p.Print.CriticalParts, "", "1", "3", "20")
	some(c, &p.Print.Mass, "g", "1", "20", "1000")
	card := &p.Materials[1]
	if c.IntN(4) == 0 {
		p.Batch.BalanceResolution = quantity.Of[quantity.Mass]{}
	}
	if c.IntN(4) == 0 {
		card.Class = material.Mineral
	}
	if c.IntN(4) == 0 {
		card.Density, card.Moisture = quantity.Of[quantity.Density]{}, quantity.Of[quantity.Fraction]{}
	}
	if c.IntN(4) == 0 {
		card.Price, card.PackingLimit = quantity.Of[quantity.PricePerMass]{}, quantity.Of[quantity.Fraction]{}
	}
	some(c, &card.AspectRatio, "", "1", "4")
	card.Powder = c.powder()
	return p
}

// Whatever a maker has entered so far, in whatever order, gives numbers or notes,
// and nothing of it is changed.
func TestRandomBenchesGiveNumbersOrNotes(t *testing.T) {
	words := newReader()
	tried := 0
	for seed := range uint64(500) {
		p := chancer{rand.New(rand.NewPCG(7, seed))}.project()
		if project.Validate(&p) != nil {
			continue
		}
		tried++
		before := project.Clone(p)
		checkSheet(t, &p, words, fmt.Sprint("seed ", seed))
		assert.Equal(t, before, p)
	}
	assert.Greater(t, tried, 200)
}
