package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

func TestBudgetIsTheSumOfTheRuns(t *testing.T) {
	for _, name := range samples {
		s := evaluate(t, sample(t, name)).Plan
		require.True(t, s.Known)
		var charge float64
		dry, weigh := make([]float64, len(s.Budget)), make([]float64, len(s.Budget))
		specimens, changes := 0, 0
		for i, r := range s.Runs {
			assert.Equal(t, i+1, r.Order)
			require.Len(t, r.Parts, len(s.Budget))
			sum := 0.0
			for j, part := range r.Parts {
				assert.Equal(t, s.Budget[j].Name, part.Name)
				assert.GreaterOrEqual(t, part.WeighG, part.DryG)
				dry[j] += part.DryG
				weigh[j] += part.WeighG
				sum += part.DryG
			}
			assert.InEpsilon(t, r.ChargeG, sum, 1e-9, "the parts are the charge")
			assert.InDelta(t, r.Content/100*r.ChargeG, r.Parts[1].DryG, 1e-9*r.ChargeG, "the powder is the content")
			charge += r.ChargeG
			specimens += r.Specimens
			if i > 0 && r.Change {
				changes++
			}
		}
		for j := range s.Budget {
			assert.InDelta(t, dry[j], s.Budget[j].DryG, 1e-6)
			assert.InDelta(t, weigh[j], s.Budget[j].WeighG, 1e-6)
		}
		assert.InEpsilon(t, charge, s.StrandG+s.LossG, 1e-9)
		assert.Equal(t, specimens, s.Specimens)
		assert.Equal(t, changes, s.Changeovers)
		assert.True(t, s.Runs[0].Change, "what stands in the line before the first trial is not known")
	}
}

// 250 g of strand, 40 g start-up, 120 g purge at a change, 5 % scrap.
func TestChargeOfATrial(t *testing.T) {
	s := evaluate(t, sample(t, oliveStone)).Plan
	for _, r := range s.Runs {
		want := 290 / 0.95
		if r.Change {
			want = 410 / 0.95
		}
		assert.InEpsilon(t, want, r.ChargeG, 1e-9)
	}
}

func TestPlanFollowsItsSeed(t *testing.T) {
	p := sample(t, oliveStone)
	first := evaluate(t, p).Plan
	assert.Equal(t, first, evaluate(t, p).Plan)
	differs := false
	for seed := range 5 {
		p.Plan.Seed = seed
		next := evaluate(t, p).Plan
		assert.Len(t, next.Runs, len(first.Runs))
		differs = differs || !assert.ObjectsAreEqual(first.Runs, next.Runs)
	}
	assert.True(t, differs, "another seed is another order")
}

func TestPlanSaysWhatIsInItsWay(t *testing.T) {
	words := newReader()
	contents := func(p *project.Project, texts ...string) {
		p.Plan.Contents = nil
		for _, text := range texts {
			p.Plan.Contents = append(p.Plan.Contents, q[quantity.Fraction](text))
		}
	}
	for _, c := range []struct {
		name     string
		change   func(p *project.Project)
		note     string
		severity Severity
		field    string
		known    bool
	}{
		{"no base", func(p *project.Project) { p.Plan.Base = "" }, "plan_base_missing", Info, "/plan/base", false},
		{"one content", func(p *project.Project) { contents(p, "5 %") }, "plan_contents_missing", Info, "/plan/contents", false},
		{"a content twice", func(p *project.Project) { contents(p, "5 %", "0 %", "50 g/kg") }, "plan_content_twice", Info, "/plan/contents", false},
		{"nothing but powder", func(p *project.Project) { contents(p, "5 %", "100 %") }, "plan_content_impossible", Info, "/plan/contents", false},
		{"no spools", func(p *project.Project) { p.Plan.Spools = 0 }, "plan_spools_missing", Info, "/plan/spools", false},
		{"no specimens", func(p *project.Project) { p.Plan.Specimens = 0 }, "plan_specimens_missing", Info, "/plan/specimens", false},
		{"no spools a day", func(p *project.Project) { p.Plan.SpoolsPerDay = 0 }, "plan_per_day_missing", Info, "/plan/spools_per_day", false},
		{
			"no spool mass", func(p *project.Project) { p.Plan.SpoolMass = quantity.Of[quantity.Mass]{} },
			"plan_spool_mass_missing", Info, "/plan/spool_mass", false,
		},
		{
			"base without amount", func(p *project.Project) { p.Blends[2].Parts[0].Amount = project.Amount{} },
			"plan_base_unfinished", Info, "/plan/base", false,
		},
		{"base without powder", func(p *project.Project) { p.Plan.Base = "neat" }, "plan_base_neat", Info, "/plan/base", false},
		{"too many", func(p *project.Project) {
			p.Plan.Spools, p.Plan.Specimens = 100, 1
			contents(p, "0 %", "1 %", "2 %", "3 %", "4 %", "5 %", "6 %", "7 %", "8 %", "9 %", "10 %")
		}, "plan_too_large", Info, "/plan/spools", false},
		{
			"big specimens", func(p *project.Project) { p.Plan.SpecimenMass = q[quantity.Mass]("60 g") },
			"plan_spool_too_small", Caution, "/plan/spool_mass", true,
		},
		{"one spool of each", func(p *project.Project) { p.Plan.Spools = 1 }, "plan_one_spool", Caution, "/plan/spools", true},
		{"short days", func(p *project.Project) { p.Plan.SpoolsPerDay = 2 }, "plan_days_incomplete", Info, "/plan/spools_per_day", true},
		{"very short days", func(p *project.Project) { p.Plan.SpoolsPerDay = 1 }, "plan_days_incomplete", Info, "/plan/spools_per_day", true},
		{
			"moisture not given", func(p *project.Project) {
				p.Materials[1].Moisture = quantity.Of[quantity.Fraction]{}
				p.Materials[1].Powder.Drying.SetAside = true // else the log says it
			},
			"plan_without_moisture", Caution, "/materials/1/moisture", true,
		},
		{
			"purge not given", func(p *project.Project) { p.Batch.Purge = quantity.Of[quantity.Mass]{} },
			"plan_without_losses", Caution, "/batch/purge", true,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := sample(t, oliveStone)
			c.change(&p)
			require.NoError(t, project.Validate(&p))
			s := checkSheet(t, &p, words, c.name)
			n, found := note(s.Notes, c.note)
			require.True(t, found, "%v", noteIDs(s.Notes))
			assert.Equal(t, c.severity, n.Severity)
			assert.Equal(t, c.field, n.Field)
			assert.Equal(t, c.known, s.Plan.Known)
		})
	}
	assert.Empty(t, evaluate(t, sample(t, oliveStone)).Notes, "the sample has nothing in its way")
}
