package trace

import (
	"cmp"
	"context"
	"io"
	"math"
	"slices"
	"sync"
)

// Wanted is what a log is read for.
type Wanted struct {
	LowM, HighM float64 // the readings that are within tolerance; both 0 for no tolerance
	Quick       bool    // mean and spread only
}

// Summary is what a log says.
type Summary struct {
	Count
	Axis Axis

	MeanM, SDM   float64 // of the diameter, the mean of both axes where there are two
	MeanSquareM2 float64 // d², or d₁·d₂: π/4 of it is the mean cross-section
	Lag1         float64 // autocorrelation of neighbours
	Effective    float64 // readings that say as much of the mean and are independent
	MinM, MaxM   float64

	Below, Above int64   // readings out of tolerance
	GoodFrom     float64 // the longest stretch without one
	GoodTo       float64
	Ovality      Ovality
	Lumps        []Lump // the highest first
	LumpCount    int64
	Waves        []Wave
	Spectrum     []SpectrumPoint
	Drift        Drift
	Steps        []Step
	Flow         FlowError
	Pieces       []Piece
	Histogram    Histogram
}

// Ovality is the difference of both axes; its Readings are 0 where there is one axis.
type Ovality struct {
	Readings    int64
	MeanM, MaxM float64
	MaxAt       float64
}

// MostLumps is how many a summary lists.
const MostLumps = 1000

// Analysis works out a Summary while a log is read: lumps where Add is called, all else in
// a goroutine beside. Its zero value is not ready: take NewAnalysis, and end it with Summary or
// Stop.
type Analysis struct {
	want    Wanted
	diam    moments
	square  moments // of d₁·d₂, where there are two axes
	mean    []float64
	product []float64

	histogram Histogram
	digest    digest
	lumps     *lumps
	welch     *welch
	good      stretches
	ovality   Ovality
	ovalSum   float64

	beside chan *besides // to the goroutine that does what needs no lumps
	spare  chan *besides // what it is done with
	wait   sync.WaitGroup
}

// besides is a block for the goroutine beside, with memory of its own: the block is filled
// anew meanwhile.
type besides struct {
	block Block
	x     []float64 // its diameters
}

// mostBesides is how many blocks may wait for it.
const mostBesides = 3

func (o *besides) take(b *Block, x []float64) {
	o.block.At, o.block.Diameter = append(o.block.At[:0], b.At...), append(o.block.Diameter[:0], b.Diameter...)
	o.block.Second, o.block.Gap = append(o.block.Second[:0], b.Second...), append(o.block.Gap[:0], b.Gap...)
	o.x = append(o.x[:0], x...)
}

// NewAnalysis makes one for a log.
func NewAnalysis(want Wanted) *Analysis {
	if want.HighM == 0 {
		want.HighM = math.Inf(1)
	}
	return &Analysis{want: want}
}

// Add takes readings. They may come in blocks of any length.
func (a *Analysis) Add(b *Block) {
	x := a.diameters(b)
	a.diam.add(x)
	if a.want.Quick {
		return
	}
	if a.lumps == nil {
		a.begin(x)
	}
	o := <-a.spare
	o.take(b, x)
	a.beside <- o
	a.lumps.add(b.At, x, b.Gap)
}

// begin makes what the first readings tell the size of, and starts the goroutine beside.
func (a *Analysis) begin(x []float64) {
	a.histogram = newHistogram(centreOf(x))
	a.lumps = newLumps(x[:min(len(x), 8192)])
	a.welch = newWelch(mostLevel)
	beside := make(chan *besides, mostBesides)
	a.beside, a.spare = beside, make(chan *besides, mostBesides)
	for range mostBesides {
		a.spare <- &besides{}
	}
	a.wait.Go(func() {
		for o := range beside {
			a.welch.add(o.x, o.block.Gap)
			a.digest.add(&o.block)
			a.histogram.add(o.x)
			a.good.add(o.block.At, o.x, o.block.Gap, a.want.LowM, a.want.HighM)
			a.spare <- o
		}
	})
}

// Stop ends an analysis of which no summary is wanted; Summary does so itself.
func (a *Analysis) Stop() {
	if a.beside != nil {
		close(a.beside)
		a.beside = nil
	}
	a.wait.Wait()
}

// diameters are those of a block, of two axes their means.
func (a *Analysis) diameters(b *Block) []float64 {
	if len(b.Second) == 0 {
		return b.Diameter
	}
	a.mean, a.product = a.mean[:0], a.product[:0]
	for i, d := range b.Diameter {
		e := b.Second[i]
		a.mean, a.product = append(a.mean, (d+e)/2), append(a.product, d*e)
		oval := math.Abs(d - e)
		a.ovalSum += oval
		if oval > a.ovality.MaxM || a.ovality.Readings == 0 {
			a.ovality.MaxM, a.ovality.MaxAt = oval, b.At[i]
		}
		a.ovality.Readings++
	}
	a.square.add(a.product)
	return a.mean
}

// centreOf is the median of a first block.
func centreOf(x []float64) float64 {
	sorted := slices.Clone(x[:min(len(x), 8192)])
	slices.Sort(sorted)
	return sorted[len(sorted)/2]
}

// Summary ends the analysis. Count is that of the Scan that fed it.
func (a *Analysis) Summary(count Count, axis Axis) Summary {
	a.Stop()
	d := &a.diam
	n := float64(d.n)
	s := Summary{Count: count, Axis: axis, MeanM: d.mean(), SDM: d.sd(), MeanSquareM2: d.meanSquare(), Lag1: d.lag1(), MinM: d.min, MaxM: d.max}
	if a.square.n > 0 {
		s.MeanSquareM2 = a.square.mean()
		s.Ovality = a.ovality
		s.Ovality.MeanM = a.ovalSum / n
	}
	s.Effective = effective(n, s.Lag1)
	if a.want.Quick {
		return s
	}
	s.Pieces, s.Histogram = a.digest.pieces, a.histogram
	s.Effective = min(s.Effective, effectiveByParts(s.Pieces, s.SDM, n))
	s.Below, s.Above, s.GoodFrom, s.GoodTo = a.good.below, a.good.above, a.good.bestFrom, a.good.bestTo
	s.setLumps(a.lumps.result(count.Step))
	levels := levelsOf(a.welch)
	s.Waves, s.Spectrum = findWaves(levels, s.SDM*s.SDM), spectrum(levels)
	even := withoutLumps(s.Pieces, s.Lumps)
	s.Steps = findSteps(even)
	s.Drift = driftOf(even, s.Steps)
	return s
}

// setLumps keeps the highest.
func (s *Summary) setLumps(found []Lump) {
	s.LumpCount = int64(len(found))
	slices.SortStableFunc(found, func(a, b Lump) int { return cmp.Compare(math.Abs(b.HeightM), math.Abs(a.HeightM)) })
	s.Lumps = found[:min(len(found), MostLumps)]
}

// effective is the number of independent readings that say as much of the mean,
//
//	n_eff = n·(1 - r₁)/(1 + r₁),
//
// between 1 and n; r₁ is the autocorrelation of neighbours. It is right for a
// first-order autoregressive series.
func effective(n, lag1 float64) float64 {
	if !(lag1 > -1) {
		return n
	}
	return min(max(n*(1-lag1)/(1+lag1), 1), n)
}

// effectiveByParts is the same from how much the means of long parts differ:
//
//	n_eff = B·s²/var(means of B parts)
//
// It sees what neighbours do not tell: slow waves, drift and steps. n for too few
// readings.
func effectiveByParts(pieces []Piece, sd, n float64) float64 {
	const parts, least = 32, 20
	if len(pieces) < parts*least || sd == 0 {
		return n
	}
	var m moments
	for i := range parts {
		all := pieces[i*len(pieces)/parts]
		for _, p := range pieces[i*len(pieces)/parts+1 : (i+1)*len(pieces)/parts] {
			all = join(all, p)
		}
		m.add([]float64{all.Mean()})
	}
	variance := m.sd() * m.sd()
	if variance == 0 {
		return n
	}
	return min(max(parts*sd*sd/variance, 1), n)
}

// stretches tells readings within tolerance from those out of it.
type stretches struct {
	below, above     int64
	begun            bool
	from, to         float64
	bestFrom, bestTo float64
}

func (g *stretches) add(at, x []float64, gap []bool, low, high float64) {
	for i, v := range x {
		if v < low {
			g.below++
		}
		if v > high {
			g.above++
		}
		if v < low || v > high || gap[i] {
			g.begun = false
		}
		if v < low || v > high {
			continue
		}
		if !g.begun {
			g.begun, g.from = true, at[i]
		}
		g.to = at[i]
		if g.to-g.from > g.bestTo-g.bestFrom || g.bestTo == g.bestFrom && g.bestTo == 0 {
			g.bestFrom, g.bestTo = g.from, g.to
		}
	}
}

// Summarise reads a whole log.
func Summarise(ctx context.Context, from io.Reader, l Layout, how Reading, want Wanted) (Summary, error) {
	a := NewAnalysis(want)
	defer a.Stop()
	count, err := Scan(ctx, from, l, how, func(b *Block) error {
		a.Add(b)
		return nil
	})
	if err != nil {
		return Summary{Count: count, Axis: l.Axis()}, err
	}
	return a.Summary(count, l.Axis()), nil
}
