package trace

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// piecesOf makes pieces of equally many readings.
func piecesOf(x []float64) []Piece {
	var d digest
	var b Block
	for i, v := range x {
		b.At, b.Diameter, b.Gap = append(b.At, float64(i)), append(b.Diameter, v), append(b.Gap, false)
	}
	d.add(&b)
	return d.pieces
}

func TestStepsAreFoundAndPlaced(t *testing.T) {
	for _, n := range []int{200, 3000, 100_000} {
		for _, height := range []float64{4 * noiseM, -4 * noiseM} {
			x := noise(n, 4)
			for i := n / 3; i < n; i++ {
				x[i] += height
			}
			for i := n / 2; i < n/2+n/50; i++ {
				x[i] += 40 * noiseM // a lump is no step
			}
			lump := Lump{From: float64(n / 2), To: float64(n/2 + n/50)}
			found := findSteps(withoutLumps(piecesOf(x), []Lump{lump}))
			if assert.Len(t, found, 1, "%d readings", n) {
				assert.InDelta(t, n/3, found[0].At, 0.03*float64(n))
				assert.InDelta(t, height, found[0].HeightM, 1.5*noiseM)
			}
		}
	}
}

func TestStepsOfNoiseWavesAndDriftAreNone(t *testing.T) {
	for seed := range uint64(20) {
		assert.Empty(t, findSteps(piecesOf(waves(noise(100_000, seed)))))
		assert.Empty(t, findSteps(piecesOf(noise(1000, seed))))
	}
}

func TestDriftCoversTheTruth(t *testing.T) {
	const slope, n, logs = 2e-10, 50_000, 60
	inside := 0
	for seed := range uint64(logs) {
		x := noise(n, seed)
		for i := range x {
			x[i] += slope * float64(i)
		}
		d := driftOf(piecesOf(x), nil)
		if d.PerUnitM > slope-2*d.SD && d.PerUnitM < slope+2*d.SD {
			inside++
		}
	}
	assert.GreaterOrEqual(t, inside, logs*85/100)
}
