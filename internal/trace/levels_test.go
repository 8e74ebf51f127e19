package trace

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func levelsFor(x []float64, gapAt int) *Levels {
	l := &Levels{}
	for from := 0; from < len(x); from += 1000 {
		var b Block
		for i := from; i < min(from+1000, len(x)); i++ {
			at := float64(i)
			if gapAt > 0 && i >= gapAt {
				at += 500
			}
			b.At, b.Diameter, b.Gap = append(b.At, at), append(b.Diameter, x[i]), append(b.Gap, i == gapAt)
		}
		l.Add(&b)
	}
	l.Done()
	return l
}

// A strip has the least and the greatest reading of each part, whatever its stretch.
func TestStripIsThatOfTheReadings(t *testing.T) {
	x := noise(20_000, 2)
	l := levelsFor(x, 0)
	random := rand.New(rand.NewPCG(4, 4))
	for range 200 {
		from := float64(random.IntN(19_000))
		s := Stretch{from + 0.5, from + 0.5 + float64(200+random.IntN(int(19_900-from)))}
		at, low, high := l.Strip(s, 150)
		require.Len(t, at, 150)
		width := (s.To - s.From) / 150
		for k := range at {
			least, most := float32(math.Inf(1)), float32(math.Inf(-1))
			for i := int(math.Ceil(s.From + float64(k)*width - 1e-9)); float64(i) < s.From+float64(k+1)*width-1e-9 && i < len(x); i++ {
				least, most = min(least, float32(x[i])), max(most, float32(x[i]))
			}
			if least <= most {
				require.InDelta(t, least, low[k], 0, "%v part %d", s, k)
				require.InDelta(t, most, high[k], 0)
			}
		}
	}
}

func TestStripShowsReadingsAndGaps(t *testing.T) {
	l := levelsFor(noise(3000, 2), 1500)
	assert.Equal(t, Stretch{0, 3499}, l.Span())
	at, low, _ := l.Strip(l.Span(), 100)
	empty := 0
	for i := range at {
		if math.IsNaN(low[i]) {
			empty++
			assert.InDelta(t, 1750, at[i], 260)
		}
	}
	assert.InDelta(t, 13, empty, 2, "the gap is 500 of 3500")
	_, low, high := l.Strip(Stretch{10, 20}, 100)
	assert.Equal(t, low, high, "single readings")
	assert.Len(t, low, 12, "with one more at each side, so that the line goes on")
	at, _, _ = l.Strip(Stretch{5, 5}, 10)
	assert.Empty(t, at)
	at, _, _ = (&Levels{}).Strip(Stretch{0, 1}, 10)
	assert.Empty(t, at)
}

func BenchmarkStrip(b *testing.B) {
	l := levelsFor(noise(5_000_000, 1), 0)
	for i := 0; b.Loop(); i++ {
		l.Strip(Stretch{float64(i % 1000), 4_000_000}, 1000)
	}
}
