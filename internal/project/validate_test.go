package project

import (
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
	"fillwright/internal/quantity"
)

func TestUnfinishedIsValid(t *testing.T) {
	for name, p := range map[string]Project{
		"empty": New("EUR"),
		"no amounts": {
			Format: Format, Version: Version, Currency: "EUR",
			Materials: []material.Material{{ID: "m", Kind: material.Filler}},
			Blends:    []Blend{{ID: "a", Parts: []Part{{Material: "m"}}}, {ID: "b"}},
		},
		"too much": {
			Format: Format, Version: Version, Currency: "EUR",
			Materials: []material.Material{{ID: "m", Kind: material.Filler}, {ID: "n", Kind: material.Polymer}},
			Blends: []Blend{{ID: "a", Parts: []Part{
				{Material: "m", Amount: Content(quantity.MustParse[quantity.Content]("70 wt%"))},
				{Material: "n", Amount: Content(quantity.MustParse[quantity.Content]("60 vol%"))},
			}}},
		},
	} {
		assert.NoError(t, Validate(&p), name)
	}
}

// shifted writes a limit with its number multiplied.
func shifted(t *testing.T, limit string, factor float64) string {
	t.Helper()
	number, unit, _ := strings.Cut(strings.ReplaceAll(limit, "CUR", "EUR"), " ")
	v, err := strconv.ParseFloat(number, 64)
	require.NoError(t, err)
	return strings.TrimSpace(strconv.FormatFloat(v*factor, 'f', -1, 64) + " " + unit)
}

func TestEveryQuantityHasLimits(t *testing.T) {
	checked := 0
	everyNode(document(), func(n *node) {
		if n.kind != isQuantity && n.kind != isAmount {
			return
		}
		checked++
		p := full(t)
		at := places(t, &p, n.pattern)[0]
		limits := n.rule.quantity
		require.Less(t, limits.min, limits.max, n.pattern)
		for i, text := range limits.text {
			setText(t, &p, at, strings.ReplaceAll(text, "CUR", "EUR"))
			require.NoError(t, Validate(&p), "%s = %s, limit %d", at, text, i)
		}
		setText(t, &p, at, shifted(t, limits.text[1], 1.001))
		b := requireBroken(t, Validate(&p), at, "project.outside_limits")
		require.Contains(t, b.Values, "Max")
		if strings.HasPrefix(limits.text[0], "-") {
			setText(t, &p, at, shifted(t, limits.text[0], 1.001))
			requireBroken(t, Validate(&p), at, "project.outside_limits")
		} else if limits.text[0] != "0" && !strings.HasPrefix(limits.text[0], "0 ") {
			setText(t, &p, at, shifted(t, limits.text[0], 0.999))
			requireBroken(t, Validate(&p), at, "project.outside_limits")
		}
	})
	assert.Equal(t, len(quantityLimits)+len(powderLimits)+len(lineLimits)+len(spoolLimits)+len(loadingLimits), checked)
}

func TestLimitsAreForgivingOfUnits(t *testing.T) {
	p := New("EUR")
	for _, text := range []string{"200 um", "0.2 mm", "0.02 cm", "1 cm", "10000 um"} {
		setText(t, &p, "/spool/diameter", text)
		assert.NoError(t, Validate(&p), text)
	}
	for _, text := range []string{"199.99 um", "10.001 mm", "0.5 in"} {
		setText(t, &p, "/spool/diameter", text)
		requireBroken(t, Validate(&p), "/spool/diameter", "project.outside_limits")
	}
}

func TestLimitsHoldForIntervals(t *testing.T) {
	p := full(t)
	for _, c := range []struct{ at, text, id string }{
		{"/materials/0/moisture", "0.1 ± 0.2 %", ""},                            // a measurement near nothing
		{"/materials/0/moisture", "98 ± 2 %", "project.spread_too_wide"},        // there is no moisture above 100 %
		{"/materials/0/density", "1.2 ± 1.19 g/cm3", "project.spread_too_wide"}, // reaches 0.01 g/cm3
		{"/materials/0/density", "1.2 ± 0.2 g/cm3", ""},                         //
		{"/materials/0/density", "0.04-1.2 g/cm3", "project.spread_too_wide"},   // its middle is fine
		{"/materials/0/density", "20-27 g/cm3", "project.spread_too_wide"},      //
		{"/spool/diameter", "1.75 ± 1.7 mm", "project.spread_too_wide"},         //
		{"/melt/temperature", "10 ± 20 °C", "project.spread_too_wide"},          // zero °C is not nothing
		{"/blends/1/parts/1/amount", "1 ± 2 wt%", ""},                           //
		{"/blends/1/parts/1/amount", "95-105 wt%", "project.spread_too_wide"},   //
		{"/blends/1/parts/1/amount", "95-105 phr", ""},                          // on the polymer
		{"/blends/1/parts/1/amount", "101 vol%", "project.outside_limits"},      //
		{"/blends/1/parts/1/amount", "1001 phr", "project.outside_limits"},      //
	} {
		p := Clone(p)
		setText(t, &p, c.at, c.text)
		if c.id == "" {
			assert.NoError(t, Validate(&p), c.text)
			continue
		}
		requireBroken(t, Validate(&p), c.at, c.id)
	}
}

func TestPricesAreInTheCurrencyOfTheProject(t *testing.T) {
	everyNode(document(), func(n *node) {
		if n.kind != isQuantity || !strings.HasPrefix(n.dim.name, "price") {
			return
		}
		p := full(t)
		at := places(t, &p, n.pattern)[0]
		setText(t, &p, at, strings.ReplaceAll(n.rule.quantity.text[0], "CUR", "CHF"))
		b := requireBroken(t, Validate(&p), at, "project.other_currency")
		assert.Equal(t, "CHF", b.Values["Other"])
	})
	p := New("EUR")
	setText(t, &p, "/cost/bought_price", "25 €")
	assert.NoError(t, Validate(&p), "a sign that means one currency only")
}

func TestCurrencyIsACode(t *testing.T) {
	for code, id := range map[string]string{
		"EUR": "", "JPY": "", "KES": "",
		"": "project.currency_missing", "eur": "project.currency_unknown", "EURO": "project.currency_unknown",
		"XXX": "project.currency_unknown", "XTS": "project.currency_unknown", "QQQ": "project.currency_unknown",
		"€": "project.currency_unknown", " EUR": "project.currency_unknown",
	} {
		p := New(code)
		if id == "" {
			assert.NoError(t, Validate(&p), code)
			continue
		}
		requireBroken(t, Validate(&p), "/currency", id)
	}
}

// What a program can put in, but no file.
func TestTextsMustFitAFile(t *testing.T) {
	for name, c := range map[string]struct {
		change      func(*Project)
		pointer, id string
	}{
		"bytes":       {func(p *Project) { p.Title = "a\xff" }, "/title", "project.not_utf8"},
		"format":      {func(p *Project) { p.Format = "x" }, "/format", "project.not_a_choice"},
		"no format":   {func(p *Project) { p.Format = "" }, "/format", "project.text_missing"},
		"version":     {func(p *Project) { p.Version = 1 }, "/version", "project.whole_outside"},
		"long remark": {func(p *Project) { p.Materials[0].Remarks = strings.Repeat("é", 20001) }, "/materials/0/remarks", "project.text_too_long"},
		"tab in name": {func(p *Project) { p.Blends[0].Name = "a\tb" }, "/blends/0/name", "project.text_control"},
		"materials": {func(p *Project) {
			p.Materials = append(p.Materials, make([]material.Material, 998)...)
		}, "/materials", "project.list_too_long"},
		"bell": {func(p *Project) { p.Notes = "a\ab" }, "/notes", "project.text_control"},
	} {
		t.Run(name, func(t *testing.T) {
			p := full(t)
			c.change(&p)
			requireBroken(t, Validate(&p), c.pointer, c.id)
			_, err := Encode(p)
			requireBroken(t, err, c.pointer, c.id)
		})
	}
	p := full(t)
	p.Materials[0].Remarks = strings.Repeat("é", 20000)
	p.Notes = "one\n\ttwo\r\n"
	assert.NoError(t, Validate(&p))
}

// checkWholeInList tries the ends of a whole number that stands in a list.
func checkWholeInList(t *testing.T, pattern string, limits [2]int) {
	t.Helper()
	for v, accepted := range map[int]bool{limits[0] - 1: false, limits[0]: true, limits[1]: true, limits[1] + 1: false} {
		p, at := full(t), ""
		require.NoError(t, walkProject(&p, func(n *node, value reflect.Value, here path) error {
			if n.pattern == pattern {
				value.SetInt(int64(v))
				if at == "" {
					at = here.pointer() // the first is refused
				}
			}
			return nil
		}))
		if accepted {
			require.NoError(t, Validate(&p), "%s = %d", pattern, v)
			continue
		}
		requireBroken(t, Validate(&p), at, "project.whole_outside")
	}
}

func TestWholeNumbersHaveLimits(t *testing.T) {
	for pattern, limits := range wholeLimits {
		if pattern == "/version" {
			continue
		}
		if strings.Contains(pattern, "*") {
			checkWholeInList(t, pattern, limits)
			continue
		}
		for _, v := range []int{limits[0] - 1, limits[1] + 1} {
			text := `{"format": "fillwright project", "version": 2, "currency": "EUR", ` + nested(pattern, strconv.Itoa(v)) + `}`
			_, _, err := Decode([]byte(text))
			requireBroken(t, err, pattern, "project.whole_outside")
		}
		for _, v := range limits {
			text := `{"format": "fillwright project", "version": 2, "currency": "EUR", ` + nested(pattern, strconv.Itoa(v)) + `}`
			_, _, err := Decode([]byte(text))
			require.NoError(t, err, text)
		}
	}
}

// nested writes "/a/b" with a value as JSON members.
func nested(pattern, value string) string {
	steps := strings.Split(strings.TrimPrefix(pattern, "/"), "/")
	out := value
	for i := len(steps) - 1; i > 0; i-- {
		out = `{"` + steps[i] + `": ` + out + `}`
	}
	return `"` + steps[0] + `": ` + out
}

func TestEveryClassBelongsToAKind(t *testing.T) {
	for _, kind := range Kinds() {
		for _, class := range Classes(kind) {
			p := New("EUR")
			p.Materials = []material.Material{{ID: "m", Kind: kind, Class: class}}
			assert.NoError(t, Validate(&p))
		}
		assert.NotEmpty(t, Classes(kind))
	}
	kinds := Kinds()
	kinds[0] = "changed"
	assert.Equal(t, material.Polymer, Kinds()[0], "callers get lists of their own")
}

func TestRunListIsBounded(t *testing.T) {
	p := full(t)
	p.Plan.Spools, p.Plan.Specimens = 100, 66 // 3 contents: 19,800
	require.NoError(t, Validate(&p))
	p.Plan.Specimens = 67 // 20,100
	requireBroken(t, Validate(&p), "/plan", "project.plan_too_large")
}

func TestRemoveBlendLeavesNothingDangling(t *testing.T) {
	p := full(t)
	p.RemoveBlend("neat")
	p.RemoveBlend("filled")
	assert.NoError(t, Validate(&p))
	assert.Empty(t, p.Blends)
	assert.Empty(t, p.Reference)
	assert.Empty(t, p.Plan.Base)
}

func TestLookUps(t *testing.T) {
	p := full(t)
	assert.Equal(t, 1, p.MaterialByID("shell"))
	assert.Equal(t, -1, p.MaterialByID("sand"))
	assert.Equal(t, 1, p.BlendByID("filled"))
	assert.Equal(t, -1, p.BlendByID(""))
}

func TestUniqueID(t *testing.T) {
	taken := map[string]bool{"pla": true, "pla-2": true, "item": true}
	for name, want := range map[string]string{
		"PLA":                      "pla-3",
		"Olive-stone flour, 63 µm": "olive-stone-flour-63-m",
		"Noyau d'olive été":        "noyau-d-olive-ete",
		"  ":                       "item-2",
		"牡蛎":                       "item-2",
		strings.Repeat("ab ", 50):  strings.TrimSuffix(strings.Repeat("ab-", 20), "-"),
	} {
		got := UniqueID(name, func(id string) bool { return taken[id] })
		assert.Equal(t, want, got, name)
		p := New("EUR")
		p.Blends = []Blend{{ID: BlendID(got)}}
		assert.NoError(t, Validate(&p))
	}
}

func TestMessagesShowNoLongOrControlText(t *testing.T) {
	long, err := json.Marshal("x" + strings.Repeat("\t", 1000))
	require.NoError(t, err)
	_, _, err = Decode([]byte(`{"format": "fillwright project", "version": 2, "currency": ` + string(long) + `}`))
	b := requireBroken(t, err, "/currency", "project.currency_unknown")
	assert.Equal(t, "x"+strings.Repeat("·", 39)+"…", b.Values["Found"])
}
