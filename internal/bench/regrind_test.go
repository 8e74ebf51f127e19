package bench

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/printed"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// ground is strand of 10 wt% wood that was ground once.
func ground() material.Material {
	return material.Material{
		ID: "again", Name: "Ground spools", Kind: material.Polymer, Class: material.PLA,
		Price: q[quantity.PricePerMass]("0 EUR/kg"), Moisture: q[quantity.Fraction]("0 %"),
		Regrind: material.Regrind{Polymer: "pla", Filler: "wood", Content: q[quantity.Fraction]("10 %"), Passes: 1, Drift: q[quantity.Factor]("1.2")},
	}
}

// withRegrind makes the filled blend 8 wt% of loose wood and 20 wt% of regrind.
func withRegrind(p *project.Project) {
	p.Materials = append(p.Materials, ground())
	filled(p).Parts = recipe("", "pla", "balance", "wood", "8 wt%", "again", "20 wt%").Parts
}

func regrindProject() project.Project {
	p := bare(wood(), "10 wt%")
	withRegrind(&p)
	return p
}

// The powder in regrind counts: 8 wt% loose and a tenth of 20 wt%. Its polymer is a fifth
// of all polymer (18 of 90), so its melt runs 1.2^0.2 = 1.037137 times as fast, and the
// polymer has been through the heat 1.2 times on average; a kilogram costs 720 g of PLA at
// 20 and 80 g of wood at 3 EUR/kg.
func TestRegrindFromEndToEnd(t *testing.T) {
	s := evaluate(t, regrindProject())
	printed.Equal(t, "10.0000", value(t, s, 1, FillerMassFraction), arith)
	printed.Equal(t, "2.0000", value(t, s, 1, FillerFromRegrind), arith)
	printed.Equal(t, "20.000", value(t, s, 1, RegrindShare), arith)
	printed.Equal(t, "1.037137", value(t, s, 1, MeltFlowRegrind), arith)
	printed.Equal(t, "1.20000", value(t, s, 1, HeatPasses), arith)
	printed.Equal(t, "14.6400", value(t, s, 1, MaterialCostPerKg), arith)
	loose := s.Blends[1].Loose()
	printed.Equal(t, "8.0000", loose.Value, arith)
	printed.Equal(t, "1.25000", s.Blends[1].Regrind.Standing.Value, arith)
	printed.Equal(t, "0.80000", s.Blends[1].Regrind.Beyond.Value, arith) // 0.2³, beyond the usual three
}

// A blend of fresh polymer and powder of the same composition is the same strand.
func TestRegrindIsWhatIsInIt(t *testing.T) {
	again, fresh := evaluate(t, regrindProject()), evaluate(t, bare(wood(), "10 wt%"))
	for _, f := range []Figure{Density, FillerMassFraction, FillerVolumeFraction, FillerMeltFraction, MeltFlowGrains, MeltFlowOil, MetresPerKg, BlendMoisture} {
		assert.InDelta(t, value(t, fresh, 1, f), value(t, again, 1, f), 1e-9, f.Key())
	}
	assert.InDelta(t, value(t, fresh, 1, MeltFlow)*value(t, again, 1, MeltFlowRegrind), value(t, again, 1, MeltFlow), 1e-9)
	for _, f := range []Figure{RegrindShare, FillerFromRegrind, HeatPasses, MeltFlowRegrind} {
		assert.False(t, fresh.Blends[1].Result(f).Known(), "no regrind, no %s", f.Key())
	}
}

// Powder within regrind needs no room on the pellets.
func TestPowderInRegrindNeedsNoPellets(t *testing.T) {
	p := regrindProject()
	pellets(&p)
	p.Materials[1].BulkDensity = q[quantity.Density]("0.5 g/cm3")
	thick := value(t, evaluate(t, p), 1, CoatThickness)
	filled(&p).Parts = recipe("", "pla", "balance", "wood", "10 wt%").Parts
	assert.Less(t, thick, value(t, evaluate(t, p), 1, CoatThickness))
}

// A sweep over the content goes through the blend as it is, and ends where the regrind
// brings more than is asked for.
func TestSweepBesideRegrind(t *testing.T) {
	p := regrindProject()
	m := Compile(&p)
	swept := m.Sweep(1, []float64{0.01, 0.10, 0.15}).Results()
	assert.False(t, swept[0][Density].Known(), "the regrind brings 2.17 wt% alone")
	printed.Equal(t, "10.0000", swept[1][FillerMassFraction].Value, arith)
	assert.InDelta(t, m.Results()[1][Density].Value, swept[1][Density].Value, 1e-9)
	printed.Equal(t, "15.0000", swept[2][FillerMassFraction].Value, arith)
}

// All that goes into a blend of regrind alone is known, and its polymer is the one that
// it was made from.
func TestRegrindAlone(t *testing.T) {
	p := regrindProject()
	filled(&p).Parts = recipe("", "again", "balance").Parts
	s := evaluate(t, p)
	printed.Equal(t, "10.0000", value(t, s, 1, FillerMassFraction), arith)
	printed.Equal(t, "1.20000", value(t, s, 1, MeltFlowRegrind), arith)
	assert.Less(t, value(t, s, 1, MeltFlowGrains), 1.0)
	assert.False(t, s.Blends[1].Regrind.Standing.Known(), "nothing fresh comes in")
	checkSheet(t, &p, newReader(), "regrind alone")
}

// The heat to melt it is that of what is in it, and a masterbatch is let down into the
// regrind with the powder that this holds.
func TestHeatAndMasterbatchBesideRegrind(t *testing.T) {
	p := regrindProject()
	for i, capacity := range []string{"1800 J/(kg.K)", "1500 J/(kg.K)"} {
		p.Materials[i].HeatCapacity = q[quantity.HeatCapacity](capacity)
	}
	p.Materials[0].MeltingHeat = q[quantity.SpecificEnergy]("28 kJ/kg")
	filled(&p).Masterbatch = q[quantity.Fraction]("40 %")
	again := evaluate(t, p)
	p.Blends[1].Parts = recipe("", "pla", "balance", "wood", "10 wt%").Parts
	fresh := evaluate(t, p)
	assert.InDelta(t, value(t, fresh, 1, HeatPerKg), value(t, again, 1, HeatPerKg), 1e-9)

	// 8 wt% loose beside 20 wt% regrind of 10 %: the rest holds 2/92 = 2.1739 %, so
	// (10 - 2.1739)/(40 - 2.1739) = 20.690 % masterbatch bring it to 10 wt%, and not 25 %.
	printed.Equal(t, "0.20690", again.Blends[1].Batch.LetDown.Share, arith)
	printed.Equal(t, "0.25000", fresh.Blends[1].Batch.LetDown.Share, arith)
}

// The drift that was not measured widens the band of the melt flow.
func TestDriftOfRegrind(t *testing.T) {
	p := regrindProject()
	p.Materials[2].Regrind.Drift = quantity.Of[quantity.Factor]{}
	r := evaluate(t, p).Blends[1].Result(MeltFlowRegrind)
	assert.Less(t, r.Low, 1.005)
	assert.Greater(t, r.High, 1.07)
	p.Materials[2].Regrind.Passes = 3
	require.Greater(t, evaluate(t, p).Blends[1].Result(MeltFlowRegrind).High, r.High, "more passes, more drift")
}

// The grains of a powder are off together, whether it is loose or within regrind: two
// blends of the same content know their chance of a clog equally well.
func TestGrainsInRegrindAreTheSameGrains(t *testing.T) {
	p := sample(t, oliveStone)
	p.Materials[3].Regrind.Content = q[quantity.Fraction]("10 %")
	s := evaluate(t, p)
	for _, f := range []Figure{ClogChancePerSpool, GrainsPerMetre} {
		loose, again := s.Blends[2].Result(f), s.Blends[3].Result(f)
		assert.InDelta(t, loose.Value, again.Value, 1e-9)
		assert.InDelta(t, loose.Low, again.Low, 1e-9)
		assert.InDelta(t, loose.High, again.High, 1e-6*loose.High)
	}
}

// The ± of the powder within regrind is not one of the loose powder, and the other way round.
func TestLoosePowderHasItsOwnInterval(t *testing.T) {
	p := regrindProject()
	p.Materials[2].Regrind.Content = q[quantity.Fraction]("10 ± 2 %")
	loose := evaluate(t, p).Blends[1].Loose()
	assert.InDelta(t, 8, loose.Low, 1e-6)
	assert.InDelta(t, 8, loose.High, 1e-6)
	filled(&p).Parts[1].Amount = amount("8 ± 0.5 wt%")
	loose = evaluate(t, p).Blends[1].Loose()
	assert.InDelta(t, 7.5, loose.Low, 0.01)
	assert.InDelta(t, 8.5, loose.High, 0.01)
}

// Whatever regrind is put into a blend gives numbers or notes, and no note leads nowhere.
func TestOddRegrind(t *testing.T) {
	again := func(p *project.Project) *material.Regrind { return &p.Materials[2].Regrind }
	parts := func(p *project.Project, list ...string) { filled(p).Parts = recipe("", list...).Parts }
	for name, change := range map[string]func(p *project.Project){
		"of a polymer that is not in the blend": func(p *project.Project) {
			other := plainPLA()
			other.ID, other.Density, other.MeltDensity = "other", quantity.Of[quantity.Density]{}, quantity.Of[quantity.Density]{}
			p.Materials = append(p.Materials, other)
			again(p).Polymer = "other"
		},
		"with a powder of which nothing is known": func(p *project.Project) {
			p.Materials = append(p.Materials, material.Material{ID: "dust", Name: "Dust", Kind: material.Filler})
			again(p).Filler = "dust"
		},
		"twice": func(p *project.Project) {
			second := ground()
			second.ID, second.Regrind.Filler, second.Regrind.Content = "second", "", quantity.Of[quantity.Fraction]{}
			p.Materials = append(p.Materials, second)
			parts(p, "pla", "balance", "wood", "5 wt%", "again", "20 wt%", "second", "10 wt%")
		},
		"as the balance":          func(p *project.Project) { parts(p, "pla", "50 wt%", "wood", "5 wt%", "again", "balance") },
		"by volume":               func(p *project.Project) { parts(p, "pla", "balance", "wood", "5 vol%", "again", "20 vol%") },
		"on the polymer":          func(p *project.Project) { parts(p, "pla", "balance", "wood", "5 phr", "again", "20 phr") },
		"with next to no powder":  func(p *project.Project) { again(p).Content = q[quantity.Fraction]("0 %") },
		"with hardly any polymer": func(p *project.Project) { again(p).Content = q[quantity.Fraction]("99 %") },
		"alone, too full to flow": func(p *project.Project) {
			again(p).Content = q[quantity.Fraction]("90 %")
			parts(p, "again", "balance")
		},
		"alone, too full and measured": func(p *project.Project) {
			again(p).Content = q[quantity.Fraction]("90 %")
			parts(p, "again", "balance")
			filled(p).MeasuredFlow = q[quantity.Factor]("0.2 ± 0.1")
		},
		"without a powder":          func(p *project.Project) { again(p).Filler = "" },
		"alone, without a powder":   func(p *project.Project) { again(p).Filler = ""; parts(p, "again", "balance") },
		"with powder, no polymer":   func(p *project.Project) { parts(p, "wood", "10 wt%", "again", "balance") },
		"of an unknown content":     func(p *project.Project) { again(p).Content = quantity.Of[quantity.Fraction]{} },
		"of a wide content":         func(p *project.Project) { again(p).Content = q[quantity.Fraction]("0-99 %") },
		"of which there is nothing": func(p *project.Project) { parts(p, "pla", "balance", "wood", "5 wt%", "again", "0 wt%") },
		"of all that there is":      func(p *project.Project) { parts(p, "pla", "balance", "again", "100 wt%") },
		"as the reference":          func(p *project.Project) { p.Reference = "filled" },
		"measured": func(p *project.Project) {
			filled(p).MeasuredFlow, p.Melt.Pin, p.Melt.PinBlend = q[quantity.Factor]("1.3 ± 0.1"), project.PinOil, "filled"
		},
		"of nothing that is known": func(p *project.Project) {
			p.Materials[2] = material.Material{ID: "again", Kind: material.Polymer, Regrind: material.Regrind{Polymer: "pla"}}
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := regrindProject()
			pellets(&p)
			change(&p)
			require.NoError(t, project.Validate(&p))
			s := checkSheet(t, &p, newReader(), name)
			assert.False(t, slices.Contains(noteIDs(s.Blends[1].Notes), "out_of_reach"), name)
		})
	}
}

// The purge between plain PLA and 10 wt% holds a mean of both: of what comes out to 99 %,
// 0.99/4.60517 = 0.214976 is old without a plug, so 7.8502 wt% are powder.
func TestContentOfThePurge(t *testing.T) {
	p := bare(wood(), "10 wt%")
	p.Line.Machine.MeltVolume, p.Line.Changes.PlugShare = q[quantity.Volume]("30 mL"), q[quantity.Fraction]("0 %")
	p.Line.Changes.Sequence = []project.Change{{Blend: "plain"}, {Blend: "filled"}, {Blend: "plain"}}
	rows := evaluate(t, p).Line.Changes
	assert.False(t, rows[0].Content.Known(), "nothing is purged before the first")
	printed.Equal(t, "7.8502", rows[1].Content.Value, arith)
	printed.Equal(t, "2.1498", rows[2].Content.Value, arith)
	p.Line.Changes.PlugShare = q[quantity.Fraction]("30 ± 20 %")
	wide := evaluate(t, p).Line.Changes[1].Content
	assert.Less(t, wide.Low, wide.Value)
	assert.Greater(t, wide.High, wide.Value)
	assert.Less(t, wide.High, 10.0)
}
