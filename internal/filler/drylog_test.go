package filler

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestCheckLog(t *testing.T) {
	rows := []Weighing{{0, 1}, {600, 0.8}, {600, 0.8}, {300, 0.9}, {1200, 0.806}, {-1, 0.7}, {1800, math.NaN()}, {1500, 0.6}}
	found := CheckLog(rows, 0)
	for i := range found {
		found[i].Value = math.Round(found[i].Value*1e6) / 1e6
	}
	assert.Equal(t, []LogProblem{
		{LogTimeRepeats, 2, 1, 0},
		{LogTimeGoesBack, 3, 2, 0},
		{LogMassRises, 4, 2, 0.006},
		{LogNotANumber, 5, -1, 0},
		{LogNotANumber, 6, -1, 0},
	}, found)
	assert.Empty(t, CheckLog(logOf(1, 0.4, 3000, 1, spread(9, 9000)...), 0))
}

func TestRiseAllowed(t *testing.T) {
	rising := func(kg float64) []Weighing { return []Weighing{{0, 1}, {60, 0.5}, {120, 0.5 + kg}} }
	assert.Empty(t, CheckLog(rising(0.00049), 0), "below a thousandth of the mass")
	assert.Len(t, CheckLog(rising(0.00051), 0), 1)
	assert.Empty(t, CheckLog(rising(0.002), 0.002), "one step of the scale")
	assert.Len(t, CheckLog(rising(0.0021), 0.002), 1)
}

func TestTooFewRowsComeLast(t *testing.T) {
	assert.Equal(t, []LogProblem{{LogTooFewRows, -1, -1, 3}}, CheckLog(nil, 0))
	found := CheckLog([]Weighing{{0, 1}, {60, 0}, {120, 0.9}}, 0)
	assert.Equal(t, []LogProblem{{LogNotANumber, 1, -1, 0}, {LogTooFewRows, -1, -1, 3}}, found)
}
