package bench

import (
	"math"
	"slices"

	"fillwright/internal/project"
	"fillwright/internal/stat"
)

// PartMass is what one part would weigh, dry, in grams, in the batch of a blend
// if its amount were another one. It is not known while the batch is not.
func PartMass(p *project.Project, blendIndex, part int, amount project.Amount) (grams float64, known bool) {
	if blendIndex < 0 || blendIndex >= len(p.Blends) || part < 0 || part >= len(p.Blends[blendIndex].Parts) {
		return 0, false
	}
	other := project.Clone(*p)
	other.Blends[blendIndex].Parts[part].Amount = amount
	sheet := batchSheet(&other, Compile(&other), blendIndex)
	if !sheet.Known || sheet.ChargeG == 0 {
		return 0, false
	}
	return sheet.Rows[part].DryG, true
}

// ReadingsSummary is what the caliper readings come to, in metres.
type ReadingsSummary struct {
	N                        int
	Mean, SD, RootMeanSquare float64
	// ToleranceLow and ToleranceHigh hold 95 % of the strand with 95 % confidence, if its
	// diameter is normal; NaN for fewer than 3 readings.
	ToleranceLow, ToleranceHigh float64
	Odd                         []int // readings that do not fit the others, counted from 1
}

const (
	toleranceShare      = 0.95
	toleranceConfidence = 0.95
	oddChance           = 0.05
	leastForOdd         = 10 // readings
	mostOdd             = 3
)

// Readings summarises the caliper readings of a project; false when there are none.
func Readings(p *project.Project) (ReadingsSummary, bool) {
	s, some := readings(p)
	if !some {
		return ReadingsSummary{}, false
	}
	out := ReadingsSummary{N: s.N, Mean: s.Mean, SD: s.SD, RootMeanSquare: math.Sqrt(s.MeanSquare), ToleranceLow: math.NaN(), ToleranceHigh: math.NaN()}
	if s.N >= 3 && s.SD > 0 {
		k := stat.ToleranceTwoSided(math.Max(s.Effective, 2), toleranceShare, toleranceConfidence)
		out.ToleranceLow, out.ToleranceHigh = s.Mean-k*s.SD, s.Mean+k*s.SD
	}
	out.Odd = oddReadings(p)
	return out, true
}

// oddReadings are those that stand out, as a slip of the caliper does, or a lump.
func oddReadings(p *project.Project) []int {
	var values []float64
	var numbers []int
	for i, r := range p.Spool.Readings {
		if r.Given() {
			values, numbers = append(values, r.SI()), append(numbers, i+1)
		}
	}
	if len(values) < leastForOdd {
		return nil
	}
	steps, outliers := stat.GeneralisedESD(values, mostOdd, oddChance)
	var odd []int
	for _, step := range steps[:outliers] {
		odd = append(odd, numbers[step.Index])
	}
	slices.Sort(odd)
	return odd
}

// Change is how far a figure lies from the same figure of the reference, in
// percent.
func Change(r, reference Result) (percent float64, known bool) {
	if !r.Known() || !reference.Known() || reference.Value == 0 {
		return 0, false
	}
	percent = (r.Value/reference.Value - 1) * 100
	return percent, finite(percent)
}
