package trace

// histogramBins spans half of the typical diameter below and above it.
const histogramBins = 4096

// Histogram counts readings by their diameter.
type Histogram struct {
	LowM   float64 // lower end of the first bin
	WidthM float64 // of a bin
	Counts []int64 // what lies beyond an end is in the last bin
}

func newHistogram(typicalM float64) Histogram {
	return Histogram{LowM: typicalM / 2, WidthM: typicalM / histogramBins, Counts: make([]int64, histogramBins)}
}

func (h *Histogram) add(x []float64) {
	per := 1 / h.WidthM
	for _, v := range x {
		h.Counts[min(max(int((v-h.LowM)*per), 0), len(h.Counts)-1)]++
	}
}

// Quantile is the diameter that a share p of the readings is below, to a bin.
func (h *Histogram) Quantile(p float64) float64 {
	var total int64
	for _, n := range h.Counts {
		total += n
	}
	want := p * float64(total)
	below := 0.0
	for i, n := range h.Counts {
		if below+float64(n) >= want && n > 0 {
			return h.LowM + (float64(i)+(want-below)/float64(n))*h.WidthM
		}
		below += float64(n)
	}
	return h.LowM + float64(len(h.Counts))*h.WidthM
}
