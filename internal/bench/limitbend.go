package bench

import (
	"cmp"
	"math"

	"fillwright/internal/project"
	"fillwright/internal/spool"
	"fillwright/internal/uncertain"
)

// bendPlan is what bend tests tell of a blend, as mass fractions of powder.
type bendPlan struct {
	safe   float64 // largest content of which strand stood the core, below what broke; 0 for none
	breaks float64 // smallest content of which strand broke; NaN for none
	tested bool    // strand with powder stood the core
}

// betweenBends is where, from the content that survived to the one that broke, strand begins
// to break: anywhere, as nothing is known in between. It is absent without bend tests.
func (c *compiler) betweenBends() at {
	if len(c.project.Spool.Bend.Tests) == 0 {
		return absent
	}
	defer c.placing(limitPart)()
	even := 0.5 / math.Sqrt(3)
	i := c.place("between bends", Measured, uncertain.Input{Value: 0.5, UMinus: even, UPlus: even})
	c.model.input(i).shape = uncertain.Rectangular
	return i
}

// bends takes the bend tests of each blend with powder, and of others of the same polymer
// with the same powder or none. Tests that do not say which blend was bent tell nothing here.
func (c *compiler) bends() {
	m := c.model
	strand := usualDiameterM
	if d := m.Diameter(); d.Known() {
		strand = d.Value * 1e-3
	}
	for i := range m.blends {
		b := &m.blends[i]
		b.bend = bendPlan{breaks: math.NaN()}
		if !b.filled || !c.project.Spool.Reel.Core.Given() {
			continue
		}
		var stood []float64
		for k := range m.blends {
			if !m.bendsAlike(b, &m.blends[k]) {
				continue
			}
			stands, breaks := coreTested(c.project, m.blends[k].id, strand)
			content := m.blends[k].kept.state.powder
			if stands {
				stood = append(stood, content)
				b.bend.tested = b.bend.tested || content > 0
			}
			if breaks && !(content > b.bend.breaks) {
				b.bend.breaks = content
			}
		}
		for _, w := range stood { // a test at more that survived says nothing against one that broke
			if !(w >= b.bend.breaks) {
				b.bend.safe = math.Max(b.bend.safe, w)
			}
		}
	}
}

// bendsAlike reports whether strand of one blend tells what that of another stands.
func (m *Model) bendsAlike(b, other *blendPlan) bool {
	if b.main < 0 || other.main < 0 || !other.kept.whole || b.parts[b.main].body != other.parts[other.main].body {
		return false
	}
	return !other.filled || m.powderMaterial(other.index) == m.powderMaterial(b.index)
}

// usualDiameterM is that of strand while none was entered: core and mandrels are compared on
// the same strand, so it hardly counts.
const usualDiameterM = 1.75e-3

// coreTested tells whether strand, of diameter d in m, of a blend stood a bend as sharp as the core and the
// safety factor ask for, and whether some broke in a bend no sharper than that. Both are
// false where the tests were too gentle, or sharper and broke.
func coreTested(p *project.Project, id project.BlendID, d float64) (stands, breaks bool) {
	safety := cmp.Or(p.Spool.Bend.Safety.SI(), spool.UsualSafety)
	asked := safety * spool.CoreStrain(d, p.Spool.Reel.Core.SI())
	var tests []spool.Bent
	for _, t := range p.Spool.Bend.Tests {
		if t.Blend != id || !t.Mandrel.Given() {
			continue
		}
		tests = append(tests, spool.Bent{MandrelM: t.Mandrel.SI(), Pieces: t.Pieces, Broken: t.Broken})
		breaks = breaks || t.Broken > 0 && spool.CoreStrain(d, t.Mandrel.SI()) <= asked
	}
	mandrel, _, survived := spool.Survived(tests)
	return survived && spool.CoreStrain(d, mandrel) >= asked, breaks
}

// bendLimit tells up to which filler content the strand was bent as far as the core of the
// reel bends it. No model stands in for a bend test: beyond what was tested nothing is
// known.
func bendLimit(p *project.Project, m *Model, blend int) Limit {
	l := Limit{
		ID: LimitBend, State: LimitUnknown, Field: "/spool/bend/safety", First: math.NaN(), Defined: math.NaN(), Allowed: unknownIn("wt%"),
		Missing: Answer{ID: "limit_missing_bend"}, Where: "/spool/bend/tests",
	}
	if !p.Spool.Reel.Core.Given() {
		l.Missing, l.Where = Answer{ID: "limit_missing_core"}, "/spool/reel/core"
		return l
	}
	l.between(&m.blends[blend].bend, m.axis*100)
	return l
}

// between takes what bend tests tell.
func (l *Limit) between(b *bendPlan, most float64) {
	safe, breaks := b.safe*100, b.breaks*100
	switch {
	case finite(breaks):
		l.State, l.Open = LimitBinds, breaks >= most
		l.Allowed = newResult(math.Min((safe+breaks)/2, most), math.Min(safe, most), math.Min(breaks, most), "wt%", Measured)
		switch {
		case breaks <= 0:
			l.State = LimitNone
		case l.Allowed.Value >= most:
			l.State = LimitFree
		}
		l.Missing, l.Where = Answer{}, ""
	case b.tested:
		l.State, l.Allowed = LimitTested, exactly(math.Min(safe, most), "wt%", Measured)
		if safe >= most {
			l.State, l.Open = LimitFree, true
		}
		l.Missing = Answer{ID: "limit_missing_bend_more"}
	}
}
