package bench

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// quiet is a project about which there is nothing to say but the usual cautions.
func quiet() project.Project {
	p := bare(wood(), "5 wt%")
	p.Materials[0].MoistureLimit = q[quantity.Fraction]("250 ppm")
	p.Materials[0].MeltRange = q[quantity.Temperature]("180-220 degC")
	p.Materials[1].Onset = q[quantity.Temperature]("230 degC")
	p.Materials = append(p.Materials, material.Material{
		ID: "oil", Name: "oil", Kind: material.Additive, Class: material.MineralOil,
		Density: q[quantity.Density]("0.87 g/cm3"), Price: q[quantity.PricePerMass]("10 EUR/kg"),
	})
	p.Spool.Diameter = q[quantity.Length]("1.75 ± 0.05 mm")
	p.Batch.BalanceResolution = q[quantity.Mass]("0.01 g")
	return p
}

func TestQuietProjectHasNoNotesButSafety(t *testing.T) {
	s := evaluate(t, quiet())
	for _, n := range s.Blends[1].Notes {
		bench := slices.Contains([]string{"drying_log_missing", "preparation_missing", "sieving_missing", "nozzle_missing"}, n.ID)
		assert.True(t, strings.HasPrefix(n.ID, "safety_") || n.ID == "melt_grains_dominate" || bench, n.ID)
		assert.Equal(t, Info, n.Severity, n.ID)
	}
	assert.ElementsMatch(t, []string{"no_powder", "safety_fumes", "safety_hot_parts", "safety_food_contact"}, noteIDs(s.Blends[0].Notes))
	assert.Empty(t, noteIDs(s.Notes), "planning has not begun")
}

// filled is the blend with powder of quiet.
func filled(p *project.Project) *project.Blend { return &p.Blends[1] }

func addOil(p *project.Project, content string, class material.Class) {
	p.Materials[2].Class = class
	filled(p).Parts = append(filled(p).Parts, project.Part{Material: "oil", Amount: amount(content)})
}

// noteSituation is something about a project that leads to a note.
type noteSituation struct {
	name     string
	change   func(p *project.Project)
	note     string
	severity Severity
	field    string
}

// situations lead to one note each, in the blend with powder.
var situations = []noteSituation{
	{
		"a part without amount", func(p *project.Project) { filled(p).Parts[1].Amount = project.Amount{} },
		"amount_missing", Stop, "/blends/1/parts/1/amount",
	},
	{
		"an amount missing beside a balance that is powder", func(p *project.Project) {
			filled(p).Parts[0].Amount, filled(p).Parts[1].Amount = project.Amount{}, amount("balance")
		},
		"amount_missing", Stop, "/blends/1/parts/0/amount",
	},
	{
		"an additive without amount beside a balance that is powder", func(p *project.Project) {
			filled(p).Parts = recipe("", "pla", "90 wt%", "wood", "balance", "oil", "").Parts
		},
		"amount_missing", Stop, "/blends/1/parts/2/amount",
	},
	{"no parts", func(p *project.Project) { filled(p).Parts = nil }, "no_parts", Stop, "/blends/1/parts"},
	{
		"parts of 95 %", func(p *project.Project) { filled(p).Parts[0].Amount = amount("90 wt%") },
		"parts_do_not_add_up", Stop, "/blends/1/parts/1/amount",
	},
	{"polymers of 90 phr", func(p *project.Project) {
		filled(p).Parts[0].Amount, filled(p).Parts[1].Amount = amount("90 phr"), amount("5 phr")
	}, "polymers_do_not_add_up", Stop, "/blends/1/parts/1/amount"},
	{"more than all", func(p *project.Project) {
		addOil(p, "97 wt%", material.MineralOil)
	}, "over_full", Stop, "/blends/1/parts/2/amount"},
	{"bases mixed", func(p *project.Project) {
		filled(p).Parts[0].Amount = amount("95 wt%")
		filled(p).Parts[1].Amount = amount("5 phr")
	}, "mixed_bases", Stop, "/blends/1/parts/1/amount"},
	{"phr without polymer", func(p *project.Project) {
		filled(p).Parts = filled(p).Parts[1:]
		filled(p).Parts[0].Amount = amount("5 phr")
	}, "phr_without_polymer", Stop, "/blends/1/parts"},
	{"vol% without density", func(p *project.Project) {
		filled(p).Parts[1].Amount = amount("5 vol%")
		p.Materials[1].Density = quantity.Of[quantity.Density]{}
	}, "volume_needs_density", Stop, "/materials/1/density"},
	{"phr of a polymer that is all there is", func(p *project.Project) {
		filled(p).Parts[0].Amount, filled(p).Parts[1].Amount = amount("100 phr"), amount("balance")
	}, "amounts_contradict", Stop, "/blends/1/parts"},
	{"powder of nothing", func(p *project.Project) { filled(p).Parts[1].Amount = amount("0 wt%") }, "no_powder", Info, "/blends/1/parts"},
	{"powder alone", func(p *project.Project) {
		filled(p).Parts = filled(p).Parts[1:]
		filled(p).Parts[0].Amount = amount("balance")
	}, "no_polymer", Stop, "/blends/1/parts"},
	{
		"no density", func(p *project.Project) { p.Materials[1].Density = quantity.Of[quantity.Density]{} },
		"density_missing", Stop, "/materials/1/density",
	},
	{
		"no price", func(p *project.Project) { p.Materials[1].Price = quantity.Of[quantity.PricePerMass]{} },
		"price_missing", Stop, "/materials/1/price",
	},
	{
		"powder of unknown moisture", func(p *project.Project) { p.Materials[1].Moisture = quantity.Of[quantity.Fraction]{} },
		"powder_moisture_missing", Caution, "/materials/1/moisture",
	},
	{
		"pellets of unknown moisture", func(p *project.Project) { p.Materials[0].Moisture = quantity.Of[quantity.Fraction]{} },
		"pellet_moisture_missing", Caution, "/materials/0/moisture",
	},
	{
		"no melt density", func(p *project.Project) { p.Materials[0].MeltDensity = quantity.Of[quantity.Density]{} },
		"melt_density_missing", Caution, "/materials/0/melt_density",
	},
	{
		"no packing limit", func(p *project.Project) { p.Materials[1].PackingLimit = quantity.Of[quantity.Fraction]{} },
		"packing_limit_missing", Caution, "/materials/1/packing_limit",
	},
	{
		"plant powder of unknown oil", func(p *project.Project) { p.Materials[1].OilContent = quantity.Of[quantity.Fraction]{} },
		"oil_content_missing", Caution, "/materials/1/oil_content",
	},
	{
		"no diameter", func(p *project.Project) { p.Spool.Diameter = quantity.Of[quantity.Length]{} },
		"diameter_missing", Stop, "/spool/diameter",
	},
	{
		"no spool mass", func(p *project.Project) { p.Spool.NetMass = quantity.Of[quantity.Mass]{} },
		"net_mass_missing", Stop, "/spool/net_mass",
	},
	{"damp powder, no temperature", func(p *project.Project) {
		p.Materials[1].Moisture, p.Melt.Temperature = q[quantity.Fraction]("1 %"), quantity.Of[quantity.Temperature]{}
	}, "melt_temperature_missing", Caution, "/melt/temperature"},
	{"damp powder, no time", func(p *project.Project) {
		p.Materials[1].Moisture, p.Melt.Residence = q[quantity.Fraction]("1 %"), quantity.Of[quantity.Duration]{}
	}, "residence_missing", Caution, "/melt/residence"},
	{"damp powder, no molar mass", func(p *project.Project) {
		p.Materials[1].Moisture, p.Materials[0].MolarMass = q[quantity.Fraction]("1 %"), quantity.Of[quantity.MolarMass]{}
	}, "molar_mass_missing", Caution, "/materials/0/molar_mass"},
	{"no cost of wear", func(p *project.Project) { p.Cost.Wear = quantity.Of[quantity.PricePerMass]{} }, "costs_missing", Caution, "/cost/wear"},
	{"no number of spools", func(p *project.Project) { p.Batch.Spools = 0 }, "costs_missing", Caution, "/batch/spools"},
	{
		"no price of a spool", func(p *project.Project) { p.Cost.EmptySpool = quantity.Of[quantity.Price]{} },
		"empty_spool_missing", Caution, "/cost/empty_spool",
	},
	{"no reference", func(p *project.Project) { p.Reference = "" }, "no_reference", Caution, "/reference"},
	{"reference of another polymer without a price", func(p *project.Project) {
		p.Materials = append(p.Materials, plainPLA())
		p.Materials[3].ID, p.Materials[3].Price = "other", quantity.Of[quantity.PricePerMass]{}
		p.Blends[0] = recipe("plain", "other", "balance")
	}, "reference_unfinished", Caution, "/blends/0/parts"},
	{"reference of nothing", func(p *project.Project) { p.Blends[0].Parts = nil }, "reference_unfinished", Caution, "/blends/0/parts"},
	{
		"reference for nothing", func(p *project.Project) { p.Materials[0].Price = q[quantity.PricePerMass]("0 EUR/kg") },
		"reference_free", Info, "/blends/0/parts",
	},
	{
		"wear that no powder pays for", func(p *project.Project) { p.Cost.Wear = q[quantity.PricePerMass]("2 EUR/kg") },
		"cannot_pay", Caution, "/cost/wear",
	},
	{
		"a purge that a single spool does not pay for", func(p *project.Project) { p.Batch.Purge = q[quantity.Mass]("200 g") },
		"cannot_pay_in_this_run", Info, "/batch/spools",
	},
	{"PVC", func(p *project.Project) { p.Materials[0].Class = material.PVC }, "no_pvc_pom", Stop, "/materials/0/class"},
	{"POM", func(p *project.Project) { p.Materials[0].Class = material.POM }, "no_pvc_pom", Stop, "/materials/0/class"},
	{"calcined shell", func(p *project.Project) {
		p.Materials[1].Class, p.Materials[1].Calcined = material.Shell, true
	}, "calcined_shell", Stop, "/materials/1/calcined"},
	{"light strand", func(p *project.Project) {
		filled(p).MeasuredDensity = q[quantity.Density]("1.15 ± 0.01 g/cm3")
	}, "voids", Caution, "/blends/1/measured_density"},
	{"strand as it should be", func(p *project.Project) {
		filled(p).MeasuredDensity = q[quantity.Density]("1.24 ± 0.01 g/cm3")
	}, "voids_small", Info, "/blends/1/measured_density"},
	{"strand too dense", func(p *project.Project) {
		filled(p).MeasuredDensity = q[quantity.Density]("1.29 ± 0.01 g/cm3")
	}, "voids_negative", Caution, "/blends/1/measured_density"},
	{
		"unknown scale", func(p *project.Project) { p.Batch.BalanceResolution = quantity.Of[quantity.Mass]{} },
		"scale_unknown", Info, "/batch/balance_resolution",
	},
	{
		"coarse scale", func(p *project.Project) { p.Batch.BalanceResolution = q[quantity.Mass]("1 g") },
		"scale_too_coarse", Caution, "/batch/balance_resolution",
	},
	{
		"thin masterbatch", func(p *project.Project) { filled(p).Masterbatch = q[quantity.Fraction]("4 %") },
		"let_down_impossible", Caution, "/blends/1/masterbatch",
	},
	{"much oil", func(p *project.Project) { addOil(p, "0.6 wt%", material.MineralOil) }, "oil_slips", Caution, "/blends/1/parts/2/amount"},
	{"cooking oil", func(p *project.Project) { addOil(p, "0.1 wt%", material.VegetableOil) }, "vegetable_oil", Caution, "/blends/1/parts/2/amount"},
	{
		"wet pellets", func(p *project.Project) { p.Materials[0].Moisture = q[quantity.Fraction]("300 ppm") },
		"pellets_too_wet", Caution, "/materials/0/moisture",
	},
	{
		"damp powder", func(p *project.Project) { p.Materials[1].Moisture = q[quantity.Fraction]("1 %") },
		"powder_damp", Caution, "/materials/1/moisture",
	},
	{"damp powder on pellets that are barely dry", func(p *project.Project) {
		p.Materials[0].Moisture, p.Materials[1].Moisture = q[quantity.Fraction]("245 ppm"), q[quantity.Fraction]("1 %")
	}, "powder_damp_hard", Caution, "/materials/1/moisture"},
	{"damp powder in a polymer of no class", func(p *project.Project) {
		p.Materials[1].Moisture, p.Materials[0].Class = q[quantity.Fraction]("1 %"), ""
	}, "polymer_class_missing", Caution, "/materials/0/class"},
	{"damp powder in PP", func(p *project.Project) {
		p.Materials[1].Moisture, p.Materials[0].Class = q[quantity.Fraction]("1 %"), material.PP
	}, "water_makes_voids", Info, "/materials/0/moisture"},
	{"damp powder in ABS", func(p *project.Project) {
		p.Materials[1].Moisture, p.Materials[0].Class = q[quantity.Fraction]("1 %"), material.ABS
	}, "water_makes_voids", Info, "/materials/0/moisture"},
	{"damp powder in PETG", func(p *project.Project) {
		p.Materials[1].Moisture, p.Materials[0].Class = q[quantity.Fraction]("1 %"), material.PETG
	}, "water_bound_only", Caution, "/blends/1/measured_flow"},
	{"damp powder in PBAT of unknown molar mass", func(p *project.Project) {
		p.Materials[1].Moisture, p.Materials[0].Class = q[quantity.Fraction]("1 %"), material.PBAT
		p.Materials[0].MolarMass = quantity.Of[quantity.MolarMass]{}
	}, "water_no_rate", Caution, "/blends/1/measured_flow"},
	{"too much powder", func(p *project.Project) { filled(p).Parts[1].Amount = amount("70 wt%") }, "will_not_flow", Stop, "/blends/1/parts/1/amount"},
	{"too much powder that flows", func(p *project.Project) {
		filled(p).Parts[1].Amount = amount("70 wt%")
		filled(p).MeasuredFlow = q[quantity.Factor]("0.2")
	}, "flows_beyond_packing", Caution, "/materials/1/packing_limit"},
	{"measured flow", func(p *project.Project) {
		filled(p).MeasuredFlow = q[quantity.Factor]("0.9")
	}, "melt_measured", Info, "/blends/1/measured_flow"},
	{"water against grains", func(p *project.Project) {
		p.Materials[1].Moisture = q[quantity.Fraction]("0.8 ± 0.3 %")
	}, "melt_direction_open", Caution, "/blends/1/measured_flow"},
	{"much powder", func(p *project.Project) {
		filled(p).Parts[1].Amount = amount("30 wt%")
	}, "melt_grains_dominate", Caution, "/blends/1/parts/1/amount"},
	{"very damp powder", func(p *project.Project) {
		p.Materials[1].Moisture = q[quantity.Fraction]("4 %")
	}, "melt_water_dominates", Caution, "/materials/1/moisture"},
	{"oily powder", func(p *project.Project) {
		p.Materials[1].OilContent = q[quantity.Fraction]("95 %")
	}, "melt_oil_dominates", Info, "/materials/1/oil_content"},
	{"oil added", func(p *project.Project) {
		addOil(p, "10 wt%", material.MineralOil)
	}, "melt_oil_dominates", Info, "/blends/1/parts/2/amount"},
	{"cold", func(p *project.Project) {
		p.Melt.Temperature = q[quantity.Temperature]("170 degC")
	}, "outside_melt_range", Caution, "/melt/temperature"},
	{"colder than the polymer melts", func(p *project.Project) {
		p.Materials[0].Melting, p.Melt.Temperature = q[quantity.Temperature]("150-170 degC"), q[quantity.Temperature]("120 degC")
	}, "below_melting", Stop, "/melt/temperature"},
	{"hot", func(p *project.Project) {
		p.Materials[1].Onset, p.Melt.Temperature = quantity.Of[quantity.Temperature]{}, q[quantity.Temperature]("225 degC")
	}, "outside_melt_range", Caution, "/melt/temperature"},
	{"powder chars", func(p *project.Project) {
		p.Materials[1].Onset = q[quantity.Temperature]("195-215 degC")
	}, "above_onset", Stop, "/melt/temperature"},
	{"13.3 K are wanted for 180 s, 13 are left", func(p *project.Project) {
		p.Materials[1].Onset = q[quantity.Temperature]("213 degC")
	}, "near_onset", Caution, "/melt/temperature"},
	{"20 K are wanted while the time is not known", func(p *project.Project) {
		p.Materials[1].Onset, p.Melt.Residence = q[quantity.Temperature]("219 degC"), quantity.Of[quantity.Duration]{}
	}, "near_onset", Caution, "/melt/temperature"},
	{"spool lighter than an empty one", func(p *project.Project) {
		p.Spool.Weighed, p.Spool.EmptyMass = q[quantity.Mass]("200 g"), q[quantity.Mass]("210 g")
	}, "spool_lighter_than_empty", Caution, "/spool/weighed"},
	{"spool weighed, empty one not", func(p *project.Project) {
		p.Spool.Weighed = q[quantity.Mass]("640 g")
	}, "empty_mass_missing", Info, "/spool/empty_mass"},
	{"organic powder", func(*project.Project) {}, "safety_drying", Info, "/materials/1/moisture"},
	{"powder that can set off allergies", func(*project.Project) {}, "safety_allergens", Info, "/materials/1/name"},
	{"damp feed", func(p *project.Project) { p.Materials[1].Moisture = q[quantity.Fraction]("2 %") }, "safety_moisture_spit", Info, "/melt/temperature"},
	{"any powder", func(*project.Project) {}, "safety_dust", Info, "/materials/1/name"},
	{"dust that does not burn", func(p *project.Project) { p.Materials[1].Class = material.Shell }, "safety_dust_mineral", Info, "/materials/1/name"},
	{"shell", func(p *project.Project) { p.Materials[1].Class = material.Shell }, "safety_shell_never_calcine", Info, "/materials/1/calcined"},
	{"mineral", func(p *project.Project) { p.Materials[1].Class = material.Mineral }, "safety_minerals", Info, "/materials/1/name"},
	{"metal", func(p *project.Project) { p.Materials[1].Class = material.Metal }, "safety_metal_powders", Info, "/materials/1/name"},
	{"anything", func(*project.Project) {}, "safety_food_contact", Info, "/blends/1/parts"},
}

func TestSituationsLeadToTheirNote(t *testing.T) {
	words := newReader()
	for _, c := range append(slices.Clone(situations), benchSituations...) {
		t.Run(c.name, func(t *testing.T) {
			p := quiet()
			c.change(&p)
			require.NoError(t, project.Validate(&p))
			s := checkSheet(t, &p, words, c.name)
			n, found := note(s.Blends[1].Notes, c.note)
			require.True(t, found, "%v", noteIDs(s.Blends[1].Notes))
			assert.Equal(t, c.severity, n.Severity)
			assert.Equal(t, c.field, n.Field)
			assert.NotContains(t, noteIDs(s.Blends[1].Notes), "out_of_reach")
		})
	}
}

// projectSituations are those that concern no single blend.
func TestSituationsOfTheWholeProject(t *testing.T) {
	words := newReader()
	readings := func(p *project.Project, texts ...string) {
		p.Spool.Readings = nil
		for _, text := range texts {
			p.Spool.Readings = append(p.Spool.Readings, q[quantity.Length](text))
		}
	}
	for _, c := range []struct {
		name     string
		change   func(p *project.Project)
		note     string
		severity Severity
		field    string
	}{
		{"no blends", func(p *project.Project) { p.Blends, p.Reference = nil, "" }, "no_blends", Stop, "/blends"},
		{
			"diameter without ±", func(p *project.Project) { p.Spool.Diameter = q[quantity.Length]("1.75 mm") },
			"diameter_without_spread", Info, "/spool/diameter",
		},
		{"caliper", func(p *project.Project) { readings(p, "1.74 mm", "1.76 mm") }, "gauge_missing", Info, "/spool/gauge"},
		{"few readings", func(p *project.Project) { readings(p, "1.74 mm") }, "few_readings", Info, "/spool/readings"},
		{"out of tolerance", func(p *project.Project) {
			p.Spool.Tolerance = q[quantity.Length]("0.05 mm")
			readings(p, "1.74 mm", "1.81 mm")
		}, "out_of_tolerance", Caution, "/spool/readings"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := quiet()
			c.change(&p)
			require.NoError(t, project.Validate(&p))
			n, found := note(checkSheet(t, &p, words, c.name).Notes, c.note)
			require.True(t, found)
			assert.Equal(t, c.severity, n.Severity)
			assert.Equal(t, c.field, n.Field)
		})
	}
}

// No situation is left out of the tables: each text for a note of a blend is
// reached by one of them, but for those listed.
func TestEveryNoteOfABlendHasASituation(t *testing.T) {
	reached := map[string]bool{"out_of_reach": true, "two_balances": true, "over_the_limits": true, "below_the_limits": true} // the second is refused by every edit; for the third see TestOverTheLimitsIsANote
	for _, c := range slices.Concat(situations, benchSituations, lineSituations) {
		reached[c.note] = true
	}
	for _, id := range []string{"no_blends", "diameter_without_spread", "gauge_missing", "few_readings", "out_of_tolerance"} {
		reached[id] = true
	}
	words := wording.New("en")
	ids := slices.DeleteFunc(words.IDs(), func(id string) bool {
		return !strings.HasPrefix(id, "note.") || strings.HasPrefix(id, "note.plan_")
	})
	require.NotEmpty(t, ids)
	for _, id := range ids {
		assert.True(t, reached[strings.TrimPrefix(id, "note.")], id)
	}
}
