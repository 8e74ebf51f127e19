package pane

import (
	"slices"

	"fillwright/internal/bench"
	"fillwright/internal/wording"
)

// What the logs of the oven say.

// runSheet is the outcome of a run; nil when it is gone.
func (p *Filler) runSheet(i, run int) *bench.RunSheet {
	sheet := p.sheet(i)
	if sheet == nil || run >= len(sheet.Drying.Runs) {
		return nil
	}
	return &sheet.Drying.Runs[run]
}

// runWords says whether the run that is shown is that of the powder at hand.
func (p *Filler) runWords(i, run int) []string {
	sheet := p.sheet(i)
	if sheet == nil || sheet.Drying.Used < 0 {
		return nil
	}
	if sheet.Drying.Used == run {
		return []string{p.text("pane.filler.run_used")}
	}
	return []string{p.text("pane.filler.run_other")}
}

// runFacts says how wet the powder was and is.
func (p *Filler) runFacts(i, run int) []fact {
	s := p.runSheet(i, run)
	if s == nil {
		return nil
	}
	by := ""
	if s.ByCurve {
		by = below(p.text("pane.filler.by_curve"))
	}
	return append(p.moistures("initial", s.Initial, s.InitialDry, p.basis(s.Initial)+by), p.moistures("now", s.Now, s.NowDry, p.basis(s.Now)+by)...)
}

// massFacts says whether the mass levels off, and where.
func (p *Filler) massFacts(i, run int) []fact {
	s := p.runSheet(i, run)
	if s == nil {
		return nil
	}
	return []fact{p.constantMass(&s.Constant), p.fact("pane.filler.dry_mass", s.DryMass), p.fact("pane.filler.extrapolated", s.Extrapolated)}
}

// massOpen says what is missing while the mass says nothing.
func (p *Filler) massOpen(i, run int) []string {
	for _, f := range p.massFacts(i, run) {
		if f.value != "" {
			return nil
		}
	}
	return []string{p.text("pane.filler.with_log")}
}

// constantMass says whether the last weighings agree.
func (p *Filler) constantMass(c *bench.ConstantMass) fact {
	if !c.Known {
		return fact{}
	}
	value := p.text("pane.filler.not_constant")
	switch {
	case c.Reached:
		value = p.text("pane.filler.is_constant")
	case c.TooCoarse:
		value = p.text("pane.filler.too_coarse")
	}
	return fact{label: p.text("pane.filler.constant"), value: value, more: below(p.words().Say("pane.filler.constant_rule", map[string]any{
		"Change": wording.Number{Value: max(c.ChangePercent, -c.ChangePercent), Unit: "%", Digits: 2},
		"Gap":    wording.Number{Value: c.GapH * 60, Unit: "min"},
	}))}
}

// dryingLaws are the two laws, in the order of their fits.
var dryingLaws = [2]string{"pane.filler.lewis", "pane.filler.page"}

// fitFacts says what the two laws come to.
func (p *Filler) fitFacts(i, run int) []fact {
	s := p.runSheet(i, run)
	if s == nil {
		return nil
	}
	var facts []fact
	for k, law := range dryingLaws {
		if s.Fits[k].Known {
			f := p.fitFact(law, &s.Fits[k])
			f.strong = s.Better == k
			facts = append(facts, f)
		}
	}
	return facts
}

func (p *Filler) fitFact(law string, fit *bench.DryFit) fact {
	k, interval := p.figures(fit.K)
	f := fact{label: p.text(law), value: p.words().Say("pane.filler.fit_rate", map[string]any{"Value": k}), more: interval}
	if law == dryingLaws[1] {
		f.more += below(p.words().Say("pane.filler.fit_exponent", map[string]any{"Value": p.ranged(fit.N)}))
	}
	f.more += below(p.words().Say("pane.filler.fit_end", map[string]any{"Value": p.ranged(fit.End)}))
	if fit.OpenEnded {
		f.more += below(p.text("pane.filler.fit_open"))
	}
	f.more += below(p.words().Say("pane.filler.fit_residual", map[string]any{
		"Residual": wording.Number{Value: fit.ResidualG, Unit: "g", Digits: 2}, "Count": fit.Freedom,
	}))
	return f
}

// fitWords says which law is used, and why not the other.
func (p *Filler) fitWords(i, run int) []string {
	s := p.runSheet(i, run)
	if s == nil || len(s.Rows) == 0 {
		return []string{p.text("pane.filler.with_log")}
	}
	var lines []string
	for k, law := range dryingLaws {
		if !s.Fits[k].Known && s.Fits[k].Why != "" {
			lines = append(lines, p.words().Say("pane.filler.no_fit", map[string]any{"Law": wording.ID(law), "Why": wording.ID("fit." + s.Fits[k].Why)}))
		}
	}
	switch {
	case s.Better < 0:
		return lines
	case len(lines) > 0:
		return append(lines, p.words().Say("pane.filler.fit_used", map[string]any{"Law": wording.ID(dryingLaws[s.Better])}))
	case s.Better == 0:
		return []string{p.text("pane.filler.fit_used_lewis")}
	}
	return []string{p.text("pane.filler.fit_used_page")}
}

// floorWhy says where what the oven leaves is from.
var floorWhy = map[string]string{
	"wood": "pane.filler.as_wood", "weighed": "pane.filler.as_weighed", "class": "pane.filler.as_dry",
	"machine": "pane.filler.as_machine",
}

// targetFacts says how dry the powder must be, how dry it can get, and how long
// that takes.
func (p *Filler) targetFacts(i, run int) []fact {
	var floor []fact
	if s := p.runSheet(i, run); s != nil {
		if why := floorWhy[s.FloorFrom]; why != "" {
			floor = p.moistures("floor", s.Floor, s.FloorDry, below(p.text(why)))
		}
	}
	u := p.use(p.view)
	if !u.Target.Known() {
		return floor
	}
	why := p.text("pane.filler.target_entered")
	if u.TargetFrom != "entered" {
		why = p.words().Say("pane.filler.target_limit", map[string]any{"Blend": p.view.Results().Name})
	}
	facts := []fact{p.factWith("pane.filler.target", u.Target, below(why))}
	if !u.Beyond && u.Time.Known() {
		beyond := ""
		if u.Extrapolated {
			beyond = below(p.text("pane.filler.target_extrapolated"))
		}
		left := p.factWith("pane.filler.target_left", u.Left, "")
		if u.Left.Value <= 0 {
			left = fact{label: p.text("pane.filler.target_left"), value: p.text("pane.filler.target_reached")}
		}
		facts = append(facts, p.factWith("pane.filler.target_time", u.Time, beyond), left)
	}
	return append(facts, floor...)
}

// targetWords says what is missing, or out of reach.
func (p *Filler) targetWords() []string {
	switch u := p.use(p.view); {
	case !u.Target.Known():
		return []string{p.text("pane.filler.target_open")}
	case u.Beyond:
		return []string{p.text("pane.filler.target_beyond")}
	case u.Doubtful:
		return []string{p.text("pane.filler.target_doubtful")}
	}
	return nil
}

// shiftFacts says what another oven or layer would take, and by which numbers.
func (p *Filler) shiftFacts(i int) []fact {
	sheet := p.sheet(i)
	if sheet == nil {
		return nil
	}
	var facts []fact
	if u := p.use(p.view); u.Shifted.Known() && !p.tooHot(i) {
		facts = append(facts, p.factWith("pane.filler.shifted", u.Shifted, below(p.text("pane.filler.extrapolation"))))
	}
	return append(facts, p.energyFact(&sheet.Drying), p.fact("pane.filler.shift_exponent", sheet.Drying.Exponent))
}

// energyWhy says what an activation energy rests on, where its basis alone does not.
var energyWhy = map[string]string{
	"runs": "pane.filler.energy_runs", "usual": "pane.filler.energy_usual",
	"too_close": "pane.filler.energy_too_close", "not_faster": "pane.filler.energy_not_faster",
}

// energyFact is the activation energy that a shift takes, and what it rests on.
func (p *Filler) energyFact(s *bench.DryingSheet) fact {
	more := p.basis(s.Energy)
	if why := energyWhy[s.EnergyFrom]; why != "" {
		more += below(p.text(why))
	}
	return p.factWith("pane.filler.shift_energy", s.Energy, more)
}

// shiftWords says why there is no time for another oven or layer.
func (p *Filler) shiftWords(i int) []string {
	u := p.use(p.view)
	switch {
	case p.tooHot(i):
		return []string{p.text("pane.filler.shift_too_hot")}
	case u.ShiftedWhy == "floor":
		return []string{p.text("pane.filler.shift_floor")}
	case u.ShiftedWhy == "beyond":
		return []string{p.text("pane.filler.shift_beyond")}
	case u.ShiftedWhy == "doubtful":
		return []string{p.text("pane.filler.shift_doubtful")}
	case u.ShiftedTo != "" && !u.Shifted.Known():
		return []string{p.text("pane.filler.shift_open")}
	}
	return nil
}

// tooHot reports that the other oven is one that the powder does not stand.
func (p *Filler) tooHot(i int) bool {
	return slices.ContainsFunc(p.notes(), func(n bench.Note) bool {
		return n.ID == "oven_too_hot" && n.Field == benchPlace(i, "/drying/other_temperature")
	})
}
