package trace

import "time"

// readClock reads a time of day with or without a date before it, and returns
// seconds: since midnight without a date, since 1970 with one (the zone does not
// matter, only differences do). Form is Clock, DayFirst or MonthFirst.
func readClock(text []byte, form string) (seconds float64, ok bool) {
	groups, count, rest := digitGroups(text)
	fraction := 0.0
	date := [3]int{}
	at := 0
	if dated := isDateSign(groups[0].then) && isDateSign(groups[1].then); dated && (count >= 5 || count == 3) {
		date, at = [3]int{groups[0].value, groups[1].value, groups[2].value}, 3
	}
	clock := [3]int{}
	n := count - at
	if n > 3 && groups[at+2].then != '.' && groups[at+2].then != ',' {
		return 0, false
	}
	for i := range min(n, 3) {
		clock[i] = groups[at+i].value
	}
	if n == 4 {
		f := groups[at+3]
		fraction = float64(f.value) / powers[min(f.digits, exactDigits)]
	}
	if n == 1 || n > 4 || n == 0 && at == 0 || n > 0 && !hasByte(text, ':') {
		return 0, false
	}
	clock[0], ok = halfDay(clock[0], rest)
	if !ok || clock[0] > 24 || clock[1] > 59 || clock[2] > 60 {
		return 0, false
	}
	seconds = float64(clock[0]*3600+clock[1]*60+clock[2]) + fraction
	if at == 0 {
		return seconds, true
	}
	days, ok := dayNumber(date, form)
	return seconds + days*86400, ok
}

// group is one run of digits with what stands behind it.
type group struct {
	value, digits int
	then          byte
}

// mostGroups is year, month, day, hour, minute, second and fraction.
const mostGroups = 7

// digitGroups cuts a time into its runs of digits; rest is what follows the last.
// A zone behind the time, as Z or +01:00, is left out: within a log it stays.
func digitGroups(text []byte) (groups [mostGroups]group, count int, rest []byte) {
	for i := 0; i < len(text) && count < mostGroups; {
		d := text[i] - '0'
		if d > 9 {
			if count >= 5 && (text[i] == '+' || text[i] == '-' || text[i] == 'Z') {
				return groups, count, nil
			}
			i++
			continue
		}
		g := group{}
		for ; i < len(text) && text[i]-'0' <= 9; i++ {
			if g.digits < 9 {
				g.value = g.value*10 + int(text[i]-'0')
				g.digits++
			}
		}
		if i < len(text) {
			g.then = text[i]
		}
		groups[count] = g
		count++
		rest = text[i:]
	}
	return groups, count, rest
}

// halfDay takes AM and PM into the hour.
func halfDay(hour int, rest []byte) (int, bool) {
	for _, b := range rest {
		switch b | 0x20 {
		case 'a':
			return hour % 12, hour <= 12
		case 'p':
			return hour%12 + 12, hour <= 12
		}
	}
	return hour, true
}

// dayNumber is the number of days since 1970.
func dayNumber(date [3]int, form string) (float64, bool) {
	year, month, day := date[0], date[1], date[2]
	switch form {
	case DayFirst:
		year, month, day = date[2], date[1], date[0]
	case MonthFirst:
		year, month, day = date[2], date[0], date[1]
	}
	if year < 100 {
		year += 2000
	}
	if month < 1 || month > 12 || day < 1 || day > 31 || year > 9999 {
		return 0, false
	}
	return float64(time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC).Unix() / 86400), true
}

// isDateSign reports what stands between the parts of a date.
func isDateSign(b byte) bool { return b == '-' || b == '.' || b == '/' }

func hasByte(text []byte, b byte) bool {
	for _, c := range text {
		if c == b {
			return true
		}
	}
	return false
}
