package trace

import "bytes"

// readFast reads the row that text begins with if it is written in the plainest way:
// numbers without sign, quotes, blanks or exponent, each followed by the separator or the
// end of the line. It returns how many bytes the row took, or 0 for any other row,
// which read then takes. Nearly all rows of nearly all logs are as plain as this.
func (r *rowReader) readFast(text []byte, out *reading) int {
	i := 0
	for n := range r.fields {
		f := &r.fields[n]
		if f.slot == slotNone {
			for i < len(text) && text[i] != r.separator {
				if text[i] == '\n' || text[i] == '"' {
					return 0
				}
				i++
			}
			i++
			continue
		}
		value, size := readPlain(text[min(i, len(text)):], r.decimal)
		i += size
		if size == 0 || i >= len(text) {
			return 0
		}
		value *= f.si
		switch f.slot {
		case slotDiameter:
			out.diameter = value
		case slotSecond:
			out.second = value
		default:
			out.at = value
		}
		if n+1 < len(r.fields) {
			if text[i] != r.separator {
				return 0
			}
			i++
		}
	}
	i = r.endOfRow(text, i)
	if i == 0 || r.judge(out) != Sound {
		return 0
	}
	return i
}

// endOfRow returns where the next line begins, if nothing but what the row may have stands
// before it.
func (r *rowReader) endOfRow(text []byte, i int) int {
	if !r.whole && text[i] == r.separator {
		n := bytes.IndexByte(text[i:], '\n')
		if n < 0 {
			return 0
		}
		return i + n + 1
	}
	if text[i] == '\r' && i+1 < len(text) {
		i++
	}
	if text[i] != '\n' {
		return 0
	}
	return i + 1
}

// readPlain is readNumber for digits with a decimal sign or without.
func readPlain(text []byte, decimal byte) (value float64, size int) {
	var mantissa uint64
	i := 0
	for ; i < len(text); i++ {
		d := text[i] - '0'
		if d > 9 {
			break
		}
		mantissa = mantissa*10 + uint64(d)
	}
	if i == len(text) || text[i] != decimal {
		if i > exactDigits {
			return 0, 0
		}
		return float64(mantissa), i
	}
	whole := i
	for i++; i < len(text); i++ {
		d := text[i] - '0'
		if d > 9 {
			break
		}
		mantissa = mantissa*10 + uint64(d)
	}
	if i-1 > exactDigits || i-1 == 0 {
		return 0, 0
	}
	return float64(mantissa) / powers[i-whole-1], i
}
