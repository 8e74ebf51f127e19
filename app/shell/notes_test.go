package shell_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// given lists the places of a project that hold something a maker can leave
// out: quantities, amounts, whole numbers, lists of quantities and classes.
func given(p *project.Project) []string {
	var list []string
	var visit func(v reflect.Value, place string)
	visit = func(v reflect.Value, place string) {
		if _, quantity := v.Addr().Interface().(interface{ Given() bool }); quantity {
			if !v.IsZero() {
				list = append(list, place)
			}
			return
		}
		switch v.Kind() {
		case reflect.Int:
			if !v.IsZero() && place != "/version" {
				list = append(list, place)
			}
		case reflect.Slice:
			if strings.HasSuffix(place, "/sources") || v.Type().Elem().Kind() == reflect.Uint8 {
				return
			}
			if place == "/plan/contents" || place == "/spool/readings" {
				list = append(list, place)
				return
			}
			for i := range v.Len() {
				if i > 0 && i < v.Len()-1 && strings.Contains(place, "/powder/") {
					continue // the rows of a table are alike: its first and its last stand for them
				}
				visit(v.Index(i), fmt.Sprintf("%s/%d", place, i))
			}
		case reflect.Struct:
			for i := range v.NumField() {
				name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
				if name != "" {
					visit(v.Field(i), place+"/"+name)
				}
			}
		case reflect.String:
			if strings.HasSuffix(place, "/class") || place == "/reference" || place == "/plan/base" {
				list = append(list, place)
			}
		}
	}
	visit(reflect.ValueOf(p).Elem(), "")
	return list
}

// situation is a project that is not as it should be.
type situation struct {
	name   string
	change func(*project.Project)
}

// unfinished takes one thing out of a project at a time.
func unfinished(p *project.Project) []situation {
	var list []situation
	for _, place := range given(p) {
		list = append(list, situation{"without " + place, func(p *project.Project) {
			v, err := at(p, place)
			if err == nil {
				v.SetZero()
			}
		}})
	}
	return list
}

// odd are projects with something in them to be noted.
func odd() []situation {
	class := func(i int, class material.Class) situation {
		return situation{fmt.Sprintf("material %d is %s", i, class), func(p *project.Project) { p.Materials[i].Class = class }}
	}
	to := func(place, text string) situation {
		return situation{place + " is " + text, func(p *project.Project) {
			if err := set(p, place, text); err != nil {
				panic(err)
			}
		}}
	}
	list := []situation{
		{"no blends", func(p *project.Project) {
			p.Blends, p.Reference, p.Plan.Base = nil, "", ""
			p.Melt.Tests, p.Line.Changes.Sequence, p.Line.Runs = nil, nil, nil
			p.Spool.Made, p.Spool.Bend.Tests = nil, nil
		}},
		{"empty", func(p *project.Project) { *p = project.New("EUR") }},
		{"no parts", func(p *project.Project) { p.Blends[2].Parts = nil }},
		{"no polymer", func(p *project.Project) {
			p.Blends[2].Parts = p.Blends[2].Parts[1:2]
			p.Blends[2].Parts[0].Amount = project.Balance()
		}},
		{"calcined", func(p *project.Project) { p.Materials[1].Class, p.Materials[1].Calcined = material.Shell, true }},
		{"second polymer unknown", func(p *project.Project) { blendIn(p, material.Material{Class: material.PVC}) }},
		{"second polymer wet", func(p *project.Project) {
			wet := p.Materials[0].Clone()
			wet.Moisture = quantity.MustParse[quantity.Fraction]("5000 ppm")
			blendIn(p, wet)
		}},
		to("/blends/2/parts/1/amount", "100 wt%"), to("/blends/2/parts/1/amount", "60 vol%"), to("/blends/2/parts/0/amount", "80 wt%"),
		to("/blends/2/parts/0/amount", "50 phr"),
		to("/blends/2/measured_density", "1.0 g/cm3"), to("/blends/2/measured_density", "1.5 g/cm3"), to("/blends/2/masterbatch", "1 %"),
		to("/blends/2/measured_flow", "0.4"), to("/materials/1/moisture", "12 %"), to("/materials/0/moisture", "3000 ppm"),
		to("/melt/temperature", "150 °C"), to("/melt/temperature", "260 °C"), to("/spool/weighed", "100 g"), to("/spool/tolerance", "0.001 mm"),
		to("/batch/balance_resolution", "50 g"), to("/materials/1/price", "90 EUR/kg"), to("/plan/spools", "1"), to("/plan/spool_mass", "10 g"),
		to("/plan/contents", "0;10;10"), to("/plan/contents", "0;5;99"), to("/plan/spools_per_day", "1"), to("/spool/diameter", "1.75 mm"),
		to("/materials/0/price", "0 EUR/kg"), to("/cost/wear", "500 EUR/kg"),
	}
	for _, c := range project.Classes(material.Polymer) {
		list = append(list, class(0, c))
	}
	for _, c := range project.Classes(material.Filler) {
		list = append(list, class(1, c))
	}
	return list
}

// blendIn puts another polymer into the last blend.
func blendIn(p *project.Project, m material.Material) {
	m.ID, m.Name, m.Kind = "second", "Second polymer", material.Polymer
	p.Materials = append(p.Materials, m)
	amount, err := project.ParseAmount("30 wt%")
	if err != nil {
		panic(err)
	}
	p.Blends[2].Parts = append(p.Blends[2].Parts, project.Part{Material: m.ID, Amount: amount})
}

// oily adds vegetable oil to the last blend; only the sample with oil has a place for it.
func oily(p *project.Project) {
	if len(p.Materials) > 2 && p.Materials[2].Kind == material.Additive {
		p.Materials[2].Class = material.VegetableOil
		if err := set(p, "/blends/2/parts/2/amount", "2 wt%"); err != nil {
			panic(err)
		}
	}
}

// leads opens the notes of the blend at work that were not opened before, and
// returns those that lead nowhere.
func leads(r *rig, opened map[string]bool) []string {
	var lost []string
	for i, n := range r.bench.Notes() {
		if n.Field == "" || opened[keyOf(n)] {
			continue
		}
		opened[keyOf(n)] = true
		r.show(bench.PanePlan)
		r.canvas().Unfocus()
		all[*control.NoteList](r.bench.Content())[0].OnOpen(i)
		if !reached(r, n.Field) {
			lost = append(lost, fmt.Sprintf("%s (%s) in pane %s", n.Field, n.ID, n.Pane))
		}
	}
	return lost
}

func keyOf(n bench.Note) string { return fmt.Sprint(n.ID, n.Pane, n.Field) }

// fresh lists the blends that have notes not opened before; -1 stands for the
// notes of the whole project.
func fresh(sheet *bench.Sheet, opened map[string]bool) []int {
	anew := func(n bench.Note) bool { return n.Field != "" && !opened[keyOf(n)] }
	var list []int
	if slices.ContainsFunc(sheet.Notes, anew) {
		list = append(list, -1)
	}
	for i := range sheet.Blends {
		if slices.ContainsFunc(sheet.Blends[i].Notes, anew) {
			list = append(list, i)
		}
	}
	return list
}

// openAll opens all notes of a situation that were not opened before.
func openAll(t *testing.T, r *rig, s situation, opened map[string]bool) []string {
	p := project.Clone(*r.bench.Project())
	s.change(&p)
	require.NoError(t, project.Validate(&p), s.name)
	blends := fresh(bench.Evaluate(&p), opened)
	if len(blends) == 0 {
		return nil
	}
	before := r.bench.Revision()
	require.NoError(t, r.bench.Edit(s.name, "", func(now *project.Project) error { *now = p; return nil }), s.name)
	var lost []string
	for _, i := range blends {
		if i >= 0 {
			r.bench.Choose(p.Blends[i].ID)
		}
		for _, l := range leads(r, opened) {
			lost = append(lost, s.name+": "+l)
		}
	}
	if r.bench.Revision() != before {
		r.undo()
	}
	require.Equal(t, before, r.bench.Revision(), s.name)
	return lost
}

func TestEveryNoteLeadsToItsField(t *testing.T) {
	opened := map[string]bool{}
	var lost []string
	for _, name := range []string{olive, mussel} {
		r := openSample(t, name)
		list := append([]situation{{"as it is", func(*project.Project) {}}, {"oily", oily}}, odd()...)
		for _, s := range append(list, tried(unfinished(r.bench.Project()))...) {
			lost = append(lost, openAll(t, r, s, opened)...)
		}
	}
	assert.Empty(t, lost, "notes that lead nowhere:\n"+strings.Join(lost, "\n"))
	least := 90
	if raceEnabled {
		least = 60
	}
	assert.Greater(t, len(opened), least, "different notes were opened")
}
