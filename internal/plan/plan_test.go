package plan

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func runs(t *testing.T, levels, spools, perDay int, seed uint64) []Run {
	t.Helper()
	r, p := Runs(Settings{Levels: levels, SpoolsPerLevel: spools, SpecimensPerSpool: 5, SpoolsPerDay: perDay, Seed: seed})
	require.Equal(t, OK, p)
	return r
}

// perDay counts the spools of each level on each day.
func perDay(runs []Run, levels int) [][]int {
	days := make([][]int, runs[len(runs)-1].Day)
	for i := range days {
		days[i] = make([]int, levels)
	}
	for _, r := range runs {
		days[r.Day-1][r.Level]++
	}
	return days
}

func total(counts []int) int {
	n := 0
	for _, c := range counts {
		n += c
	}
	return n
}

// eachSetting goes through small plans of every shape.
func eachSetting(t *testing.T, check func(t *testing.T, levels, spools, daily int)) {
	for levels := 1; levels <= 7; levels++ {
		for spools := 1; spools <= 6; spools++ {
			for daily := 1; daily <= 16; daily++ {
				t.Run(fmt.Sprintf("%d levels %d spools %d per day", levels, spools, daily), func(t *testing.T) {
					check(t, levels, spools, daily)
				})
			}
		}
	}
}

func TestEveryRunOnce(t *testing.T) {
	eachSetting(t, func(t *testing.T, levels, spools, daily int) {
		list := runs(t, levels, spools, daily, 7)
		require.Len(t, list, levels*spools)
		seen := map[[2]int]bool{}
		day, slot := 1, 0
		for i, r := range list {
			require.Equal(t, i+1, r.Order)
			if r.Day != day {
				require.Equal(t, day+1, r.Day)
				day, slot = r.Day, 0
			}
			slot++
			require.Equal(t, slot, r.Slot)
			require.LessOrEqual(t, slot, daily)
			require.True(t, 0 <= r.Level && r.Level < levels)
			require.True(t, 1 <= r.Replicate && r.Replicate <= spools)
			seen[[2]int{r.Level, r.Replicate}] = true
		}
		require.Len(t, seen, levels*spools, "every level and replicate once")
		require.Equal(t, int(math.Ceil(float64(levels*spools)/float64(daily))), day, "no more days than needed")
	})
}

func TestDaysAreBalanced(t *testing.T) {
	eachSetting(t, func(t *testing.T, levels, spools, daily int) {
		days := perDay(runs(t, levels, spools, daily, 3), levels)
		for _, counts := range days {
			low, high := counts[0], counts[0]
			for _, c := range counts {
				low, high = min(low, c), max(high, c)
			}
			require.LessOrEqual(t, high-low, 1, "%v", days)
		}
		switch {
		case daily%levels == 0:
			for _, counts := range days {
				require.Zero(t, total(counts)%levels, "a multiple: every day holds whole rounds: %v", days)
			}
		case levels%daily == 0:
			for i := 0; i < len(days); i += levels / daily {
				for level := range levels {
					n := 0
					for _, counts := range days[i : i+levels/daily] {
						n += counts[level]
					}
					require.Equal(t, 1, n, "a divisor: a few days make a round: %v", days)
				}
			}
		}
	})
}

// Whole rounds are taken wherever they need no more days, else days of one
// size.
func TestDaySizes(t *testing.T) {
	for _, tt := range []struct {
		levels, spools, daily int
		want                  []int
	}{
		{3, 3, 4, []int{3, 3, 3}},
		{4, 5, 9, []int{8, 8, 4}},
		{4, 3, 5, []int{4, 4, 4}},
		{3, 4, 4, []int{4, 4, 4}}, // rounds would take a fourth day
		{5, 2, 4, []int{4, 3, 3}},
		{2, 2, 100, []int{4}},
		{3, 1, 1, []int{1, 1, 1}},
	} {
		days := perDay(runs(t, tt.levels, tt.spools, tt.daily, 1), tt.levels)
		got := make([]int, len(days))
		for i, counts := range days {
			got[i] = total(counts)
		}
		assert.Equal(t, tt.want, got, "%+v", tt)
	}
}

// Balanced incomplete blocks where there are small ones: any two levels share
// the same number of days.
func TestLevelsMeetEquallyOften(t *testing.T) {
	for _, tt := range []struct{ levels, spools, daily, meetings int }{
		{3, 2, 2, 1}, {4, 3, 2, 1}, {3, 4, 2, 2}, {4, 3, 3, 2}, {5, 4, 4, 3},
	} {
		for seed := range uint64(20) {
			met := map[[2]int]int{}
			for _, counts := range perDay(runs(t, tt.levels, tt.spools, tt.daily, seed), tt.levels) {
				for a := range tt.levels {
					for b := range a {
						met[[2]int{a, b}] += counts[a] * counts[b]
					}
				}
			}
			for pair, times := range met {
				assert.Equal(t, tt.meetings, times, "levels %v of %+v, seed %d", pair, tt, seed)
			}
		}
	}
}

// byDay prints the levels of a list, a line per day.
func byDay(list []Run) []string {
	var lines []string
	for _, r := range list {
		if r.Slot == 1 {
			lines = append(lines, "")
		}
		lines[r.Day-1] += fmt.Sprint(r.Level)
	}
	return lines
}

// The list for given settings must never change: people have it printed and
// hanging at the machine. Recorded when this was written, and worked out a
// second time by a separate program in another language from the definition of
// the generator.
func TestTheSameForEver(t *testing.T) {
	assert.Equal(t, []string{"210", "210", "021"}, byDay(runs(t, 3, 3, 3, 20240501)))
	assert.Equal(t, []string{"32", "01", "12", "30", "31", "20"}, byDay(runs(t, 4, 3, 2, 7)))

	assert.Equal(t, Run{Order: 8, Day: 3, Slot: 2, Level: 2, Replicate: 3}, runs(t, 3, 3, 3, 20240501)[7])
	assert.Equal(t, runs(t, 4, 5, 9, 42), runs(t, 4, 5, 9, 42))
	assert.NotEqual(t, runs(t, 4, 5, 9, 42), runs(t, 4, 5, 9, 43))
}

func TestSpecimensDoNotChangeTheOrder(t *testing.T) {
	s := Settings{Levels: 3, SpoolsPerLevel: 3, SpecimensPerSpool: 1, SpoolsPerDay: 3, Seed: 9}
	few, _ := Runs(s)
	s.SpecimensPerSpool = 10
	many, _ := Runs(s)
	assert.Equal(t, few, many)
}

// Over many seeds every order of three spools on a day comes equally often:
// chi-square with 5 degrees of freedom, whose upper 0.1 % point is 20.5
// (table).
func TestOrderIsFair(t *testing.T) {
	const seeds = 6000
	seen := map[[3]int]float64{}
	for seed := range uint64(seeds) {
		r := runs(t, 3, 1, 3, seed)
		seen[[3]int{r[0].Level, r[1].Level, r[2].Level}]++
	}
	require.Len(t, seen, 6)
	chi := 0.0
	for _, n := range seen {
		chi += (n - seeds/6) * (n - seeds/6) / (seeds / 6)
	}
	assert.Less(t, chi, 20.5)
}

// Which levels share an incomplete day is random too: six pairs for the first
// of the days.
func TestDealIsFair(t *testing.T) {
	const seeds = 6000
	seen := map[[2]int]float64{}
	for seed := range uint64(seeds) {
		r := runs(t, 4, 3, 2, seed)
		seen[[2]int{min(r[0].Level, r[1].Level), max(r[0].Level, r[1].Level)}]++
	}
	require.Len(t, seen, 6)
	chi := 0.0
	for _, n := range seen {
		chi += (n - seeds/6) * (n - seeds/6) / (seeds / 6)
	}
	assert.Less(t, chi, 20.5)
}

func TestRefusedSettings(t *testing.T) {
	good := Settings{Levels: 3, SpoolsPerLevel: 3, SpecimensPerSpool: 5, SpoolsPerDay: 3}
	for name, tt := range map[string]struct {
		change func(*Settings)
		want   Problem
	}{
		"no levels":          {func(s *Settings) { s.Levels = 0 }, NoLevels},
		"negative levels":    {func(s *Settings) { s.Levels = -3 }, NoLevels},
		"no spools":          {func(s *Settings) { s.SpoolsPerLevel = 0 }, NoSpools},
		"negative spools":    {func(s *Settings) { s.SpoolsPerLevel = -1 }, NoSpools},
		"no specimens":       {func(s *Settings) { s.SpecimensPerSpool = 0 }, NoSpecimens},
		"no spools per day":  {func(s *Settings) { s.SpoolsPerDay = 0 }, NoSpoolsPerDay},
		"negative per day":   {func(s *Settings) { s.SpoolsPerDay = math.MinInt }, NoSpoolsPerDay},
		"one run too many":   {func(s *Settings) { s.Levels, s.SpoolsPerLevel = 1, MaxRuns+1 }, TooManyRuns},
		"product too large":  {func(s *Settings) { s.Levels, s.SpoolsPerLevel = 143, 7 }, TooManyRuns},
		"beyond integers":    {func(s *Settings) { s.Levels, s.SpoolsPerLevel = math.MaxInt, math.MaxInt }, TooManyRuns},
		"too many specimens": {func(s *Settings) { s.SpecimensPerSpool = MaxSpecimens + 1 }, TooManySpecimens},
	} {
		t.Run(name, func(t *testing.T) {
			s := good
			tt.change(&s)
			list, p := Runs(s)
			assert.Equal(t, tt.want, p)
			assert.Nil(t, list)
		})
	}
}

func TestLargestPlans(t *testing.T) {
	for _, s := range [][3]int{{1, MaxRuns, 1}, {MaxRuns, 1, 1}, {MaxRuns, 1, MaxRuns - 1}, {500, 2, 333}, {2, 500, math.MaxInt}} {
		assert.Len(t, runs(t, s[0], s[1], s[2], 1), MaxRuns)
	}
}

func TestMostSpecimens(t *testing.T) {
	_, p := Runs(Settings{Levels: 1, SpoolsPerLevel: 1, SpecimensPerSpool: MaxSpecimens, SpoolsPerDay: 1})
	assert.Equal(t, OK, p)
}

func TestChangeovers(t *testing.T) {
	of := func(levels ...int) int {
		list := make([]Run, len(levels))
		for i, l := range levels {
			list[i].Level = l
		}
		return Changeovers(list)
	}
	assert.Zero(t, of())
	assert.Zero(t, of(2))
	assert.Zero(t, of(1, 1, 1))
	assert.Equal(t, 3, of(0, 1, 1, 2, 0))
}
