package figure

import (
	"math"
	"reflect"
	"testing"
	"unsafe"

	"github.com/stretchr/testify/require"

	"fillwright/assets"
	"fillwright/internal/bench"
	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// knownResult is a result with a range; the only maker of known ones is bench.
func known(value, low, high float64, unit string) bench.Result {
	r := knownOnce
	r.Value, r.Low, r.High, r.Unit = value, low, high, unit
	return r
}

var knownOnce = func() bench.Result {
	data, err := assets.Samples.ReadFile("samples/olive-stone-pla.json")
	if err != nil {
		panic(err)
	}
	p, _, err := project.Decode(data)
	if err != nil {
		panic(err)
	}
	return bench.Evaluate(&p).Blends[0].Result(bench.Density)
}()

func plant(t *testing.T, on any, field string, value any) {
	t.Helper()
	f := reflect.ValueOf(on).Elem().FieldByName(field)
	require.True(t, f.IsValid())
	reflect.NewAt(f.Type(), unsafe.Pointer(f.UnsafeAddr())).Elem().Set(reflect.ValueOf(value))
}

func fraction(t *testing.T, s string) quantity.Of[quantity.Fraction] {
	q, err := quantity.Parse[quantity.Fraction](s)
	require.NoError(t, err)
	return q
}

func length(t *testing.T, s string) quantity.Of[quantity.Length] {
	q, err := quantity.Parse[quantity.Length](s)
	require.NoError(t, err)
	return q
}

func powderSample(t *testing.T) (*material.Material, *bench.PowderSheet, *bench.BlendSheet) {
	m := &material.Material{Name: "Spent grounds"}
	ps := &bench.PowderSheet{}
	// drying
	run := bench.RunSheet{
		LastH: 4, Better: 1,
		Floor: known(0.6, 0.4, 0.9, "%"), Initial: known(58, 57, 59, "%"), Now: known(2.1, 1.9, 2.4, "%"),
	}
	dry := func(h float64) float64 {
		mr := math.Exp(-0.85 * math.Pow(h, 1.15))
		db := 0.006 + 1.38*mr
		return 100 * db / (1 + db)
	}
	plant(t, &run, "moistureAt", func(h float64) (float64, float64, float64) {
		m := dry(h)
		return m, m - 0.4 - 0.15*h, m + 0.4 + 0.2*h
	})
	for i, h := range []float64{0, 0.5, 1, 1.5, 2, 3, 4} {
		res := []float64{0.3, -0.8, 0.5, 0.2, -0.4, 0.15, -0.1}[i]
		run.Rows = append(run.Rows, bench.DryingRow{TimeH: h, NetG: 420 / (1 - dry(h)/100), WetPercent: dry(h) + res/5, ResidualG: res, Known: true, HasMoisture: true, HasResidual: true})
	}
	ps.Drying = bench.DryingSheet{Runs: []bench.RunSheet{run}, Used: 0}
	// storage
	m.Powder.Storage.Humidity = fraction(t, "55 %")
	ps.Storage = bench.StorageSheet{Equilibrium: known(8.9, 8, 9.9, "%"), After: known(3.4, 2.1, 4.9, "%"), From: "wood"}
	plant(t, &ps.Storage, "isotherm", func(a float64) float64 { return 0.03*a + 0.02*math.Sqrt(a) + 0.02*a/(1.2-a) + 0.03*a*a })
	// preparation
	m.Powder.Preparation.Steps = []material.Step{{Kind: material.Wash}, {Kind: material.Dry, Name: "Oven at 105 °C"}, {Kind: material.Grind}, {Kind: material.Sift, Name: "125 µm sieve"}}
	ps.Preparation = bench.PreparationSheet{
		Yield: known(28.3, 26, 30.4, "%"),
		Steps: []bench.StepSheet{
			{Known: true, From: "yield", Yield: 96, LeftG: 960, Passes: 1},
			{Known: true, Yield: 41.2, LeftG: 396, Passes: 1},
			{Known: true, Yield: 98, LeftG: 388, Passes: 1},
			{Known: true, Yield: 72.9, LeftG: 283, Passes: 1.4},
		},
	}
	// sieving
	for i, o := range []string{"500 µm", "250 µm", "125 µm", "63 µm", "45 µm"} {
		m.Powder.Sieving.Sieves = append(m.Powder.Sieving.Sieves, material.Sieve{Opening: length(t, o)})
		ps.Sieving.Rows = append(ps.Sieving.Rows, bench.SievingRow{Known: true, PassingPercent: []float64{100, 97.4, 72, 31, 15}[i]})
	}
	ps.Sieving.Known, ps.Sieving.Best = true, 1
	ps.Sieving.Top = known(163.3, 163.3, 163.3, "um")
	for i, law := range []filler.SizeLaw{filler.RRSB{SizeM: 110e-6, Exponent: 1.75}, filler.RRSB{SizeM: 107e-6, Exponent: 1.9}, filler.LogNormal{MedianM: 88e-6, GSD: 1.8}} {
		f := bench.SizeFit{ID: []string{"rosin_rammler_line", "rosin_rammler", "log_normal"}[i], Known: true}
		plant(t, &f, "law", law)
		ps.Sieving.Fits = append(ps.Sieving.Fits, f)
	}
	ps.Clogging = bench.CloggingSheet{Nozzle: known(0.4, 0.4, 0.4, "mm"), Critical: known(133.3, 133.3, 133.3, "um")}
	// clogging
	b := &bench.BlendSheet{Name: "Grounds 20"}
	b.Results[bench.LengthPerSpool] = known(330, 325, 335, "m")
	chance := func(kind bench.EvidenceKind, v, lo, hi float64, used bool) bench.ClogChance {
		pc := func(x float64) float64 { return -100 * math.Expm1(-330*x) }
		return bench.ClogChance{Kind: kind, PerMetre: known(v, lo, hi, "1/m"), Spool: known(pc(v), pc(lo), pc(hi), "%"), Used: used}
	}
	b.Clog = bench.BlendClog{
		Known: true,
		Evidence: []bench.ClogChance{
			chance(bench.FromPrints, 4e-4, 6e-5, 1.2e-3, true), chance(bench.FromInspections, 0, 0, 0.018, false),
			chance(bench.FromRetained, 0.2, 0.05, 0.5, false), chance(bench.FromTail, 3.02, 0.4, 9, false),
		},
		Nozzles: []float64{0.25, 0.4, 0.6, 0.8, 1},
	}
	for _, s := range []struct {
		um   float64
		mesh string
		fits []bench.SieveFit
	}{
		{63, "No. 230", []bench.SieveFit{"marginal", "keeps_all", "keeps_all", "keeps_all", "keeps_all"}},
		{90, "No. 170", []bench.SieveFit{"coarse", "keeps_all", "keeps_all", "keeps_all", "keeps_all"}},
		{125, "No. 120", []bench.SieveFit{"coarse", "marginal", "keeps_all", "keeps_all", "keeps_all"}},
		{180, "No. 80", []bench.SieveFit{"coarse", "coarse", "marginal", "keeps_all", "keeps_all"}},
		{250, "No. 60", []bench.SieveFit{"blocks", "coarse", "coarse", "marginal", "keeps_all"}},
		{300, "", []bench.SieveFit{"blocks", "coarse", "coarse", "coarse", "marginal"}},
	} {
		row := bench.ClogRow{OpeningUM: s.um, LargestUM: 1e6 * filler.LargestAperture(s.um/1e6), Mesh: s.mesh}
		for i, f := range s.fits {
			c := bench.ClogCell{Fit: f}
			if f != "keeps_all" {
				c.Chance = known([]float64{100, 42, 7.3, 0.04, 0}[i], 0, 100, "%")
			} else {
				c.Chance = known(0, 0, 0, "%")
			}
			row.Cells = append(row.Cells, c)
		}
		b.Clog.Sieves = append(b.Clog.Sieves, row)
	}
	ps.Grain = bench.GrainSheet{Density: known(1.38, 1.33, 1.43, "g/cm3"), Bulk: known(0.45, 0.43, 0.47, "g/cm3"), Tapped: known(0.59, 0.57, 0.61, "g/cm3"), Packing: known(43, 41, 45, "%"), Hausner: known(1.31, 1.25, 1.37, "")}
	return m, ps, b
}
