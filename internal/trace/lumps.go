package trace

import (
	"cmp"
	"math"
	"slices"
)

// Lump is a place where the strand is much thicker, or thinner, than around it.
type Lump struct {
	From, To float64 // along the axis
	At       float64 // of the reading that is farthest off
	PeakM    float64 // its diameter
	HeightM  float64 // how far the strand is off from what is around it; below 0 where it is thin
	Score    float64 // the same in standard deviations of such a mean, by median and distance
	Readings int64   // that it spans
}

// How lumps are told from noise. A stretch is held against the running median of
// the stretches around it, in units of 1.4826 times their median distance from it, which
// is the standard deviation of normal noise. Neither takes notice of the lumps
// themselves, while these fill less than half of the window. Stretches of several
// lengths are looked at: a single reading must stand out far, a longer stretch is seen when
// its mean does, for the noise of a mean is smaller. Waves of the line are in the
// distances: they are no lumps, and hide what is not higher than they are.
const (
	windowSize  = 1023 // stretches that are compared
	normalScale = 1.4826
	mostEvents  = 20000 // that are kept of one length of stretch
	leastValues = 20    // below which nothing stands out
)

// lumpScales are the lengths of stretches and the steps between their beginnings, in
// readings, with how many deviations are an event. Normal noise gives 4 false alarms in a
// million readings: there are fewer long stretches.
var lumpScales = []struct {
	size, stride int
	score        float64
}{{1, 1, 5.0}, {4, 2, 4.9}, {16, 4, 4.6}, {64, 16, 4.3}}

// lumps finds lumps and thin spots.
type lumps struct {
	recent recent
	scales []*scale
}

// recent keeps the last readings: what an event needs of them is looked up there.
type recent struct {
	at, x [recentReadings]float64
	gap   [recentReadings]bool
	n     int64 // readings so far
}

// recentReadings is more than a window of the longest stretches spans; a power of two.
const recentReadings = 1 << 15

func (r *recent) add(at, x float64, gap bool) {
	i := r.n & (recentReadings - 1)
	r.at[i], r.x[i], r.gap[i] = at, x, gap
	r.n++
}

// scale looks at stretches of one length.
type scale struct {
	size   int
	score  float64
	least  float64 // deviation that the steps of the gauge make
	part   float64 // sum of the readings in the part to come
	each   int     // readings in a part
	parts  [4]float64
	have   int // parts since the last gap
	needed int // parts in a stretch

	running *running
	means   []float64 // of the stretches that wait until they are in the middle of the window
	ends    []int64   // number of the last reading of each
	head    int       // the first that waits
	off     float64   // deviation of the stretches
	limit   float64   // what a stretch must be off by to be an event
	age     int       // stretches since these were worked out
	open    event
	found   []event
}

// event is a run of stretches that stand out to the same side.
type event struct {
	Lump
	last int64 // number of its last reading, -1 for none
}

// newLumps takes the first readings to find a fitting width of the bins.
func newLumps(first []float64) *lumps {
	sorted := slices.Clone(first)
	slices.Sort(sorted)
	step := gaugeStep(sorted)
	centre := sorted[len(sorted)/2]
	for i := range sorted {
		sorted[i] = math.Abs(sorted[i] - centre)
	}
	slices.Sort(sorted)
	const finest, coarsest = 0.02e-6, 1e-6
	width := min(max(sorted[len(sorted)/2]/64, finest), coarsest)
	l := &lumps{}
	for _, of := range lumpScales {
		l.scales = append(l.scales, &scale{
			size: of.size, each: of.stride, needed: of.size / of.stride, score: of.score,
			least: step / 2 / math.Sqrt(float64(of.size)), open: event{last: -1}, running: newRunning(windowSize, centre, width),
		})
	}
	return l
}

// gaugeStep is the smallest step between sorted readings.
func gaugeStep(sorted []float64) float64 {
	const none = 1e-9 // m; less is rounding
	step := math.Inf(1)
	for i := 1; i < len(sorted); i++ {
		if d := sorted[i] - sorted[i-1]; d > none {
			step = min(step, d)
		}
	}
	if math.IsInf(step, 1) {
		return 0
	}
	return step
}

// add takes readings with their places.
func (l *lumps) add(at, x []float64, gap []bool) {
	single := l.scales[0]
	for i, v := range x {
		l.recent.add(at[i], v, gap[i])
		single.take(&l.recent, v)
		if gap[i] {
			for _, s := range l.scales {
				s.part, s.have = 0, 0
			}
		}
		n := l.recent.n
		sum := v
		for _, s := range l.scales[1:] {
			s.part += sum
			if n%int64(s.each) != 0 {
				break
			}
			sum, s.part = s.part, 0
			s.addPart(&l.recent, sum)
		}
	}
}

// addPart takes the sum of the next part; the last few parts are a stretch. Behind a
// gap the first part may be short, so one more is waited for.
func (s *scale) addPart(r *recent, sum float64) {
	s.parts[s.have%s.needed] = sum
	s.have++
	if s.have <= s.needed && r.n > int64(s.size) || s.have < s.needed {
		return
	}
	total := 0.0
	for _, p := range s.parts[:s.needed] {
		total += p
	}
	s.take(r, total/float64(s.size))
}

// take puts a stretch that ends with the last reading into the window, and judges the
// one that is in its middle now.
func (s *scale) take(r *recent, mean float64) {
	s.running.add(mean)
	s.means, s.ends = append(s.means, mean), append(s.ends, r.n-1)
	if !s.running.full() {
		return
	}
	s.refresh()
	median := s.running.value()
	for len(s.means)-s.head > windowSize/2 {
		if height := s.means[s.head] - median; height > s.limit || height < -s.limit {
			s.event(r, s.ends[s.head], height)
		}
		s.head++
	}
	if s.head >= 4*windowSize {
		s.means = s.means[:copy(s.means, s.means[s.head:])]
		s.ends = s.ends[:copy(s.ends, s.ends[s.head:])]
		s.head = 0
	}
}

// refresh works the deviation out anew from time to time: it changes slowly.
func (s *scale) refresh() {
	const every = windowSize / 16
	if s.age > 0 && s.age < every {
		s.age++
		return
	}
	s.age = 1
	if !s.running.centred() {
		s.running.recentre()
	}
	s.off = max(normalScale*s.running.distance(), s.running.width, s.least)
	s.limit = s.score * s.off
}

// event takes in a stretch that stands out, with its last reading.
func (s *scale) event(r *recent, last int64, height float64) {
	e := event{last: last, Lump: r.lump(last-int64(s.size)+1, last, height)}
	e.Score = math.Abs(height) / s.off
	near := int64(s.size + 2*s.each)
	if o := &s.open; o.last >= 0 && last-o.last <= near && o.sameSide(&e) && !r.gapBetween(o.last, last) {
		o.join(e)
		o.last = last
		return
	}
	s.close()
	s.open = e
}

// lump describes the readings from one number to another.
func (r *recent) lump(first, last int64, height float64) Lump {
	const mask = recentReadings - 1
	l := Lump{From: r.at[first&mask], To: r.at[last&mask], At: r.at[first&mask], PeakM: r.x[first&mask], HeightM: height}
	for i := first; i <= last; i++ {
		if x := r.x[i&mask]; height > 0 && x > l.PeakM || height < 0 && x < l.PeakM {
			l.PeakM, l.At = x, r.at[i&mask]
		}
	}
	return l
}

func (r *recent) gapBetween(after, until int64) bool {
	for i := after + 1; i <= until; i++ {
		if r.gap[i&(recentReadings-1)] {
			return true
		}
	}
	return false
}

// join takes a later event into one.
func (e *event) join(o event) {
	e.From, e.To = min(e.From, o.From), max(e.To, o.To)
	if o.HeightM > 0 && o.PeakM > e.PeakM || o.HeightM < 0 && o.PeakM < e.PeakM {
		e.PeakM, e.At = o.PeakM, o.At
	}
	if math.Abs(o.HeightM) > math.Abs(e.HeightM) {
		e.HeightM = o.HeightM
	}
	e.Score = max(e.Score, o.Score)
}

func (s *scale) close() {
	if s.open.last >= 0 && len(s.found) < mostEvents {
		s.found = append(s.found, s.open)
	}
	s.open.last = -1
}

// end judges what still waits, against the last window.
func (s *scale) end(r *recent) {
	if s.running.n < leastValues {
		return
	}
	s.age = 0
	s.refresh()
	for ; s.head < len(s.means); s.head++ {
		if height := s.means[s.head] - s.running.value(); math.Abs(height) > s.limit {
			s.event(r, s.ends[s.head], height)
		}
	}
	s.close()
}

// result lists the lumps in the order of the log. Step is the mean distance of two
// readings.
func (l *lumps) result(step float64) []Lump {
	var events []event
	for _, s := range l.scales {
		s.end(&l.recent)
		events = takeIn(events, s.found)
	}
	list := make([]Lump, len(events))
	for i, e := range events {
		e.Readings = 1
		if step > 0 {
			e.Readings += int64(math.Round((e.To - e.From) / step))
		}
		list[i] = e.Lump
	}
	return list
}

// takeIn merges the events of longer stretches with those of shorter ones in the same
// place, into one each. The shorter ones tell the extent while they stand out about as
// far: a single high reading lifts the mean of the stretch around it too. Both lists are in
// the order of the log and stay so.
func takeIn(short, long []event) []event {
	const asFar = 0.5 // of the longer one's score (own judgement)
	var out []event
	i := 0
	for _, e := range long {
		for i < len(short) && short[i].To < e.From {
			out = append(out, short[i])
			i++
		}
		best := 0.0
		j := i
		var inside *event
		for ; j < len(short) && short[j].From <= e.To; j++ {
			switch {
			case !short[j].sameSide(&e):
				out = append(out, short[j])
			case inside == nil:
				inside = &short[j]
			default:
				inside.join(short[j])
			}
			if short[j].sameSide(&e) {
				best = max(best, short[j].Score)
			}
		}
		i = j
		if inside != nil {
			if best >= asFar*e.Score {
				e = *inside
			} else {
				e.join(*inside)
			}
		}
		out = append(out, e)
	}
	out = append(out, short[i:]...)
	slices.SortStableFunc(out, func(a, b event) int { return cmp.Compare(a.From, b.From) })
	return out
}

func (e *event) sameSide(o *event) bool { return (e.HeightM < 0) == (o.HeightM < 0) }
