package trace

import (
	"bytes"
	"unicode/utf8"
)

// chunk is a piece of a log that ends with a line, and what is read of it.
type chunk struct {
	text  []byte
	bytes int64

	continued bool // it begins within a line that is too long

	done  chan struct{} // gets a value when it is read
	block Block
	row   []int32 // line of each reading within the piece, from 0
	lines int64
	left  [faults]int64
	shown []Line // with numbers of lines within the piece, from 1
}

func (c *chunk) reset() {
	c.text, c.row, c.shown = c.text[:0], c.row[:0], c.shown[:0]
	c.block.At, c.block.Diameter, c.block.Second, c.block.Gap = c.block.At[:0], c.block.Diameter[:0], c.block.Second[:0], c.block.Gap[:0]
	c.lines, c.left = 0, [faults]int64{}
}

// cutRest takes the line that is not whole off the end. Where that is too long to
// be a row it stays, and whole is false: the next piece goes on with it.
func (c *chunk) cutRest(into []byte) (rest []byte, whole bool) {
	n := bytes.LastIndexByte(c.text, '\n')
	if n < 0 {
		n = bytes.LastIndexByte(c.text, '\r') // the line ends of old systems
	}
	if n < 0 || len(c.text)-n-1 > mostLine {
		return into, false
	}
	into = append(into, c.text[n+1:]...)
	c.text = c.text[:n+1]
	return into, true
}

// parse reads the rows.
func (c *chunk) parse(r *rowReader) {
	text, ending := c.text, byte('\n')
	if bytes.IndexByte(text, '\n') < 0 {
		ending = '\r'
	}
	if c.continued {
		n := bytes.IndexByte(text, ending)
		if n < 0 {
			return
		}
		text = text[n+1:]
	}
	var at reading
	for len(text) > 0 {
		if r.plain {
			if n := r.readFast(text, &at); n > 0 {
				c.lines++
				c.keep(&at, r)
				text = text[n:]
				continue
			}
		}
		line := text
		if n := bytes.IndexByte(text, ending); n >= 0 {
			line, text = text[:n], text[n+1:]
		} else {
			text = nil
		}
		c.lines++
		if n := len(line); n > 0 && line[n-1] == '\r' {
			line = line[:n-1]
		}
		if len(line) > mostLine {
			c.leave(line, TooLong)
			continue
		}
		switch fault := r.read(line, &at); {
		case fault == Sound:
			c.keep(&at, r)
		case len(bytes.TrimSpace(line)) > 0:
			c.leave(line, fault)
		}
	}
}

func (c *chunk) keep(v *reading, r *rowReader) {
	c.block.At = append(c.block.At, v.at)
	c.block.Diameter = append(c.block.Diameter, v.diameter)
	if r.second {
		c.block.Second = append(c.block.Second, v.second)
	}
	c.row = append(c.row, int32(c.lines-1))
}

// leave counts a line that is left out, and shows it if it is among the first.
func (c *chunk) leave(line []byte, fault Fault) {
	const most = 80
	c.left[fault]++
	if len(c.shown) >= shownFault {
		return
	}
	text := line[:min(len(line), most)]
	for len(text) > 0 && !utf8.Valid(text) && len(text) > most-utf8.UTFMax {
		text = text[:len(text)-1]
	}
	c.shown = append(c.shown, Line{Number: c.lines, Text: string(bytes.ToValidUTF8(text, []byte("\uFFFD"))), Fault: fault})
}

// dropHeader takes the lines of the header out of the first pieces, and returns how
// many there were.
func (c *chunk) dropHeader(lines int) int {
	dropped := min(int64(lines), c.lines)
	if dropped == 0 {
		return 0
	}
	keep := c.shown[:0]
	for _, l := range c.shown {
		if l.Number > dropped {
			keep = append(keep, l)
		} else {
			c.left[l.Fault]--
		}
	}
	c.shown = keep
	n := 0
	for n < len(c.row) && int64(c.row[n]) < dropped {
		n++
	}
	c.row = c.row[n:]
	b := &c.block
	b.At, b.Diameter = b.At[n:], b.Diameter[n:]
	if len(b.Second) > 0 {
		b.Second = b.Second[n:]
	}
	return int(dropped)
}
