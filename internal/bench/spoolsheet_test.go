package bench_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/printed"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/trace"
)

// ledger is a project with plain PLA of 1.24 g/cm³ and a strand of 1.75 mm, on a usual reel.
func ledger(t *testing.T) project.Project {
	t.Helper()
	p := project.New("EUR")
	p.Materials = []material.Material{{ID: "pla", Name: "PLA", Kind: material.Polymer, Class: material.PLA, Density: quantity.MustParse[quantity.Density]("1.24 g/cm3")}}
	amount, err := project.ParseAmount("100 wt%")
	require.NoError(t, err)
	p.Blends = []project.Blend{{ID: "plain", Name: "Plain", Parts: []project.Part{{Material: "pla", Amount: amount}}}}
	p.Reference = "plain"
	p.Spool.Diameter = mm("1.75 mm")
	p.Spool.Reel = project.Reel{Core: mm("80 mm"), Outer: mm("190 mm"), Width: mm("55 mm")}
	return p
}

func mm(text string) quantity.Of[quantity.Length] { return quantity.MustParse[quantity.Length](text) }

func grams(text string) quantity.Of[quantity.Mass] { return quantity.MustParse[quantity.Mass](text) }

// Arithmetic from the stated inputs: 1 kg of PLA is 335.284 m of 1.75 mm, and its
// reel takes 320.03 m at a packing of 0.60, 373.37 m at 0.70.
func TestLedgerArithmetic(t *testing.T) {
	p := ledger(t)
	p.Spool.Reel.Packing = quantity.MustParse[quantity.Fraction]("60 %")
	p.Spool.EmptyMass = grams("210 g")
	p.Print.Mass = grams("60 g")
	p.Spool.Made = []project.MadeSpool{{Name: "S-1", Blend: "plain", Mass: grams("1 kg"), Weighed: grams("640 g")}}
	s := bench.Evaluate(&p)
	printed.Equal(t, "320.03", s.Blends[0].Winding.Capacity.Value, "arithmetic from the stated inputs")
	printed.Equal(t, "954.5", s.Blends[0].Winding.CapacityMass.Value, "arithmetic from the stated inputs")
	printed.Equal(t, "2.1407", s.Blends[0].Winding.Bend.CoreStrain.Value, "arithmetic from the stated inputs")
	made := s.Spools[0].Results
	printed.Equal(t, "335.284", made[bench.SpoolLength].Value, "arithmetic from the stated inputs")
	assert.InDelta(t, 430, made[bench.SpoolLeftMass].Value, 1e-9)
	assert.InDelta(t, 335.284*0.43, made[bench.SpoolLeftLength].Value, 1e-3)
	assert.InDelta(t, 430.0/60, made[bench.SpoolPrintsLeft].Value, 1e-9)
	assert.Equal(t, "enough", s.Spools[0].Enough.ID)
	p.Spool.Reel.Packing = quantity.MustParse[quantity.Fraction]("70 %")
	printed.Equal(t, "373.37", bench.Evaluate(&p).Blends[0].Winding.Capacity.Value, "arithmetic from the stated inputs")
}

// 640 - 210 g of a blend of 1.277538 g/cm³ are 139.936 m of 1.75 mm; by a log whose mean
// square is 3.0628 mm² a kilogram is 325.400 m.
func TestLedgerTakesDensityAndLogOfTheSpool(t *testing.T) {
	p := ledger(t)
	p.Blends[0].MeasuredDensity = quantity.MustParse[quantity.Density]("1.277538 g/cm3")
	made := project.MadeSpool{Name: "S-1", Blend: "plain", Mass: grams("1 kg"), EmptyMass: grams("210 g"), Weighed: grams("640 g")}
	summary := summaryOf(t, []byte("1.74\n1.76\n1.75\n1.78\n1.73\n1.75\n1.77\n1.74\n1.76\n1.72\n"), 1.7e-3, 1.8e-3)
	made.Trace.Summary = bench.RecordTrace(&summary, 1.7e-3, 1.8e-3)
	without := made
	without.Trace = project.Trace{}
	p.Spool.Made = []project.MadeSpool{made, without}
	require.NoError(t, project.Validate(&p))
	s := bench.Evaluate(&p)
	got := s.Spools[0].Results
	printed.Equal(t, "139.936", s.Spools[1].Results[bench.SpoolLeftLength].Value, "arithmetic from the stated inputs")
	assert.InEpsilon(t, 0.43*325.400, got[bench.SpoolLeftLength].Value, 1e-5)
	assert.InEpsilon(t, 325.400, got[bench.SpoolLength].Value, 1e-5)
	assert.InEpsilon(t, 325.400, got[bench.SpoolTraceLength].Value, 1e-3, "without a speed the log is as long as the mass says")
	assert.Less(t, got[bench.SpoolLeftLength].Low, got[bench.SpoolLeftLength].Value)
}

// Enough for a print of N grams? Only where the interval says so.
func TestLedgerSaysWhetherAPrintFits(t *testing.T) {
	for _, c := range []struct{ print, weighed, want string }{
		{"400 g", "640 g", "enough"},
		{"430 g", "640 ± 5 g", "enough_perhaps"},
		{"433 g", "640 ± 5 g", "enough_perhaps"},
		{"450 g", "640 ± 5 g", "enough_not"},
		{"", "640 g", ""},
		{"60 g", "", ""},
	} {
		p := ledger(t)
		p.Spool.EmptyMass = grams("210 g")
		p.Print.Mass = grams(c.print)
		p.Spool.Made = []project.MadeSpool{{Blend: "plain", Weighed: grams(c.weighed)}}
		assert.Equal(t, c.want, bench.Evaluate(&p).Spools[0].Enough.ID, "%+v", c)
	}
}

func TestLedgerSaysWhatDoesNotFit(t *testing.T) {
	p := ledger(t)
	p.Spool.EmptyMass = grams("210 g")
	log := project.Trace{Speed: quantity.MustParse[quantity.Speed]("2.7 m/min")}
	log.Summary = project.TraceSummary{Readings: 1000, Axis: "second", Span: quantity.MustParse[quantity.Factor]("5000"), Mean: mm("1.75 mm"), SD: mm("0.01 mm"), RMS: mm("1.75 mm")}
	p.Spool.Made = []project.MadeSpool{
		{Name: "lighter", Blend: "plain", Mass: grams("1 kg"), Weighed: grams("200 g")},
		{Name: "heavier", Blend: "plain", Mass: grams("500 g"), Weighed: grams("900 g")},
		{Name: "overdrawn", Blend: "plain", Mass: grams("100 g"), Prints: []project.PrintTaken{{Mass: grams("60 g")}, {Mass: grams("60 g")}}},
		{Name: "other log", Blend: "plain", Mass: grams("1 kg"), Trace: log},
		{Name: "nothing known"},
	}
	s := bench.Evaluate(&p)
	for i, want := range []string{"spool_lighter", "spool_heavier", "spool_overdrawn", "spool_lengths_differ"} {
		require.Len(t, s.Spools[i].Remarks, 1, want)
		assert.Equal(t, want, s.Spools[i].Remarks[0].ID)
	}
	assert.Empty(t, s.Spools[4].Remarks)
	for _, sheet := range s.Spools {
		for f, r := range sheet.Results {
			assert.True(t, r.Known(), "%s %s", sheet.Name, f)
		}
	}
	require.Len(t, s.Totals, 2)
	assert.Equal(t, bench.SpoolTotal{Blend: -1, Spools: 1, Mass: s.Totals[0].Mass, Left: s.Totals[0].Left, LeftUnknown: 1}, s.Totals[0])
	assert.InDelta(t, 2600, s.Totals[1].Mass.Value, 1e-9)
}

// A packing fitted to a known spool gives that spool's own length back.
func TestPackingOfAKnownSpool(t *testing.T) {
	p := ledger(t)
	assert.Equal(t, "usual", bench.Evaluate(&p).Reel.PackingFrom)
	p.Spool.Reel.KnownMass, p.Spool.Reel.KnownOuter = grams("1 kg"), mm("190 mm")
	s := bench.Evaluate(&p)
	assert.Equal(t, "known", s.Reel.PackingFrom)
	assert.InDelta(t, 335.284, s.Blends[0].Winding.Capacity.Value, 1e-3)
	assert.InDelta(t, 1000, s.Blends[0].Winding.CapacityMass.Value, 1e-6)
}

func TestBendIsNotKnownUntilItIsTested(t *testing.T) {
	p := ledger(t)
	verdict := func() string { return bench.Evaluate(&p).Blends[0].Winding.Bend.Verdict.ID }
	assert.Equal(t, "bend_not_known", verdict())
	p.Spool.Bend.Elongation = quantity.MustParse[quantity.Fraction]("6 %")
	assert.Equal(t, "bend_perhaps", verdict(), "an elongation never makes it safe")
	p.Spool.Bend.Tests = []project.BendTest{{Mandrel: mm("60 mm"), Pieces: 10}}
	assert.Equal(t, "bend_breaks", verdict(), "a test comes before the elongation: 2.83 % over 2 is less than 2.14 %")
	p.Spool.Bend.Tests = append(p.Spool.Bend.Tests, project.BendTest{Mandrel: mm("30 mm"), Pieces: 10})
	bend := bench.Evaluate(&p).Blends[0].Winding.Bend
	assert.Equal(t, "bend_safe", bend.Verdict.ID)
	assert.InDelta(t, 30, bend.Mandrel.Value, 1e-9)
	assert.InDelta(t, 25.9, bend.MayBreak.Value, 0.05, "10 pieces say no more")
	assert.False(t, bend.Aged)
	// The strain on the smallest safe core is what is allowed.
	p.Spool.Reel.Core = quantity.FromSI[quantity.Length](bend.SafeCore.Value*1e-3, "mm", 9)
	again := bench.Evaluate(&p).Blends[0].Winding.Bend
	assert.InEpsilon(t, again.Allowed.Value, again.CoreStrain.Value, 1e-6)
	p.Spool.Reel.Core = quantity.Of[quantity.Length]{}
	assert.Equal(t, "bend_core_missing", verdict())
	p.Spool.Bend.Tests[1].Broken = 1
	p.Spool.Bend.Tests[1].Age = quantity.MustParse[quantity.Duration]("7 d")
	bend = bench.Evaluate(&p).Blends[0].Winding.Bend
	assert.InDelta(t, 60, bend.Mandrel.Value, 1e-9)
	assert.True(t, bend.Aged)
}

// What the document keeps of a log reads back as it was, as far as it goes.
func TestRecordOfALogReadsBack(t *testing.T) {
	s := summaryOf(t, storyLog(t), 1.7e-3, 1.8e-3)
	record := bench.RecordTrace(&s, 1.7e-3, 1.8e-3)
	p := ledger(t)
	p.Spool.Made = []project.MadeSpool{{Name: "S-1", Trace: project.Trace{Summary: record}}}
	require.NoError(t, project.Validate(&p))
	back := bench.RecordedTrace(&record)
	assert.InDelta(t, s.MeanM, back.MeanM, 1e-9)
	assert.InEpsilon(t, s.SDM, back.SDM, 1e-4)
	assert.InEpsilon(t, s.MeanSquareM2, back.MeanSquareM2, 1e-6)
	assert.Equal(t, s.Readings, back.Readings)
	assert.Equal(t, s.Axis, back.Axis)
	assert.InDelta(t, s.Span, back.Span, 1e-5)
	require.Len(t, back.Lumps, len(s.Lumps))
	for i := range s.Lumps {
		assert.InDelta(t, s.Lumps[i].At, back.Lumps[i].At, 1e-5)
		assert.InDelta(t, s.Lumps[i].HeightM, back.Lumps[i].HeightM, 1e-9)
	}
	require.Len(t, back.Waves, 1)
	assert.InEpsilon(t, s.Waves[0].Period, back.Waves[0].Period, 1e-3)
}

func TestRecordOfALayoutReadsBack(t *testing.T) {
	for _, by := range trace.Separators() {
		l := trace.Layout{Separator: by, Comma: by == ';', Header: 2, Columns: []trace.Column{{Role: trace.Time, Unit: trace.DayFirst}, {Role: trace.Ignored}, {Role: trace.Diameter, Unit: "um"}, {Role: trace.Second, Unit: "in"}}}
		var record project.Trace
		bench.RecordLayout(l, &record)
		p := ledger(t)
		p.Spool.Made = []project.MadeSpool{{Trace: record}}
		require.NoError(t, project.Validate(&p))
		assert.Equal(t, l.Fixed(), bench.RecordedLayout(&record))
	}
	assert.Equal(t, trace.NothingFixed, bench.RecordedLayout(&project.Trace{}))
}

// spoolOf is a spool of a blend with so much strand; empty texts are not given.
func spoolOf(blend project.BlendID, massText string) project.MadeSpool {
	m := project.MadeSpool{Blend: blend}
	if massText != "" {
		m.Mass = grams(massText)
	}
	return m
}
