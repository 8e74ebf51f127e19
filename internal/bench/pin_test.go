package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// twins is a project with the same filled blend twice, of which the first was measured.
func twins(factor string, pin project.Pin) project.Project {
	p := quiet()
	addOil(&p, "1 wt%", material.MineralOil)
	p.Materials[1].Moisture = q[quantity.Fraction]("0.3 %")
	twin := project.Clone(project.Project{Blends: p.Blends[1:2]}).Blends[0]
	twin.ID = "twin"
	p.Blends = append(p.Blends, twin)
	p.Blends[1].MeasuredFlow = q[quantity.Factor](factor)
	p.Melt.Pin = pin
	return p
}

// TestPinnedModelMeetsItsMeasurement: whatever part of the model a measurement settles,
// a blend like the measured one then has the measured flow, and the band of what was
// settled shrinks.
func TestPinnedModelMeetsItsMeasurement(t *testing.T) {
	for pin, factor := range map[project.Pin]string{project.PinWater: "1.30 ± 0.05", project.PinGrains: "0.90 ± 0.05", project.PinOil: "1.40 ± 0.05"} {
		free := evaluate(t, twins(factor, "")).Blends[2].Results[MeltFlow]
		s := evaluate(t, twins(factor, pin))
		measured, twin := s.Blends[1].Results[MeltFlow], s.Blends[2].Results[MeltFlow]
		assert.InEpsilon(t, measured.Value, twin.Value, 1e-9, pin)
		assert.InDelta(t, measured.High-measured.Low, twin.High-twin.Low, 0.02, "%s: as wide as the measurement", pin)
		assert.Less(t, twin.High-twin.Low, free.High-free.Low, pin)
		assert.Equal(t, Calibrated, twin.Basis, pin)
		product := s.Blends[1].Results[MeltFlowGrains].Value * s.Blends[1].Results[MeltFlowWater].Value * s.Blends[1].Results[MeltFlowOil].Value
		assert.InEpsilon(t, measured.Value, product, 1e-9, "the parts of %s make the whole", pin)
	}
}

// TestPinNamesItsBlend: the measurement of the blend that is named counts.
func TestPinNamesItsBlend(t *testing.T) {
	p := twins("1.30 ± 0.05", project.PinWater)
	p.Blends[2].MeasuredFlow = q[quantity.Factor]("1.10 ± 0.05")
	third := project.Clone(project.Project{Blends: p.Blends[2:3]}).Blends[0]
	third.ID, third.MeasuredFlow = "third", quantity.Of[quantity.Factor]{}
	p.Blends = append(p.Blends, third)
	assert.InEpsilon(t, 1.3, value(t, evaluate(t, p), 3, MeltFlow), 1e-9, "the first one, while none is named")
	p.Melt.PinBlend = "twin"
	assert.InEpsilon(t, 1.1, value(t, evaluate(t, p), 3, MeltFlow), 1e-9)
}

// TestFlowTestsMakeTheRatio: two good tests stand for a measured melt flow, and the
// blend's own rate for its melt flow rate.
func TestFlowTestsMakeTheRatio(t *testing.T) {
	p := quiet()
	p.Melt.Tests = []project.FlowTest{plainTest, filledTest}
	s := evaluate(t, p)
	r := s.Blends[1].Results[MeltFlow]
	assert.InEpsilon(t, (0.250+0.254+0.247)/(0.200+0.203+0.198), r.Value, 1e-3, "geometric and arithmetic means hardly differ")
	assert.Equal(t, Measured, r.Basis)
	assert.InEpsilon(t, 600*(0.250+0.254+0.247)/3/30, value(t, s, 1, MeltFlowRate), 1e-9, "ISO 1133 factor 600")
	assert.InEpsilon(t, 600*(0.200+0.203+0.198)/3/30, value(t, s, 0, MeltFlowRate), 1e-9)
	assert.True(t, s.FlowTests[1].Used)
	assert.Equal(t, 0, s.FlowTests[1].Plain)

	p.Melt.Tests[1].SetAside = true
	s = evaluate(t, p)
	assert.Equal(t, Estimated, s.Blends[1].Results[MeltFlow].Basis, "set aside")
	p.Melt.Tests[1].SetAside = false
	p.Melt.Tests[0].Temperature = q[quantity.Temperature]("210 degC")
	s = evaluate(t, p)
	assert.Equal(t, Estimated, s.Blends[1].Results[MeltFlow].Basis, "made at another temperature")
}

// TestFlowTestsSayWhatTheyAre: which test is of a plain polymer, and the mean of the
// rates in their unit, with an interval as soon as there are two.
func TestFlowTestsSayWhatTheyAre(t *testing.T) {
	p := quiet()
	single := flowTest("filled", cuts(0.200))
	single.Procedure = project.Strand
	p.Melt.Tests = []project.FlowTest{plainTest, filledTest, single, flowTest("filled", nil)}
	tests := evaluate(t, p).FlowTests
	assert.True(t, tests[0].OfPlain)
	assert.False(t, tests[1].OfPlain)
	assert.Equal(t, tests[0].MFR, tests[0].Mean)
	assert.InEpsilon(t, 4.0, tests[2].Mean.Value, 1e-9, "0.2 g in half a minute")
	assert.True(t, tests[2].Mean.Certain())
	assert.False(t, tests[3].Mean.Known())
}

// TestLawsSayWhatEndsThem: a law that was made for less powder says for how much.
func TestLawsSayWhatEndsThem(t *testing.T) {
	laws := evaluate(t, quiet()).Blends[1].Melt.Laws
	for _, law := range laws {
		assert.Equal(t, law.Valid, law.Content.Value <= law.Highest.Value, law.ID)
	}
	assert.InEpsilon(t, 2.0, laws[0].Highest.Value, 1e-9)
	assert.False(t, laws[0].ByPacking)
	assert.True(t, laws[len(laws)-1].ByPacking)
	p := quiet()
	p.Materials[1].PackingLimit = quantity.Of[quantity.Fraction]{}
	laws = evaluate(t, p).Blends[1].Melt.Laws
	assert.False(t, laws[len(laws)-1].Highest.Known())
	assert.True(t, laws[0].Highest.Known())
}

// TestReasonsAreToldWithTheirBands: in the note, no factor stands without its interval,
// except one that has none to be seen.
func TestReasonsAreToldWithTheirBands(t *testing.T) {
	id, values := banded(newResult(2.03, 1, 6.6, "1", Estimated)).Message()
	assert.Equal(t, "pane.with_interval", id)
	assert.Len(t, values, 3)
	id, _ = banded(newResult(1.016, 1.006, 1.026, "1", Estimated)).Message()
	assert.Equal(t, "pane.value", id, "both ends print as 1")
	id, _ = banded(newResult(0.733, 0.726, 0.739, "1", Estimated)).Message()
	assert.Equal(t, "pane.with_interval", id)
}

// TestSeverityCarriesItsInterval: that of the time alone, of the temperature alone, and
// of both, which are independent.
func TestSeverityCarriesItsInterval(t *testing.T) {
	severity := func(temperature, residence string) Result {
		p := quiet()
		p.Melt.Temperature, p.Melt.Residence = q[quantity.Temperature](temperature), q[quantity.Duration](residence)
		return evaluate(t, p).Blends[1].Melt.Window.Severity
	}
	exact := severity("190 degC", "4 min")
	assert.True(t, exact.Certain())
	assert.InEpsilon(t, 4*math.Exp(-15000*(1/463.15-1.0/473)), exact.Value, 1e-9)
	time, heat, both := severity("190 degC", "4 ± 1 min"), severity("190 ± 5 degC", "4 min"), severity("190 ± 5 degC", "4 ± 1 min")
	assert.InEpsilon(t, math.Exp(15000*(1/463.15-1/468.15)), heat.High/heat.Value, 1e-9)
	up := func(r Result) float64 { return math.Log(r.High / r.Value) }
	assert.InEpsilon(t, math.Hypot(up(time), up(heat)), up(both), 1e-9)
	assert.Less(t, both.Low, both.Value)
	assert.False(t, severity("190 degC", "").Known())
}
