package bench

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/printed"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// cuts are rows of a melt-flow test by masses in grams, half a minute each.
func cuts(grams ...float64) []project.FlowRow {
	var rows []project.FlowRow
	for _, g := range grams {
		rows = append(rows, project.FlowRow{Time: q[quantity.Duration]("30 s"), Mass: q[quantity.Mass](fmt.Sprintf("%.4f g", g))})
	}
	return rows
}

func flowTest(blend project.BlendID, rows []project.FlowRow) project.FlowTest {
	return project.FlowTest{
		Blend: blend, Procedure: project.CutOffs, Temperature: q[quantity.Temperature]("200 degC"), Load: q[quantity.Mass]("2.16 kg"), Rows: rows,
	}
}

func withTests(tests ...project.FlowTest) func(p *project.Project) {
	return func(p *project.Project) { p.Melt.Tests = tests }
}

var (
	plainTest  = flowTest("plain", cuts(0.200, 0.203, 0.198))
	filledTest = flowTest("filled", cuts(0.250, 0.254, 0.247))
)

// pellets are entered so that whole ones carry about 5 wt% of the sieved powder.
func pellets(p *project.Project) {
	p.Line.Spreading.PelletDiameter, p.Line.Spreading.PelletLength = q[quantity.Length]("3 mm"), q[quantity.Length]("3 mm")
	powder := &p.Materials[1].Powder
	powder.Sieving.Charge, powder.Sieving.Pan = q[quantity.Mass]("100 g"), q[quantity.Mass]("40 g")
	powder.Sieving.Sieves = []material.Sieve{
		{Opening: q[quantity.Length]("75 um"), Retained: q[quantity.Mass]("20 g")}, {Opening: q[quantity.Length]("63 um"), Retained: q[quantity.Mass]("40 g")},
	}
}

// lineSituations lead to one note each, of the blend with powder or of the project.
var lineSituations = []noteSituation{
	{"screens finer than the powder", func(p *project.Project) {
		pellets(p)
		p.Materials[1].Powder.Sieving.Sieves = []material.Sieve{
			{Opening: q[quantity.Length]("106 um"), Retained: q[quantity.Mass]("0 g")},
			{Opening: q[quantity.Length]("75 um"), Retained: q[quantity.Mass]("20 g")},
			{Opening: q[quantity.Length]("63 um"), Retained: q[quantity.Mass]("40 g")},
		}
		p.Line.Machine.Screens = []quantity.Of[quantity.Length]{q[quantity.Length]("250 um"), q[quantity.Length]("63 um"), q[quantity.Length]("250 um")}
	}, "screens_fill", Caution, "/line/machine/screens"},
	{"screens coarser than the nozzle takes", func(p *project.Project) {
		p.Print.Nozzle, p.Line.Machine.Screens = q[quantity.Length]("0.4 mm"), []quantity.Of[quantity.Length]{q[quantity.Length]("250 um")}
	}, "screens_too_coarse", Info, "/line/machine/screens"},
	{"two passes with water", func(p *project.Project) {
		p.Materials[1].Moisture, p.Line.Spreading.Passes = q[quantity.Fraction]("0.3 %"), 2
	}, "second_pass", Info, "/line/spreading/passes"},
	{"regrind of unknown content", func(p *project.Project) {
		withRegrind(p)
		p.Materials[3].Regrind.Content = quantity.Of[quantity.Fraction]{}
	}, "regrind_content_missing", Stop, "/materials/3/regrind/content"},
	{"much regrind", func(p *project.Project) {
		withRegrind(p)
		filled(p).Parts[2].Amount = amount("30 wt%")
	}, "regrind_over", Caution, "/materials/3/regrind/limit"},
	{"regrind of the fourth pass", func(p *project.Project) {
		withRegrind(p)
		p.Materials[3].Regrind.Passes = 3
	}, "regrind_often", Caution, "/materials/3/regrind/passes"},
	{"regrind of unknown drift", func(p *project.Project) {
		withRegrind(p)
		p.Materials[3].Regrind.Drift = quantity.Of[quantity.Factor]{}
	}, "regrind_drift", Info, "/materials/3/regrind/drift"},
	{"regrind that runs thin", func(p *project.Project) {
		withRegrind(p)
		p.Materials[3].Regrind.Drift, p.Materials[3].Regrind.Passes = q[quantity.Factor]("4"), 2
	}, "melt_regrind_dominates", Info, "/materials/3/regrind/drift"},
	{"damp regrind", func(p *project.Project) {
		withRegrind(p)
		p.Materials[3].Moisture = quantity.Of[quantity.Fraction]{}
	}, "pellet_moisture_missing", Caution, "/materials/3/moisture"},
	{"a zone above the onset", func(p *project.Project) {
		p.Line.Zones = []quantity.Of[quantity.Temperature]{q[quantity.Temperature]("180 degC"), q[quantity.Temperature]("235 degC")}
	}, "zone_above_onset", Stop, "/line/zones/1"},
	{"a nozzle above the onset", func(p *project.Project) { p.Print.Temperature = q[quantity.Temperature]("240 degC") }, "print_above_onset", Caution, "/print/temperature"},
	{"no window", func(p *project.Project) { p.Materials[1].Onset = q[quantity.Temperature]("190 degC") }, "window_empty", Caution, "/melt/temperature"},
	{"colder than the rates of scission", func(p *project.Project) {
		p.Materials[1].Moisture, p.Melt.Temperature = q[quantity.Fraction]("0.3 %"), q[quantity.Temperature]("160 degC")
	}, "outside_scission_range", Caution, "/melt/temperature"},
	{"long in the melt", func(p *project.Project) {
		p.Materials[1].Class = material.Organic
		p.Melt.Residence = q[quantity.Duration]("30 min")
	}, "heat_severity", Caution, "/melt/temperature"},
	{"a wide die", func(p *project.Project) { p.Line.Machine.DieBore = q[quantity.Length]("4 mm") }, "draw_down_high", Caution, "/line/machine/die_bore"},
	{"a narrow die", func(p *project.Project) { p.Line.Machine.DieBore = q[quantity.Length]("1.7 mm") }, "draw_down_low", Caution, "/line/machine/die_bore"},
	{"too much for the pellets", func(p *project.Project) {
		pellets(p)
		filled(p).Parts[1].Amount = amount("9 wt%")
	}, "powder_falls_off", Caution, "/line/spreading/ground"},
	{"too coarse to stay on any pellets", func(p *project.Project) {
		pellets(p)
		filled(p).Parts[1].Amount = amount("20 wt%")
		p.Materials[1].Powder.Sieving.Sieves[0].Opening = q[quantity.Length]("600 um")
		p.Materials[1].Powder.Sieving.Sieves[1].Opening = q[quantity.Length]("500 um")
	}, "powder_falls_off_ground", Caution, "/line/spreading/ground"},
	{"ground, but how fine is not said", func(p *project.Project) {
		pellets(p)
		p.Line.Spreading.Ground, p.Line.Spreading.GroundSize = q[quantity.Fraction]("30 %"), quantity.Of[quantity.Length]{}
	}, "ground_size_missing", Info, "/line/spreading/ground_size"},
	{"a slow swing", func(p *project.Project) {
		p.Line.Machine.MeltVolume, p.Line.Spreading.FeedPeriod = q[quantity.Volume]("30 mL"), q[quantity.Duration]("30 min")
	}, "feed_swing", Info, "/line/spreading/feed_period"},
	{"shell on a line", func(p *project.Project) {
		p.Materials[1].Class, p.Line.ScrewSpeed = material.Shell, q[quantity.Rotation]("20 rpm")
	}, "abrasive_powder", Info, "/line/machine/die_bore"},
	{"plant powder on a line", func(p *project.Project) {
		p.Materials[1].Class, p.Line.ScrewSpeed = material.Organic, q[quantity.Rotation]("20 rpm")
	}, "shut_down_organic", Info, "/line/zones"},
	{"plant powder on a line can plug it", func(p *project.Project) {
		p.Materials[1].Class, p.Line.ScrewSpeed = material.Organic, q[quantity.Rotation]("20 rpm")
	}, "safety_plugged_die", Info, "/line/die_pressure"},
	{"a test without readings", withTests(flowTest("plain", nil)), "flow_test_empty", Info, "/melt/tests/0/rows"},
	{"a test of no blend", withTests(flowTest("", cuts(0.2, 0.2, 0.201))), "flow_test_no_blend", Caution, "/melt/tests/0/blend"},
	{"a test of two pieces", withTests(flowTest("plain", cuts(0.2, 0.201))), "flow_test_few", Caution, "/melt/tests/0/rows"},
	{"an uneven test", withTests(flowTest("plain", cuts(0.2, 0.201, 0.25))), "flow_test_uneven", Caution, "/melt/tests/0/rows"},
	{"travel without density", func(p *project.Project) {
		t := flowTest("plain", nil)
		t.Procedure = project.Piston
		for _, mm := range []string{"5.1 mm", "5.2 mm", "5.0 mm"} {
			t.Rows = append(t.Rows, project.FlowRow{Time: q[quantity.Duration]("30 s"), Travel: q[quantity.Length](mm)})
		}
		p.Melt.Tests = []project.FlowTest{t}
	}, "flow_test_no_density", Caution, "/melt/tests/0/melt_density"},
	{"a test of another recipe", func(p *project.Project) {
		t := filledTest
		t.Content = q[quantity.Fraction]("10 wt%")
		p.Melt.Tests = []project.FlowTest{plainTest, t}
	}, "flow_test_other_content", Caution, "/melt/tests/1/content"},
	{"nothing to compare with", withTests(filledTest), "flow_test_no_plain", Info, "/melt/tests/0/blend"},
	{"a scale too coarse", withTests(flowTest("plain", cuts(0.2, 0.2, 0.2)), flowTest("filled", cuts(0.3, 0.3, 0.3))), "flow_test_no_spread", Info, "/melt/tests/1/rows"},
	{"bubbles", func(p *project.Project) {
		t := flowTest("plain", cuts(0.2, 0.201, 0.199, 0.18))
		t.Rows[3].Bubbles = true
		p.Melt.Tests = []project.FlowTest{t}
	}, "flow_test_bubbles", Caution, "/melt/tests/0/rows"},
	{"nothing measured to settle the model", func(p *project.Project) { p.Melt.Pin = project.PinGrains }, "pin_no_measurement", Info, "/melt/pin"},
	{"grains cannot thin the melt", func(p *project.Project) {
		p.Melt.Pin, filled(p).MeasuredFlow = project.PinGrains, q[quantity.Factor]("1.5")
	}, "pin_impossible_grains", Caution, "/melt/pin"},
	{"no oil to explain it", func(p *project.Project) {
		p.Melt.Pin, filled(p).MeasuredFlow = project.PinOil, q[quantity.Factor]("1.5")
	}, "pin_impossible_oil", Caution, "/melt/pin"},
	{"no water to explain it", func(p *project.Project) {
		p.Melt.Pin, filled(p).MeasuredFlow = project.PinWater, q[quantity.Factor]("0.3")
	}, "pin_impossible_water", Caution, "/melt/pin"},
	{"stable before the melt has passed", func(p *project.Project) {
		p.Line.Machine.MeltVolume, p.Line.Changes.StableAfter = q[quantity.Volume]("30 mL"), q[quantity.Duration]("1 min")
	}, "stable_does_not_suit", Caution, "/line/changes/stable_after"},
}

// TestLineSituations brings each situation about, and wants its note there and not
// without it.
func TestLineSituations(t *testing.T) {
	notes := func(p project.Project) []Note {
		s := evaluate(t, p)
		return append(slices.Clone(s.Blends[1].Notes), s.Notes...)
	}
	before := noteIDs(notes(quiet()))
	for _, c := range lineSituations {
		t.Run(c.name, func(t *testing.T) {
			p := quiet()
			c.change(&p)
			all := notes(p)
			i := slices.IndexFunc(all, func(n Note) bool { return n.ID == c.note })
			require.GreaterOrEqual(t, i, 0, "%s", noteIDs(all))
			assert.Equal(t, c.severity, all[i].Severity)
			assert.Equal(t, c.field, all[i].Field)
			assert.NotContains(t, before, c.note)
		})
	}
}

// Half a lump per gram of powder at 20 wt% in a strand of 1.277538 g/cm3: 0.61456 g of
// powder in a metre, so 0.3073 lumps; ten metres are free of them with exp(-3.073).
func TestLumpsPerMetre(t *testing.T) {
	p := bare(wood(), "20 wt%")
	filled(&p).MeasuredDensity = q[quantity.Density]("1.277538 g/cm3")
	filled(&p).Evenness = project.Evenness{Lumps: 100, Searched: q[quantity.Mass]("1000 g")} // of strand, 200 g of it powder
	metres := 10 * 1.277538 * math.Pi / 4 * 1.75 * 1.75                                      // grams in ten of them
	p.Print.Mass = q[quantity.Mass](fmt.Sprintf("%.6f g", metres))
	s := evaluate(t, p)
	perMetre := value(t, s, 1, LumpsPerMetre)
	printed.Equal(t, "0.3073", perMetre, arith)
	printed.Equal(t, "0.0463", 1-value(t, s, 1, LumpChancePerPrint)/100, arith)
}
