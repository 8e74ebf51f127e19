package bench

import (
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/project"
	"fillwright/internal/uncertain"
)

// clogBench is what is known of the grains of a powder that are too large for
// the nozzle.
type clogBench struct {
	boreM, criticalM, parts float64 // NaN while the nozzle is not given
	evidence                []oversize
	best                    int // of the evidence; -1 for none
	seen                    seenGrains
	control                 bool // what a sieve kept back is that of a second sieving
	leaks                   bool // grains were found that the sieve should have kept back
	table                   [][]tableCell
}

// tableCell is one sieve with one nozzle: what the sieve does, and the grains
// above the critical size per kg that the fitted laws leave behind it.
type tableCell struct {
	fit    SieveFit
	grains filler.Oversize
	known  bool
}

// oversize is one estimate of the grains above the critical size, per kg of dry
// powder.
type oversize struct {
	kind EvidenceKind
	n    filler.Oversize
}

// criticalSize is the bore of the nozzle, and how many times the critical size
// goes into it.
func criticalSize(p *project.Project) (boreM, parts float64) {
	boreM, parts = math.NaN(), filler.DefaultCriticalParts
	if p.Print.Nozzle.Given() {
		boreM = p.Print.Nozzle.SI()
	}
	if p.Print.CriticalParts.Given() {
		parts = p.Print.CriticalParts.SI()
	}
	return boreM, parts
}

// clogging gathers the evidence of oversize grains, and places the best of it.
func (c *compiler) clogging(plan *powderPlan) {
	plan.grains = absent
	clog := &plan.bench.clog
	clog.best = -1
	clog.boreM, clog.parts = criticalSize(c.project)
	density := math.NaN()
	if plan.density >= 0 {
		density = c.model.best()[plan.density]
	}
	g := filler.Sphere(density)
	clog.fillTable(plan.bench.sizes, g)
	clog.criticalM = clog.boreM / clog.parts
	if !finite(clog.boreM) {
		return
	}
	m := &c.project.Materials[plan.material]
	most := filler.MostPerKg(clog.criticalM, g)
	n, ok := filler.Counted(prints(&m.Powder.Clogging), clog.boreM, most)
	clog.add(FromPrints, n, ok)
	n, ok = filler.Counted(inspections(&m.Powder.Clogging), clog.criticalM, most)
	clog.add(FromInspections, n, ok)
	if finite(density) {
		clog.addRetained(c.project, m, &plan.bench.sieving, g)
	}
	clog.seen = largestFound(&m.Powder.Clogging, resolutionKg(c.project))
	top := clog.believed(topSize(&m.Powder.Sieving))
	clog.addTopSize(top)
	if finite(density) {
		clog.addTail(plan.bench.sizes, top, g)
	}
	clog.rank()
	if clog.best < 0 {
		return
	}
	best := clog.evidence[clog.best]
	minus, plus := halfWidths(best.n.LikelyPerKg, best.n.LowPerKg, best.n.HighPerKg)
	plan.grains = c.place(project.MaterialPointer(plan.material, "powder")+"/clogging", evidenceBasis(best.kind),
		uncertain.Input{Value: best.n.LikelyPerKg, UMinus: minus, UPlus: plus})
}

// cloggingSheet tells what is known of the oversize grains of a powder.
func cloggingSheet(p *project.Project, index int, b *powderBench) CloggingSheet {
	s := CloggingSheet{Best: b.clog.best}
	if !finite(b.clog.boreM) {
		return s
	}
	basis := Entered
	if !p.Print.CriticalParts.Given() {
		basis = Estimated
	}
	s.Nozzle = exactly(b.clog.boreM*1e3, "mm", Entered)
	s.Parts, s.Critical = exactly(b.clog.parts, "1", basis), exactly(b.clog.criticalM*1e6, "um", basis)
	for _, e := range b.clog.evidence {
		s.Evidence = append(s.Evidence, Evidence{
			Kind: e.kind, PerKg: newResult(e.n.LikelyPerKg, e.n.LowPerKg, e.n.HighPerKg, "1/kg", evidenceBasis(e.kind)),
			OtherSize: e.n.OtherSize, Leaky: e.n.ApertureLeak,
		})
	}
	m := &p.Materials[index]
	s.Prints, s.Inspections = b.clog.countRemarks(&m.Powder.Clogging)
	top := topSize(&m.Powder.Sieving)
	if ratio, given := m.AspectRatio.Estimate(); given && finite(top) {
		longest := func(ratio float64) float64 { return filler.LongestGrain(top, max(1, ratio), 1) * 1e6 }
		s.Longest = newResult(longest(ratio.Value), longest(ratio.Low), longest(ratio.High), "um", Estimated)
	}
	return s
}

// usualNozzles and usualSieves span the table of sieves and nozzles.
var (
	usualNozzlesMM = []float64{0.25, 0.4, 0.6, 0.8, 1.0}
	usualSievesUM  = []float64{250, 180, 150, 125, 106, 90, 75, 63, 45}
)

// blendClog tells what the evidence means for a blend, and what other sieves
// and nozzles would.
func blendClog(p *project.Project, m *Model, s *Sheet, index int) BlendClog {
	plan := m.powderOf(index)
	if plan == nil {
		return BlendClog{}
	}
	clog := BlendClog{Known: true}
	st, composed := m.nominalState(&m.blends[index])
	powderKg, perMetre := math.NaN(), math.NaN() // of one spool; a metre of powder per kg
	share := 0.0                                 // of this powder in the blend
	if composed {
		share = m.blends[index].shareOf(m.blends[index].powder, m.best(), &st)
		powderKg = share * get(m.best(), m.set.netMass)
		perMetre = powderKg / s.Blends[index].Results[LengthPerSpool].Value
	}
	chance := func(grains, masses float64) float64 { return filler.BlockChance(grains, masses) * 100 }
	printKg := share * p.Print.Mass.SI()
	for i, e := range plan.bench.clog.evidence {
		c := ClogChance{Kind: e.kind, Used: i == plan.bench.clog.best}
		basis := evidenceBasis(e.kind)
		c.PerMetre = newResult(e.n.LikelyPerKg*perMetre, e.n.LowPerKg*perMetre, e.n.HighPerKg*perMetre, "1/m", basis)
		c.Spool = newResult(chance(e.n.LikelyPerKg, powderKg), chance(e.n.LowPerKg, powderKg), chance(e.n.HighPerKg, powderKg), "%", basis)
		if p.Print.Mass.Given() && composed {
			c.Print = newResult(chance(e.n.LikelyPerKg, printKg), chance(e.n.LowPerKg, printKg), chance(e.n.HighPerKg, printKg), "%", basis)
		}
		clog.Evidence = append(clog.Evidence, c)
	}
	clog.Nozzles, clog.rows = usualNozzlesMM, func() []ClogRow { return clogTable(plan, powderKg) }
	clog.answers(plan)
	return clog
}

// fillTable works out the table of sieves and nozzles, once for each powder.
func (b *clogBench) fillTable(fits []filler.SizeFit, g filler.Grain) {
	best, found := filler.BestFit(fits)
	for _, um := range usualSievesUM {
		row := make([]tableCell, len(usualNozzlesMM))
		for i, bore := range usualNozzlesMM {
			check := filler.CheckSieve(um*1e-6, bore*1e-3, b.parts)
			row[i].fit = sieveFits[check.Verdict]
			if check.AboveBore {
				row[i].fit = SieveBlocks
			}
			if found && finite(g.DensityKgM3) {
				row[i].grains, row[i].known = filler.TailOf(best.Law, check.CriticalM, check.LargestApertureM, g), true
			}
		}
		b.table = append(b.table, row)
	}
}

// clogTable turns grains into the chance per spool of a blend.
func clogTable(plan *powderPlan, powderKg float64) (rows []ClogRow) {
	chance := func(grains float64) float64 { return filler.BlockChance(grains, powderKg) * 100 }
	for i, um := range usualSievesUM {
		sieve, _ := filler.NearestSieve(um * 1e-6)
		row := ClogRow{OpeningUM: um, LargestUM: filler.LargestAperture(um*1e-6) * 1e6, Mesh: sieve.Mesh}
		for _, from := range plan.bench.clog.table[i] {
			cell := ClogCell{Fit: from.fit, Chance: Result{Unit: "%", Basis: Estimated}}
			if n := from.grains; from.known {
				cell.Chance = newResult(chance(n.LikelyPerKg), chance(n.LowPerKg), chance(n.HighPerKg), "%", Estimated)
			}
			row.Cells = append(row.Cells, cell)
		}
		rows = append(rows, row)
	}
	return rows
}

var sieveFits = map[filler.SieveVerdict]SieveFit{
	filler.KeepsBackCritical: SieveKeepsAll, filler.MayPassCritical: SieveMarginal, filler.PassesCriticalByPlan: SieveCoarse,
}

// surely is the confidence of a claim that no critical grain was found.
const surely = 0.95

// claimed is the chance per spool that a maker would like to claim.
const claimed = 0.05

// safeSieve is the coarsest numbered sieve that keeps every critical grain back.
func safeSieve(boreM, parts float64) (openingM float64, there bool) {
	sieve, there := filler.CoarsestSieveBelow(boreM / parts)
	return sieve.OpeningM, there
}

// answers puts the table in words for the nozzle of the project.
func (c *BlendClog) answers(plan *powderPlan) {
	clog := &plan.bench.clog
	if !finite(clog.boreM) {
		return
	}
	values := map[string]any{
		"Claim":  number(claimed*100, "%", 2),
		"Nozzle": number(clog.boreM*1e3, "mm", 3), "Critical": number(clog.criticalM*1e6, "µm", 3), "Parts": number(clog.parts, "", 3),
		"Practice": number(clog.boreM*0.25/0.4*1e6, "µm", 3),
	}
	marginal, coarse := 0.0, 0.0
	openingM, _ := safeSieve(clog.boreM, clog.parts)
	safe := openingM * 1e6
	for _, um := range usualSievesUM { // coarse first
		switch verdict := filler.CheckSieve(um*1e-6, clog.boreM, clog.parts).Verdict; {
		case verdict == filler.MayPassCritical && marginal == 0:
			marginal = um
		case verdict == filler.PassesCriticalByPlan:
			coarse = um
		}
	}
	values["Safe"], values["Marginal"], values["Coarse"] = number(safe, "µm", 3), number(marginal, "µm", 3), number(coarse, "µm", 3)
	say := func(id string, there bool) {
		if there {
			c.Answer = append(c.Answer, Answer{id, values})
		}
	}
	say("clog_safe", safe > 0)
	say("clog_no_safe", safe == 0)
	say("clog_marginal", marginal > 0)
	say("clog_coarse", coarse > 0)
	say("clog_practice", true)
	say("clog_claim", safe > 0)
}
