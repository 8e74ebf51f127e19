package bench

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// blocked is the severity of a note that the drying time waits for.
func blocked(t *testing.T, s *Sheet, id string) Severity {
	t.Helper()
	n, found := note(s.Blends[1].Notes, id)
	require.True(t, found, "%s: %v", id, noteIDs(s.Blends[1].Notes))
	assert.Contains(t, n.Blocks, DryingTime, id)
	assert.False(t, s.Blends[1].Result(DryingTime).Known(), id)
	return n.Severity
}

// What an oven of which the room is not known leaves counts as nothing, and can be
// what it leaves in a room of 30 °C and 80 %, and a quarter of that more.
func TestUnknownFloorOpensTheMoistureUpwards(t *testing.T) {
	for oven, most := range map[string]float64{
		"45 degC":  filler.OvenFloor(303.15, 0.8, 318.15),
		"":         filler.OvenFloor(303.15, 0.8, 333.15),
		"140 degC": filler.OvenFloor(303.15, 0.8, filler.WoodHottestK),
		"10 degC":  filler.WoodMoisture(283.15, 0.95),
		"-20 degC": filler.WoodMoisture(filler.WoodColdestK, 0.95),
	} {
		p := quiet()
		run := goodLog(&p)
		if oven != "" {
			run.OvenTemperature = q[quantity.Temperature](oven)
		}
		open := evaluate(t, p)
		p.Materials[1].Class = material.Mineral
		opensUpwards(t, evaluate(t, p).Powder(1).Drying.Runs[0], open.Powder(1).Drying.Runs[0], 1.25*most)
		now, figure := open.Powder(1).Drying.Runs[0].Now, open.Blends[1].Result(PowderMoisture)
		assert.InEpsilon(t, now.Value, figure.Value, 1e-9)
		assert.InDelta(t, now.Low, figure.Low, 1e-3)
		assert.Greater(t, figure.High, now.Value+100*filler.WetBasis(1.2*most))
		_, _, _, high := open.Powder(1).Drying.Runs[0].Sample(2, 4)
		assert.GreaterOrEqual(t, now.High, high[1], "the band of the picture")
		assert.Less(t, now.High, high[1]+0.2, "and by what the weighings lie beside it")
	}
}

// opensUpwards compares a run of which the floor is nothing with one of which it may
// be up to most.
func opensUpwards(t *testing.T, none, open RunSheet, most float64) {
	t.Helper()
	for _, r := range [][2]Result{{none.InitialDry, open.InitialDry}, {none.NowDry, open.NowDry}} {
		assert.Equal(t, Measured, r[0].Basis)
		assert.Equal(t, Estimated, r[1].Basis)
		assert.InDelta(t, r[0].Value, r[1].Value, 1e-12, "taken as nothing")
		assert.InDelta(t, r[0].Low, r[1].Low, 1e-12)
		more := (100 + r[0].Value) * most
		assert.InEpsilon(t, math.Hypot(r[0].High-r[0].Value, more), r[1].High-r[1].Value, 1e-9)
	}
	assert.InDelta(t, none.DryMass.Value, open.DryMass.Value, 1e-9)
	assert.InDelta(t, none.DryMass.High, open.DryMass.High, 1e-9)
	assert.InEpsilon(t, math.Hypot(none.DryMass.Value-none.DryMass.Low, none.DryMass.Value*most), open.DryMass.Value-open.DryMass.Low, 1e-9)
}

// A target that a humid room may keep the oven from has no time; above that the time
// is up to what it would be there.
func TestUnknownFloorAndTheTime(t *testing.T) {
	p := quiet()
	goodLog(&p).OvenTemperature = q[quantity.Temperature]("45 degC")
	most := 1.25 * filler.OvenFloor(303.15, 0.8, 318.15)
	drying := &benchOf(&p).Drying
	drying.Target = q[quantity.Fraction]("2 %")
	s := evaluate(t, p)
	assert.Equal(t, Caution, blocked(t, s, "oven_floor_unknown"))
	assert.True(t, s.Blends[1].Drying.Doubtful && !s.Blends[1].Drying.Beyond && !s.Blends[1].Drying.Time.Known())

	drying.Target = q[quantity.Fraction]("20 %")
	s = evaluate(t, p)
	n, _ := note(s.Blends[1].Notes, "oven_floor_unknown")
	assert.Equal(t, Info, n.Severity)
	u := s.Blends[1].Drying
	require.True(t, u.Time.Known())
	assert.Equal(t, Estimated, u.Time.Basis)
	p.Materials[1].Class = material.Mineral
	exact := evaluate(t, p).Blends[1].Drying.Time
	assert.InDelta(t, exact.Value, u.Time.Value, 1e-12)
	assert.InDelta(t, exact.Low, u.Time.Low, 1e-12)
	// Lewis: t = τ·ln((M0 - Me)/(M - Me)), with all moistures on the dry mass that the
	// floor leaves
	fit := evaluate(t, p).Powder(1).Drying.Runs[0]
	late := math.Log((1+most)*(fit.InitialDry.Value/100)/(0.25-most)) / fit.Fits[0].K.Value / 60
	assert.InEpsilon(t, math.Hypot(math.Log(late/u.Time.Value), math.Log(exact.High/exact.Value)), math.Log(u.Time.High/u.Time.Value), 1e-3)
	assert.InEpsilon(t, u.Time.High, evaluateClass(t, &p, material.Organic).High, 1e-6, "as the figure has it")
}

// evaluateClass is the drying time with another class.
func evaluateClass(t *testing.T, p *project.Project, class material.Class) Result {
	t.Helper()
	p.Materials[1].Class = class
	return evaluate(t, *p).Blends[1].Result(DryingTime)
}

// The floor of wood is known within a quarter, and the time to a target near it hangs
// on that: 3.792 and 4.045 h are the times by three quarters and five quarters of it.
func TestTimeKnowsWhatTheFloorMayBeOffBy(t *testing.T) {
	p := quiet()
	inTheRoom(goodLog(&p))
	benchOf(&p).Drying.Target = q[quantity.Fraction]("0.2 %")
	s := evaluate(t, p)
	assert.InDelta(t, 3.907, s.Blends[1].Result(DryingTime).Value, 5e-4)
	for name, r := range map[string]Result{"figure": s.Blends[1].Result(DryingTime), "use": s.Blends[1].Drying.Time} {
		assert.InDelta(t, 3.907*math.Exp(-math.Hypot(math.Log(3.907/3.890), math.Log(3.907/3.792))), r.Low, 2e-3, name)
		assert.InDelta(t, 3.907*math.Exp(math.Hypot(math.Log(3.924/3.907), math.Log(4.045/3.907))), r.High, 2e-3, name)
	}
	benchOf(&p).Drying.Target = q[quantity.Fraction]("10 %")
	wide := evaluate(t, p).Blends[1].Result(DryingTime)
	assert.Less(t, wide.High/wide.Low, 1.015, "far above it it hardly matters")

	benchOf(&p).Drying.OtherTemperature = q[quantity.Temperature]("103 degC")
	benchOf(&p).Drying.Target = q[quantity.Fraction]("0.2 %")
	u := evaluate(t, p).Blends[1].Drying
	assert.InEpsilon(t, u.Time.Low, u.Shifted.Low, 1e-9, "the same oven again")
	assert.InEpsilon(t, u.Time.High, u.Shifted.High, 1e-9)

	benchOf(&p).Drying.Target = q[quantity.Fraction]("0.1 %")
	assert.Equal(t, Caution, blocked(t, evaluate(t, p), "drying_target_doubtful"))
	assert.Equal(t, "doubtful", evaluate(t, p).Blends[1].Drying.ShiftedWhy)
}

// A powder so slow that its weighings agree while its curve goes on counts as dry by
// the rule, and may lose half a per cent more.
func TestSlowPowder(t *testing.T) {
	p := quiet()
	p.Materials[1].Class = material.Mineral
	dryingLog(&p, "0", "100.00", "40", "99.98", "80", "99.97")
	s := evaluate(t, p)
	run := s.Powder(1).Drying.Runs[0]
	require.True(t, run.Constant.Reached && run.Fits[0].OpenEnded)
	assert.InDelta(t, 99.97, run.DryMass.Value, 1e-9)
	assert.InEpsilon(t, 99.97*(1-0.005), run.DryMass.Low, 1e-9)
	assert.InDelta(t, 0, run.NowDry.Value, 1e-9)
	both := math.Hypot(0.1, 100*2*0.01/math.Sqrt(6)/99.97) // as two weighings agree
	assert.InEpsilon(t, math.Hypot(both, 0.5), run.NowDry.High, 1e-6)
	assert.InEpsilon(t, 100*(100/99.97-1), run.InitialDry.Value, 1e-6)
	assert.InDelta(t, 0, run.InitialDry.Low, 1e-9)
	assert.Equal(t, Caution, blocked(t, s, "drying_slow_end"))
	assert.False(t, hasNote(s, 1, "drying_open_end"))
	assert.InEpsilon(t, filler.WetBasis(run.NowDry.High/100)*100, s.Blends[1].Result(PowderMoisture).High, 0.02)

	dryingLog(&p, "0", "100.00", "40", "99.80", "80", "99.61")
	s = evaluate(t, p)
	assert.False(t, s.Powder(1).Drying.Runs[0].DryMass.Known(), "it still changes")
	blocked(t, s, "drying_open_end")
}

// A dry mass that the charge does not weigh is left aside: all is as without it.
func TestDryMassAboveIsLeftAside(t *testing.T) {
	p := quiet()
	inTheRoom(goodLog(&p))
	benchOf(&p).Drying.Target = q[quantity.Fraction]("2 %")
	without := evaluate(t, p)
	for _, dry := range []string{"101 g", "150 g", "103 ± 2 g"} {
		benchOf(&p).Drying.Runs[0].DryMass = q[quantity.Mass](dry)
		s := evaluate(t, p)
		assert.True(t, hasNote(s, 1, "drying_dry_mass_above"), dry)
		for _, f := range []Figure{PowderMoisture, DryingTime} {
			assert.Equal(t, without.Blends[1].Result(f), s.Blends[1].Result(f), "%s: %s", dry, f.Key())
		}
		assert.Equal(t, without.Powder(1).Drying.Runs[0].DryMass, s.Powder(1).Drying.Runs[0].DryMass, dry)
	}
	benchOf(&p).Drying.Runs[0].DryMass = q[quantity.Mass]("101 ± 1 g")
	s := evaluate(t, p)
	assert.False(t, hasNote(s, 1, "drying_dry_mass_above"), "within its ±")
	assert.InDelta(t, 101, s.Powder(1).Drying.Runs[0].DryMass.Value, 1e-9)
}

// Of a powder that dried further than wood would, the last weighing tells what the
// oven leaves at most, not the table of wood.
func TestDryMassBoundsTheFloor(t *testing.T) {
	p := quiet()
	inTheRoom(goodLog(&p))
	run := &benchOf(&p).Drying.Runs[0]
	run.RoomHumidity, run.OvenTemperature = q[quantity.Fraction]("60 %"), q[quantity.Temperature]("45 degC")
	require.Greater(t, evaluate(t, p).Powder(1).Drying.Runs[0].FloorDry.Value, 3.0)
	run.DryMass = q[quantity.Mass]("99.5 g")
	s := evaluate(t, p)
	floor := s.Powder(1).Drying.Runs[0].FloorDry
	assert.InDelta(t, 100*(100.1+0.01-99.5)/99.5, floor.Value, 1e-6, "and a step of the scale")
	assert.Zero(t, floor.Low)
	assert.Equal(t, "weighed", s.Powder(1).Drying.Runs[0].FloorFrom)
	assert.InDelta(t, 100*(100.1-99.5)/99.5, s.Powder(1).Drying.Runs[0].NowDry.Value, 0.15, "by the curve")
	assert.False(t, hasNote(s, 1, "drying_dry_mass_above"), "the dry mass itself may well be right")
}

// While no row of a log can be read, the time waits for what is wrong with them, and
// nobody says that there is no log.
func TestUnreadableLogSaysWhy(t *testing.T) {
	for id, change := range map[string]func(r *material.DryingRun){
		"drying_no_tare":    func(r *material.DryingRun) { r.Trays = make([]quantity.Of[quantity.Mass], 1) },
		"drying_below_tare": func(r *material.DryingRun) { r.Trays = []quantity.Of[quantity.Mass]{q[quantity.Mass]("500 g")} },
		"drying_no_mass": func(r *material.DryingRun) {
			for i := range r.Readings {
				r.Readings[i].Masses = nil
			}
		},
	} {
		p := quiet()
		r := goodLog(&p)
		inTheRoom(r)
		change(r)
		s := evaluate(t, p)
		blocked(t, s, id)
		assert.False(t, hasNote(s, 1, "drying_log_missing"), id)
	}
	p := quiet()
	inTheRoom(goodLog(&p))
	r := &benchOf(&p).Drying.Runs[0]
	r.Trays = []quantity.Of[quantity.Mass]{q[quantity.Mass]("0 g"), {}}
	for i := range r.Readings {
		r.Readings[i].Masses = append(r.Readings[i].Masses, r.Readings[i].Masses[0])
	}
	n, found := note(evaluate(t, p).Blends[1].Notes, "drying_no_tare")
	require.True(t, found)
	assert.Equal(t, benchAt+"/drying/runs/0/trays/1", n.Field, "the tray that has none")
}

// 38 kJ/mol, 10 to 56: each side of a time in another oven is that of its own side.
func TestShiftKeepsTheSidesOfTheEnergyApart(t *testing.T) {
	p := quiet()
	p.Materials[1].Class = material.Mineral
	run := goodLog(&p)
	run.OvenTemperature = q[quantity.Temperature]("103.0 ± 0 degC")
	drying := &benchOf(&p).Drying
	drying.Target = q[quantity.Fraction]("2 %")
	for _, c := range []struct {
		other     string
		low, high float64 // energy of the earlier and the later time
	}{{"60.0 ± 0 degC", 10, 56}, {"140.0 ± 0 degC", 56, 10}} {
		drying.OtherTemperature = q[quantity.Temperature](c.other)
		u := evaluate(t, p).Blends[1].Drying
		at := func(kJMol float64) float64 {
			return u.Time.Value / filler.RateFactor(kJMol*1e3, run.OvenTemperature.SI(), drying.OtherTemperature.SI())
		}
		assert.InEpsilon(t, at(38), u.Shifted.Value, 1e-9, c.other)
		own := math.Log(u.Time.High / u.Time.Value)
		assert.InEpsilon(t, math.Hypot(own, math.Log(at(38)/at(c.low))), math.Log(u.Shifted.Value/u.Shifted.Low), 1e-6, c.other)
		assert.InEpsilon(t, math.Hypot(own, math.Log(at(c.high)/at(38))), math.Log(u.Shifted.High/u.Shifted.Value), 1e-6, c.other)
	}
}
