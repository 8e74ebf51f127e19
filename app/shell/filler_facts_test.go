package shell_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// A new run has trays and oven of the last one, is shown at once, and is taken
// out again, with undo for both.
func TestRunsComeAndGo(t *testing.T) {
	r := openSample(t, olive)
	r.part("drying")
	first := powderOf(r).Drying.Runs[0]
	r.tapped("pane.filler.add_run")
	require.Len(t, powderOf(r).Drying.Runs, 2)
	second := powderOf(r).Drying.Runs[1]
	assert.Equal(t, first.Trays, second.Trays)
	assert.Equal(t, first.OvenTemperature, second.OvenTemperature)
	assert.Empty(t, second.Readings)
	assert.Contains(t, r.places(), olivePowder+"/drying/runs/1/oven_temperature", "the new one is shown")
	assert.Contains(t, r.said(), "Weigh the tray when it goes in", "and says what to do")

	r.enterInto(olivePowder+"/drying/runs/1/readings", 0, 0, "0")
	r.undo()
	r.undo()
	require.Len(t, powderOf(r).Drying.Runs, 1)
	assert.Contains(t, r.places(), olivePowder+"/drying/runs/0/oven_temperature")
	r.redo()
	assert.Contains(t, r.places(), olivePowder+"/drying/runs/1/oven_temperature", "redo shows it again")
	r.tapped("pane.filler.remove_run")
	assert.Len(t, powderOf(r).Drying.Runs, 1)
	r.tapped("pane.filler.remove_run")
	assert.Empty(t, powderOf(r).Drying.Runs)
	assert.True(t, r.tapped("pane.filler.remove_run").Disabled(), "there is nothing to remove")
	assert.True(t, r.tapped("pane.filler.add_run").Disabled(), "the first weighing makes the first run")
	r.undo()
	assert.Equal(t, first.Readings, powderOf(r).Drying.Runs[0].Readings)
}

// The log shows bare numbers in its usual units and others with theirs; what
// stands there, entered again, changes nothing.
func TestTheLogLeavesItsUnitsOut(t *testing.T) {
	r := openSample(t, olive)
	r.edit(func(p *material.Powder) {
		p.Drying.Runs[0].Readings[6].Time = quantity.MustParse[quantity.Duration]("2 h")
	})
	r.part("drying")
	said := texts(r.table(olivePowder + "/drying/runs/0/readings"))
	for _, want := range []string{"438.5", "15", "2 h", "583.2"} {
		assert.Contains(t, said, want)
	}
	assert.NotContains(t, said, "438.5 g")
	before := r.bench.Revision()
	for col := range 3 {
		r.enterInto(olivePowder+"/drying/runs/0/readings", 0, col, []string{"0", "438.5", "446.9"}[col])
	}
	assert.Equal(t, before, r.bench.Revision())
}

// For another oven that the powder does not stand no time is told.
func TestNoTimeIsToldForAnOvenThatIsTooHot(t *testing.T) {
	r := openSample(t, olive)
	other := func(text string) {
		r.edit(func(p *material.Powder) { p.Drying.OtherTemperature = quantity.MustParse[quantity.Temperature](text) })
	}
	r.part("drying")
	other("105 °C")
	assert.Contains(t, r.said(), r.words.Text("pane.filler.shifted"))
	other("120 °C")
	assert.NotContains(t, r.said(), r.words.Text("pane.filler.shifted"))
	assert.Contains(t, r.said(), r.words.Text("pane.filler.shift_too_hot"))
	other("60 °C")
	assert.Contains(t, r.said(), r.words.Text("pane.filler.shift_beyond"), "such an oven never comes down to the target")
	other("5 °C")
	assert.NotContains(t, r.said(), r.words.Text("pane.filler.shifted"))
	assert.Contains(t, r.said(), r.words.Text("pane.filler.shift_floor"), "the air of the room drops its water there")
	r.class("")
	other("120 °C")
	assert.Contains(t, r.said(), r.words.Text("pane.filler.shift_too_hot"), "nobody said that it is no plant")
	r.class(material.Mineral)
	assert.Contains(t, r.said(), r.words.Text("pane.filler.shifted"), "it is none")
}

// class gives the powder another class.
func (r *rig) class(class material.Class) {
	r.t.Helper()
	require.NoError(r.t, r.bench.Edit("", "", func(d *project.Project) error {
		d.Materials[1].Class = class
		return nil
	}))
}

// A mineral is no wood, nowhere on the bench.
func TestAMineralIsNotDescribedAsWood(t *testing.T) {
	r := openSample(t, olive)
	r.part("drying")
	assert.Contains(t, r.said(), "estimated as for wood")
	r.class(material.Mineral)
	r.edit(func(p *material.Powder) { p.Storage.Equilibrium = quantity.MustParse[quantity.Fraction]("1 %") })
	for _, part := range r.bench.Sections() {
		r.part(part)
		assert.NotContains(t, r.said(), "as for wood", part)
	}
	r.part("drying")
	assert.Contains(t, r.said(), r.words.Text("pane.filler.as_dry"))
}

// What the activation energy rests on stands below it.
func TestTheEnergyOfAShiftIsExplained(t *testing.T) {
	r := openSample(t, olive)
	r.part("drying")
	energy := func(id string) string { return r.words.Text("pane.filler.energy_" + id) }
	assert.Contains(t, r.said(), energy("usual"))
	second := func(oven, faster string) {
		r.edit(func(p *material.Powder) {
			run := p.Drying.Runs[0]
			run.OvenTemperature = quantity.MustParse[quantity.Temperature](oven)
			run.Readings = slices.Clone(run.Readings)
			for i := range run.Readings {
				seconds := run.Readings[i].Time.SI()
				run.Readings[i].Time = quantity.MustParse[quantity.Duration](fmt.Sprintf(faster, seconds))
			}
			p.Drying.Runs = append(p.Drying.Runs[:1:1], run)
		})
	}
	second("95 degC", "%g s")
	assert.Contains(t, r.said(), energy("too_close"))
	second("90 degC", "%g s")
	assert.Contains(t, r.said(), energy("not_faster"))
	second("90 degC", "%g min") // as if it took sixty times as long
	assert.Contains(t, r.said(), energy("runs"))
	r.edit(func(p *material.Powder) {
		p.Drying.ActivationEnergy = quantity.MustParse[quantity.MolarEnergy]("45 kJ/mol")
	})
	for _, id := range []string{"usual", "runs", "too_close", "not_faster"} {
		assert.NotContains(t, r.said(), energy(id), "the maker's own")
	}
}

// The sieves of the printer's nozzle are told in words, and those of any other
// bore when it is asked for; the choice lasts.
func TestSievesAreToldForABore(t *testing.T) {
	r := openSample(t, olive)
	r.part("clogging")
	advice := func() []string {
		for _, g := range all[*control.Grid](r.bench.Content()) {
			if g.ID() == "" {
				return texts(g)
			}
		}
		require.Fail(t, "no table of sieves")
		return nil
	}
	assert.Contains(t, strings.Join(advice(), " "), "90 µm, No. 170 122 all below", "as the answer in words says")
	assert.Contains(t, r.said(), "a 90 µm sieve keeps every legal grain")
	var bores *control.SelectField
	for _, s := range all[*control.SelectField](r.bench.Content()) {
		if strings.Contains(reads(s), r.words.Text("pane.filler.advice_bore")) {
			bores = s
		}
	}
	require.NotNil(t, bores)
	bores.Focus()
	r.key(fyne.KeyLeft)
	assert.Contains(t, strings.Join(advice(), " "), "90 µm, No. 170 122 some above", "a bore of 0.25 mm")
	r.reopen("storage")
	r.reopen("clogging")
	assert.Contains(t, strings.Join(advice(), " "), "90 µm, No. 170 122 some above")
}

// What the pane says of the chance stands with its kind, its interval and the
// critical size.
func TestEachEvidenceSaysWhatItIs(t *testing.T) {
	r := openSample(t, olive)
	r.part("clogging")
	for _, want := range []string{
		"1. Printed strand, blockages counted\nthis is used", "3. Fitted tail, an extrapolation", "8.8 % per spool", "(0 % to 33 %)",
		"grains above 133 µm per metre", "per gram of dry powder",
	} {
		assert.Contains(t, r.said(), want)
	}
	r.bench.Choose(r.bench.Project().Blends[0].ID)
	assert.Contains(t, r.said(), r.words.Text("pane.filler.not_in_blend"), "plain polymer has no chance of this")
	assert.NotContains(t, r.said(), "per spool (")
}

// Without a powder the pane offers one, whichever part was open.
func TestWithoutAPowderOneIsOffered(t *testing.T) {
	r := openSample(t, olive)
	r.part("sieving")
	require.NoError(t, r.bench.Edit("", "", func(p *project.Project) error { *p = project.New("EUR"); return nil }))
	assert.NotNil(t, r.tapped("pane.filler.add"))
}

// What is odd about a row is said below its table as soon as it is so, and for
// the row that is looked at before others.
func TestOddRowsSayWhyWithoutAnyAsking(t *testing.T) {
	r := openSample(t, olive)
	r.edit(func(p *material.Powder) {
		p.Drying.Runs[0].Readings[4].Time = quantity.Of[quantity.Duration]{}
		p.Drying.Runs[0].Readings[6].Masses = p.Drying.Runs[0].Readings[6].Masses[:1]
	})
	r.part("drying")
	place := olivePowder + "/drying/runs/0/readings"
	assert.Contains(t, reads(r.table(place)), r.words.Text("row.no_time"), "at once")
	r.table(place).Select(6, 0)
	assert.Contains(t, reads(r.table(place)), "1 of 2 trays have a mass")
	r.edit(func(p *material.Powder) {
		*p = sample(t, olive).Materials[1].Powder
	})
	assert.NotContains(t, reads(r.table(place)), "left out", "mended rows say nothing")
	r.edit(func(p *material.Powder) { p.Drying.Runs[0].Readings[2].Time = quantity.Of[quantity.Duration]{} })
	assert.Contains(t, reads(r.table(place)), r.words.Text("row.no_time"), "while it is open")
}

// Of several runs the one that the powder at hand went through is shown first.
func TestTheRunOfThePowderAtHandIsShown(t *testing.T) {
	r := openSample(t, olive)
	r.edit(func(p *material.Powder) {
		p.Drying.Runs = append(p.Drying.Runs, p.Drying.Runs[0])
		p.Drying.Runs[1].Name = "Second lot"
	})
	r.part("drying")
	assert.Contains(t, r.places(), olivePowder+"/drying/runs/1/name")
	assert.Contains(t, r.said(), r.words.Text("pane.filler.run_used"))
	r.bench.Lead(olivePowder + "/drying/runs/0/layer")
	assert.Contains(t, r.said(), r.words.Text("pane.filler.run_other"))
	r.reopen("storage")
	r.reopen("drying")
	assert.Contains(t, r.places(), olivePowder+"/drying/runs/0/name", "the choice lasts")
}

// Looking at another step leaves the pane where it is scrolled to.
func TestAnotherStepDoesNotMoveThePane(t *testing.T) {
	r := openSample(t, olive)
	r.part("preparation")
	settle(r.bench.Content())
	scroll := all[*control.ScrollColumn](r.bench.Content())
	i := slices.IndexFunc(scroll, func(s *control.ScrollColumn) bool { return contains(s, r.table(olivePowder+"/preparation/steps")) })
	require.GreaterOrEqual(t, i, 0)
	r.field(olivePowder + "/preparation/steps/0/recycled").Focus()
	r.table(olivePowder+"/preparation/steps").FocusCell(0, 0)
	before := scroll[i].Offset()
	require.Positive(t, before)
	for step := range 4 {
		r.table(olivePowder+"/preparation/steps").FocusCell(step, 0)
		assert.Contains(t, r.places(), fmt.Sprintf("%s/preparation/steps/%d/recycled", olivePowder, step))
		assert.InDelta(t, before, scroll[i].Offset(), 1, "step %d", step)
	}
	r.enterInto(olivePowder+"/preparation/steps", 4, 1, "Sift again")
	assert.Contains(t, r.places(), olivePowder+"/preparation/steps/4/recycled", "a new step is shown once it has a name")
	assert.Contains(t, r.said(), "Step 5: Sift again")
	r.undo()
	assert.NotContains(t, r.said(), "Step 5", "and goes with it")
}
