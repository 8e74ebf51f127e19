package melt

import (
	"math"

	"fillwright/internal/stat"
)

// Areas for VolumeFlowTest, in m². The piston of 9.474 mm runs in a barrel of
// 9.550 mm, and the melt between them counts by half.
const (
	// AreaISOM2 is that of the printed formula of ISO 1133-1, MVR = 427·l/t with l
	// in cm and MVR in cm³/10 min: 0.7117 cm², where its text has 0.711 (from
	// memory, confirm). ASTM D1238 prints 426.
	AreaISOM2 = 427e-4 / 600
	// AreaMeanM2 is the mean of the two circles, 0.71063 cm², which makes 426.375
	// of the 427: 0.15 % less.
	AreaMeanM2 = math.Pi / 4 * (PistonM*PistonM + BarrelM*BarrelM) / 2
)

const (
	// fewestCuts and mostSpread are those of ISO 1133-1 (from memory, confirm).
	fewestCuts = 3
	mostSpread = 0.15

	// coverage turns the half-width of an interval of 95 % into a standard
	// uncertainty, as everywhere in the program.
	coverage   = 2
	confidence = 0.95
)

// Cut is a piece of strand cut off after a time (procedure A).
type Cut struct {
	MassKg, TimeS float64 // both above 0
	Bubbles       bool    // seen in the piece, which then does not count
}

// Travel is a distance that the piston sank in a time (procedure B).
type Travel struct{ DistanceM, TimeS float64 } // both above 0

// FlowReading says whether a cut or a travel counts.
type FlowReading int

// What becomes of a reading.
const (
	ReadingUsed    FlowReading = iota
	ReadingBubbles             // left out: the piece has bubbles
	ReadingInvalid             // left out: mass, distance or time is not a number above 0
)

// FlowVerdict says what a melt-flow test is worth.
type FlowVerdict int

// The verdicts of a melt-flow test. Those but FlowGood still come with the mean
// of what was measured, to be shown and not to be used.
const (
	FlowGood   FlowVerdict = iota
	FlowTooFew             // fewer than three readings count: cut more
	FlowUneven             // largest and smallest differ by more than 15 % of the mean: repeat with new material
)

// FlowTest is the outcome of a melt-flow test. Rates are in kg/s by mass and in
// m³/s by volume: 1 g/10 min is 1/600000 kg/s.
type FlowTest struct {
	Verdict  FlowVerdict
	Readings []FlowReading // one for each cut or travel
	Rates    []float64     // of those that count, in their order
	Rate     float64       // mean of Rates; NaN without any
	SD       float64       // of a single rate; NaN for fewer than two
	U        float64       // standard uncertainty of Rate; NaN for fewer than two
	Spread   float64       // largest less smallest rate, per mean; NaN without any
}

// MassFlowTest works out procedure A of ISO 1133-1:
//
//	rate_i = m_i/t_i,  MFR = mean(rate_i),  u = t_95(n - 1)·SD/(2·√n)
//
// m is the mass of a cut in kg and t its time in s. u is half of Student's
// half-width, so that twice u covers 95 % also for few cuts. Cuts with bubbles,
// and those that are not measured, are left out and said to be. The rule of the
// largest difference is held against the rates, which for equal times is the
// same as against the masses; it is about the whole test and leaves no cut out.
//
// Source: ISO 1133-1 (rules from memory, confirm).
func MassFlowTest(cuts []Cut) FlowTest {
	test := FlowTest{Readings: make([]FlowReading, len(cuts))}
	for i, c := range cuts {
		test.Readings[i] = test.take(c.MassKg, c.TimeS, c.Bubbles)
	}
	return test.judged()
}

// VolumeFlowTest works out procedure B of ISO 1133-1:
//
//	rate_i = A·l_i/t_i,  MVR = mean(rate_i)
//
// l is the travel of the piston in m, t its time in s and A the area in m²,
// AreaISOM2 for results to be held against data sheets. The rest is as in
// MassFlowTest; that the rule of the largest difference counts here too is own
// judgement.
//
// Source: ISO 1133-1 (rules from memory, confirm).
func VolumeFlowTest(travels []Travel, areaM2 float64) FlowTest {
	test := FlowTest{Readings: make([]FlowReading, len(travels))}
	for i, t := range travels {
		test.Readings[i] = test.take(areaM2*t.DistanceM, t.TimeS, false)
	}
	return test.judged()
}

// take adds the rate of a reading if it counts.
func (t *FlowTest) take(amount, timeS float64, bubbles bool) FlowReading {
	if bubbles {
		return ReadingBubbles
	}
	rate := amount / timeS
	if !(amount > 0 && timeS > 0 && rate > 0) || math.IsInf(rate, 1) {
		return ReadingInvalid
	}
	t.Rates = append(t.Rates, rate)
	return ReadingUsed
}

// judged fills in what follows from the rates.
func (t FlowTest) judged() FlowTest {
	t.Rate, t.SD, t.U, t.Spread = math.NaN(), math.NaN(), math.NaN(), math.NaN()
	if s, ok := stat.Summarise(t.Rates); ok {
		t.Rate, t.Spread = s.Mean, (s.Max-s.Min)/s.Mean
		if s.N > 1 {
			t.SD = s.SD
			t.U = stat.TFactor(confidence, s.N-1) * s.SD / math.Sqrt(float64(s.N)) / coverage
		}
	}
	switch {
	case len(t.Rates) < fewestCuts:
		t.Verdict = FlowTooFew
	case !(t.Spread <= mostSpread*(1+1e-9)): // just 15 % is allowed, whatever rounding does
		t.Verdict = FlowUneven
	}
	return t
}

// ByMass turns a test by volume into one by mass, MFR = MVR·ρ, with ρ the melt
// density in kg/m³, above 0, which is taken as exact.
//
// Source: definition of density.
func (t FlowTest) ByMass(meltDensityKgM3 float64) FlowTest {
	rates := make([]float64, len(t.Rates))
	for i, r := range t.Rates {
		rates[i] = r * meltDensityKgM3
	}
	t.Rates = rates
	t.Rate *= meltDensityKgM3
	t.SD *= meltDensityKgM3
	t.U *= meltDensityKgM3
	return t
}

// MeltDensity returns the density of the melt in kg/m³ from a test by mass and
// one by volume of the same material at the same temperature and load, and its
// standard uncertainty, NaN while that of either is not known:
//
//	ρ = MFR/MVR,  (u/ρ)² = (u_MFR/MFR)² + (u_MVR/MVR)²
//
// Melt that leaks past the piston counts as flow by volume and not by mass. It
// returns false unless both tests are FlowGood.
//
// Source: definition of density.
func MeltDensity(byMass, byVolume FlowTest) (densityKgM3, u float64, ok bool) {
	if byMass.Verdict != FlowGood || byVolume.Verdict != FlowGood {
		return math.NaN(), math.NaN(), false
	}
	densityKgM3 = byMass.Rate / byVolume.Rate
	u = densityKgM3 * math.Hypot(byMass.U/byMass.Rate, byVolume.U/byVolume.Rate)
	return densityKgM3, u, true
}

// CutAdvice is how to cut strand for an expected melt-flow rate.
type CutAdvice struct {
	IntervalS                 float64
	ChargeLowKg, ChargeHighKg float64 // what to fill into the barrel
}

// cutAdvices go by the largest rate that each is for, in g/10 min.
var cutAdvices = []struct {
	upTo float64
	CutAdvice
}{
	{0.15, CutAdvice{240, 3e-3, 5e-3}},
	{0.4, CutAdvice{120, 3e-3, 5e-3}},
	{1, CutAdvice{40, 4e-3, 6e-3}},
	{2, CutAdvice{20, 4e-3, 6e-3}},
	{5, CutAdvice{10, 4e-3, 8e-3}},
	{math.Inf(1), CutAdvice{5, 4e-3, 8e-3}},
}

// AdviseCuts returns the interval and the charge that the guide of ISO 1133-1
// gives for an expected rate in kg/s. It returns false below 0.1 g/10 min, for
// which the standard has no test.
//
// ASTM D1238 has intervals of its own, of 6, 3, 1, 0.5 and 0.25 min; its factors
// of 1.67, 3.33, 10, 20 and 40 from grams to g/10 min are the division by the
// time that MassFlowTest does.
//
// Source: ISO 1133-1:2011 and ASTM D1238 (from memory, confirm).
func AdviseCuts(expectedKgS float64) (CutAdvice, bool) {
	const perTradeUnit = 600e3 // g/10 min in a kg/s
	rate := expectedKgS * perTradeUnit
	if !(rate >= 0.1*(1-1e-9)) {
		return CutAdvice{}, false
	}
	for _, a := range cutAdvices {
		if rate <= a.upTo*(1+1e-9) {
			return a.CutAdvice, true
		}
	}
	return CutAdvice{}, false
}
