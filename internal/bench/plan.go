package bench

import (
	"fmt"
	"slices"

	"fillwright/internal/blend"
	"fillwright/internal/plan"
	"fillwright/internal/project"
)

// PlanSheet is the list of trials with what they need.
type PlanSheet struct {
	Known       bool
	Problem     string // catalogue ID of why there is no list, "" when there is
	Runs        []PlanRun
	Budget      []BudgetRow
	Contents    []float64 // wt%, the levels
	Days        int
	Changeovers int // from one content to another; the first trial is purged for too
	Specimens   int
	StrandG     float64 // on the spools, all trials
	LossG       float64 // start-up, purge and scrap, all trials
}

// PlanRun is one trial spool.
type PlanRun struct {
	Order, Day, Slot, Level, Replicate int
	Content                            float64 // wt%
	Spool                              string  // label for the spool, for example "T03"
	Change                             bool    // first trial, or another content than in the run before: purge first
	Specimens                          int
	Parts                              []PlanPart
	ChargeG                            float64
}

// PlanPart is one material of a trial's charge. While its moisture is not given
// it is weighed as if it were dry, and a note says so.
type PlanPart struct {
	Name   string
	DryG   float64
	WeighG float64
}

// BudgetRow is what one material comes to over all trials.
type BudgetRow struct {
	Name   string
	DryG   float64
	WeighG float64
}

// planSheet lays out the trials of a project.
func planSheet(p *project.Project, s *Sheet) PlanSheet {
	base := p.BlendByID(p.Plan.Base)
	contents := planContents(p)
	if problem := planProblem(p, s, base, contents); problem != "" {
		return PlanSheet{Problem: problem}
	}
	runs, problem := plan.Runs(plan.Settings{
		Levels: len(contents), SpoolsPerLevel: p.Plan.Spools, SpecimensPerSpool: p.Plan.Specimens,
		SpoolsPerDay: p.Plan.SpoolsPerDay, Seed: uint64(p.Plan.Seed),
	})
	if problem != plan.OK {
		return PlanSheet{Problem: "plan_too_large"}
	}
	w, ok := newWeighing(p, s.Model, base, contents)
	if !ok {
		return PlanSheet{Problem: "plan_content_impossible"}
	}
	sheet := PlanSheet{Known: true, Changeovers: plan.Changeovers(runs)}
	for _, c := range contents {
		sheet.Contents = append(sheet.Contents, c*100)
	}
	last := -1 // what stands in the line before the first trial is not known: purge
	for _, r := range runs {
		run := PlanRun{
			Order: r.Order, Day: r.Day, Slot: r.Slot, Level: r.Level, Replicate: r.Replicate,
			Content: contents[r.Level] * 100, Spool: fmt.Sprintf("T%02d", r.Order),
			Change: r.Level != last, Specimens: p.Plan.Specimens,
		}
		last = r.Level
		w.weigh(&run)
		sheet.Runs = append(sheet.Runs, run)
		sheet.Days = max(sheet.Days, r.Day)
		sheet.Specimens += run.Specimens
		sheet.StrandG += w.spoolKg * 1000
		sheet.LossG += run.ChargeG - w.spoolKg*1000
	}
	sheet.Budget = w.budget
	return sheet
}

// planProblem names what is missing before trials can be laid out.
func planProblem(p *project.Project, s *Sheet, base int, contents []float64) string {
	switch {
	case base < 0:
		return "plan_base_missing"
	case len(contents) < 2:
		return "plan_contents_missing"
	case repeated(contents):
		return "plan_content_twice"
	case p.Plan.Spools < 1:
		return "plan_spools_missing"
	case p.Plan.Specimens < 1:
		return "plan_specimens_missing"
	case p.Plan.SpoolsPerDay < 1:
		return "plan_per_day_missing"
	case !p.Plan.SpoolMass.Given():
		return "plan_spool_mass_missing"
	case !s.Blends[base].Results[FillerMassFraction].Known():
		return "plan_base_unfinished"
	case !s.Model.blends[base].filled:
		return "plan_base_neat"
	}
	return ""
}

// planContents are the contents given, as mass fractions.
func planContents(p *project.Project) []float64 {
	var list []float64
	for _, c := range p.Plan.Contents {
		if c.Given() {
			list = append(list, c.SI())
		}
	}
	return list
}

// repeated reports whether two contents are the same: spools of the same
// content are replicates, and their number is entered as such.
func repeated(contents []float64) bool {
	sorted := slices.Sorted(slices.Values(contents))
	return len(slices.Compact(sorted)) < len(contents)
}

// weighing turns a content into a charge of the base recipe.
type weighing struct {
	names   []string
	shares  [][]float64 // dry mass fractions, one row per level
	damp    []float64   // mass to weigh per dry mass; NaN while the moisture is not known
	spoolKg float64
	startUp float64
	purge   float64
	scrap   float64
	budget  []BudgetRow
}

// newWeighing composes the base recipe at every content; false when it cannot
// be brought to one of them.
func newWeighing(p *project.Project, m *Model, base int, contents []float64) (*weighing, bool) {
	x := m.best()
	swept := m.Sweep(base, contents)
	w := &weighing{
		spoolKg: p.Plan.SpoolMass.SI(),
		startUp: p.Batch.StartUpLoss.SI(), purge: p.Batch.Purge.SI(), scrap: p.Batch.Scrap.SI(),
	}
	b := &m.blends[base]
	for i := range b.parts {
		name := nameOf(&p.Materials[p.MaterialByID(p.Blends[base].Parts[i].Material)])
		w.names = append(w.names, name)
		w.damp = append(w.damp, 1+waterOf(&b.parts[i], x))
		w.budget = append(w.budget, BudgetRow{Name: name})
	}
	for level := range contents {
		st, ok := swept.nominalState(&swept.blends[level])
		if !ok {
			return nil, false
		}
		w.shares = append(w.shares, st.w)
	}
	return w, true
}

// weigh fills in the charge of one run and adds it to the budget.
func (w *weighing) weigh(run *PlanRun) {
	fixed := w.startUp
	if run.Change {
		fixed += w.purge
	}
	charge := blend.Charge(w.spoolKg, fixed, w.scrap)
	run.ChargeG = charge * 1000
	for i, name := range w.names {
		dry := charge * w.shares[run.Level][i] * 1000
		weigh := dry * w.damp[i]
		if !finite(weigh) {
			weigh = dry
		}
		run.Parts = append(run.Parts, PlanPart{Name: name, DryG: dry, WeighG: weigh})
		w.budget[i].DryG += dry
		w.budget[i].WeighG += weigh
	}
}

// planNotes notes what stands in the way of the trials, and what to bear in mind.
func planNotes(p *project.Project, s *Sheet) []Note {
	n := &notebook{project: p}
	if problem := s.Plan.Problem; problem != "" {
		if untouched(&p.Plan) {
			return nil // planning has not begun
		}
		n.add(Info, PanePlan, planField(problem), problem, nil)
		return n.notes
	}
	if specimen, given := p.Plan.SpecimenMass.Estimate(); given {
		need := specimen.Value * float64(p.Plan.Specimens)
		if have := p.Plan.SpoolMass.SI(); need > have {
			n.add(Caution, PanePlan, "/plan/spool_mass", "plan_spool_too_small", map[string]any{
				"Need": number(need*1000, "g", 3), "Have": number(have*1000, "g", 3),
				"Specimens": p.Plan.Specimens, "Count": p.Plan.Specimens,
			})
		}
	}
	if p.Plan.Spools == 1 {
		n.add(Caution, PanePlan, "/plan/spools", "plan_one_spool", nil)
	}
	if s.Plan.Days > 1 && p.Plan.SpoolsPerDay < len(s.Plan.Contents) {
		n.add(Info, PanePlan, "/plan/spools_per_day", "plan_days_incomplete", map[string]any{
			"PerDay": p.Plan.SpoolsPerDay, "Contents": len(s.Plan.Contents), "Count": p.Plan.SpoolsPerDay,
		})
	}
	if i := unknownMoisture(p, s); i >= 0 {
		n.add(Caution, PanePlan, project.MaterialPointer(i, "moisture"), "plan_without_moisture",
			map[string]any{"Material": nameOf(&p.Materials[i])})
	}
	if !p.Batch.Purge.Given() || !p.Batch.StartUpLoss.Given() || !p.Batch.Scrap.Given() {
		n.add(Caution, PanePlan, "/batch/purge", "plan_without_losses", nil)
	}
	return n.notes
}

// unknownMoisture is the first material of the base recipe whose moisture is not
// given though it may hold some, or -1.
func unknownMoisture(p *project.Project, s *Sheet) int {
	base := p.BlendByID(p.Plan.Base)
	for i := range s.Model.blends[base].parts {
		if !finite(waterOf(&s.Model.blends[base].parts[i], s.Model.best())) {
			return p.MaterialByID(p.Blends[base].Parts[i].Material)
		}
	}
	return -1
}

// untouched reports a plan of which nothing was entered.
func untouched(p *project.Plan) bool {
	return p.Base == "" && len(p.Contents) == 0 && p.Spools == 0 && p.Specimens == 0 && p.SpoolsPerDay == 0 &&
		!p.SpoolMass.Given() && !p.SpecimenMass.Given()
}

// planField is the field that mends a problem.
func planField(problem string) string {
	switch problem {
	case "plan_contents_missing", "plan_content_twice", "plan_content_impossible":
		return "/plan/contents"
	case "plan_spools_missing", "plan_too_large":
		return "/plan/spools"
	case "plan_specimens_missing":
		return "/plan/specimens"
	case "plan_per_day_missing":
		return "/plan/spools_per_day"
	case "plan_spool_mass_missing":
		return "/plan/spool_mass"
	}
	return "/plan/base"
}
