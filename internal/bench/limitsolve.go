package bench

import (
	"math"
	"slices"
)

// evalPartOf is the part of the core that a limit needs.
type evalPartOf uint8

const (
	evalAll     evalPartOf = iota
	evalNothing            // but whether the content can be made
	evalBench
	evalFlow
	evalLine
	evalStrength
	evalCost
)

// limitGrid are the filler contents, over the largest, between which limits are looked
// for: closer together where there is little powder, for there most limits lie.
var limitGrid = []float64{1.0 / 300, 1.0 / 60, 0.05, 0.1, 0.2, 0.35, 0.55, 0.8, 1}

// limitSolver finds the filler content that each rule allows. It serves one goroutine.
type limitSolver struct {
	model  *Model
	rules  []limitRule
	most   float64
	usual  []float64 // contents of the grid, over the largest
	shares []float64 // the same; the first that can be made where regrind brings powder of its own
	blend  blendPlan
	s      *Scratch
	refY   []float64
	from   int // first content of the grid that can be made: regrind brings powder of its own
	y      []float64
	grid   []float64 // margin of rule r at point j at r*len(shares)+j
	x      []float64 // the vector that the core reads
}

func (m *Model) newLimitSolver(blendIndex int, shares []float64) *limitSolver {
	v := &limitSolver{
		model: m, rules: m.limits, most: m.upTo, blend: m.blends[blendIndex], s: m.NewScratch(),
		usual: shares, shares: slices.Clone(shares), refY: make([]float64, FigureCount), y: make([]float64, FigureCount), grid: make([]float64, len(m.limits)*len(shares)),
	}
	v.blend.isReference, v.blend.kept, v.blend.index = false, nil, -1
	return v
}

// begin takes the inputs that everything that follows is computed from.
func (v *limitSolver) begin(inputs []float64) {
	m := v.model
	v.s.ref = reference{}
	copy(v.shares, v.usual)
	v.x = m.fill(v.s.full, inputs)
	v.s.pinned = m.pinned(v.x, v.s)
	if r := m.reference; r >= 0 {
		m.evalReference(&m.blends[r], v.x, v.refY, v.s)
	}
}

// at computes a part of the figures at a filler content.
func (v *limitSolver) at(content float64, part evalPartOf) (made bool) {
	m, b, x, y := v.model, &v.blend, v.x, v.y
	b.content = content
	if part == evalNothing {
		var st state
		return compose(b, x, v.s, &st)
	}
	for i := range y {
		y[i] = math.NaN()
	}
	var st state
	if !compose(b, x, v.s, &st) {
		return false
	}
	all := part == evalAll
	if all || part == evalCost {
		m.strand(b, x, y, &st)
		m.cost(b, x, y, v.s, &st)
	} else {
		m.toStrand(b, x, &st)
	}
	if part == evalCost {
		return true
	}
	if part != evalBench {
		m.toLine(b, x, &st)
	}
	if all || part == evalFlow {
		m.flow(b, x, y, &st, v.s)
	}
	if all || part == evalLine {
		m.lineFigures(b, x, y, &st)
	}
	if all || part == evalBench {
		m.grainFigures(b, x, y, &st)
	}
	if all || part == evalStrength {
		b.strengthFigures(x, y, &st)
	}
	return true
}

// bend is the filler content between that which survived bending around the core and that
// which broke, as far from one to the other as was drawn; NaN while no strand broke.
func (v *limitSolver) bend() float64 {
	b := &v.blend.bend
	if !finite(b.breaks) {
		return math.NaN()
	}
	return b.safe + (b.breaks-b.safe)*v.x[v.model.betweenBends]
}

// fillGrid computes the margins of all rules along the grid.
func (v *limitSolver) fillGrid() {
	v.from = len(v.shares)
	for j, share := range v.shares {
		if v.at(share*v.most, evalAll) {
			v.from = min(v.from, j)
		}
		for r := range v.rules {
			v.grid[r*len(v.shares)+j] = v.rules[r].margin(v.x, v.y)
		}
	}
}

// solve writes the filler content that each rule allows, as a mass fraction from none to
// the largest that is looked at; NaN where the rule tells nothing.
func (v *limitSolver) solve(inputs, allowed []float64) {
	v.begin(inputs)
	v.fillGrid()
	v.refineStart()
	for r := range v.rules {
		allowed[r] = v.allowed(r)
	}
}

// startSteps is how often the first content that can be made is halved towards.
const startSteps = 12

// refineStart puts the place of the grid before the first that can be made just where a blend
// begins to be one: what its regrind brings.
func (v *limitSolver) refineStart() {
	if v.from == 0 || v.from == len(v.shares) {
		return
	}
	a, b := v.shares[v.from-1], v.shares[v.from]
	for range startSteps {
		if mid := (a + b) / 2; v.at(mid*v.most, evalNothing) {
			b = mid
		} else {
			a = mid
		}
	}
	if b >= v.shares[v.from] {
		return
	}
	v.from--
	v.shares[v.from] = b
	v.at(b*v.most, evalAll)
	for r := range v.rules {
		v.grid[r*len(v.shares)+v.from] = v.rules[r].margin(v.x, v.y)
	}
}

// allowed is the filler content that one rule allows.
func (v *limitSolver) allowed(r int) float64 {
	rule, row := &v.rules[r], v.row(r)
	lower, upper, content, found := rule.bracket(row, v.shares, v.from)
	if !found {
		return content * v.most
	}
	return v.between(rule, v.shares[lower]*v.most, v.shares[upper]*v.most, row[lower], row[upper])
}

// bracket finds the two neighbours of a row of margins between which a rule comes to be
// broken; else the content, over the largest, that it allows: NaN where it tells nothing.
func (r *limitRule) bracket(row, shares []float64, from int) (lower, upper int, content float64, found bool) {
	if from >= len(row) || math.IsNaN(row[from]) {
		return 0, 0, math.NaN(), false
	}
	j := from + firstBroken(row[from:])
	if r.last {
		j = from + afterLastKept(row[from:])
	}
	switch {
	case j == len(row):
		return 0, 0, 1, false
	case j == 0 && r.grows:
		return 0, 0, shares[j] * math.Exp(-row[j]), false
	case j == from:
		return 0, 0, 0, false
	}
	return j - 1, j, 0, true
}

// row are the margins of one rule along the grid.
func (v *limitSolver) row(r int) []float64 { return v.grid[r*len(v.shares) : (r+1)*len(v.shares)] }

// firstBroken is the first place at which a rule is broken, or len(row).
func firstBroken(row []float64) int {
	for j, g := range row {
		if !(g <= 0) {
			return j
		}
	}
	return len(row)
}

// afterLastKept is the place behind the last at which a rule is kept.
func afterLastKept(row []float64) int {
	for j := len(row) - 1; j >= 0; j-- {
		if row[j] <= 0 {
			return j + 1
		}
	}
	return 0
}

// keptFrom is the filler content from which a rule comes to be kept, of one that is told by
// the largest content that is allowed; 0 for any other, where it is kept from the first
// powder on, and where it never is. It is found by halving on the logarithm, after solve.
func (v *limitSolver) keptFrom(r int) float64 {
	rule, row := &v.rules[r], v.row(r)
	j := v.from
	for j < len(row) && !(row[j] <= 0) {
		j++
	}
	if !rule.last || j == v.from || j == 0 || j >= len(row) {
		return 0
	}
	a, b := math.Log(v.shares[j-1]*v.most), math.Log(v.shares[j]*v.most)
	for b-a > limitWithin {
		mid := (a + b) / 2
		if v.at(math.Exp(mid), rule.part) && rule.margin(v.x, v.y) <= 0 {
			b = mid
		} else {
			a = mid
		}
	}
	return math.Exp(b)
}

// How closely a limit is found: on the logarithm of the filler content.
const (
	limitWithin = 2e-3
	limitSteps  = 12
)

// between finds where a margin passes zero between two contents, kept at the lower and
// broken at the upper one, by false position with the Illinois rule on the logarithm of
// the content.
func (v *limitSolver) between(rule *limitRule, lowW, highW, lowG, highG float64) float64 {
	a, b := math.Log(lowW), math.Log(highW)
	side := 0
	if math.IsNaN(highG) { // there, the melt does not even flow
		highG = mostMargin
	}
	for range limitSteps {
		t := a + (b-a)*lowG/(lowG-highG)
		if highG >= mostMargin {
			t = (a + b) / 2
		}
		if b-a < limitWithin {
			return math.Exp(t)
		}
		w := math.Exp(t)
		v.at(w, rule.part)
		g := rule.margin(v.x, v.y)
		switch {
		case math.IsNaN(g):
			g = mostMargin
			fallthrough
		case g > 0:
			b, highG = t, g
			if side == 1 {
				lowG /= 2
			}
			side = 1
		default:
			a, lowG = t, g
			if side == -1 {
				highG /= 2
			}
			side = -1
		}
		if math.Abs(g) < limitWithin/4 {
			return w
		}
	}
	return math.Exp((a + b) / 2)
}
