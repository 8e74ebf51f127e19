package trace

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Wave is a regular swing of the diameter.
type Wave struct {
	Period     float64 // in readings
	AmplitudeM float64 // half of the swing from crest to trough
	Share      float64 // of the variance of all readings, 0 to 1
}

// SpectrumPoint is one point of a spectrum.
type SpectrumPoint struct {
	Period     float64 // in readings
	AmplitudeM float64 // of a sine that would hold as much as this bin
}

const (
	mostWaves  = 8
	lobe       = 2   // bins at each side that a sine spreads over, under the window
	around     = 24  // bins at each side that tell the noise
	lowestBin  = 4   // below it a segment holds too few periods
	handOver   = 256 // readings, or means, from which the next spectrum tells a period better
	leastRatio = 2   // of a peak over the noise around it, however sure (own judgement)
	chance     = 0.01
	leastShare = 0.001 // of the variance; what is below helps nobody (own judgement)
)

// level is one spectrum with what it is good for.
type level struct {
	means       int // of how many readings each of its values is
	density     []float64
	size, count int
	from, to    int // bins
}

// levelsOf lists the spectra: each tells the periods that it resolves best.
func levelsOf(first *welch) []level {
	var out []level
	means := 1
	for w := first; w != nil; w = w.next {
		w.finish()
		if w.count == 0 {
			break
		}
		l := level{means: means, density: w.density(), size: w.size, count: w.count, from: lowestBin, to: w.size/2 - lobe}
		if means > 1 {
			l.to = w.size * decimate / handOver
			out[len(out)-1].from = out[len(out)-1].size / handOver
		}
		out = append(out, l)
		if w.size < segment {
			break
		}
		means *= decimate
	}
	return out
}

// findWaves finds the strongest regular swings in the spectra, the strongest first. A bin
// is the middle of one when it is the highest within a lobe and so far above the
// median of the bins around it as chance would bring once in a hundred logs. The
// amplitude comes from the power of the whole lobe, less the noise below it, so that it
// does not matter where between two bins the period lies:
//
//	A = √(2·Σ(P_k - noise))
//
// Variance is that of all readings, m².
func findWaves(levels []level, variance float64) []Wave {
	var all []Wave
	for _, l := range levels {
		all = append(all, l.peaks()...)
	}
	slices.SortFunc(all, func(a, b Wave) int { return cmp.Compare(b.AmplitudeM, a.AmplitudeM) })
	var out []Wave
	for _, w := range all {
		if variance > 0 {
			w.Share = min(w.AmplitudeM*w.AmplitudeM/2/variance, 1)
		}
		twice := slices.ContainsFunc(out, func(o Wave) bool { return math.Abs(o.Period/w.Period-1) < 0.03 })
		if twice || len(out) == mostWaves || variance > 0 && w.Share < leastShare {
			continue
		}
		out = append(out, w)
	}
	return out
}

// peaks finds the swings of one spectrum.
func (l *level) peaks() []Wave {
	if l.to <= l.from {
		return nil
	}
	freedom := 2 * float64(l.count)
	spread := distuv.ChiSquared{K: freedom}
	median := spread.Quantile(0.5) / freedom
	ratio := max(spread.Quantile(1-chance/float64(l.to-l.from))/freedom, leastRatio)
	var out []Wave
	for k := l.from; k <= l.to; k++ {
		if !l.highest(k) {
			continue
		}
		noise := l.noise(k) / median
		if l.density[k] > ratio*noise {
			out = append(out, l.wave(k, noise))
		}
	}
	return out
}

// highest reports a bin above all others within a lobe.
func (l *level) highest(k int) bool {
	for i := max(k-lobe, 1); i <= min(k+lobe, len(l.density)-1); i++ {
		if l.density[i] > l.density[k] || i < k && l.density[i] == l.density[k] {
			return false
		}
	}
	return l.density[k] > 0
}

// noise is the median of the bins around one, its lobe left out.
func (l *level) noise(k int) float64 {
	var bins []float64
	for i := max(k-around, 1); i <= min(k+around, len(l.density)-1); i++ {
		if i < k-lobe || i > k+lobe {
			bins = append(bins, l.density[i])
		}
	}
	slices.Sort(bins)
	return bins[len(bins)/2]
}

// wave adds up the lobe around a bin.
func (l *level) wave(k int, noise float64) Wave {
	power, moment := 0.0, 0.0
	for i := k - lobe; i <= min(k+lobe, len(l.density)-1); i++ {
		p := max(l.density[i]-noise, 0)
		power += p
		moment += p * float64(i)
	}
	period := float64(l.size) / (moment / power)
	return Wave{Period: period * float64(l.means), AmplitudeM: math.Sqrt(2*power) / l.gain(period)}
}

// gain is what is left of a sine in means of neighbouring readings. Period is in means.
func (l *level) gain(period float64) float64 {
	if l.means == 1 {
		return 1
	}
	m := float64(l.means)
	x := math.Pi / (period * m)
	return math.Sin(m*x) / (m * math.Sin(x))
}

// spectrum lists the spectra as one, from short periods to long ones.
func spectrum(levels []level) []SpectrumPoint {
	const each = 300 // points of one spectrum; of several bins the highest
	var out []SpectrumPoint
	for _, l := range levels {
		grow := math.Pow(float64(l.to)/float64(l.from), 1.0/each)
		for k := l.to; k >= l.from; {
			down := max(min(int(float64(k)/grow), k-1), l.from-1)
			best := k
			for i := k; i > down; i-- {
				if l.density[i] > l.density[best] {
					best = i
				}
			}
			period := float64(l.size) / float64(best)
			out = append(out, SpectrumPoint{Period: period * float64(l.means), AmplitudeM: math.Sqrt(2*l.density[best]) / l.gain(period)})
			k = down
		}
	}
	slices.SortFunc(out, func(a, b SpectrumPoint) int { return cmp.Compare(a.Period, b.Period) })
	return out
}

// Turning is a part of the line that turns, with the time of one turn.
type Turning struct {
	Key     string // names it in texts, such as screw
	PeriodS float64
	SpreadS float64 // how far the time may be off
}

// Match is a part whose turns are as long as a wave.
type Match struct {
	Turning Turning
	Times   int // waves in one turn, or
	Turns   int // turns in one wave; one of both is 1
}

// MatchTurning lists the parts that a wave of a period may come from: with one wave in a
// turn, or two or three as of an oval roller or of flights, or one in two turns. A period
// matches within 3 %, or within what the time of a turn may be off by.
func MatchTurning(periodS float64, parts []Turning) []Match {
	const within = 0.03
	var out []Match
	for _, part := range parts {
		if !(part.PeriodS > 0) {
			continue
		}
		for _, m := range []Match{{Times: 1, Turns: 1}, {Times: 2, Turns: 1}, {Times: 3, Turns: 1}, {Times: 1, Turns: 2}} {
			factor := float64(m.Turns) / float64(m.Times)
			if math.Abs(periodS-factor*part.PeriodS) <= max(within*periodS, factor*part.SpreadS) {
				m.Turning = part
				out = append(out, m)
				break
			}
		}
	}
	return out
}
