package bench

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// gritAndPomace is a blend of a coarse and a fine powder, as the second of the project.
func gritAndPomace(t *testing.T) project.Project {
	p := sample(t, "olive-mill-pla")
	p.Blends[1] = recipe("grit-4", "pla", "balance", "olive-grit", "4 wt%", "olive-pomace", "3 wt%")
	grit := &p.Materials[p.MaterialByID("olive-grit")]
	grit.Powder.Sieving.CheckSieve = q[quantity.Length]("400 um")
	grit.BulkDensity = q[quantity.Density]("0.7 g/cm3")
	p.Materials[p.MaterialByID("olive-pomace")].BulkDensity = q[quantity.Density]("0.5 g/cm3")
	return p
}

// ofFirstPowder are the figures that go by the first powder of a blend.
var ofFirstPowder = []Figure{PowderMoisture, PackingLimit, PreparationYield, PreparedCost, SizeD10, SizeD50, SizeD90, TopSize, DryingTime, Conductivity, Modulus, StiffnessKept}

// sameLimits wants the limits of the second blend alike.
func sameLimits(t *testing.T, want, got *Sheet, within float64) {
	t.Helper()
	for _, l := range want.Limits(1).Limits {
		now := limitOf(t, got.Limits(1), l.ID)
		assert.Equal(t, l.State, now.State, l.ID)
		assert.InDelta(t, l.Allowed.Value, now.Allowed.Value, within*(1+l.Allowed.Value), l.ID)
		assert.InDelta(t, l.Allowed.Low, now.Allowed.Low, within*(1+l.Allowed.Value), l.ID)
		assert.InDelta(t, l.Allowed.High, now.Allowed.High, within*(1+l.Allowed.Value), l.ID)
	}
}

// The order of two powders of one class changes no limit, nor a figure that is of all powder.
func TestOrderOfPowdersDoesNotMatter(t *testing.T) {
	p := gritAndPomace(t)
	want := evaluate(t, p)
	for _, order := range [][]int{{0, 2, 1}, {1, 2, 0}, {2, 1, 0}} {
		turned := project.Clone(p)
		for i, k := range order {
			turned.Blends[1].Parts[i] = p.Blends[1].Parts[k]
		}
		got := evaluate(t, turned)
		for _, f := range Figures() {
			if slices.Contains(ofFirstPowder, f) {
				continue
			}
			a, b := want.Blends[1].Result(f), got.Blends[1].Result(f)
			require.Equal(t, a.Known(), b.Known(), f.Key())
			assert.InDelta(t, a.Value, b.Value, 1e-9*math.Max(1, math.Abs(a.Value)), f.Key())
		}
		sameLimits(t, want, got, 1e-6)
	}
}

// Two lots of one powder are one powder.
func TestTwoLotsAreOnePowder(t *testing.T) {
	p := gritAndPomace(t)
	p.Blends[1] = recipe("grit-4", "pla", "balance", "olive-grit", "4 wt%")
	want := evaluate(t, p)
	lot := p.Materials[p.MaterialByID("olive-grit")].Clone()
	lot.ID = "lot"
	p.Materials = append(p.Materials, lot)
	p.Blends[1] = recipe("grit-4", "pla", "balance", "lot", "1 wt%", "olive-grit", "3 wt%")
	got := evaluate(t, p)
	for _, f := range []Figure{TopShare, PickUpLimit, PickUpLimitWhole, PickUpUse, CoatThickness, RandomMixRSD} {
		a, b := want.Blends[1].Result(f), got.Blends[1].Result(f)
		require.True(t, a.Known(), f.Key())
		assert.InEpsilon(t, a.Value, b.Value, 1e-9, f.Key())
	}
}

// The largest grains of any powder that is there decide, and what pellets carry of a mixture
// lies between what they carry of each. What is not known of one is not known of both.
func TestEveryPowderCounts(t *testing.T) {
	p := gritAndPomace(t)
	of := func(parts ...string) [FigureCount]Result {
		other := project.Clone(p)
		other.Blends[1] = recipe("grit-4", append([]string{"pla", "balance"}, parts...)...)
		return evaluate(t, other).Blends[1].Results
	}
	both, grit, pomace := of("olive-pomace", "3 wt%", "olive-grit", "4 wt%"), of("olive-grit", "7 wt%"), of("olive-pomace", "7 wt%")
	require.Greater(t, grit[TopShare].Value, pomace[TopShare].Value)
	assert.InDelta(t, grit[TopShare].Value, both[TopShare].Value, 1e-9)
	assert.Greater(t, both[PickUpLimit].Value, grit[PickUpLimit].Value)
	assert.Less(t, both[PickUpLimit].Value, pomace[PickUpLimit].Value)
	coat := func(wt, gcm3 float64) float64 { return wt / gcm3 }
	assert.InEpsilon(t, (coat(4, 0.7)+coat(3, 0.5))/coat(7, 0.7), both[CoatThickness].Value/grit[CoatThickness].Value, 1e-9, "volumes add up")
	none := of("olive-pomace", "7 wt%", "olive-grit", "0 wt%")
	assert.InDelta(t, pomace[TopShare].Value, none[TopShare].Value, 1e-9, "there is none of it")
	assert.InDelta(t, pomace[PickUpLimit].Value, none[PickUpLimit].Value, 1e-9)

	at := p.MaterialByID("olive-grit")
	p.Materials[at].Powder.Sieving = material.Sieving{}
	p.Blends[1] = recipe("grit-4", "pla", "balance", "olive-pomace", "3 wt%", "olive-grit", "4 wt%")
	limits := evaluate(t, p).Limits(1)
	top, carried := limitOf(t, limits, LimitTopSize), limitOf(t, limits, LimitPickUp)
	assert.Equal(t, LimitUnknown, top.State)
	assert.Equal(t, project.MaterialPointer(at, "powder")+"/sieving/check_sieve", top.Where)
	assert.Equal(t, LimitUnknown, carried.State)
	assert.Equal(t, project.MaterialPointer(at, "powder")+"/sieving/sieves", carried.Where)
}
