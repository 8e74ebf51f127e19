package bench

import (
	"math"
	"strings"

	"fillwright/internal/filler"
)

// sieveNotes are the findings about a stack that get a note.
var sieveNotes = map[filler.SieveProblemKind]struct {
	id       string
	severity Severity
	member   string
}{
	filler.BadPan:           {"sieve_pan_missing", Caution, "/sieving/pan"},
	filler.BadCharge:        {"sieve_charge_below", Caution, "/sieving/charge"},
	filler.NothingRecovered: {"sieve_nothing", Caution, "/sieving/pan"},
	filler.DuplicateOpening: {"sieve_twice", Caution, "/sieving/sieves"},
	filler.LossLarge:        {"sieve_loss_large", Caution, "/sieving/charge"},
	filler.LossAboveAllowed: {"sieve_loss", Caution, "/sieving/charge"},
	filler.GainAboveAllowed: {"sieve_gain", Caution, "/sieving/charge"},
	filler.OneSieve:         {"sieve_single", Info, "/sieving/sieves"},
	filler.OutOfOrder:       {"sieve_order", Caution, "/sieving/sieves"},
	filler.NotNominal:       {"sieve_not_nominal", Info, "/sieving/sieves"},
}

// sievingNotes: the stack itself, and what lies outside it.
func (b *benchNotes) sievingNotes() {
	sizes := []Figure{SizeD10, SizeD50, SizeD90}
	if len(b.m.Powder.Sieving.Sieves) == 0 {
		if b.first {
			b.note(Info, b.at("/sieving/sieves"), "sieving_missing", nil, append(sizes, TopSize)...)
		}
		return
	}
	_, of := sieveTest(&b.m.Powder.Sieving)
	b.unreadSieves()
	if len(of) == 0 {
		b.note(Caution, b.at("/sieving/sieves"), "sieving_empty", nil, append(sizes, TopSize)...)
	}
	for _, problem := range b.plan.bench.sieving.Problems {
		told, is := sieveNotes[problem.Kind]
		if !is {
			continue
		}
		values := map[string]any{"Share": number(math.Abs(problem.Value)*100, "%", 2), "Row": 0, "Count": len(problem.Rows)}
		field := b.at("%s", told.member)
		if len(problem.Rows) > 0 && problem.Rows[0] < len(of) {
			row := of[problem.Rows[len(problem.Rows)-1]]
			values["Row"], values["Opening"] = row+1, b.m.Powder.Sieving.Sieves[row].Opening
			field = b.at("/sieving/sieves/%d/opening", row)
		}
		var blocks []Figure
		if problem.Grade == filler.SieveWrong {
			blocks = append(blocks, sizes...)
			blocks = append(blocks, TopSize)
		}
		b.note(told.severity, field, told.id, values, blocks...)
	}
	b.outsideSieves()
	b.stackAboveCheck()
}

// stackAboveCheck says that the stack holds what the check sieve keeps back: right
// only for a sample that was taken before.
func (b *benchNotes) stackAboveCheck() {
	top := topSize(&b.m.Powder.Sieving)
	var row filler.SieveRow // the finest that lets none of them pass
	for _, r := range b.plan.bench.sieving.Rows {
		if r.OpeningM >= top*(1-1e-9) {
			row = r
		}
	}
	if row.CumulativeRetained > 0 {
		b.note(Info, b.at("/sieving/check_sieve"), "stack_above_check", map[string]any{
			"Share": number(row.CumulativeRetained*100, "%", 2), "Opening": number(row.OpeningM*1e6, "µm", 3), "Top": number(top*1e6, "µm", 3),
		})
	}
}

// unreadSieves notes rows that lack an opening or a mass.
func (b *benchNotes) unreadSieves() {
	for i := range b.sheet.Sieving.Rows {
		member, missing := strings.CutPrefix(b.sheet.Sieving.Rows[i].Remark.ID, "no_")
		if !missing {
			continue
		}
		b.note(Caution, b.at("/sieving/sieves/%d/%s", i, member), "sieve_row_unread", map[string]any{"Row": i + 1})
		return
	}
}

// outsideSieves says which sizes lie beyond the stack.
func (b *benchNotes) outsideSieves() {
	s := &b.sheet.Sieving
	for _, side := range []struct {
		id    string
		which func(Percentile) bool
	}{
		{"size_below", func(d Percentile) bool { return d.Below }},
		{"size_above", func(d Percentile) bool { return d.Above }},
	} {
		var names []string
		var blocks []Figure
		bound := 0.0
		for _, d := range []struct {
			p Percentile
			f Figure
		}{{s.D10, SizeD10}, {s.D50, SizeD50}, {s.D90, SizeD90}} {
			if side.which(d.p) {
				names, blocks, bound = append(names, strings.ToUpper(d.f.Key())), append(blocks, d.f), d.p.Bound
			}
		}
		if names != nil {
			b.note(Info, b.at("/sieving/sieves"), side.id, map[string]any{"Sizes": names, "Bound": number(bound, "µm", 4)}, blocks...)
		}
	}
	if s.Known && !s.Top.Known() {
		b.note(Info, b.at("/sieving/check_sieve"), "top_size_unknown", nil, TopSize)
	}
}
