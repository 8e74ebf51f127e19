package trace

// Piece is a run of neighbouring readings, added up.
type Piece struct {
	From, To float64 // places of its first and last reading along the axis
	N        int64
	Sum      float64 // of diameters, m
	Squares  float64 // of d², or of d₁·d₂ on two axes, m²
	Min, Max float64
	Gap      bool // readings are missing before it
}

// Mean is the mean diameter of a piece.
func (p Piece) Mean() float64 { return p.Sum / float64(p.N) }

// digestPieces is how many pieces a digest has at most. They are half as many as
// soon as that is reached, and each twice as long.
const digestPieces = 8192

// digest keeps a log as pieces of equally many readings, as short as they can be
// within a fixed memory: what is slow along the spool is worked out from them.
type digest struct {
	each   int64
	pieces []Piece
}

func (d *digest) add(b *Block) {
	if d.each == 0 {
		d.each = 1
		d.pieces = make([]Piece, 0, digestPieces)
	}
	two := len(b.Second) > 0
	for i, v := range b.Diameter {
		square := v * v
		if two {
			square = v * b.Second[i]
			v = (v + b.Second[i]) / 2
		}
		n := len(d.pieces)
		if n > 0 && d.pieces[n-1].N < d.each && !b.Gap[i] {
			p := &d.pieces[n-1]
			p.To = b.At[i]
			p.N++
			p.Sum += v
			p.Squares += square
			p.Min, p.Max = min(p.Min, v), max(p.Max, v)
			continue
		}
		if n == digestPieces {
			d.halve()
		}
		d.pieces = append(d.pieces, Piece{From: b.At[i], To: b.At[i], N: 1, Sum: v, Squares: square, Min: v, Max: v, Gap: b.Gap[i]})
	}
}

// halve joins pieces two by two.
func (d *digest) halve() {
	joined := d.pieces[:0]
	for i := 0; i < len(d.pieces); i += 2 {
		p := d.pieces[i]
		if i+1 < len(d.pieces) {
			p = join(p, d.pieces[i+1])
		}
		joined = append(joined, p)
	}
	d.pieces = joined
	d.each *= 2
}

// join is two pieces as one; a gap between them is lost, and their places tell it.
func join(a, b Piece) Piece {
	return Piece{
		From: a.From, To: b.To, N: a.N + b.N, Sum: a.Sum + b.Sum, Squares: a.Squares + b.Squares,
		Min: min(a.Min, b.Min), Max: max(a.Max, b.Max), Gap: a.Gap,
	}
}
