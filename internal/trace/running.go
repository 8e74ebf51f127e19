package trace

// running is a median over the last values of a series, with the median of the
// distances from it. Values are counted in the bins of a fine histogram: a new value goes
// in, the oldest goes out, and the median moves by the few bins that that takes.
type running struct {
	window int
	low    float64 // lower end of the first bin
	width  float64 // of a bin
	counts [runningBins]uint16
	ring   []uint16 // bins of the values in the window
	next   int      // place in ring of the next
	n      int      // values in the window
	median int      // bin of the median
	below  int      // values in bins below it
}

// runningBins spans 2 mm with bins of a quarter of a µm.
const runningBins = 8192

func newRunning(window int, centre, width float64) *running {
	return &running{window: window, low: centre - width*runningBins/2, width: width, ring: make([]uint16, window), median: runningBins / 2}
}

// bin is the one that a value lies in; what is beyond the ends lies in the last.
func (r *running) bin(v float64) int {
	b := int((v - r.low) / r.width)
	return min(max(b, 0), runningBins-1)
}

// add takes a value into the window, and the oldest out of it when it is full.
func (r *running) add(v float64) {
	b := r.bin(v)
	if r.n == r.window {
		old := int(r.ring[r.next])
		r.counts[old]--
		if old < r.median {
			r.below--
		}
	} else {
		r.n++
	}
	r.ring[r.next] = uint16(b)
	r.next++
	if r.next == r.window {
		r.next = 0
	}
	r.counts[b]++
	if b < r.median {
		r.below++
	}
	r.settle()
}

// settle moves the median to the bin of the middle value.
func (r *running) settle() {
	middle := r.n / 2
	for r.below > middle {
		r.median--
		r.below -= int(r.counts[r.median])
	}
	for r.below+int(r.counts[r.median]) <= middle {
		r.below += int(r.counts[r.median])
		r.median++
	}
}

// full reports a window without room.
func (r *running) full() bool { return r.n == r.window }

// value is the median, to a bin.
func (r *running) value() float64 { return r.low + (float64(r.median)+0.5)*r.width }

// distance is the median distance from the median, to a bin.
func (r *running) distance() float64 {
	need := r.n/2 + 1
	got := int(r.counts[r.median])
	reach := 0
	for got < need && reach < runningBins {
		reach++
		if i := r.median - reach; i >= 0 {
			got += int(r.counts[i])
		}
		if i := r.median + reach; i < runningBins {
			got += int(r.counts[i])
		}
	}
	return float64(reach) * r.width
}

// centred reports that the median is far from both ends of the histogram.
func (r *running) centred() bool { return r.median > runningBins/8 && r.median < runningBins*7/8 }

// recentre moves the histogram so that the median is in its middle. What lay beyond
// an end stays at that end.
func (r *running) recentre() {
	by := r.median - runningBins/2
	var counts [runningBins]uint16
	for i := range r.n {
		b := min(max(int(r.ring[i])-by, 0), runningBins-1)
		r.ring[i] = uint16(b)
		counts[b]++
	}
	r.counts = counts
	r.low += float64(by) * r.width
	r.median, r.below = 0, 0
	r.settle()
}
