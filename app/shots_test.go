//go:build !ci

// With the tag ci the toolkit's test driver stands in for a window, which the
// verb does without.

package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/bench"
)

// TestMain gives the program a home of its own for settings. It stays for all
// tests, as the toolkit goes on watching it.
func TestMain(m *testing.M) { os.Exit(atHome(m)) }

func atHome(m *testing.M) int {
	home, err := os.MkdirTemp("", "home")
	if err != nil {
		panic(err)
	}
	defer os.RemoveAll(home) //nolint:errcheck // it is in the system's temporary folder
	for name, folder := range map[string]string{"HOME": "", "XDG_CONFIG_HOME": ".config", "XDG_CACHE_HOME": ".cache"} {
		folder = filepath.Join(home, folder)
		if err := os.MkdirAll(folder, 0o700); err != nil {
			panic(err)
		}
		if err := os.Setenv(name, folder); err != nil {
			panic(err)
		}
	}
	return m.Run()
}

// shoot draws a sample and returns the pictures by their names.
func shoot(t *testing.T, flags ...string) map[string]image.Image {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "new", "folder")
	s := speak(t, append(append([]string{"shots"}, flags...), samplePath(samples[0]), dir)...)
	require.Equal(t, fine, s.status, s.err)
	assert.Empty(t, s.err)
	pictures := map[string]image.Image{}
	for path := range strings.FieldsSeq(s.out) { // one line for each picture
		require.Equal(t, dir, filepath.Dir(path))
		file, err := os.Open(path)
		require.NoError(t, err)
		picture, err := png.Decode(file)
		require.NoError(t, err)
		require.NoError(t, file.Close())
		pictures[strings.TrimSuffix(filepath.Base(path), ".png")] = picture
	}
	require.NotEmpty(t, pictures)
	return pictures
}

// look is how bright a picture is, from 0 to 1, and how many colours it has.
func look(img image.Image) (brightness float64, colours int) {
	seen, n := map[color.Color]bool{}, 0
	for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y += 3 {
		for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x += 3 {
			c := img.At(x, y)
			seen[c] = true
			brightness += float64(color.GrayModel.Convert(c).(color.Gray).Y) / 255
			n++
		}
	}
	return brightness / float64(n), len(seen)
}

// shootFew draws what stands for all panes where a picture takes seconds: with the race
// detector, which finds nothing more in the others. Without it all are drawn.
func shootFew(t *testing.T, flags ...string) map[string]image.Image {
	t.Helper()
	if !raceEnabled {
		return shoot(t, flags...)
	}
	pictures := map[string]image.Image{}
	for _, pane := range []bench.Pane{bench.PaneBlend, bench.PaneMelt} {
		maps.Copy(pictures, shoot(t, append([]string{"-pane", string(pane)}, flags...)...))
	}
	return pictures
}

// differing counts the pixels in which two pictures of one size differ, until there are
// more than enough.
func differing(t *testing.T, a, b image.Image, enough int) int {
	require.Equal(t, a.Bounds(), b.Bounds())
	first, second := pixels(t, a), pixels(t, b)
	n, line := 0, 4*a.Bounds().Dx()
	for y := 0; y < len(first) && n <= enough; y += line {
		if bytes.Equal(first[y:y+line], second[y:y+line]) {
			continue
		}
		for i := y; i < y+line; i += 4 {
			if [4]uint8(first[i:]) != [4]uint8(second[i:]) {
				n++
			}
		}
	}
	return n
}

// pixels are those of a picture as PNG files hold it, four bytes each; to ask for one
// colour after another would take most of the time of these tests.
func pixels(t *testing.T, picture image.Image) []uint8 {
	t.Helper()
	switch p := picture.(type) {
	case *image.RGBA:
		return p.Pix
	case *image.NRGBA:
		return p.Pix
	}
	require.Fail(t, "a picture of another kind", "%T", picture)
	return nil
}

func TestShotsDrawEveryPane(t *testing.T) {
	light := shoot(t)
	for id, picture := range light {
		assert.Equal(t, image.Pt(1280, 800), picture.Bounds().Size(), id)
		bright, colours := look(picture)
		assert.Greater(t, bright, 0.7, id)
		assert.Greater(t, colours, 50, "%s is not blank", id)
	}
	for id, picture := range shootFew(t) {
		assert.Zero(t, differing(t, light[id], picture, 0), "%s is drawn the same every time", id)
	}
	for id, picture := range shootFew(t, "-theme", "dark") {
		dim, _ := look(picture)
		assert.Less(t, dim, 0.4, id)
		assert.Contains(t, light, id)
	}
	for _, id := range bench.Panes() {
		assert.Contains(t, light, string(id))
	}
	for _, part := range []string{"drying", "storage", "preparation", "sieving", "clogging", "grain"} {
		assert.Contains(t, light, "filler-"+part)
	}
	for _, part := range []string{"log", "winding", "made"} {
		assert.Contains(t, light, "spool-"+part)
	}
	ids := slices.Sorted(maps.Keys(light))
	for i, id := range ids {
		for _, other := range ids[:i] {
			assert.Greater(t, differing(t, light[id], light[other], 10000), 10000, "%s and %s", id, other)
		}
	}
}

func TestShotsFollowScaleSizeAndText(t *testing.T) {
	for _, picture := range shoot(t, "-scale", "2", "-size", "1300x820", "-pane", "plan") {
		assert.Equal(t, image.Pt(2600, 1640), picture.Bounds().Size())
	}
	plain, large := shoot(t, "-pane", "plan"), shoot(t, "-text", "200", "-pane", "plan")
	require.Len(t, plain, 1, "one pane only")
	for id, picture := range large {
		assert.Equal(t, image.Pt(1280, 800), picture.Bounds().Size())
		assert.Greater(t, differing(t, plain[id], picture, 10000), 10000, id)
	}
}

// TestShotsOfABlend: another blend than the usual one can be at work.
func TestShotsOfABlend(t *testing.T) {
	usual, other := shoot(t, "-pane", "blend"), shoot(t, "-pane", "blend", "-blend", "neat")
	assert.Positive(t, differing(t, usual["blend"], other["blend"], 0))
	s := speak(t, "shots", "-blend", "none", samplePath(samples[0]), t.TempDir())
	assert.Equal(t, misused, s.status)
	assert.Contains(t, s.err, "no blend with that ID")
}

func TestShotsSayWhenTheyCannotBeWritten(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	s := speak(t, "shots", samplePath(samples[0]), file)
	assert.Equal(t, refused, s.status)
	assert.Equal(t, 1, strings.Count(s.err, "\n"), s.err)
	assert.Contains(t, s.err, file)
}
