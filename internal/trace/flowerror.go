package trace

import "math"

// FlowError is how much more or less comes out of a printer than it counts on: it takes
// every strand for one of the nominal diameter.
type FlowError struct {
	Over      float64 // stretch that it is told of, along the axis; at least as long as asked for
	Mean      float64 // of all stretches; 0.01 is 1 % too much
	SD        float64
	Low, High float64 // the thinnest stretch and the thickest
	LowAt     float64 // where these begin
	HighAt    float64
	Stretches int
}

// FlowErrorOf adds up neighbouring pieces to stretches of a length along the axis:
//
//	e = mean(d²)/nominal² - 1
//
// Where the log is shorter than one, it is one stretch. Nominal is above 0. Pieces are
// those of a Summary; a stretch is never shorter than one of them.
//
// Source: volume of a cylinder.
func FlowErrorOf(pieces []Piece, length, nominalM float64) FlowError {
	var out FlowError
	var sum, squares float64
	for i := 0; i < len(pieces); {
		from, total, n := pieces[i].From, 0.0, int64(0)
		for ; i < len(pieces); i++ {
			total += pieces[i].Squares
			n += pieces[i].N
			if pieces[i].To-from >= length {
				i++
				break
			}
		}
		reach := pieces[i-1].To - from
		if reach < length && out.Stretches > 0 {
			break // the rest is shorter than the others
		}
		out.Over = max(out.Over, reach)
		e := total/float64(n)/(nominalM*nominalM) - 1
		if out.Stretches == 0 || e < out.Low {
			out.Low, out.LowAt = e, from
		}
		if out.Stretches == 0 || e > out.High {
			out.High, out.HighAt = e, from
		}
		out.Stretches++
		sum += e
		squares += e * e
	}
	if out.Stretches > 0 {
		k := float64(out.Stretches)
		out.Mean = sum / k
		out.SD = math.Sqrt(max(squares/k-out.Mean*out.Mean, 0))
	}
	return out
}
