package bench

import (
	"fillwright/internal/blend"
	"fillwright/internal/project"
)

// Answer is a sentence of the catalogue with its values: "answer.<ID>". An
// empty ID means that there is nothing to say yet.
type Answer struct {
	ID     string
	Values map[string]any
}

// Message makes an answer readable by wording.
func (a Answer) Message() (string, map[string]any) { return "answer." + a.ID, a.Values }

// mostSpools is where "pays from N spools in a row" turns into "does not pay".
const mostSpools = 100

// answer says in words whether a blend is worth its cost: what a spool saves
// against the same length of the reference, and what each run costs more.
// "cannot pay" is said only where no powder price would, in this run or any
// longer one: a run too short to bring in its purge is told by a note.
func answer(p *project.Project, s *Sheet, index int) Answer {
	a := paying(p, s, index)
	// Without purge and extra time a run of a cheap blend can cost less than one
	// of the reference, of which the start-up is lost too.
	if extra := s.Blends[index].Results[ExtraCostPerRun]; a.ID != "" && a.ID != "cannot_pay" && extra.Value < 0 {
		a.ID += "_less"
		a.Values["Extra"] = number(-extra.Value, s.Currency, 3)
	}
	return a
}

// paying is the sentence for a run that costs more than one of the reference.
func paying(p *project.Project, s *Sheet, index int) Answer {
	b := &s.Blends[index]
	saving, changeover, extra := b.Results[SavingPerSpool], b.Results[ChangeoverCost], b.Results[ExtraCostPerRun]
	if index == s.Reference || !saving.Known() || !changeover.Known() || !extra.Known() {
		return Answer{}
	}
	values := map[string]any{
		"Saving":     number(saving.Value, s.Currency, 3),
		"Changeover": number(changeover.Value, s.Currency, 3),
		"Extra":      number(extra.Value, s.Currency, 3),
		"Reference":  s.Blends[s.Reference].Name,
		"Spools":     p.Batch.Spools,
	}
	if saving.Value <= 0 {
		values["Saving"] = number(-saving.Value, s.Currency, 3)
		if saving.High > 0 {
			values["Low"], values["High"] = number(-saving.High, s.Currency, 3), number(-saving.Low, s.Currency, 3)
			return Answer{"extra_not_certain", values}
		}
		if belowZero(b.Results[BreakEvenLongRun]) && belowZero(b.Results[BreakEvenFillerPrice]) {
			return Answer{"cannot_pay", values}
		}
		return Answer{"costs_more", values}
	}
	if saving.Low < 0 {
		values["Low"], values["High"] = number(saving.Low, s.Currency, 3), number(saving.High, s.Currency, 3)
		return Answer{"saving_not_certain", values}
	}
	spools, ok := blend.SpoolsToPay(saving.Value, extra.Value)
	if !ok || spools > mostSpools {
		return Answer{"saving_too_small", values}
	}
	values["Needed"] = spools
	switch {
	case spools <= 1:
		return Answer{"pays_at_once", values}
	case spools <= p.Batch.Spools:
		return Answer{"pays_in_this_run", values}
	}
	return Answer{"pays_later", values}
}

func belowZero(r Result) bool { return r.Known() && r.Value < 0 }
