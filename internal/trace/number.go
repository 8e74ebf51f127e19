package trace

import (
	"bytes"
	"math"
	"strconv"
)

// Number reading is most of the time that a log takes: one number of a usual
// length is read in place, digit by digit, and is exact, for its digits fit into a
// float64 and so does the power of ten by which they are divided. All others go to
// the standard library.

// powers are those of ten that a float64 holds exactly.
var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// exactDigits is how many digits a float64 holds exactly.
const exactDigits = 15

// readNumber reads the number that line begins with, with the given decimal sign,
// and returns how many bytes it took; 0 where no number stands.
func readNumber(line []byte, decimal byte) (value float64, size int) {
	i, negative := 0, false
	if i < len(line) && (line[i] == '-' || line[i] == '+') {
		negative = line[i] == '-'
		i++
	}
	var mantissa uint64
	digits, after := 0, 0
	for ; i < len(line); i++ {
		d := line[i] - '0'
		if d > 9 {
			break
		}
		mantissa = mantissa*10 + uint64(d)
		digits++
	}
	if i < len(line) && line[i] == decimal {
		for i++; i < len(line); i++ {
			d := line[i] - '0'
			if d > 9 {
				break
			}
			mantissa = mantissa*10 + uint64(d)
			after++
		}
	}
	if digits+after == 0 {
		return 0, 0
	}
	if digits+after > exactDigits || i < len(line) && line[i]|0x20 == 'e' {
		return readLongNumber(line, decimal)
	}
	value = float64(mantissa)
	if after > 0 {
		value /= powers[after]
	}
	if negative {
		value = -value
	}
	return value, i
}

// readLongNumber is readNumber for many digits or an exponent.
func readLongNumber(line []byte, decimal byte) (value float64, size int) {
	const most = 400 // digits of any float64
	size = bytes.IndexFunc(line, func(r rune) bool {
		return (r < '0' || r > '9') && r != rune(decimal) && r != '-' && r != '+' && r|0x20 != 'e'
	})
	if size < 0 {
		size = len(line)
	}
	text := line[:size]
	if size > most {
		return 0, 0
	}
	if decimal != '.' {
		text = bytes.Replace(text, []byte{decimal}, []byte{'.'}, 1)
	}
	value, err := strconv.ParseFloat(string(text), 64)
	if err != nil || math.IsInf(value, 0) {
		return 0, 0
	}
	return value, size
}
