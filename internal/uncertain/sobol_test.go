package uncertain

import (
	"fmt"
	"math"
	"math/bits"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func unscrambled(d, first, n int) []float64 {
	v := sobolDirections(d)
	digits := make([]uint64, n)
	v.fill(uint64(first), 0, digits)
	x := make([]float64, n)
	for i := range x {
		x[i] = float64(digits[i]) * 0x1p-64
	}
	return x
}

// The first points of dimensions 1 to 3, by hand from m = 1; 1; 1, 3, 3; in the order of
// the number of the point and not in that of Gray's code.
func TestFirstSobolPoints(t *testing.T) {
	assert.Equal(t, []float64{0, 0.5, 0.25, 0.75, 0.125, 0.625, 0.375, 0.875}, unscrambled(0, 0, 8))
	assert.Equal(t, []float64{0, 0.5, 0.75, 0.25, 0.625, 0.125, 0.375, 0.875}, unscrambled(1, 0, 8))
	assert.Equal(t, []float64{0, 0.5, 0.75, 0.25, 0.375, 0.875, 0.625, 0.125}, unscrambled(2, 0, 8))
}

// scipy 1.10.1, qmc.Sobol(256, scramble=False, bits=32).random(4096), dimensions 1, 2, 3,
// 10, 50, 160 and 256. It counts by Gray's code: its point n is number n ⊕ n/2.
func TestSobolPointsOfScipy(t *testing.T) {
	for n, want := range map[int][7]float64{
		5:    {0.875, 0.875, 0.125, 0.125, 0.875, 0.125, 0.875},
		77:   {0.8359375, 0.8359375, 0.0078125, 0.4296875, 0.1796875, 0.9140625, 0.9609375},
		1000: {0.2197265625, 0.0966796875, 0.5185546875, 0.0693359375, 0.4794921875, 0.1455078125, 0.2490234375},
		4095: {0.000244140625, 0.941162109375, 0.334228515625, 0.246337890625, 0.607666015625, 0.094482421875, 0.613037109375},
	} {
		for i, d := range [7]int{0, 1, 2, 9, 49, 159, 255} {
			assert.Equal(t, want[i], unscrambled(d, n^n>>1, 1)[0], "point %d, dimension %d", n, d+1)
		}
	}
}

// Every block of 2^k points that begins at a multiple has one point in each 2^k-th of
// 0..1, scrambled or not.
func TestSobolProjectionsAreNets(t *testing.T) {
	for d := range sobolDimensions {
		plain := sobolDirections(d)
		scrambled := plain
		random := splitMix(d)
		scrambled.scramble(&random)
		for _, v := range []directions{plain, scrambled} {
			for _, k := range []int{1, 2, 5, 8, 12} {
				for _, first := range []uint64{0, 1 << k, 5 << k} {
					requireNet(t, v, first, k, fmt.Sprintf("dimension %d, 2^%d points from %d", d+1, k, first))
				}
			}
		}
	}
}

func requireNet(t *testing.T, v directions, first uint64, k int, what string) {
	t.Helper()
	digits := make([]uint64, 1<<k)
	v.fill(first, 0x0123456789abcdef, digits)
	seen := make([]bool, 1<<k)
	for _, x := range digits {
		place := x >> (64 - k)
		require.False(t, seen[place], what)
		seen[place] = true
	}
}

// m_i is odd and below 2^i, and the polynomials are primitive and all different.
func TestSobolTable(t *testing.T) {
	seen := map[uint16]bool{}
	for _, row := range sobolTable {
		require.False(t, seen[row.polynomial])
		seen[row.polynomial] = true
		degree := bits.Len16(row.polynomial) - 1
		require.Len(t, row.m, degree)
		for i, m := range row.m {
			require.True(t, m%2 == 1 && m < 2<<i)
		}
		order, power := 0, uint32(1)
		for ok := true; ok; ok = power != 1 {
			power <<= 1
			if power>>degree == 1 {
				power ^= uint32(row.polynomial)
			}
			order++
		}
		require.Equal(t, 1<<degree-1, order, "polynomial %d", row.polynomial)
	}
}

// Any block of a stream is the same drawn at once or in parts.
func TestBlocksOfStreams(t *testing.T) {
	for _, points := range []Points{Quasi, Pseudo} {
		for _, d := range []int{0, 7, sobolDimensions - 1, sobolDimensions + 5} {
			s := newStream(points, 1, 3, d)
			digits := make([]uint64, 64)
			whole, part := make([]float64, 64), make([]float64, 16)
			s.fill(1024, digits, whole)
			for first := 0; first < 64; first += 16 {
				s.fill(1024+first, digits, part)
				require.Equal(t, whole[first:first+16], part)
			}
		}
	}
}

// Streams of other seeds, replicates and dimensions are not alike.
func TestStreamsDiffer(t *testing.T) {
	for _, points := range []Points{Quasi, Pseudo} {
		seen := map[float64]bool{}
		x := make([]float64, 64)
		for _, s := range []stream{
			newStream(points, 1, 0, 0), newStream(points, 2, 0, 0), newStream(points, 1, 1, 0), newStream(points, 1, 0, 1),
			newStream(points, 0, 0, 2), newStream(points, math.MaxUint64, 0, 0),
		} {
			s.fill(0, make([]uint64, 64), x)
			for _, v := range x {
				require.False(t, seen[v] || v <= 0 || v >= 1)
				seen[v] = true
			}
		}
	}
}
