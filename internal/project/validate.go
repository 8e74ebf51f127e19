package project

import (
	"crypto/sha256"
	"encoding/hex"
	"reflect"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

// Validate reports the first thing in p that cannot be kept, as a *Broken, or
// nil. What is merely unfinished is valid: amounts that are missing or do not
// add up, missing prices and densities, no blends at all.
func Validate(p *Project) error {
	for _, check := range []func(*Project) *Broken{
		checkCurrency, checkPlaces, checkMaterials, checkBlends, checkReferences, checkPlan, checkDates, checkTraces, checkLoading,
	} {
		if b := check(p); b != nil {
			return b
		}
	}
	return nil
}

// checkCurrency refuses what prices cannot carry.
func checkCurrency(p *Project) *Broken {
	code := p.Currency
	if code == "" {
		return broken("/currency", "project.currency_missing", nil)
	}
	if !quantity.IsCurrency(code) {
		return broken("/currency", "project.currency_unknown", map[string]any{"Found": clip(code)})
	}
	return nil
}

// checkPlaces holds every single place against the tables of limits.go.
func checkPlaces(p *Project) *Broken {
	var found *Broken
	err := walkProject(p, func(n *node, v reflect.Value, at path) error {
		switch n.kind {
		case isQuantity, isAmount:
			found = checkQuantity(n, v.Addr().Interface().(anyQuantity), p.Currency)
		case isWhole:
			found = checkWhole(n, int(v.Int()))
		case isText:
			found = checkText(n, v.String())
		case isList:
			found = checkList(n, v.Len())
		}
		if found == nil {
			return nil
		}
		found.Pointer = at.pointer()
		return found
	})
	if err != nil {
		return found
	}
	return nil
}

func checkQuantity(n *node, q anyQuantity, currency string) *Broken {
	e, given := q.Estimate()
	if !given {
		return nil
	}
	if other := q.Currency(); other != "" && other != currency {
		return broken("", "project.other_currency", map[string]any{
			"Found": q, "Other": other, "Currency": currency,
		})
	}
	limit := n.rule.quantity
	if n.kind == isAmount {
		limit = contentLimits()[q.Unit()]
	}
	id := ""
	switch {
	case limit.outside(e):
		id = "project.outside_limits"
	case limit.reaches(e):
		id = "project.spread_too_wide"
	default:
		return nil
	}
	ends := limit.shown(currency)
	return broken("", id, map[string]any{"Found": q, "Min": ends[0], "Max": ends[1]})
}

func checkWhole(n *node, v int) *Broken {
	limits := n.rule.whole
	if v >= limits[0] && v <= limits[1] {
		return nil
	}
	return broken("", "project.whole_outside", map[string]any{"Found": v, "Min": limits[0], "Max": limits[1]})
}

func checkText(n *node, s string) *Broken {
	rule := n.rule.text
	switch {
	case s == "" && rule.required:
		return broken("", "project.text_missing", nil)
	case s == "":
		return nil
	case !utf8.ValidString(s):
		return broken("", "project.not_utf8", nil)
	case rule.choices != nil && !rule.narrowed && !slices.Contains(rule.choices, s):
		return broken("", "project.not_a_choice", map[string]any{"Found": clip(s), "Choices": rule.choices})
	case utf8.RuneCountInString(s) > rule.runes:
		return broken("", "project.text_too_long", map[string]any{
			"Length": utf8.RuneCountInString(s), "Max": rule.runes,
		})
	case strings.ContainsFunc(s, func(r rune) bool { return isControl(r, rule.lines) }):
		return broken("", "project.text_control", map[string]any{"Found": clip(s)})
	case rule.required && strings.TrimSpace(s) != s:
		return broken("", "project.text_spaces", map[string]any{"Found": clip(s)})
	}
	return nil
}

// isControl reports whether r must not stand in a text.
func isControl(r rune, lines bool) bool {
	if lines && (r == '\n' || r == '\t' || r == '\r') {
		return false
	}
	return unicode.IsControl(r)
}

func checkList(n *node, items int) *Broken {
	if items <= n.rule.items {
		return nil
	}
	return broken("", "project.list_too_long", map[string]any{"Length": items, "Max": n.rule.items})
}

func checkMaterials(p *Project) *Broken {
	seen := map[material.ID]bool{}
	for i := range p.Materials {
		m := &p.Materials[i]
		if seen[m.ID] {
			return broken(MaterialPointer(i, "id"), "project.material_twice", map[string]any{"Found": clip(string(m.ID))})
		}
		seen[m.ID] = true
		if choices := classes[m.Kind]; m.Class != "" && !slices.Contains(choices, m.Class) {
			return broken(MaterialPointer(i, "class"), "project.class_of_kind", map[string]any{
				"Found": clip(string(m.Class)), "Kind": string(m.Kind), "Choices": choices,
			})
		}
		if b := checkSources(i, m.Sources); b != nil {
			return b
		}
	}
	for i := range p.Materials {
		if b := checkRegrind(p, i); b != nil {
			return b
		}
	}
	return nil
}

// checkRegrind wants a fresh polymer and a powder of the project in what is regrind.
func checkRegrind(p *Project, index int) *Broken {
	m := &p.Materials[index]
	r := &m.Regrind
	if !r.Is() {
		return nil
	}
	at := func(member string) string { return MaterialPointer(index, "regrind") + "/" + member }
	found := func(id material.ID) map[string]any { return map[string]any{"Found": clip(string(id))} }
	if m.Kind != material.Polymer {
		return broken(at("polymer"), "project.regrind_kind", map[string]any{"Kind": string(m.Kind)})
	}
	of := p.MaterialByID(r.Polymer)
	switch {
	case of < 0:
		return broken(at("polymer"), "project.material_unknown", found(r.Polymer))
	case p.Materials[of].Kind != material.Polymer || p.Materials[of].Regrind.Is():
		return broken(at("polymer"), "project.regrind_polymer", found(r.Polymer))
	}
	if r.Filler == "" {
		return nil
	}
	switch powder := p.MaterialByID(r.Filler); {
	case powder < 0:
		return broken(at("filler"), "project.material_unknown", found(r.Filler))
	case p.Materials[powder].Kind != material.Filler:
		return broken(at("filler"), "project.regrind_filler", found(r.Filler))
	}
	return nil
}

func checkSources(index int, sources []material.Source) *Broken {
	seen := map[string]bool{}
	for i, s := range sources {
		if seen[s.Field] {
			at := pointerOf("materials", index, "sources", i, "field")
			return broken(at, "project.source_twice", map[string]any{"Found": clip(s.Field)})
		}
		seen[s.Field] = true
	}
	return nil
}

func checkBlends(p *Project) *Broken {
	known := map[material.ID]bool{}
	for _, m := range p.Materials {
		known[m.ID] = true
	}
	seen := map[BlendID]bool{}
	for i := range p.Blends {
		b := &p.Blends[i]
		if seen[b.ID] {
			return broken(BlendPointer(i, "id"), "project.blend_twice", map[string]any{"Found": clip(string(b.ID))})
		}
		seen[b.ID] = true
		if fault := checkParts(i, b.Parts, known); fault != nil {
			return fault
		}
	}
	return nil
}

func checkParts(index int, parts []Part, known map[material.ID]bool) *Broken {
	seen := map[material.ID]bool{}
	balance := false
	for i, part := range parts {
		values := map[string]any{"Found": clip(string(part.Material))}
		switch {
		case !known[part.Material]:
			return broken(PartPointer(index, i, "material"), "project.material_unknown", values)
		case seen[part.Material]:
			return broken(PartPointer(index, i, "material"), "project.part_twice", values)
		case balance && part.Amount.Balance():
			return broken(PartPointer(index, i, "amount"), "project.balance_twice", nil)
		}
		seen[part.Material] = true
		balance = balance || part.Amount.Balance()
	}
	return nil
}

func checkReferences(p *Project) *Broken {
	for _, ref := range p.references() {
		if id := *ref.id; id != "" && p.BlendByID(id) < 0 {
			return broken(ref.pointer(), "project.blend_unknown", map[string]any{"Found": clip(string(id))})
		}
	}
	return nil
}

// checkPlan bounds the run list: each factor alone is fine, all at their most are not.
func checkPlan(p *Project) *Broken {
	runs := len(p.Plan.Contents) * p.Plan.Spools * max(p.Plan.Specimens, 1)
	if runs <= mostRuns {
		return nil
	}
	return broken("/plan", "project.plan_too_large", map[string]any{"Runs": runs, "Max": mostRuns})
}

// checkDates wants dates that a calendar knows.
func checkDates(p *Project) *Broken {
	check := func(date string, steps ...any) *Broken {
		if _, err := time.Parse(time.DateOnly, date); err != nil && date != "" {
			return broken(pointerOf(steps...), "project.date_unknown", map[string]any{"Found": clip(date)})
		}
		return nil
	}
	for i := range p.Line.Runs {
		if b := check(p.Line.Runs[i].Date, "line", "runs", i, "date"); b != nil {
			return b
		}
	}
	for i := range p.Spool.Made {
		if b := check(p.Spool.Made[i].Date, "spool", "made", i, "date"); b != nil {
			return b
		}
		for j := range p.Spool.Made[i].Prints {
			if b := check(p.Spool.Made[i].Prints[j].Date, "spool", "made", i, "prints", j, "date"); b != nil {
				return b
			}
		}
	}
	return nil
}

// checkTraces wants sums of files that are one.
func checkTraces(p *Project) *Broken {
	for i := range p.Spool.Made {
		sum := p.Spool.Made[i].Trace.SHA256
		if raw, err := hex.DecodeString(sum); sum != "" && (err != nil || len(raw) != sha256.Size || strings.ToLower(sum) != sum) {
			return broken(pointerOf("spool", "made", i, "trace", "sha256"), "project.not_a_sum", map[string]any{"Found": clip(sum)})
		}
	}
	return nil
}

func broken(pointer, id string, values map[string]any) *Broken {
	return &Broken{Pointer: pointer, ID: id, Values: values}
}

// clip shortens what a file holds to what a message can show.
func clip(s string) string {
	const most = 40
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == utf8.RuneError {
			return '·'
		}
		return r
	}, s)
	if runes := []rune(s); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return s
}
