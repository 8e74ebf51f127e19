package trace

import (
	"cmp"
	"math"
	"slices"

	"fillwright/internal/stat"
)

// Step is a place from which on the strand is thicker, or thinner, and stays so.
type Step struct {
	At      float64 // along the axis
	HeightM float64
	Score   float64 // the same in standard deviations of such a difference
}

// Drift is how the diameter changes along the whole log, steps left out.
type Drift struct {
	PerUnitM  float64 // m for each unit of the axis
	SD        float64 // of it; 0 where it is not known
	OverAllM  float64 // from the beginning to the end
	Effective int     // parts of the log that it was worked out from
}

const (
	stepScore  = 6  // own judgement: in normal noise one such in 500 million places
	leastSides = 16 // pieces that a step must have at both sides
	mostSteps  = 50
	driftParts = 32
)

// stepSides are how many pieces at each side are compared.
var stepSides = []int{8, 32, 128}

// withoutLumps leaves out the pieces that a lump or thin spot is in or next to.
func withoutLumps(pieces []Piece, lumps []Lump) []Piece {
	var out []Piece
	spots := slices.SortedFunc(slices.Values(lumps), func(a, b Lump) int { return cmp.Compare(a.From, b.From) })
	i := 0
	for _, p := range pieces {
		margin := 2 * (p.To - p.From)
		for i < len(spots) && spots[i].To < p.From-margin {
			i++
		}
		if i == len(spots) || spots[i].From > p.To+margin {
			out = append(out, p)
		}
	}
	return out
}

// findSteps compares the median of the pieces before each place with that of the
// pieces behind it. The deviation of such differences is taken from all of them,
// by median and distance, so that noise, waves and drift are in it. Pieces with lumps
// were left out. The longest sides come first: what they find, shorter ones place.
func findSteps(pieces []Piece) []Step {
	var out []Step
	for _, side := range slices.Backward(stepSides) {
		if len(pieces) < 4*side || len(pieces) < 2*leastSides {
			continue
		}
		for _, s := range stepsOf(pieces, side) {
			near := func(o Step) bool {
				return math.Abs(o.At-s.At) <= pieces[min(2*side, len(pieces)-1)].From-pieces[0].From
			}
			i := slices.IndexFunc(out, near)
			switch {
			case i < 0:
				out = append(out, s)
			case s.Score > out[i].Score:
				out[i] = s
			}
		}
	}
	slices.SortFunc(out, func(a, b Step) int { return cmp.Compare(b.Score, a.Score) })
	out = out[:min(len(out), mostSteps)]
	slices.SortFunc(out, func(a, b Step) int { return cmp.Compare(a.At, b.At) })
	return out
}

// stepsOf finds the steps with sides of one length.
func stepsOf(pieces []Piece, side int) []Step {
	medians := make([]float64, len(pieces)-side+1)
	for i := range medians {
		medians[i] = medianOf(pieces[i : i+side])
	}
	differences := make([]float64, len(pieces)-2*side+1)
	for i := range differences {
		differences[i] = medians[i+side] - medians[i]
	}
	usual, off := medianAndDistance(differences)
	if off == 0 {
		return nil
	}
	var out []Step
	for i := 0; i < len(differences); i++ {
		if math.Abs(differences[i]-usual) < stepScore*off {
			continue
		}
		best := i // of the whole run that stands out to one side
		for ; i < len(differences) && math.Abs(differences[i]-usual) >= stepScore*off; i++ {
			if math.Abs(differences[i]-usual) > math.Abs(differences[best]-usual) {
				best = i
			}
		}
		height := differences[best] - usual
		out = append(out, Step{At: pieces[best+side].From, HeightM: height, Score: math.Abs(height) / off})
	}
	return out
}

func medianOf(pieces []Piece) float64 {
	means := make([]float64, len(pieces))
	for i, p := range pieces {
		means[i] = p.Mean()
	}
	slices.Sort(means)
	return means[len(means)/2]
}

// medianAndDistance gives the median, and the standard deviation that the median
// distance from it stands for.
func medianAndDistance(x []float64) (median, sd float64) {
	sorted := slices.Clone(x)
	slices.Sort(sorted)
	median = sorted[len(sorted)/2]
	for i := range sorted {
		sorted[i] = math.Abs(sorted[i] - median)
	}
	slices.Sort(sorted)
	return median, normalScale * sorted[len(sorted)/2]
}

// driftOf fits a straight line to the means of equal parts of the log, from which the
// steps were taken. Neighbouring readings hang together, the means of long parts
// hardly do, so that what is left of these tells how sure the slope is.
func driftOf(pieces []Piece, steps []Step) Drift {
	parts := min(driftParts, len(pieces))
	if parts < 3 {
		return Drift{}
	}
	at, mean := make([]float64, parts), make([]float64, parts)
	for i := range parts {
		all := pieces[i*len(pieces)/parts]
		for _, p := range pieces[i*len(pieces)/parts+1 : (i+1)*len(pieces)/parts] {
			all = join(all, p)
		}
		at[i], mean[i] = (all.From+all.To)/2, all.Mean()
		for _, s := range steps {
			before := min(max((s.At-all.From)/max(all.To-all.From, 1e-300), 0), 1)
			mean[i] -= s.HeightM * (1 - before)
		}
	}
	line, err := stat.FitLine(at, mean, nil)
	if err != nil {
		return Drift{}
	}
	return Drift{
		PerUnitM: line.Slope, SD: line.SlopeSD, Effective: parts,
		OverAllM: line.Slope * (pieces[len(pieces)-1].To - pieces[0].From),
	}
}
