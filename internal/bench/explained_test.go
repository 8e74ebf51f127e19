package bench

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// place is one entry of a project, by its JSON Pointer.
type place struct {
	pointer string
	steps   []int // field numbers and indices that lead to it
}

func (at place) in(p *project.Project) reflect.Value {
	v := reflect.ValueOf(p).Elem()
	for _, step := range at.steps {
		if v.Kind() == reflect.Slice {
			v = v.Index(step)
		} else {
			v = v.Field(step)
		}
	}
	return v
}

// places lists everything in a project that can be emptied: each quantity,
// number, text, flag and list.
func places(p *project.Project) []place {
	var all []place
	var visit func(v reflect.Value, at place)
	visit = func(v reflect.Value, at place) {
		_, quantity := v.Interface().(fmt.Stringer)
		switch {
		case quantity, v.Kind() == reflect.Int, v.Kind() == reflect.String, v.Kind() == reflect.Bool:
			all = append(all, at)
		case v.Kind() == reflect.Slice:
			all = append(all, at)
			for i := range v.Len() {
				if middle := i > 0 && i < v.Len()-1; middle && strings.Contains(at.pointer, "/powder/") {
					continue // the rows of a table are alike: its first and its last stand for them
				}
				visit(v.Index(i), place{at.pointer + "/" + strconv.Itoa(i), append(slices.Clone(at.steps), i)})
			}
		case v.Kind() == reflect.Struct:
			for i, name := range members(v.Type()) {
				if name != "" { // else it keeps unknown members
					visit(v.Field(i), place{at.pointer + "/" + name, append(slices.Clone(at.steps), i)})
				}
			}
		}
	}
	visit(reflect.ValueOf(p).Elem(), place{})
	return all
}

// members are the names of the fields of a struct in the document, each type read once.
func members(t reflect.Type) []string {
	if names, known := memberNames.Load(t); known {
		return names.([]string)
	}
	names := make([]string, t.NumField())
	for i := range names {
		names[i], _, _ = strings.Cut(t.Field(i).Tag.Get("json"), ",")
	}
	memberNames.Store(t, names)
	return names
}

var memberNames sync.Map // reflect.Type to []string

// resolves reports whether a JSON Pointer leads to a place that a project has.
func resolves(p *project.Project, pointer string) bool {
	v := reflect.ValueOf(p).Elem()
	for _, token := range strings.Split(pointer, "/")[1:] {
		switch v.Kind() {
		case reflect.Slice:
			i, err := strconv.Atoi(token)
			if err != nil || i >= v.Len() {
				return false
			}
			v = v.Index(i)
		case reflect.Struct:
			i := slices.Index(members(v.Type()), token)
			if i < 0 {
				return false
			}
			v = v.Field(i)
		default:
			return false
		}
	}
	return pointer != ""
}

// reader renders notes; each text is read once, for it takes long.
type reader struct {
	words  *wording.Words
	read   map[string]bool
	shapes shapes
}

func newReader() *reader { return &reader{wording.New("en"), map[string]bool{}, shapes{}} }

func (r *reader) check(t *testing.T, id string, values map[string]any, about string) {
	if r.read[id] {
		return
	}
	t.Helper()
	r.read[id] = true
	require.True(t, r.words.Has(id), "%s: no text %s", about, id)
	text := r.words.Say(id, values)
	assert.NotContains(t, text, "no value>", "%s: %s", about, id)
	assert.Empty(t, r.words.Missing(), about)
}

// checkSheet asserts what must hold for the sheet of any project: no NaN, and
// every figure that is not known named in a note that leads to its field.
func checkSheet(t *testing.T, p *project.Project, words *reader, about string) *Sheet {
	t.Helper()
	s := Evaluate(p)
	words.shapes.checkFinite(t, s, about)
	for i := range s.Blends {
		b := &s.Blends[i]
		for _, n := range b.Notes {
			checkNote(t, p, n, words, about)
			for _, f := range n.Blocks {
				if b.Result(f).Known() {
					assert.Fail(t, "known, and said to wait", "%s: %s for %s", about, f.Key(), n.ID)
				}
			}
		}
		checkOrder(t, b.Notes)
		for _, f := range Figures() {
			if wrong := wrongWith(b, f); wrong != "" {
				assert.Fail(t, wrong, "%s: %s of %s: %v", about, f.Key(), b.ID, noteIDs(b.Notes))
			}
		}
		for _, a := range append(slices.Clone(b.Clog.Answer), b.Answer) {
			if a.ID != "" {
				id, values := a.Message()
				words.check(t, id, values, about)
			}
		}
	}
	for i := range s.Powders {
		checkPowder(t, &s.Powders[i], words, about)
	}
	for _, n := range s.Notes {
		checkNote(t, p, n, words, about)
	}
	checkOrder(t, s.Notes)
	return s
}

// wrongWith tells what must not be of one figure of a blend; "" for nothing. Only what is
// wrong is asserted: an assertion costs more than what it looks at, a million times.
func wrongWith(b *BlendSheet, f Figure) string {
	r := &b.Results[f]
	explained := func(n Note) bool { return slices.Contains(n.Blocks, f) }
	switch {
	case !r.Known() && b.Shows(f) && !slices.ContainsFunc(b.Notes, explained):
		return "nothing says why it is not known"
	case !(r.Low <= r.Value && r.Value <= r.High):
		return "outside its interval"
	case definitions[f].log && r.Known() && r.Value != 0 && !(r.Low > 0): // a powder that is dry already needs no time
		return "an interval on the logarithm that reaches nothing"
	}
	return ""
}

// checkPowder reads the remarks beside the rows of a powder's tables, and holds
// its results in order.
func checkPowder(t *testing.T, s *PowderSheet, words *reader, about string) {
	t.Helper()
	remark := func(r Remark) {
		if r.ID != "" {
			id, values := r.Message()
			words.check(t, id, values, about)
		}
	}
	for i := range s.Drying.Runs {
		for _, row := range s.Drying.Runs[i].Rows {
			remark(row.Remark)
		}
		for _, fit := range s.Drying.Runs[i].Fits {
			if fit.Why != "" {
				words.check(t, "fit."+fit.Why, nil, about)
			}
		}
	}
	for _, row := range s.Sieving.Rows {
		remark(row.Remark)
	}
	for _, f := range s.Feeds {
		assert.True(t, f.Value.Known(), "%s: %s", about, f.Member)
	}
}

func checkNote(t *testing.T, p *project.Project, n Note, words *reader, about string) {
	id, values := n.Message()
	words.check(t, id, values, about)
	words.check(t, n.Action(), values, about)
	if !resolves(p, n.Field) {
		assert.Fail(t, "leads nowhere", "%s: %s to %q", about, n.ID, n.Field)
	}
	if !slices.Contains(Panes(), n.Pane) {
		assert.Fail(t, "leads to no pane", "%s: %s", about, n.ID)
	}
}

func checkOrder(t *testing.T, notes []Note) {
	t.Helper()
	assert.True(t, slices.IsSortedFunc(notes, func(a, b Note) int { return int(b.Severity) - int(a.Severity) }),
		"worst first: %v", noteIDs(notes))
}

// variants are the samples, and the samples with what they leave out.
func variants(t *testing.T) map[string]project.Project {
	all := map[string]project.Project{}
	for _, name := range samples {
		p := sample(t, name)
		all[name] = p
		rich := project.Clone(p)
		rich.Spool.Weighed = q[quantity.Mass]("640 g")
		for i := range rich.Blends {
			rich.Blends[i].MeasuredFlow = q[quantity.Factor]("1.1 ± 0.1")
			rich.Blends[i].MeasuredDensity = q[quantity.Density]("1.25 ± 0.01 g/cm3")
			rich.Blends[i].Masterbatch = q[quantity.Fraction]("40 %")
		}
		for i := range rich.Materials {
			if rich.Materials[i].Kind == material.Additive {
				rich.Materials[i].Moisture = q[quantity.Fraction]("100 ± 50 ppm")
				rich.Materials[i].Class = material.VegetableOil
			}
		}
		all[name+", with measurements"] = rich
		other := project.Clone(p)
		other.Reference = other.Blends[len(other.Blends)-1].ID
		other.Materials[0].Class = material.PP
		all[name+", another reference"] = other
	}
	return all
}

// placesToTry are those of a variant. What varies is neither on the bench of the
// powders nor in the ledger of spools, so that one round over these, with the sample itself, is enough.
func placesToTry(name string, p *project.Project) []place {
	all := places(p)
	if strings.Contains(name, ", ") {
		all = slices.DeleteFunc(all, func(at place) bool {
			return strings.Contains(at.pointer, "/powder/") || strings.HasPrefix(at.pointer, "/spool/made/")
		})
	}
	return all
}

func TestEveryUnknownFigureIsExplained(t *testing.T) {
	words := newReader()
	for name, p := range variants(t) {
		t.Run(name, func(t *testing.T) {
			checkSheet(t, &p, words, "as it is")
			all := placesToTry(name, &p)
			valid := 0
			for _, at := range all {
				less := project.Clone(p)
				at.in(&less).SetZero()
				if project.Validate(&less) != nil {
					continue // refused by every edit
				}
				valid++
				for _, b := range checkSheet(t, &less, words, "without "+at.pointer).Blends {
					assert.NotContains(t, noteIDs(b.Notes), "out_of_reach", "without %s", at.pointer)
				}
			}
			assert.Greater(t, valid, 60, "places emptied")
			pairs(t, p, all, words)
		})
	}
}

// pairs empties random pairs of places.
func pairs(t *testing.T, p project.Project, all []place, words *reader) {
	t.Helper()
	random := rand.New(rand.NewPCG(1, uint64(len(all))))
	tries := 250
	if raceEnabled {
		tries = 60
	}
	for range tries {
		a, b := all[random.IntN(len(all))], all[random.IntN(len(all))]
		if strings.HasPrefix(b.pointer, a.pointer) || strings.HasPrefix(a.pointer, b.pointer) {
			continue // a list and something in it
		}
		less := project.Clone(p)
		a.in(&less).SetZero()
		b.in(&less).SetZero()
		if project.Validate(&less) == nil {
			checkSheet(t, &less, words, "without "+a.pointer+" and "+b.pointer)
		}
	}
}

// Whatever can be entered gives numbers or notes, never NaN: each quantity is
// set to values far from usual, with and without a wide ±.
func TestUnusualValuesGiveNumbersOrNotes(t *testing.T) {
	words := newReader()
	for name, p := range variants(t) {
		t.Run(name, func(t *testing.T) {
			tried := 0
			for _, at := range placesToTry(name, &p) {
				given, is := at.in(&p).Interface().(interface {
					fmt.Stringer
					Unit() string
				})
				if !is || given.String() == "" {
					continue
				}
				numbers := []string{"0", "0.000001", "0.01", "1", "50", "99", "100", "10000", "0 ± 50", "0.001 ± 90", "50 ± 49"}
				if strings.Contains(at.pointer, "/powder/") { // so many places that each gets the ends only
					numbers = []string{"0", "0.000001", "99", "10000", "0 ± 50", "50 ± 49"}
				}
				for n, number := range numbers {
					if raceEnabled && (n+at.steps[len(at.steps)-1])%3 != 0 {
						continue // each number somewhere, not everywhere
					}
					odd := project.Clone(p)
					text := number + " " + given.Unit()
					if given.String() == "balance" {
						text = number + " wt%"
					}
					into := at.in(&odd).Addr().Interface().(interface{ UnmarshalText([]byte) error })
					if into.UnmarshalText([]byte(text)) != nil || project.Validate(&odd) != nil {
						continue
					}
					tried++
					checkSheet(t, &odd, words, at.pointer+" "+text)
				}
			}
			least := 200
			if raceEnabled {
				least = 60
			}
			assert.Greater(t, tried, least)
		})
	}
}
