package main

import (
	"encoding/binary"
	"errors"
	"fmt"
	"os"
)

// screen reads what an X server with its frame buffer in a file shows. The
// file has the form of an X window dump (XWD version 7): a header of 32-bit
// numbers, big end first, then the name, the colour map and the rows of pixels.
type screen struct {
	file   *os.File
	pixels int64 // where the rows begin
	row    int   // bytes
	width  int   // pixels
	data   []byte
}

// Places of the numbers in the header that are used here.
const (
	headerSize   = 0
	version      = 1
	pixmapWidth  = 4
	pixmapHeight = 5
	bitsPerPixel = 11
	bytesPerLine = 12
	colourCount  = 19
	headerLength = 25

	xwdVersion       = 7
	bytesPerColour   = 12
	bitsWanted       = 32
	pixelStep        = 3 // every third pixel is plenty to find a second colour
	bytesPerPixel    = bitsWanted / 8
	largestDimension = 1 << 15
)

func openScreen(path string) (*screen, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	s, err := newScreen(file)
	if err != nil {
		return nil, errors.Join(fmt.Errorf("%s: %w", path, err), file.Close())
	}
	return s, nil
}

func newScreen(file *os.File) (*screen, error) {
	var header [headerLength]uint32
	if err := binary.Read(file, binary.BigEndian, &header); err != nil {
		return nil, err
	}
	if header[version] != xwdVersion || header[bitsPerPixel] != bitsWanted {
		return nil, fmt.Errorf("wanted a window dump of version %d with %d bits per pixel; it has version %d and %d bits",
			xwdVersion, bitsWanted, header[version], header[bitsPerPixel])
	}
	width, height, row := header[pixmapWidth], header[pixmapHeight], header[bytesPerLine]
	if width > largestDimension || height > largestDimension || row < width*bytesPerPixel || row > largestDimension*bytesPerPixel {
		return nil, fmt.Errorf("a picture of %d by %d pixels in rows of %d bytes cannot be", width, height, row)
	}
	return &screen{
		file:   file,
		pixels: int64(header[headerSize]) + int64(header[colourCount])*bytesPerColour,
		row:    int(row),
		width:  int(width),
		data:   make([]byte, int(row)*int(height)),
	}, nil
}

// colours counts the colours that show at this moment, up to enough.
func (s *screen) colours(enough int) (int, error) {
	if _, err := s.file.ReadAt(s.data, s.pixels); err != nil {
		return 0, err
	}
	var seen []uint32
	for start := 0; start < len(s.data); start += s.row {
		row := s.data[start : start+s.width*bytesPerPixel]
		for x := 0; x < len(row); x += pixelStep * bytesPerPixel {
			if seen = note(seen, binary.LittleEndian.Uint32(row[x:])); len(seen) >= enough {
				return len(seen), nil
			}
		}
	}
	return len(seen), nil
}

// note adds a colour that is not there yet. The last one is looked at first,
// since neighbours mostly agree.
func note(seen []uint32, colour uint32) []uint32 {
	for i := len(seen) - 1; i >= 0; i-- {
		if seen[i] == colour {
			return seen
		}
	}
	return append(seen, colour)
}
