package main

import (
	"bytes"
	"encoding/binary"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// dump writes a window dump of 6 by 2 pixels, with a name in its header, one
// entry in its colour map and four bytes of padding after each row.
func dump(t *testing.T, change func(header *[headerLength]uint32), pixels ...uint32) string {
	t.Helper()
	const width, height, row, name = 6, 2, 28, "a name"
	var header [headerLength]uint32
	header[headerSize] = uint32(binary.Size(header) + len(name))
	header[version] = xwdVersion
	header[pixmapWidth], header[pixmapHeight] = width, height
	header[bitsPerPixel], header[bytesPerLine] = bitsWanted, row
	header[colourCount] = 1
	if change != nil {
		change(&header)
	}
	var file bytes.Buffer
	require.NoError(t, binary.Write(&file, binary.BigEndian, header))
	file.WriteString(name)
	file.Write(make([]byte, bytesPerColour))
	rows := make([]byte, row*height)
	for i := range rows {
		rows[i] = 0xee // padding must not be taken for a colour
	}
	for i := range width * height {
		colour := uint32(0)
		if i < len(pixels) {
			colour = pixels[i]
		}
		binary.LittleEndian.PutUint32(rows[i/width*row+i%width*bytesPerPixel:], colour)
	}
	file.Write(rows)
	path := filepath.Join(t.TempDir(), "screen")
	require.NoError(t, os.WriteFile(path, file.Bytes(), 0o600))
	return path
}

func TestColoursOfTheScreen(t *testing.T) {
	for name, test := range map[string]struct {
		pixels []uint32
		want   int
	}{
		"empty":               {nil, 1},
		"a second colour":     {[]uint32{0, 0, 0, 7}, 2},
		"in the second row":   {[]uint32{0, 0, 0, 0, 0, 0, 9}, 2},
		"no more than wanted": {[]uint32{1, 0, 0, 2, 0, 0, 3, 0, 0, 4}, painted},
	} {
		t.Run(name, func(t *testing.T) {
			view, err := openScreen(dump(t, nil, test.pixels...))
			require.NoError(t, err)
			got, err := view.colours(painted)
			require.NoError(t, err)
			assert.Equal(t, test.want, got)
		})
	}
}

func TestScreensThatCannotBe(t *testing.T) {
	for name, change := range map[string]func(*[headerLength]uint32){
		"another version": func(h *[headerLength]uint32) { h[version] = 6 },
		"other depth":     func(h *[headerLength]uint32) { h[bitsPerPixel] = 16 },
		"rows too short":  func(h *[headerLength]uint32) { h[bytesPerLine] = 20 },
		"too high":        func(h *[headerLength]uint32) { h[pixmapHeight] = 1 << 30 },
	} {
		t.Run(name, func(t *testing.T) {
			_, err := openScreen(dump(t, change))
			assert.Error(t, err)
		})
	}
	_, err := openScreen(filepath.Join(t.TempDir(), "none"))
	assert.Error(t, err)
}

func TestSplitAtDashes(t *testing.T) {
	for name, test := range map[string]struct {
		arguments []string
		want      [][]string
	}{
		"nothing":         {nil, nil},
		"one":             {[]string{"a", "b"}, [][]string{{"a", "b"}}},
		"two":             {[]string{"a", "b", "--", "c"}, [][]string{{"a", "b"}, {"c"}}},
		"dashes in front": {[]string{"--", "a", "--", "c"}, [][]string{{"a"}, {"c"}}},
		"dashes behind":   {[]string{"a", "--"}, [][]string{{"a"}}},
	} {
		t.Run(name, func(t *testing.T) { assert.Equal(t, test.want, split(test.arguments)) })
	}
}

func TestMedian(t *testing.T) {
	assert.Equal(t, 2*time.Second, median([]time.Duration{1 * time.Second, 2 * time.Second, 9 * time.Second}))
	assert.Equal(t, 3*time.Second, median([]time.Duration{1 * time.Second, 2 * time.Second, 4 * time.Second, 9 * time.Second}))
	assert.Equal(t, time.Second, median([]time.Duration{time.Second}))
}

func TestUsage(t *testing.T) {
	assert.Error(t, run([]string{"-screen", "x", "--", "only-one"}))
	assert.Error(t, run([]string{"-screen", "x", "-repeats", "0", "--", "a", "--", "b"}))
}
