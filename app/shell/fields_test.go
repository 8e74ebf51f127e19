package shell_test

import (
	"encoding"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

// at finds the value of a JSON Pointer in a project, given or not.
func at(p *project.Project, pointer string) (reflect.Value, error) {
	v := reflect.ValueOf(p).Elem()
	for token := range strings.SplitSeq(strings.TrimPrefix(pointer, "/"), "/") {
		switch v.Kind() {
		case reflect.Struct:
			member, known := memberOf(v, token)
			if !known {
				return v, fmt.Errorf("%s: no member %s", pointer, token)
			}
			v = member
		case reflect.Slice:
			i, err := strconv.Atoi(token)
			if err != nil || i < 0 || i >= v.Len() {
				return v, fmt.Errorf("%s: no element %s", pointer, token)
			}
			v = v.Index(i)
		default:
			return v, fmt.Errorf("%s: nothing below %s", pointer, token)
		}
	}
	return v, nil
}

// memberOf finds the field of a struct that has a name in the file.
func memberOf(v reflect.Value, name string) (reflect.Value, bool) {
	for i := range v.NumField() {
		if tag, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ","); tag == name {
			return v.Field(i), true
		}
	}
	return reflect.Value{}, false
}

// set puts a text into a place of a project, as reading a file would.
func set(p *project.Project, pointer, text string) error {
	v, err := at(p, pointer)
	if err != nil {
		return err
	}
	if q, is := v.Addr().Interface().(encoding.TextUnmarshaler); is {
		return q.UnmarshalText([]byte(text))
	}
	switch v.Kind() {
	case reflect.Int:
		n, err := strconv.Atoi(text)
		v.SetInt(int64(n))
		return err
	case reflect.String:
		v.SetString(text)
		return nil
	case reflect.Bool:
		v.SetBool(text == "true")
		return nil
	case reflect.Slice: // a list as one text
		v.SetZero()
		for item := range strings.SplitSeq(text, ";") {
			q := reflect.New(v.Type().Elem())
			item = strings.TrimSpace(item)
			if !strings.HasSuffix(item, "%") {
				item += " %"
			}
			if err := q.Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(item)); err != nil {
				return err
			}
			v.Set(reflect.Append(v, q.Elem()))
		}
		return nil
	}
	return fmt.Errorf("%s holds a %s", pointer, v.Type())
}

// sameProject asserts that two projects are equal, and shows the lines of their
// files that differ.
func sameProject(t *testing.T, want, got project.Project, message string) {
	t.Helper()
	if reflect.DeepEqual(want, got) {
		return
	}
	lines := func(p project.Project) []string {
		data, err := project.Encode(p)
		require.NoError(t, err)
		return strings.Split(string(data), "\n")
	}
	expected, actual := lines(want), lines(got)
	missing := slices.DeleteFunc(slices.Clone(expected), func(l string) bool { return slices.Contains(actual, l) })
	surplus := slices.DeleteFunc(slices.Clone(actual), func(l string) bool { return slices.Contains(expected, l) })
	assert.Fail(t, "not the project expected", "%s\nmissing %q\nsurplus %q", message, missing, surplus)
}

// makeRun puts in the drying run of a place that lies in the first one. The
// window makes it with the first entry.
func makeRun(p *project.Project, place string) {
	var index int
	if n, _ := fmt.Sscanf(place, "/materials/%d/powder/drying/runs/0/", &index); n == 1 {
		if runs := &p.Materials[index].Powder.Drying.Runs; strings.Contains(place, "/drying/runs/0/") && len(*runs) == 0 {
			*runs = []material.DryingRun{{}}
		}
	}
}

// places lists the inputs of the pane shown.
func (r *rig) places() []string {
	var list []string
	for _, in := range r.inputs() {
		if in.ID() != "" { // what only changes the view has no place
			list = append(list, in.ID())
		}
	}
	return list
}

// eachPart shows every pane and, of a pane with parts, every part.
func eachPart(r *rig, visit func(name string)) {
	for _, id := range bench.Panes() {
		r.show(id)
		parts := r.bench.Sections()
		if len(parts) == 0 {
			visit(string(id))
		}
		for _, part := range parts {
			r.show(id)
			r.bench.OpenSection(part)
			visit(string(id) + ", " + part)
		}
	}
}

// fieldless are the parts that only tell, try, ask and compare.
var fieldless = map[string]bool{"limits, limits": true, "limits, what-if": true, "limits, measure": true, "limits, compare": true}

// tried are those of the places, or of what lacks one, that a test tries: all, but with the
// race detector every third, as it is the same code that works at each.
func tried[T any](list []T) []T {
	if !raceEnabled {
		return list
	}
	var some []T
	for i := 0; i < len(list); i += 3 {
		some = append(some, list[i])
	}
	return some
}

// eachField runs a test for every field of every part of every pane of both samples.
func eachField(t *testing.T, run func(t *testing.T, r *rig, place string)) {
	for _, name := range []string{olive, mussel} {
		r := openSample(t, name)
		eachPart(r, func(part string) {
			places := r.places()
			if fieldless[part] {
				return
			}
			require.Greater(t, len(places), 2, part)
			for _, place := range tried(places) {
				if _, is := r.input(place).(*control.Field); is {
					run(t, r, place)
				}
			}
		})
	}
}

func TestEveryInputStandsForAPlaceOfTheDocument(t *testing.T) {
	for _, name := range []string{olive, mussel} {
		r := openSample(t, name)
		eachPart(r, func(part string) {
			seen := map[string]bool{}
			for _, place := range r.places() {
				assert.False(t, seen[place], "%s twice in %s", place, part)
				seen[place] = true
				withRun := project.Clone(*r.bench.Project())
				makeRun(&withRun, place)
				_, err := at(&withRun, place)
				assert.NoError(t, err, part)
			}
		})
		for _, grid := range []struct {
			pane  bench.Pane
			place string
		}{{bench.PaneBlend, "/blends/2/parts"}, {bench.PaneSpool, "/spool/readings"}} {
			r.show(grid.pane)
			r.bench.OpenSection("strand")
			assert.Equal(t, grid.place, r.grid().ID())
		}
	}
}

func TestEveryFieldKeepsWhatItShows(t *testing.T) {
	eachField(t, func(t *testing.T, r *rig, place string) {
		before, shown := r.bench.Revision(), r.field(place).Entry().Text
		r.enter(place, shown+" ")
		assert.Equal(t, before, r.bench.Revision(), "%s: entering %q again is an edit", place, shown)
		assert.False(t, r.field(place).Refused(), "%s: %q is refused: %s", place, shown, r.field(place).RefusedMessage())
		assert.Equal(t, shown, r.field(place).Entry().Text, place)
	})
}

func TestEveryFieldCanBeEmptied(t *testing.T) {
	eachField(t, func(t *testing.T, r *rig, place string) {
		r.enter(place, "")
		if f := r.field(place); f.Refused() {
			assert.Fail(t, "cannot be emptied", "%s: %s", place, f.RefusedMessage())
			return
		}
		emptied := project.Clone(*r.bench.Project())
		makeRun(&emptied, place)
		v, err := at(&emptied, place)
		require.NoError(t, err)
		assert.True(t, v.IsZero() || v.Kind() == reflect.Slice && v.Len() == 0, "%s still holds %v", place, v)
	})
}

// tooLong is how long a plain text is that a place refuses.
var tooLong = map[string]int{"name": 201, "spool": 201, "cooling": 201, "lots": 201, "lot": 201, "storage": 201, "notes": 1001}

func TestEveryFieldRefusesNonsense(t *testing.T) {
	eachField(t, func(t *testing.T, r *rig, place string) {
		before := r.bench.Project()
		text := nonsense
		if long, is := tooLong[place[strings.LastIndex(place, "/")+1:]]; is {
			text = strings.Repeat("x", long)
		}
		r.enter(place, text)
		assert.True(t, before == r.bench.Project(), "%s changed the project", place)
		f := r.field(place)
		require.True(t, f.Refused(), place)
		assert.Equal(t, text, f.Entry().Text, place)
		assert.Contains(t, reads(f), plain(f.RefusedMessage()), place)
		assert.NotContains(t, f.RefusedMessage(), "{{", place)
		f.Focus()
		r.key(fyne.KeyEscape)
		assert.False(t, r.field(place).Refused(), place)
	})
}

func TestEveryFieldSaysInWhichFormsItIsFilled(t *testing.T) {
	eachField(t, func(t *testing.T, r *rig, place string) {
		withRun := project.Clone(*r.bench.Project())
		makeRun(&withRun, place)
		v, err := at(&withRun, place)
		require.NoError(t, err)
		if v.Kind() == reflect.Struct {
			assert.NotEmpty(t, r.field(place).Entry().PlaceHolder, place)
			assert.NotContains(t, r.field(place).Entry().PlaceHolder, "CUR", place)
		}
	})
}
