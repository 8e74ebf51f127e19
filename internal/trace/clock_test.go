package trace

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestClockForms(t *testing.T) {
	const day = 86400.0
	const august21 = 20686 * day // days from 1970-01-01 to 2026-08-21
	for text, c := range map[string]struct {
		form string
		want float64
	}{
		"14:03:22":               {Clock, 14*3600 + 3*60 + 22},
		"14:03:22.5":             {Clock, 14*3600 + 3*60 + 22.5},
		"14:03:22,125":           {Clock, 14*3600 + 3*60 + 22.125},
		"14:03":                  {Clock, 14*3600 + 3*60},
		"2:03:22 PM":             {Clock, 14*3600 + 3*60 + 22},
		"12:00:01 am":            {Clock, 1},
		"2026-08-21T14:03:22Z":   {Clock, august21 + 14*3600 + 3*60 + 22},
		"2026-08-21 14:03:22.25": {Clock, august21 + 14*3600 + 3*60 + 22.25},
		"2026-08-21T14:03:22+02": {Clock, august21 + 14*3600 + 3*60 + 22},
		"21.08.2026 14:03:22":    {DayFirst, august21 + 14*3600 + 3*60 + 22},
		"08/21/2026 2:03:22 PM":  {MonthFirst, august21 + 14*3600 + 3*60 + 22},
		"21.8.26 14:03":          {DayFirst, august21 + 14*3600 + 3*60},
	} {
		got, ok := readClock([]byte(text), c.form)
		assert.True(t, ok, text)
		assert.InDelta(t, c.want, got, 1e-6, text)
	}
	for _, text := range []string{"", "12", "0.5", "1,75", "25:00:00", "14:61:00", "14:03:22:11:5", "13:00 PM", "noon"} {
		_, ok := readClock([]byte(text), Clock)
		assert.False(t, ok, text)
	}
	_, ok := readClock([]byte("21.13.2026 14:03:22"), DayFirst)
	assert.False(t, ok, "no month 13")
}
