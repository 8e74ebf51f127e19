package main

import (
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
)

// spoken is what a run of the program left behind.
type spoken struct {
	status   int
	out, err string
}

// speak runs the program with arguments and catches what it prints.
func speak(t *testing.T, args ...string) spoken {
	t.Helper()
	return speakIn(t, "C.UTF-8", args...)
}

// speakIn is speak in a locale.
func speakIn(t *testing.T, locale string, args ...string) spoken {
	t.Helper()
	t.Setenv("LC_ALL", locale)
	var s spoken
	outside := [2]*os.File{os.Stdout, os.Stderr}
	var caught [2]*os.File
	for i := range caught {
		file, err := os.CreateTemp(t.TempDir(), "")
		require.NoError(t, err)
		caught[i] = file
	}
	func() {
		os.Stdout, os.Stderr = caught[0], caught[1]
		defer func() { os.Stdout, os.Stderr = outside[0], outside[1] }()
		s.status = run(args)
	}()
	for i, text := range []*string{&s.out, &s.err} {
		_, err := caught[i].Seek(0, io.SeekStart)
		require.NoError(t, err)
		data, err := io.ReadAll(caught[i])
		require.NoError(t, err)
		require.NoError(t, caught[i].Close())
		*text = string(data)
	}
	return s
}

// samples are the built-in projects.
var samples = []string{"olive-stone-pla", "mussel-shell-petg"}

func samplePath(name string) string { return filepath.Join("..", "assets", "samples", name+".json") }

// keys are the figures that the sheet of every blend has, by their names for
// other programs. They are an interface: none may go or change its name.
var keys = []string{
	"density", "filler_mass_fraction", "filler_volume_fraction", "cost_per_kg", "cost_per_metre", "cost_per_spool",
	"cost_change_per_metre", "break_even_filler_price", "length_per_spool", "metres_per_kg", "melt_flow_factor",
	"melt_flow_factor_grains", "melt_flow_factor_water", "melt_flow_factor_oil", "blend_moisture",
}

// sheetFile is the sheet as other programs read it.
type sheetFile struct {
	Format  string
	Version int
	Blends  []struct {
		ID, Name string
		Figures  map[string]struct {
			Value, Low, High *float64
			Unit, Basis      string
		}
		Notes []struct{ ID, Severity, Text, Action, Field string }
	}
}

func readSheet(t *testing.T, text string) sheetFile {
	t.Helper()
	var sheet sheetFile
	require.NoError(t, json.Unmarshal([]byte(text), &sheet))
	return sheet
}

func TestCalcAsJSON(t *testing.T) {
	for _, name := range samples {
		s := speak(t, "calc", "-json", samplePath(name))
		assert.Equal(t, fine, s.status, name)
		assert.Empty(t, s.err, name)
		sheet := readSheet(t, s.out)
		assert.NotEmpty(t, sheet.Format)
		assert.Positive(t, sheet.Version)
		p, _, err := project.Load(samplePath(name))
		require.NoError(t, err)
		require.Len(t, sheet.Blends, len(p.Blends), name)
		for _, b := range sheet.Blends {
			assert.NotEmpty(t, b.ID)
			assert.NotEmpty(t, b.Name)
			for _, key := range keys {
				f, has := b.Figures[key]
				require.True(t, has, "%s of %s", key, b.ID)
				assert.Contains(t, []string{"entered", "measured", "calibrated", "estimated"}, f.Basis, "%s of %s", key, b.ID)
				if f.Value == nil {
					assert.Nil(t, f.Low, key)
					assert.Nil(t, f.High, key)
					continue
				}
				require.NotNil(t, f.Low, key)
				require.NotNil(t, f.High, key)
				assert.LessOrEqual(t, *f.Low, *f.Value, "%s of %s", key, b.ID)
				assert.GreaterOrEqual(t, *f.High, *f.Value, "%s of %s", key, b.ID)
				assert.NotEmpty(t, f.Unit, "%s of %s", key, b.ID)
			}
			for _, n := range b.Notes {
				assert.NotEmpty(t, n.ID)
				assert.Contains(t, []string{"info", "caution", "stop"}, n.Severity, n.ID)
				assert.NotEmpty(t, n.Text, n.ID)
				assert.True(t, n.Field == "" || strings.HasPrefix(n.Field, "/"), n.ID)
			}
		}
	}
}

func TestCalcAsATable(t *testing.T) {
	for _, name := range samples {
		s := speak(t, "calc", samplePath(name))
		assert.Equal(t, fine, s.status)
		assert.Empty(t, s.err)
		assert.NotContains(t, s.out, "NaN")
		for _, word := range []string{"Density", "g/cm³", "€", "Melt"} {
			assert.Contains(t, s.out, word, name)
		}
		for _, line := range strings.Split(s.out, "\n") {
			assert.Equal(t, strings.TrimRight(line, " "), line, "no blanks at the end of a line")
		}
	}
}

func TestCalcIsTheSameEveryTime(t *testing.T) {
	first := speak(t, "calc", "-json", samplePath(samples[0]))
	for range 3 {
		assert.Equal(t, first, speak(t, "calc", "-json", samplePath(samples[0])))
	}
}

func TestCalcFollowsTheLocale(t *testing.T) {
	point := speak(t, "calc", samplePath(samples[0]))
	assert.Contains(t, point.out, "1.253")
	comma := speakIn(t, "de_DE.UTF-8", "calc", samplePath(samples[0]))
	assert.Contains(t, comma.out, "1,253")
	asJSON := speakIn(t, "de_DE.UTF-8", "calc", "-json", samplePath(samples[0]))
	readSheet(t, asJSON.out)
}

func TestARefusedFileIsSaidInOneLine(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		return path
	}
	whole, err := os.ReadFile(samplePath(samples[0]))
	require.NoError(t, err)
	changed := func(name, old, replacement string) string {
		require.Contains(t, string(whole), old)
		return write(name, strings.Replace(string(whole), old, replacement, 1))
	}
	for _, c := range []struct{ path, place, reason string }{
		{filepath.Join(dir, "none.json"), "", "no such file"},
		{dir, "", "folder"},
		{write("empty.json", ""), "", ""},
		{write("text.json", "hello\nworld\n"), "", ""},
		{changed("unit.json", `"1.75 ± 0.05 mm"`, `"1.75 ± 0.05 kg"`), "/spool/diameter", "mm"},
		{changed("number.json", `"1.75 ± 0.05 mm"`, `1.75`), "/spool/diameter", ""},
		{changed("large.json", `"1.75 ± 0.05 mm"`, `"1.75 m"`), "/spool/diameter", "mm"},
		{changed("twice.json", `"reference": "neat"`, `"title": "again", "reference": "neat"`), "/title", ""},
		{changed("lost.json", `"reference": "neat"`, `"reference": "gone"`), "/reference", "gone"},
		{changed("later.json", `"version": 2`, `"version": 99`), "", "99"},
	} {
		for _, verb := range [][]string{{"calc", c.path}, {"calc", "-json", c.path}, {"shots", c.path, filepath.Join(dir, "out")}, {c.path}} {
			s := speak(t, verb...)
			assert.Equal(t, refused, s.status, verb)
			assert.Empty(t, s.out, verb)
			assert.Equal(t, 1, strings.Count(s.err, "\n"), "%v: one line, not %q", verb, s.err)
			assert.True(t, strings.HasSuffix(s.err, "\n"), verb)
			assert.Contains(t, s.err, c.path, verb)
			assert.Contains(t, s.err, c.place, verb)
			assert.Contains(t, strings.ToLower(s.err), c.reason, verb)
		}
		assert.NoDirExists(t, filepath.Join(dir, "out"), "nothing is drawn of a refused file")
	}
}

func TestUnknownMembersAreSaid(t *testing.T) {
	whole, err := os.ReadFile(samplePath(samples[0]))
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "newer.json")
	require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(whole), `"spool": {`, `"spool": {"colour": "green", `, 1)), 0o600))
	s := speak(t, "calc", "-json", path)
	assert.Equal(t, fine, s.status)
	assert.Contains(t, s.err, "/spool/colour")
	assert.Contains(t, s.err, path)
	readSheet(t, s.out)
}

func TestWrongUsage(t *testing.T) {
	file := samplePath(samples[0])
	for _, args := range [][]string{
		{"calc"},
		{"calc", file, file},
		{"calc", "-xml", file},
		{"calc", file, "-json"},
		{"shots"},
		{"shots", file},
		{"shots", file, "a", "b"},
		{"shots", "-theme", "blue", file, "out"},
		{"shots", "-scale", "0", file, "out"},
		{"shots", "-scale", "3", file, "out"},
		{"shots", "-scale", "x", file, "out"},
		{"shots", "-size", "1280", file, "out"},
		{"shots", "-size", "10x10", file, "out"},
		{"shots", "-size", "1280x800x3", file, "out"},
		{"shots", "-text", "50", file, "out"},
		{"shots", "-pane", "oven", file, "out"},
		{"-x"},
		{"--version-of-nothing"},
		{file, file},
		{"compute", file},
	} {
		s := speak(t, args...)
		assert.Equal(t, misused, s.status, args)
		assert.Empty(t, s.out, args)
		assert.Equal(t, 1, strings.Count(s.err, "\n"), "%v: %q", args, s.err)
		assert.Contains(t, s.err, "usage: fillwright", args)
		assert.NoDirExists(t, "out")
	}
}

func TestHelp(t *testing.T) {
	first := speak(t, "help")
	assert.Equal(t, fine, first.status)
	assert.Empty(t, first.err)
	for _, word := range []string{"fillwright calc [-json] [-draws N] [-seed S] FILE", "fillwright shots", "Exit status"} {
		assert.Contains(t, first.out, word)
	}
	for _, spelling := range []string{"-h", "-help", "--help"} {
		assert.Equal(t, first, speak(t, spelling), spelling)
	}
}
