package bench

import (
	"testing"

	"github.com/stretchr/testify/require"

	"fillwright/assets"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

const (
	oliveStone  = "olive-stone-pla"
	musselShell = "mussel-shell-petg"
)

var samples = []string{oliveStone, musselShell}

// sample reads one of the projects that come with the program.
func sample(t testing.TB, name string) project.Project {
	t.Helper()
	data, err := assets.Samples.ReadFile("samples/" + name + ".json")
	require.NoError(t, err)
	p, unknown, err := project.Decode(data)
	require.NoError(t, err)
	require.Empty(t, unknown)
	return p
}

// q reads a quantity; a text that does not read is a mistake of the test.
func q[D quantity.Dim](text string) quantity.Of[D] { return quantity.MustParse[D](text) }

func amount(text string) project.Amount {
	a, err := project.ParseAmount(text)
	if err != nil {
		panic(err)
	}
	return a
}

// Materials with the numbers that the check values were computed from.
func plainPLA() material.Material {
	return material.Material{
		ID: "pla", Name: "PLA", Kind: material.Polymer, Class: material.PLA,
		Price: q[quantity.PricePerMass]("20 EUR/kg"), Moisture: q[quantity.Fraction]("0 %"),
		Density: q[quantity.Density]("1.24 g/cm3"), MeltDensity: q[quantity.Density]("1.08 g/cm3"),
		MolarMass: q[quantity.MolarMass]("100 kg/mol"),
	}
}

func powderOf(id, density, price string) material.Material {
	return material.Material{
		ID: material.ID(id), Name: id, Kind: material.Filler, Class: material.Organic,
		Price: q[quantity.PricePerMass](price), Moisture: q[quantity.Fraction]("0 %"),
		Density: q[quantity.Density](density), PackingLimit: q[quantity.Fraction]("63.7 %"),
		OilContent: q[quantity.Fraction]("0 %"),
	}
}

func recipe(id string, parts ...string) project.Blend {
	b := project.Blend{ID: project.BlendID(id), Name: id}
	for i := 0; i < len(parts); i += 2 {
		b.Parts = append(b.Parts, project.Part{Material: material.ID(parts[i]), Amount: amount(parts[i+1])})
	}
	return b
}

// bare is a project in which making costs nothing and nothing is lost: plain PLA
// as the reference, and one blend of PLA and a powder.
func bare(powder material.Material, content string) project.Project {
	p := project.New("EUR")
	p.Materials = []material.Material{plainPLA(), powder}
	p.Blends = []project.Blend{
		recipe("plain", "pla", "balance"),
		recipe("filled", "pla", "balance", string(powder.ID), content),
	}
	p.Reference = "plain"
	p.Spool.Diameter = q[quantity.Length]("1.75 mm")
	p.Spool.NetMass = q[quantity.Mass]("1 kg")
	p.Batch = project.Batch{
		Spools: 1, StartUpLoss: q[quantity.Mass]("0 kg"), Purge: q[quantity.Mass]("0 kg"), Scrap: q[quantity.Fraction]("0 %"),
	}
	p.Cost = project.Cost{
		EnergyPrice: q[quantity.PricePerEnergy]("0 EUR/kWh"), Power: q[quantity.Power]("0 kW"),
		Throughput: q[quantity.MassFlow]("1 kg/h"), Labour: q[quantity.PricePerTime]("0 EUR/h"),
		Wear: q[quantity.PricePerMass]("0 EUR/kg"), ExtraTime: q[quantity.Duration]("0 min"),
		EmptySpool: q[quantity.Price]("0 EUR"),
	}
	p.Melt.Temperature = q[quantity.Temperature]("200 degC")
	p.Melt.Residence = q[quantity.Duration]("180 s")
	return p
}

func wood() material.Material { return powderOf("wood", "1.45 g/cm3", "3 EUR/kg") }

func chalk() material.Material { return powderOf("chalk", "2.71 g/cm3", "1 EUR/kg") }

// evaluate checks that the project could have been loaded, and evaluates it.
func evaluate(t testing.TB, p project.Project) *Sheet {
	t.Helper()
	require.NoError(t, project.Validate(&p))
	return Evaluate(&p)
}

// value is a figure that has to be known.
func value(t testing.TB, s *Sheet, blend int, f Figure) float64 {
	t.Helper()
	r := s.Blends[blend].Result(f)
	require.True(t, r.Known(), "%s of blend %d is not known: %s", f.Key(), blend, noteIDs(s.Blends[blend].Notes))
	return r.Value
}

func noteIDs(notes []Note) []string {
	ids := []string{}
	for _, n := range notes {
		ids = append(ids, n.ID)
	}
	return ids
}

// note returns the first note with an ID.
func note(notes []Note, id string) (Note, bool) {
	for _, n := range notes {
		if n.ID == id {
			return n, true
		}
	}
	return Note{}, false
}
