package uncertain

import "math/bits"

// The numbers of points and of dimensions up to which the quasi-random points are
// quasi-random.
const (
	sobolBits       = 30
	sobolDimensions = len(sobolTable) + 1
)

// directions is how the coordinate of a point moves with each binary digit of the
// number of the point, the lowest first. The first digit after the point of a
// coordinate is the highest bit.
type directions [sobolBits]uint64

// sobolDirections returns the directions of dimension d, counted from 0.
//
//	v_j = m_j/2^j for j ≤ s,
//	v_j = a_1·v_(j−1) ⊕ … ⊕ a_(s−1)·v_(j−s+1) ⊕ v_(j−s) ⊕ v_(j−s)/2^s beyond
//
// s is the degree of the primitive polynomial and a its inner coefficients.
//
// Source: S. Joe and F. Y. Kuo, SIAM J. Sci. Comput. 30 (2008) 2635-2654, section 2;
// the recurrence from memory, confirmed by the values of scipy 1.10.1.
func sobolDirections(d int) (v directions) {
	if d == 0 {
		for j := range v {
			v[j] = 1 << (63 - j)
		}
		return v
	}
	row := sobolTable[d-1]
	s := len(row.m)
	for j := range v {
		if j < s {
			v[j] = uint64(row.m[j]) << (63 - j)
			continue
		}
		v[j] = v[j-s] ^ v[j-s]>>s
		for k := 1; k < s; k++ {
			if row.polynomial>>(s-k)&1 == 1 {
				v[j] ^= v[j-k]
			}
		}
	}
	return v
}

// scramble multiplies the digits of the directions by a random lower triangular matrix
// with a diagonal of ones, over 64 digits.
//
// Chosen over hashing each point, since it costs nothing for each point, and keeps the
// nets exactly. Together with a random shift of the digits every point is uniform, and
// the variance of a mean is that of Owen's nested scrambling.
//
// Source: J. Matoušek, "On the L2-discrepancy for anchored boxes", J. Complexity 14
// (1998) 527-556; scipy scrambles in the same way. That the variance is Owen's:
// A. B. Owen, "Variance with alternative scramblings of digital nets", ACM TOMACS 13
// (2003) 363-378 (from memory, confirm).
func (v *directions) scramble(random *splitMix) {
	var column [64]uint64
	for j := range column {
		column[j] = 1<<(63-j) | random.next()>>1>>j
	}
	for i, digits := range v {
		var mixed uint64
		for ; digits != 0; digits &= digits - 1 {
			mixed ^= column[63-bits.TrailingZeros64(digits)]
		}
		v[i] = mixed
	}
}

// fill writes the digits of the points first, first+1, … into out, each moved by shift.
// The length of out is a power of two, and first a multiple of it.
func (v *directions) fill(first uint64, shift uint64, out []uint64) {
	for ; first != 0; first &= first - 1 {
		shift ^= v[bits.TrailingZeros64(first)]
	}
	out[0] = shift
	for j, n := 0, 1; n < len(out); j, n = j+1, 2*n {
		done, next := out[:n], out[n:2*n]
		for i, digits := range done {
			next[i] = digits ^ v[j]
		}
	}
}
