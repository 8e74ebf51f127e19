package uncertain

// Points says where the points of a Monte Carlo run lie.
type Points uint8

// Kinds of points.
const (
	Quasi  Points = iota // Sobol' points, scrambled anew in each replicate
	Pseudo               // independent points
)

// splitMix is a random generator whose n-th number can be had at once.
//
// Source: G. L. Steele, D. Lea and C. H. Flood, "Fast splittable pseudorandom number
// generators", OOPSLA 2014, 453-472; the constants from memory (mix variant 13 of
// D. Stafford), confirm.
type splitMix uint64

const golden = 0x9e3779b97f4a7c15 // 2^64 over the golden ratio, odd

func (s *splitMix) next() uint64 {
	*s += golden
	return mixed(uint64(*s))
}

func mixed(z uint64) uint64 {
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// stream is one coordinate of the points of one replicate. Any block of it can be had
// at once, so that the blocks may be drawn in any order by any goroutine.
type stream struct {
	quasi bool
	start uint64 // shift of the digits, or where the generator starts
	v     directions
}

// newStream returns coordinate d of a replicate. Coordinates beyond the table of
// directions are pseudo-random.
func newStream(points Points, seed uint64, replicate, d int) stream {
	random := splitMix(mixed(mixed(mixed(seed+golden)+uint64(replicate)) + uint64(d)))
	s := stream{quasi: points == Quasi && d < sobolDimensions, start: random.next()}
	if s.quasi {
		s.v = sobolDirections(d)
		s.v.scramble(&random)
	}
	return s
}

// fill writes the points first, first+1, … into out as numbers within 0..1, both
// without. The length of out is a power of two, and first a multiple of it.
func (s *stream) fill(first int, digits []uint64, out []float64) {
	digits = digits[:len(out)]
	if s.quasi {
		s.v.fill(uint64(first), s.start, digits)
	} else {
		random := splitMix(s.start + uint64(first)*golden)
		for i := range digits {
			digits[i] = random.next()
		}
	}
	for i, d := range digits {
		out[i] = (float64(int64(d>>12)) + 0.5) * 0x1p-52 // 52 digits, so that even the last point stays below 1
	}
}
