package trace

import (
	"bytes"
	"errors"
	"io"
	"math"
	"slices"
	"time"

	"fillwright/internal/stat"
)

// Follower reads a log while the line writes it: each time what has come since. Not for use
// from several goroutines at a time.
type Follower struct {
	layout     Layout
	rows       *rowReader
	low, high  float64 // tolerance, in m
	offset     int64   // of the file, up to the end of the last whole line
	head       []byte  // its first bytes, by which another file is told
	header     int     // lines still to leave out
	axis       axis
	count      Count
	running    *running // of the last readings, for lumps
	recentAt   []float64
	recent     []float64 // diameters
	wasOut     bool
	lumpUntil  int64 // reading up to which a lump was told
	alarms     []Alarm
	alarmsTold int64
	grown      time.Time // when it last did
	anew       Anew      // the last time that the file was begun anew
	anewAt     time.Time
}

// What a Follower keeps.
const (
	followMinutes  = 10
	mostRecent     = 60_000
	mostAlarms     = 100
	headBytes      = 512
	followWindow   = 255 // readings that a lump is held against
	followScore    = 6.0 // own judgement: a false alarm in 500 million readings of normal noise
	followedAtOnce = 64 << 20
	driftBins      = 20
)

// FollowState is what became of the file.
type FollowState string

// The states.
const (
	Growing   FollowState = "growing"
	Waiting   FollowState = "waiting" // nothing to read yet
	StoppedAt FollowState = "stopped" // nothing came for a while
)

// Anew is why a file was begun anew, "" while it was not.
type Anew string

// The reasons.
const (
	Shortened Anew = "shortened" // it is shorter than it was
	Replaced  Anew = "replaced"  // it begins with something else
)

// stopAfter is how long nothing may come before the log counts as stopped: so many times
// the usual step of its clock, but not less than leastStop.
const (
	stopSteps = 20
	leastStop = 10 * time.Second
)

// AlarmKind says what an alarm is for.
type AlarmKind string

// The kinds of alarm.
const (
	AlarmOut  AlarmKind = "out"  // a reading out of tolerance, after ones within
	AlarmLump AlarmKind = "lump" // far from the readings before it
)

// Alarm is a place at which something is wrong.
type Alarm struct {
	Kind     AlarmKind
	At       float64 // along the axis
	Diameter float64 // m
	Seen     time.Time
}

// Live is what is known of a log that is being written.
type Live struct {
	State     FollowState
	Since     time.Time // when it last grew
	Anew      Anew      // the last time that the file was begun anew, and when
	AnewAt    time.Time
	Readings  int64
	LeftOut   int64
	Last      float64 // the last diameter in m, the mean of the last few
	Out       bool    // the last reading is out of tolerance
	Place     float64 // along the axis from the beginning, of the last reading
	DriftM    float64 // for each unit of the axis, over the last minutes; NaN for too few
	DriftSD   float64
	Alarms    []Alarm // the newest first
	AlarmsAll int64
	At, D     []float64 // the last readings
}

// NewFollower follows a log that is written in a way. Low and high are the limits of
// tolerance in m, both 0 without.
func NewFollower(l Layout, typicalM, lowM, highM float64) *Follower {
	if highM == 0 {
		highM = math.Inf(1)
	}
	f := &Follower{layout: l, rows: newRowReader(l, typicalM), low: lowM, high: highM}
	f.begin()
	return f
}

// begin forgets the file.
func (f *Follower) begin() {
	f.offset, f.head, f.header = 0, nil, f.layout.Header
	f.axis = axis{kind: f.layout.Axis(), wraps: clockWithoutDate(f.layout)}
	f.count, f.running = Count{}, nil
	f.recent, f.recentAt, f.wasOut, f.lumpUntil = nil, nil, false, 0
}

// Read takes what came since the last time. A file that is shorter than before, or begins
// with something else, is read anew from its beginning.
func (f *Follower) Read(log io.ReadSeeker, now time.Time) (Live, error) {
	size, err := log.Seek(0, io.SeekEnd)
	if err != nil {
		return Live{}, err
	}
	anew, err := f.recognise(log, size)
	if err != nil {
		return Live{}, err
	}
	if anew != "" {
		f.begin()
		f.anew, f.anewAt = anew, now
	}
	if f.grown.IsZero() {
		f.grown = now
	}
	before, alarms, told := f.offset, f.alarms, f.alarmsTold
	if err := f.take(log, size, now); err != nil {
		return Live{}, err
	}
	if before == 0 { // what was written before is no news
		f.alarms, f.alarmsTold = alarms, told
	}
	if f.offset > before {
		f.grown = now
	}
	return f.live(now), nil
}

// recognise tells whether the file must be begun anew, and why.
func (f *Follower) recognise(log io.ReadSeeker, size int64) (Anew, error) {
	if size < f.offset {
		return Shortened, nil
	}
	if _, err := log.Seek(0, io.SeekStart); err != nil {
		return "", err
	}
	head := make([]byte, min(headBytes, size))
	if _, err := io.ReadFull(log, head); err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return "", err
	}
	if len(f.head) > 0 && !bytes.HasPrefix(head, f.head) {
		return Replaced, nil
	}
	if len(f.head) < headBytes && f.offset > 0 {
		f.head = head[:min(int64(len(head)), f.offset)]
	}
	return "", nil
}

// take reads the whole lines between what was read and the end.
func (f *Follower) take(log io.ReadSeeker, size int64, now time.Time) error {
	if _, err := log.Seek(f.offset, io.SeekStart); err != nil {
		return err
	}
	data, err := io.ReadAll(io.LimitReader(log, min(size-f.offset, followedAtOnce)))
	if err != nil {
		return err
	}
	end := bytes.LastIndexByte(data, '\n') + 1
	if end == 0 {
		return nil
	}
	if bytes.IndexByte(data[:end], 0) >= 0 {
		return &NotText{}
	}
	c := &chunk{text: bytes.TrimPrefix(data[:end], []byte("\ufeff"))}
	c.parse(f.rows)
	f.header -= c.dropHeader(f.header)
	f.axis.place(c, f.count.Lines, &f.count)
	f.count.Lines += c.lines
	for i, n := range c.left {
		f.count.Left[i] += n
	}
	for i, d := range c.block.Diameter {
		if len(c.block.Second) > 0 {
			d = (d + c.block.Second[i]) / 2
		}
		f.watch(c.block.At[i], d, now)
	}
	f.offset += int64(end)
	f.forget()
	return nil
}

// watch looks at one new reading.
func (f *Follower) watch(at, d float64, now time.Time) {
	f.count.Readings++
	f.recentAt, f.recent = append(f.recentAt, at), append(f.recent, d)
	out := d < f.low || d > f.high
	if out && !f.wasOut {
		f.alarm(Alarm{AlarmOut, at, d, now})
	}
	f.wasOut = out
	if f.running == nil {
		f.running = newRunning(followWindow, d, 0.5e-6)
	}
	if f.running.n >= followWindow/4 {
		off := max(normalScale*f.running.distance(), 2*f.running.width)
		if math.Abs(d-f.running.value()) > followScore*off {
			if f.count.Readings > f.lumpUntil {
				f.alarm(Alarm{AlarmLump, at, d, now})
			}
			f.lumpUntil = f.count.Readings + followWindow/8 // the same one, until it is over
		}
	}
	f.running.add(d)
	if !f.running.centred() {
		f.running.recentre()
	}
}

func (f *Follower) alarm(a Alarm) {
	f.alarmsTold++
	f.alarms = append([]Alarm{a}, f.alarms...)
	f.alarms = f.alarms[:min(len(f.alarms), mostAlarms)]
}

// forget drops readings that are older than the last minutes.
func (f *Follower) forget() {
	from := max(len(f.recent)-mostRecent, 0)
	if f.axis.kind == BySecond && len(f.recentAt) > 0 {
		for oldest := f.recentAt[len(f.recentAt)-1] - followMinutes*60; f.recentAt[from] < oldest; {
			from++
		}
	}
	f.recent = f.recent[:copy(f.recent, f.recent[from:])]
	f.recentAt = f.recentAt[:copy(f.recentAt, f.recentAt[from:])]
}

// live is what is known now.
func (f *Follower) live(now time.Time) Live {
	l := Live{ // with slices of its own: it is looked at while the next readings are taken
		State: Growing, Since: f.grown, Anew: f.anew, AnewAt: f.anewAt, Readings: f.count.Readings, LeftOut: f.count.LeftOut(), Place: f.axis.lastPlace,
		Out: f.wasOut, Alarms: slices.Clone(f.alarms), AlarmsAll: f.alarmsTold, At: slices.Clone(f.recentAt), D: slices.Clone(f.recent), DriftM: math.NaN(),
	}
	if n := len(f.recent); n > 0 {
		l.Last = meanOf(f.recent[max(n-5, 0):])
	}
	switch {
	case f.count.Readings == 0:
		l.State = Waiting
	case now.Sub(f.grown) > f.stopAfter():
		l.State = StoppedAt
	}
	l.DriftM, l.DriftSD = driftOfLast(f.recentAt, f.recent)
	return l
}

func (f *Follower) stopAfter() time.Duration {
	step, _, _ := f.axis.result()
	if f.axis.kind != BySecond || step <= 0 {
		return leastStop
	}
	return max(leastStop, time.Duration(stopSteps*step*float64(time.Second)))
}

// driftOfLast is the slope of the last readings, by the means of equal parts of them.
func driftOfLast(at, d []float64) (slope, sd float64) {
	if len(d) < 3*driftBins {
		return math.NaN(), math.NaN()
	}
	x, y := make([]float64, driftBins), make([]float64, driftBins)
	for k := range driftBins {
		from, to := k*len(d)/driftBins, (k+1)*len(d)/driftBins
		x[k], y[k] = meanOf(at[from:to]), meanOf(d[from:to])
	}
	line, err := stat.FitLine(x, y, nil)
	if err != nil {
		return math.NaN(), math.NaN()
	}
	return line.Slope, line.SlopeSD
}
