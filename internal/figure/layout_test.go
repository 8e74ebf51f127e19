package figure

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestScaleIsItsOwnInverse(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for range 2000 {
		s := Scale{Min: 10*rng.Float64() + 0.01, From: 500 * rng.Float64(), To: 500 * rng.Float64(), Log: rng.IntN(2) == 0}
		s.Max = s.Min * (1.001 + 100*rng.Float64())
		v := s.Min + (s.Max-s.Min)*rng.Float64()
		require.InEpsilon(t, v, s.ToValue(s.ToPixel(v)), 1e-9)
		require.InDelta(t, s.From, s.ToPixel(s.Min), 1e-9)
		require.InDelta(t, s.To, s.ToPixel(s.Max), 1e-9)
	}
}

func TestPanelTransformGoesBothWays(t *testing.T) {
	for _, p := range []Picture{costAndDensity(), lengthAndPoints()} {
		_, lay := new(Renderer).Render(p, DefaultStyle(700, 450, false))
		for _, panel := range lay.Panels {
			for _, share := range []float64{0, 0.3, 1} {
				px := panel.Area.X0 + share*panel.Area.W()
				py := panel.Area.Y0 + share*panel.Area.H()
				x, y := panel.ToValue(px, py)
				qx, qy := panel.ToPixel(x, y)
				assert.InDelta(t, px, qx, 1e-6)
				assert.InDelta(t, py, qy, 1e-6)
			}
			assert.Less(t, panel.Y.ToPixel(panel.Y.Max), panel.Y.ToPixel(panel.Y.Min), "values grow upwards")
		}
	}
}

func TestStackedPanelsAreAligned(t *testing.T) {
	_, lay := new(Renderer).Render(costAndDensity(), DefaultStyle(700, 450, false))
	require.Len(t, lay.Panels, 2)
	a, b := lay.Panels[0], lay.Panels[1]
	assert.Equal(t, a.X, b.X)
	assert.Equal(t, a.Area.X0, b.Area.X0)
	assert.Equal(t, a.Area.X1, b.Area.X1)
	assert.LessOrEqual(t, a.Area.Y1, b.Area.Y0)
	assert.InDelta(t, a.Area.H(), b.Area.H(), 1, "equal shares")
}

func TestShareDividesTheHeight(t *testing.T) {
	p := costAndDensity()
	p.Panels[0].Share = 3
	_, lay := new(Renderer).Render(p, DefaultStyle(700, 700, false))
	assert.InDelta(t, 3, lay.Panels[0].Area.H()/lay.Panels[1].Area.H(), 0.05)
}

func TestTargetsAreFoundWhereTheyStand(t *testing.T) {
	for name, p := range map[string]Picture{
		"blend": costAndDensity(), "melt": meltFlow(), "runs": runList(), "length": lengthAndPoints(),
	} {
		t.Run(name, func(t *testing.T) {
			_, lay := new(Renderer).Render(p, DefaultStyle(700, 450, false))
			require.NotEmpty(t, lay.Targets)
			for _, want := range lay.Targets {
				if name == "melt" && want.Kind == OnMark {
					continue // bars lie over it
				}
				got, ok := lay.At((want.Box.X0+want.Box.X1)/2, (want.Box.Y0+want.Box.Y1)/2, 3)
				require.True(t, ok)
				assert.Equal(t, want, got)
				if want.Label.W() > 0 {
					got, ok = lay.At(want.Label.X0+1, (want.Label.Y0+want.Label.Y1)/2, 0)
					require.True(t, ok)
					assert.Equal(t, want.Text, got.Text)
				}
			}
			_, ok := lay.At(-50, -50, 10)
			assert.False(t, ok)
		})
	}
}

func TestMarkStandsAtItsValue(t *testing.T) {
	p := costAndDensity()
	_, lay := new(Renderer).Render(p, DefaultStyle(700, 450, false))
	seen := 0
	for _, target := range lay.Targets {
		if target.Kind != OnMark {
			continue
		}
		seen++
		m := p.Panels[target.Panel].Marks[target.Index]
		assert.Equal(t, m.Label, target.Text)
		x, _ := lay.Panels[target.Panel].ToPixel(m.X, 0)
		assert.InDelta(t, x, (target.Box.X0+target.Box.X1)/2, 1)
		assert.Equal(t, target.Panel == 0, target.Label.W() > 0, "a label stands in the first panel only")
	}
	assert.Equal(t, 6, seen)
}

func TestScaleTwoHasTheSameLayout(t *testing.T) {
	for _, p := range []Picture{costAndDensity(), meltFlow(), runList(), lengthAndPoints(), properties()} {
		_, once := new(Renderer).Render(p, DefaultStyle(700, 450, false))
		s := DefaultStyle(1400, 900, false)
		s.Scale = 2
		_, twice := new(Renderer).Render(p, s)
		require.Len(t, twice.Texts, len(once.Texts))
		for i := range once.Texts {
			assert.Equal(t, once.Texts[i].Shown, twice.Texts[i].Shown)
			assert.InDelta(t, 2*once.Texts[i].Box.X0, twice.Texts[i].Box.X0, 4)
			assert.InDelta(t, 2*once.Texts[i].Box.Y0, twice.Texts[i].Box.Y0, 4)
		}
		for i := range once.Panels {
			assert.InDelta(t, 2*once.Panels[i].Area.W(), twice.Panels[i].Area.W(), 4)
			assert.InDelta(t, 2*once.Panels[i].Area.H(), twice.Panels[i].Area.H(), 4)
		}
	}
}

func TestRectDistance(t *testing.T) {
	r := Rect{X0: 10, Y0: 10, X1: 20, Y1: 20}
	assert.Zero(t, r.distance(15, 20))
	assert.InDelta(t, 5, r.distance(25, 15), 1e-12)
	assert.InDelta(t, math.Sqrt2, r.distance(9, 9), 1e-12)
	assert.True(t, r.Contains(10, 20))
	assert.False(t, r.Overlaps(Rect{X0: 20, Y0: 10, X1: 30, Y1: 20}))
}
