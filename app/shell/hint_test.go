package shell_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/project"
)

// expected is a project with one value replaced by a maker: a property that was
// taken from the library loses its source.
func expected(t *testing.T, p *project.Project, pointer, text string) project.Project {
	t.Helper()
	next := project.Clone(*p)
	makeRun(&next, pointer)
	require.NoError(t, set(&next, pointer, text))
	var index int
	if n, _ := fmt.Sscanf(pointer, "/materials/%d/", &index); n == 1 && !strings.Contains(pointer, "/powder/") && !reflect.DeepEqual(next, *p) {
		next.Materials[index].DropSource(pointer[strings.LastIndexByte(pointer, '/')+1:])
	}
	return next
}

// examples are texts to enter: the forms of the hint, or others where the field
// has no hint.
func examples(f *control.Field) []string {
	hint := plain(f.Entry().PlaceHolder)
	switch {
	case hint == "" && strings.HasSuffix(f.ID(), "/name"):
		return []string{"Hazel shell", "Mehl «fein» 0–50 µm"}
	case hint == "":
		return []string{"3", "1"}
	}
	hint, _, _ = strings.Cut(hint, ", ")
	return strings.Split(hint, " or ")
}

func TestEveryFieldTakesTheFormsOfItsHint(t *testing.T) {
	eachField(t, func(t *testing.T, r *rig, place string) {
		for _, text := range examples(r.field(place)) {
			want := expected(t, r.bench.Project(), place, text)
			r.enter(place, text)
			f := r.field(place)
			if !assert.False(t, f.Refused(), "%s: %q is refused: %s", place, text, f.RefusedMessage()) {
				f.Focus()
				r.key(fyne.KeyEscape)
				continue
			}
			sameProject(t, want, *r.bench.Project(), place)
			assert.NotEmpty(t, f.Entry().Text)
		}
	})
}

func TestABareNumberKeepsTheUnit(t *testing.T) {
	r := openSample(t, olive)
	for _, c := range []struct {
		pane           bench.Pane
		place, typed   string
		want, wantText string
	}{
		{bench.PaneMelt, "/melt/temperature", "200", "200 °C", "200 °C"},
		{bench.PaneMelt, "/melt/residence", "3", "3 min", "3 min"},
		{bench.PaneSpool, "/spool/diameter", "1.7", "1.7 mm", "1.7 mm"},
		{bench.PaneSpool, "/spool/net_mass", "0.75", "0.75 kg", "0.75 kg"},
		{bench.PaneFiller, "/materials/1/moisture", "2", "2 %", "2 %"},
		{bench.PaneFiller, "/materials/1/price", "4", "4 EUR/kg", "4 €/kg"},
		{bench.PaneBlend, "/cost/energy_price", "0.4", "0.4 EUR/kWh", "0.4 €/kWh"},
	} {
		r.show(c.pane)
		want := expected(t, r.bench.Project(), c.place, c.want)
		r.enter(c.place, c.typed)
		sameProject(t, want, *r.bench.Project(), c.place)
		assert.Equal(t, c.wantText, plain(r.field(c.place).Entry().Text), c.place)
	}
}
