package melt

import "math"

// HeatMargin returns how far in K below the onset of decomposition to stay: 10 K
// for less than two minutes in the melt, 20 K for more than five and while the
// time is not known (NaN), and between them in proportion.
//
// Source: own judgement; what an analysis finds in minutes of heating, long time
// in the melt brings about earlier.
func HeatMargin(residenceS float64) float64 {
	if math.IsNaN(residenceS) {
		return 20
	}
	return 10 + 10*min(1, max(0, (residenceS-120)/180))
}

// SeverityLimitS is the HeatSeverity in s above which a blend with plant matter
// may suffer although it stays below its onset (own judgement).
const SeverityLimitS = 600

// HeatSeverity returns the time in s at 200 °C that harms as much as timeS, from
// 0, at tempK, above 0:
//
//	t·exp(-15000·(1/T - 1/473))
//
// which is an activation energy of 125 kJ/mol. Times at several temperatures add
// up. Hold it against SeverityLimitS.
//
// Source: own judgement, not from the literature.
func HeatSeverity(timeS, tempK float64) float64 {
	return timeS * math.Exp(-15000*(1/tempK-1.0/473))
}

// HeatLimits are what a constituent says about melt temperatures, in K; NaN where
// it says nothing.
type HeatLimits struct {
	LowK, HighK float64 // range in which a polymer is processed
	OnsetK      float64 // where the constituent begins to decompose
}

// Window is the range of melt temperatures that suits all constituents.
type Window struct {
	LowK, HighK   float64 // NaN while no constituent says
	LowBy, HighBy int     // constituents that set them; -1 while none does
	ByOnset       bool    // HighK is an onset less its margin, and no end of a range
}

// MeltWindow returns the window
//
//	low  = the largest LowK
//	high = the smallest of every HighK and every OnsetK - HeatMargin(residenceS)
//
// of constituents in the order in which LowBy and HighBy count them; of equals the
// first counts. It returns false, with both ends, where low lies above high: no
// temperature suits all; and where an end is not known.
//
// Source: common practice for the ends; see HeatMargin.
func MeltWindow(constituents []HeatLimits, residenceS float64) (Window, bool) {
	w := Window{LowK: math.NaN(), HighK: math.NaN(), LowBy: -1, HighBy: -1}
	margin := HeatMargin(residenceS)
	for i, c := range constituents {
		if c.LowK > w.LowK || w.LowBy < 0 && !math.IsNaN(c.LowK) {
			w.LowK, w.LowBy = c.LowK, i
		}
		w.lower(c.HighK, i, false)
		w.lower(c.OnsetK-margin, i, true)
	}
	return w, w.LowK <= w.HighK
}

// lower brings the upper end down to highK if that is lower.
func (w *Window) lower(highK float64, by int, onset bool) {
	if highK < w.HighK || w.HighBy < 0 && !math.IsNaN(highK) {
		w.HighK, w.HighBy, w.ByOnset = highK, by, onset
	}
}
