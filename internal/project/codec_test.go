package project

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/go-json-experiment/json/jsontext"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestDocumentIsWrittenAsItWasRead(t *testing.T) {
	data := inRepository(t, "testdata/versions/v2-full.json")
	p, _, err := Decode(data)
	require.NoError(t, err)
	again, err := Encode(p)
	require.NoError(t, err)
	assert.Equal(t, string(data), string(again), "order, indent, digits as entered, newline at the end")
}

func TestNewIsAnEmptyValidProject(t *testing.T) {
	data, err := Encode(New("EUR"))
	require.NoError(t, err)
	assert.Equal(t, `{
  "format": "fillwright project",
  "version": 2,
  "title": "",
  "currency": "EUR",
  "materials": [],
  "blends": []
}
`, string(data))
	back, unknown, err := Decode(data)
	require.NoError(t, err)
	assert.Equal(t, New("EUR"), back)
	assert.Empty(t, unknown)
}

func TestUnknownMembersSurviveAtEveryLevel(t *testing.T) {
	p, pointers := withExtras(t)
	data, err := Encode(p)
	require.NoError(t, err)
	back, unknown, err := Decode(data)
	require.NoError(t, err)
	assert.Equal(t, p, back)
	var got []string
	for _, u := range unknown {
		got = append(got, u.Pointer)
	}
	assert.Equal(t, pointers, got)
	assert.Equal(t, len(pointers), strings.Count(string(data), "2.50"), "numbers keep their digits")
}

func TestUnknownMembersAreReportedByPointer(t *testing.T) {
	p, unknown, err := Decode([]byte(`{"format": "fillwright project", "version": 2, "currency": "EUR",
		"Title": "a slip", "a/b~c": 1, "": 2, "materials": [{"id": "m", "kind": "filler", "note": "\u00e9"}]}`))
	require.NoError(t, err)
	assert.Equal(t, []Unknown{{"/Title"}, {"/a~1b~0c"}, {"/"}, {"/materials/0/note"}}, unknown)
	assert.Equal(t, `{"note":"é"}`, string(p.Materials[0].Extra))
	assert.Empty(t, p.Title, "names are told apart by case")
}

func TestDecodeAcceptsWhatPeopleWrite(t *testing.T) {
	p, _, err := Decode([]byte("\ufeff{\"currency\":\"EUR\",\"version\":2,\"format\":\"fillwright project\"," +
		`"spool":{"diameter":"1,75 mm","readings":[]},"melt":{"residence":""}}` + "\r\n \t"))
	require.NoError(t, err)
	assert.Equal(t, "1.75 mm", p.Spool.Diameter.String(), "a decimal comma becomes a point")
	assert.False(t, p.Melt.Residence.Given(), "an empty text is not given")
	data, err := Encode(p)
	require.NoError(t, err)
	assert.NotContains(t, string(data), "readings")
	assert.NotContains(t, string(data), "melt")
}

func TestSpellingOfUnknownMembersDoesNotMatter(t *testing.T) {
	head := `{"format": "fillwright project", "version": 2, "currency": "EUR", `
	one, _, err := Decode([]byte(head + `"x": {"a": "\u0041\/", "b": [ ]}}`))
	require.NoError(t, err)
	two, _, err := Decode([]byte(head + "\"x\": {\n\"a\":\"A/\",\"b\":[]}}"))
	require.NoError(t, err)
	assert.Equal(t, one, two)
}

func TestDecodeRefusesBySize(t *testing.T) {
	data := append([]byte(`{"format": "fillwright project"`), bytes.Repeat([]byte(" "), MaxBytes)...)
	_, _, err := Decode(data)
	b := requireBroken(t, err, "", "project.too_large")
	assert.Equal(t, 64, b.Values["Max"])
}

// The bounds hold while reading, before anything is built from the text.
func TestDecodeRefusesBombs(t *testing.T) {
	const head = `{"format": "fillwright project", "version": 2, "currency": "EUR", `
	for name, c := range map[string]struct{ text, pointer, id string }{
		"depth":     {head + `"x": ` + strings.Repeat("[", 5_000_000), "/x" + strings.Repeat("/0", 31), "project.too_deep"},
		"materials": {head + `"materials": [` + strings.Repeat("{},", 1001) + "{}]}", "/materials", "project.list_too_long"},
		"readings":  {head + `"spool": {"readings": [` + strings.Repeat(`"",`, 10_001) + `""]}}`, "/spool/readings", "project.list_too_long"},
		"unknown":   {head + `"x": [` + strings.Repeat("0,", 100_001) + "0]}", "/x", "project.list_too_long"},
		"sources":   {head + `"materials": [{"sources": [` + strings.Repeat("{},", 101) + "{}]}]}", "/materials/0/sources", "project.list_too_long"},
		"members":   {head + manyMembers(100_001) + "}", "", "project.list_too_long"},
	} {
		t.Run(name, func(t *testing.T) {
			_, _, err := Decode([]byte(c.text))
			requireBroken(t, err, c.pointer, c.id)
		})
	}
	_, _, err := Decode([]byte(head + `"x": ` + strings.Repeat("[", 31) + strings.Repeat("]", 31) + "}"))
	require.NoError(t, err, "at the depth that is accepted")
	_, _, err = Decode([]byte(head + `"x": [` + strings.Repeat("0,", 99_999) + "0]}"))
	require.NoError(t, err, "at the length that is accepted")
	_, _, err = Decode([]byte(head + `"spool": {"readings": [` + strings.Repeat(`"1.75 mm",`, 9_999) + `"1.75 mm"]}}`))
	require.NoError(t, err, "at the length that is accepted")
}

func manyMembers(n int) string {
	var out strings.Builder
	for i := range n {
		fmt.Fprintf(&out, `"m%d":0,`, i)
	}
	return strings.TrimSuffix(out.String(), ",")
}

func TestSyntaxErrorsNameLineAndColumn(t *testing.T) {
	_, _, err := Decode([]byte("{\n  \"Öl\" 3\n}"))
	b := requireBroken(t, err, "/Öl", "project.syntax")
	assert.Equal(t, map[string]any{"Line": 2, "Column": 8}, b.Values)
	_, _, err = Decode([]byte("{\n\n  \"a\": "))
	b = requireBroken(t, err, "", "project.cut_short")
	assert.Equal(t, 3, b.Values["Line"])
}

func TestEncodeRefusesWhatIsBroken(t *testing.T) {
	p := full(t)
	p.Reference = "gone"
	_, err := Encode(p)
	requireBroken(t, err, "/reference", "project.blend_unknown")

	p = full(t)
	p.Spool.Extra = jsontext.Value(`[1]`)
	_, err = Encode(p)
	requireBroken(t, err, "/spool", "project.extra")
	p.Spool.Extra = jsontext.Value(`{"a":1,"a":2}`)
	_, err = Encode(p)
	requireBroken(t, err, "/spool", "project.extra")
	p.Spool.Extra = jsontext.Value(`{"diameter":1}`)
	_, err = Encode(p)
	require.Error(t, err, "an unknown member cannot have a known name")
}

func TestEncodeLeavesItsArgumentAlone(t *testing.T) {
	p := full(t)
	p.Plan.Contents = p.Plan.Contents[:0]
	p.Extra = jsontext.Value(`{ "a" : 1 }`)
	_, err := Encode(p)
	require.NoError(t, err)
	assert.NotNil(t, p.Plan.Contents)
	assert.Equal(t, `{ "a" : 1 }`, string(p.Extra))
}
