package bench

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// floorOf is the moisture that the oven of inTheRoom leaves, dry basis.
func floorOf() float64 { return filler.OvenFloor(294.15, 0.5, 376.15) }

// A dry mass from elsewhere fixes the end of the curve, with what the oven leaves on
// top of it: 1 kg that dries by Page's law from 1.5 to the floor.
func TestDryMassFixesTheEndOfTheCurve(t *testing.T) {
	p := bare(wood(), "20 wt%")
	floor := floorOf()
	run := material.DryingRun{DryMass: q[quantity.Mass]("1000 g")}
	for _, minutes := range []float64{0, 5, 10, 15, 20, 30, 45} { // long before the mass levels off
		moisture := floor + (1.5-floor)*math.Exp(-0.012*math.Pow(minutes, 1.15))
		run.Readings = append(run.Readings, material.DryingReading{
			Time:   q[quantity.Duration](fmt.Sprintf("%g min", minutes)),
			Masses: []quantity.Of[quantity.Mass]{q[quantity.Mass](fmt.Sprintf("%.9f g", 1000*(1+moisture)))},
		})
	}
	inTheRoom(&run)
	benchOf(&p).Drying.Runs = []material.DryingRun{run}
	benchOf(&p).Drying.Target = q[quantity.Fraction]("3 %")
	s := evaluate(t, p)
	fit := s.Powder(1).Drying.Runs[0].Fits[1]
	assert.InEpsilon(t, 0.012, fit.K.Value, 1e-6)
	assert.InEpsilon(t, 1000*(1+floor), fit.End.Value, 1e-9)
	target := 0.03 / 0.97
	minutes := math.Pow(-math.Log((target-floor)/(1.5-floor))/0.012, 1/1.15)
	assert.InEpsilon(t, minutes/60, value(t, s, 1, DryingTime), 1e-6)
	assert.InEpsilon(t, 150, s.Powder(1).Drying.Runs[0].InitialDry.Value, 1e-6)
	assert.False(t, hasNote(s, 1, "drying_open_end"), "the dry mass says where it ends")

	benchOf(&p).Drying.Runs[0].DryMass = quantity.Of[quantity.Mass]{}
	s = evaluate(t, p)
	assert.True(t, hasNote(s, 1, "drying_open_end"))
	assert.False(t, s.Blends[1].Result(DryingTime).Known(), "no end that was not seen")
	assert.False(t, s.Powder(1).Drying.Runs[0].Now.Known())
	assert.InDelta(t, 0, value(t, s, 1, PowderMoisture), 1e-12, "so that the card's moisture stands")
}

// Two weighings that agree after an hour say the dry mass without a curve that has
// an interval, less what the oven leaves.
func TestConstantMassIsTheDryMass(t *testing.T) {
	p := bare(wood(), "20 wt%")
	inTheRoom(dryingLog(&p, "0", "140", "60", "100.1", "120", "100.1"))
	s := evaluate(t, p)
	run := s.Powder(1).Drying.Runs[0]
	require.True(t, run.Constant.Reached)
	dry := 100.1 / (1 + floorOf())
	assert.InEpsilon(t, dry, run.DryMass.Value, 1e-9)
	assert.InEpsilon(t, 100*(140/dry-1), run.InitialDry.Value, 1e-9)
	assert.InEpsilon(t, 100*floorOf(), run.NowDry.Value, 1e-6)
	// 0.1 % that two weighings may differ by, and a quarter of the floor, which moves
	// the dry mass below all that was weighed
	half := 100 * math.Hypot(0.001, 0.25*floorOf()*140/100.1)
	assert.InEpsilon(t, half, run.InitialDry.High-run.InitialDry.Value, 1e-6)
	assert.Equal(t, Measured, s.Blends[1].Result(PowderMoisture).Basis)
}

// Minerals and metals keep next to nothing in an oven; a powder of no class may be
// a plant, and then the oven has to be known.
func TestFloorByClass(t *testing.T) {
	for class, asked := range map[material.Class]bool{
		material.Organic: true, "": true, material.Mineral: false, material.Metal: false, material.Shell: false,
	} {
		p := quiet()
		p.Materials[1].Class = class
		goodLog(&p)
		s := evaluate(t, p)
		assert.Equal(t, asked, hasNote(s, 1, "oven_floor_unknown"), "%q", class)
		assert.Equal(t, !asked, s.Powder(1).Drying.Runs[0].Floor.Known(), "%q", class)
		inTheRoom(&benchOf(&p).Drying.Runs[0])
		run := evaluate(t, p).Powder(1).Drying.Runs[0]
		assert.Equal(t, asked, run.FloorDry.Value > 0, "%q", class)
		assert.Equal(t, map[bool]string{true: "wood", false: "class"}[asked], run.FloorFrom, "%q", class)
	}
}

// The powder at hand went through the last run that tells a moisture.
func TestLastRunThatTellsAMoistureCounts(t *testing.T) {
	p := quiet()
	goodLog(&p)
	first := value(t, evaluate(t, p), 1, PowderMoisture)
	shorter := *goodLog(&p)
	shorter.Readings = shorter.Readings[:7]
	whole := *goodLog(&p)
	benchOf(&p).Drying.Runs = []material.DryingRun{whole, shorter, {Name: "not yet weighed"}}
	s := evaluate(t, p)
	assert.Equal(t, 1, s.Powder(1).Drying.Used)
	assert.Greater(t, value(t, s, 1, PowderMoisture), first, "an hour less")
	benchOf(&p).Drying.Runs = []material.DryingRun{shorter, whole}
	assert.Equal(t, first, value(t, evaluate(t, p), 1, PowderMoisture))

	for begun := range 3 { // weighings of a run that has just begun
		next := material.DryingRun{Readings: whole.Readings[:begun]}
		benchOf(&p).Drying.Runs = []material.DryingRun{whole, next}
		s = evaluate(t, p)
		assert.Equal(t, first, value(t, s, 1, PowderMoisture), "%d weighings", begun)
		assert.Equal(t, begun > 0, hasNote(s, 1, "drying_later_run"))
	}
	benchOf(&p).Drying.Runs = []material.DryingRun{{Readings: whole.Readings[:1]}, {Readings: whole.Readings[:2]}}
	assert.Equal(t, 1, evaluate(t, p).Powder(1).Drying.Used, "none tells any")
}

// What a curve says of the last weighing holds the weighing: it knows no better how wet
// the powder was than the masses lie beside it.
func TestMoistureByTheCurveHoldsTheWeighing(t *testing.T) {
	p := quiet()
	inTheRoom(dryingLog(&p, "0", "140.0", "20", "128", "40", "112", "60", "110", "90", "103", "120", "102.5", "180", "99.8", "240", "100.9"))
	run := evaluate(t, p).Powder(1).Drying.Runs[0]
	require.True(t, run.ByCurve)
	row := run.Rows[len(run.Rows)-1]
	assert.Greater(t, row.WetPercent, run.Now.Value)
	assert.Less(t, row.WetPercent, run.Now.High)

	dryingLog(&p, "0", "110", "60", "100", "120", "100")
	assert.False(t, evaluate(t, p).Powder(1).Drying.Runs[0].ByCurve, "by the masses alone")
}

// Against a dry mass that was entered the scale says how wet the powder is, whatever a
// curve to that mass makes of it.
func TestEnteredDryMassStandsAboveTheCurve(t *testing.T) {
	p := quiet()
	p.Materials[1].Class = material.Mineral
	goodLog(&p).DryMass = q[quantity.Mass]("99.5 g")
	run := evaluate(t, p).Powder(1).Drying.Runs[0]
	assert.False(t, run.ByCurve)
	assert.InEpsilon(t, 100*0.6/99.5, run.NowDry.Value, 1e-9, "100.1 g on the scale")
	assert.InDelta(t, run.Rows[len(run.Rows)-1].DryPercent, run.NowDry.Value, 1e-9)
}

// The ± of room and oven widens what the oven leaves, and the time with it.
func TestSpreadOfTheRoomWidensTheFloor(t *testing.T) {
	p := quiet()
	inTheRoom(goodLog(&p))
	benchOf(&p).Drying.Target = q[quantity.Fraction]("0.3 %")
	exact := evaluate(t, p)
	for name, change := range map[string]func(r *material.DryingRun){
		"humidity": func(r *material.DryingRun) { r.RoomHumidity = q[quantity.Fraction]("50 ± 20 %") },
		"room":     func(r *material.DryingRun) { r.RoomTemperature = q[quantity.Temperature]("21 ± 4 degC") },
		"oven":     func(r *material.DryingRun) { r.OvenTemperature = q[quantity.Temperature]("103 ± 5 degC") },
	} {
		wide := project.Clone(p)
		change(&benchOf(&wide).Drying.Runs[0])
		s := evaluate(t, wide)
		before, after := exact.Powder(1).Drying.Runs[0].Floor, s.Powder(1).Drying.Runs[0].Floor
		assert.Equal(t, before.Value, after.Value, name)
		assert.Less(t, after.Low, before.Low, name)
		assert.Greater(t, after.High, before.High, name)
		assert.Greater(t, s.Blends[1].Drying.Time.High, exact.Blends[1].Drying.Time.High, name)
	}
	benchOf(&p).Drying.Runs[0].OvenTemperature = q[quantity.Temperature]("25 ± 30 degC")
	floor := evaluate(t, p).Powder(1).Drying.Runs[0].FloorDry
	assert.GreaterOrEqual(t, floor.High, 100*filler.WoodMoisture(298.15, 0.95), "it may be below the dew point")
}

// Every run has times of its own, by its own curve and its own oven.
func TestEveryRunHasItsOwnTimes(t *testing.T) {
	p := quiet()
	inTheRoom(goodLog(&p))
	fast := project.Clone(p)
	slow := dryingLog(&p, "0", "140.0", "40", "124.3", "80", "114.7", "120", "108.9", "180", "104.2", "240", "102.0", "360", "100.4", "480", "100.1")
	inTheRoom(slow)
	begun := material.DryingRun{Readings: slow.Readings[:1]}
	benchOf(&p).Drying.Runs = []material.DryingRun{benchOf(&fast).Drying.Runs[0], *slow, begun}
	benchOf(&p).Drying.Target = q[quantity.Fraction]("2 %")
	b := evaluate(t, p).Blends[1]
	require.Len(t, b.DryingRuns, 3)
	assert.InEpsilon(t, 2*b.DryingRuns[0].Time.Value, b.DryingRuns[1].Time.Value, 1e-6, "half as fast")
	assert.False(t, b.DryingRuns[2].Time.Known())
	assert.True(t, b.DryingRuns[2].Target.Known(), "the target is that of the blend")
	assert.Equal(t, b.DryingRuns[1], b.Drying, "that of the powder at hand")
	assert.Equal(t, b.Result(DryingTime), b.Drying.Time, "told with one interval everywhere")
}

// Two equal weighings by a scale of 1 g say nothing of 100 g of powder; by one of
// 0.1 g they are its dry mass, known to a step of it.
func TestConstantMassNeedsAScaleThatSeesIt(t *testing.T) {
	p := quiet()
	p.Materials[1].Class = material.Mineral // that keeps nothing
	p.Batch.BalanceResolution = q[quantity.Mass]("1 g")
	dryingLog(&p, "0", "110", "60", "100", "120", "100")
	run := evaluate(t, p).Powder(1).Drying.Runs[0]
	assert.True(t, run.Constant.Known && run.Constant.TooCoarse)
	assert.False(t, run.Constant.Reached)
	assert.False(t, run.DryMass.Known(), "%v", run.DryMass)

	spread := func(step string) float64 {
		p.Batch.BalanceResolution = q[quantity.Mass](step)
		now := evaluate(t, p).Powder(1).Drying.Runs[0]
		require.True(t, now.Constant.Reached, step)
		return now.Now.High - now.Now.Value
	}
	// u = √((0.1 %/2)² + 2·(0.1 g)²/12/(100 g)²), twice that either way (by hand)
	assert.InEpsilon(t, 100*2*math.Hypot(0.0005, 0.1/math.Sqrt(6)/100), spread("0.1 g"), 2e-3)
	assert.Greater(t, spread("0.1 g"), spread("0.001 g"))
}

// What the polymer stands, less the water of its pellets, is what the powder may
// bring: M = (limit - own)·w_polymer/w_powder, of its dry mass.
func TestTargetFollowsTheLimit(t *testing.T) {
	p := quiet()
	inTheRoom(goodLog(&p))
	p.Materials[0].MoistureLimit, p.Materials[0].Moisture = q[quantity.Fraction]("400-600 ppm"), q[quantity.Fraction]("100 ppm")
	filled(&p).Parts[1].Amount = amount("5 wt%")
	u := evaluate(t, p).Blends[1].Drying
	require.Equal(t, "limit", u.TargetFrom)
	target := filler.TargetMoisture(400e-6, 100e-6/(1-100e-6), 0.95, 0.05)
	assert.InEpsilon(t, 100*target, u.Target.Value, 1e-3, "of a range, the grade that stands least")
	assert.InDelta(t, 0.57, u.Target.Value, 0.01, "19 times 300 ppm")
	assert.Equal(t, Estimated, u.Target.Basis)

	benchOf(&p).Drying.Target = q[quantity.Fraction]("2 %")
	u = evaluate(t, p).Blends[1].Drying
	assert.Equal(t, "entered", u.TargetFrom)
	assert.Equal(t, Entered, u.Target.Basis)
	assert.InDelta(t, 2, u.Target.Value, 1e-9)
}

// Storage: what was measured stands above one's own law, and that above wood's; the
// powder never goes beyond what it tends to, from either side.
func TestEquilibriumByWhatIsKnown(t *testing.T) {
	p := quiet()
	p.Materials[1].Moisture = q[quantity.Fraction]("20 %")
	s := &benchOf(&p).Storage
	s.OpenTime, s.UptakeTime = q[quantity.Duration]("1000 h"), q[quantity.Duration]("1 h")
	at := func(p *project.Project) (string, float64) {
		sheet := evaluate(t, *p)
		return sheet.Powder(1).Storage.From, value(t, sheet, 1, PowderMoisture)
	}
	nobodyKnows(t, &p, "storage_air_missing")
	s.Temperature, s.Humidity = q[quantity.Temperature]("20 degC"), q[quantity.Fraction]("50 %")
	from, moisture := at(&p)
	assert.Equal(t, "wood", from)
	assert.InEpsilon(t, 100*0.09271/1.09271, moisture, 1e-4, "wet powder gives off what it does not hold")
	s.Monolayer, s.GABC, s.GABK = q[quantity.Fraction]("4.5 %"), q[quantity.Factor]("12"), q[quantity.Factor]("0.85")
	from, moisture = at(&p)
	assert.Equal(t, "gab", from)
	assert.InEpsilon(t, 100*0.07033/1.07033, moisture, 1e-3)
	s.Equilibrium = q[quantity.Fraction]("6 %")
	from, moisture = at(&p)
	assert.Equal(t, "measured", from)
	assert.InEpsilon(t, 6, moisture, 1e-6)

	p.Materials[1].Class = material.Shell
	s.Equilibrium, s.Monolayer = quantity.Of[quantity.Fraction]{}, quantity.Of[quantity.Fraction]{}
	nobodyKnows(t, &p, "storage_measure") // shell is no wood
	p.Materials[1].Class = material.Organic
	s.Temperature = q[quantity.Temperature]("-18 degC")
	nobodyKnows(t, &p, "storage_air_beyond") // nor does the table of wood reach there
	s.OpenTime = q[quantity.Duration]("0 h")
	_, moisture = at(&p)
	assert.InDelta(t, 20, moisture, 1e-9, "not left open: as it was")
}

// nobodyKnows wants what a powder that was left open took up not to be known, and
// so its moisture and all that follows from it, with a note that says why.
func nobodyKnows(t *testing.T, p *project.Project, why string) {
	t.Helper()
	sheet := evaluate(t, *p)
	assert.Empty(t, sheet.Powder(1).Storage.From)
	for _, f := range []Figure{PowderMoisture, BlendMoisture, MeltFlowWater} {
		assert.False(t, sheet.Blends[1].Result(f).Known(), f.Key())
	}
	assert.True(t, hasNote(sheet, 1, why), noteIDs(sheet.Blends[1].Notes))
	assert.False(t, hasNote(sheet, 1, "powder_moisture_missing"), "it is given")
	assert.False(t, hasNote(sheet, 1, "out_of_reach"), "all that waits is told")
	assert.False(t, sheet.Blends[1].Batch.Rows[1].HasWeigh, "nor what to put on the scale")
	assert.Positive(t, sheet.Blends[1].Batch.Rows[1].DryG)
}

// Where a powder is mended that brings too much water: where most of it comes from.
func TestWaterLeadsToWhereItComesFrom(t *testing.T) {
	field := func(p *project.Project) string {
		n, found := note(evaluate(t, *p).Blends[1].Notes, "powder_damp")
		if !found {
			n, found = note(evaluate(t, *p).Blends[1].Notes, "powder_damp_hard")
		}
		require.True(t, found)
		return n.Field
	}
	p := quiet()
	p.Materials[1].Moisture = q[quantity.Fraction]("5 %")
	assert.Equal(t, "/materials/1/moisture", field(&p))
	run := goodLog(&p)
	inTheRoom(run)
	run.Readings = run.Readings[:7]
	assert.Equal(t, benchAt+"/drying/runs/0/readings", field(&p), "not dry enough yet")
	s := &benchOf(&p).Storage
	s.Equilibrium, s.OpenTime = q[quantity.Fraction]("9 %"), q[quantity.Duration]("5 h")
	assert.Equal(t, benchAt+"/storage/open_time", field(&p), "it took most of it from the air")
}

// Without a time constant of its own, powder takes up 63 % within 1 to 8 hours, as
// the middle of their logarithms.
func TestUsualUptake(t *testing.T) {
	p := quiet()
	s := &benchOf(&p).Storage
	s.Equilibrium, s.OpenTime = q[quantity.Fraction]("9 %"), q[quantity.Duration]("2 h")
	sheet := evaluate(t, p)
	tau := math.Sqrt(filler.UptakeFastS * filler.UptakeSlowS)
	dry := 0.09 / 0.91 * (1 - math.Exp(-7200/tau))
	r := sheet.Blends[1].Result(PowderMoisture)
	assert.InEpsilon(t, 100*dry/(1+dry), r.Value, 1e-9)
	assert.Equal(t, Estimated, r.Basis)
	end := func(tau float64) float64 { return 100 * filler.WetBasis(0.09/0.91*(1-math.Exp(-7200/tau))) }
	assert.InEpsilon(t, end(filler.UptakeSlowS), r.Low, 0.05, "as slow as it may be")
	assert.InEpsilon(t, end(filler.UptakeFastS), r.High, 0.05, "as fast as it may be")
	uptake := sheet.Powder(1).Storage.Uptake
	assert.InDelta(t, filler.UptakeFastS/3600, uptake.Low, 1e-9)
	assert.InDelta(t, filler.UptakeSlowS/3600, uptake.High, 1e-9)
	assert.InEpsilon(t, tau/3600, uptake.Value, 0.02)
}
