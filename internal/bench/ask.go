package bench

import (
	"math"

	"fillwright/internal/project"
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
}

// Readings summarises the caliper readings of a project; false when there are none.
func Readings(p *project.Project) (ReadingsSummary, bool) {
	s, some := readings(p)
	if !some {
		return ReadingsSummary{}, false
	}
	return ReadingsSummary{N: s.N, Mean: s.Mean, SD: s.SD, RootMeanSquare: math.Sqrt(s.MeanSquare)}, true
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
