package trace

import (
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
)

// Spectra are worked out while the log is read, by Welch's method: segments of
// equally many readings, each half over the one before, without its mean and under a
// Hann window; their spectra are averaged. Slow waves need long segments: the readings
// go on as means of 16 to a second such spectrum, and the means of 16 of those
// to a third. A segment never reaches over a gap.
//
// Source: Welch, IEEE Transactions on Audio and Electroacoustics 15 (1967) 70.

const (
	segment   = 4096 // readings, or means, in one spectrum
	decimate  = 16
	mostLevel = 3

	overlapUntil = 64  // segments; after so many the overlap adds nothing that shows
	mostSegments = 256 // then half of them are left out, evenly: so many tell the spectrum to 6 %
)

// welch is one of these spectra.
type welch struct {
	size   int // of a segment
	window []float64
	fft    *fourier.FFT
	buffer []float64 // of the segment to come
	work   []float64
	coeff  []complex128
	power  []float64 // sum of |X|²
	count  int       // of segments
	every  int       // of so many segments one is taken
	skip   int       // readings until the next one

	next *welch // takes means, or nil
	part float64
	in   int
}

func newWelch(levels int) *welch {
	w := &welch{every: 1}
	w.resize(segment)
	if levels > 1 {
		w.next = newWelch(levels - 1)
	}
	return w
}

// resize makes the window and room for segments of a size.
func (w *welch) resize(size int) {
	w.size = size
	w.window = make([]float64, size)
	for i := range w.window {
		w.window[i] = 0.5 - 0.5*math.Cos(2*math.Pi*float64(i)/float64(size))
	}
	w.fft = fourier.NewFFT(size)
	w.work = make([]float64, size)
	w.coeff = make([]complex128, size/2+1)
	w.power = make([]float64, size/2+1)
}

// add takes readings.
func (w *welch) add(x []float64, gap []bool) {
	for i, v := range x {
		if gap[i] {
			w.breakOff()
		}
		w.take(v)
	}
}

func (w *welch) take(v float64) {
	if w.skip > 0 {
		w.skip--
	} else if w.buffer = append(w.buffer, v); len(w.buffer) == w.size {
		w.segment()
	}
	if w.next == nil {
		return
	}
	w.part += v
	w.in++
	if w.in == decimate {
		w.next.take(w.part / decimate)
		w.part, w.in = 0, 0
	}
}

// segment takes the segment in the buffer. Of a long log fewer are taken, with those before
// counted for less, so that every part of the log has the same weight.
func (w *welch) segment() {
	w.transform(w.buffer)
	if w.count == mostSegments {
		w.every *= 2
		w.count /= 2
		for i := range w.power {
			w.power[i] /= 2
		}
	}
	keep := w.size / 2
	if w.count >= overlapUntil {
		keep = 0
		w.skip = (w.every - 1) * w.size
	}
	w.buffer = w.buffer[:copy(w.buffer, w.buffer[w.size-keep:])]
}

// breakOff begins anew behind a gap.
func (w *welch) breakOff() {
	if w.count > 0 { // else they may be all there is
		w.buffer = w.buffer[:0]
	}
	w.part, w.in = 0, 0
	if w.next != nil {
		w.next.breakOff()
	}
}

// transform adds the spectrum of a segment.
func (w *welch) transform(x []float64) {
	mean := meanOf(x)
	for i, v := range x {
		w.work[i] = (v - mean) * w.window[i]
	}
	w.fft.Coefficients(w.coeff, w.work)
	for i, c := range w.coeff {
		w.power[i] += real(c)*real(c) + imag(c)*imag(c)
	}
	w.count++
}

// leastSegment is the shortest that waves are looked for in.
const leastSegment = 64

// finish makes do with what there is where no segment became full: of a short log two
// or three shorter segments.
func (w *welch) finish() {
	if w.count > 0 || len(w.buffer) < leastSegment {
		return
	}
	rest := w.buffer
	size := leastSegment
	for 4*size <= len(rest) {
		size *= 2
	}
	w.resize(size)
	for from := 0; from+size <= len(rest); from += size / 2 {
		w.transform(rest[from : from+size])
	}
}

// density returns the mean square that each bin holds, in m², so that a sine of
// amplitude A adds up to A²/2 over the bins that it spreads over.
func (w *welch) density() []float64 {
	if w.count == 0 {
		return nil
	}
	var squares float64
	for _, v := range w.window {
		squares += v * v
	}
	out := make([]float64, len(w.power))
	for i, p := range w.power {
		out[i] = 2 * p / (float64(w.count) * squares * float64(w.size))
	}
	return out
}
