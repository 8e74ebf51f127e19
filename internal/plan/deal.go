package plan

import (
	"math/bits"
	"math/rand/v2"
)

// stream is the second half of the random generator's seed: any number will do,
// but it must never change.
const stream = 0x9e3779b97f4a7c15

// dealer hands out levels day by day.
type dealer struct {
	levels int
	random *rand.PCG
	deck   []int   // levels not yet dealt in this round, shuffled
	met    [][]int // how often two levels came as extras on the same day
}

func newDealer(s Settings) *dealer {
	d := &dealer{levels: s.Levels, random: rand.NewPCG(s.Seed, stream)}
	d.met = make([][]int, s.Levels)
	for i := range d.met {
		d.met[i] = make([]int, s.Levels)
	}
	return d
}

// day returns the levels of the next size spools in random order: every level
// as often as it fits, and the rest from the deck.
func (d *dealer) day(size int) []int {
	today := d.extras(size % d.levels)
	for range size / d.levels {
		for level := range d.levels {
			today = append(today, level)
		}
	}
	d.shuffle(today)
	return today
}

// extras deals n different levels, n below the number of levels.
func (d *dealer) extras(n int) []int {
	today := make([]int, 0, n)
	meetings := make([]int, d.levels) // of each level with those of today
	taken := make([]bool, d.levels)
	for range n {
		if len(d.deck) == 0 {
			d.newRound()
		}
		level := d.take(meetings, taken)
		taken[level] = true
		for other, times := range d.met[level] {
			meetings[other] += times
		}
		for _, other := range today {
			d.met[level][other]++
			d.met[other][level]++
		}
		today = append(today, level)
	}
	return today
}

func (d *dealer) newRound() {
	for level := range d.levels {
		d.deck = append(d.deck, level)
	}
	d.shuffle(d.deck)
}

// take removes from the deck the level that has met those of today least, the
// first of equals, and none that is taken. There is one: a deck that runs out
// within a day is followed by a full one, and a day has fewer extras than there
// are levels.
func (d *dealer) take(meetings []int, taken []bool) int {
	best := -1
	for i, level := range d.deck {
		if !taken[level] && (best < 0 || meetings[level] < meetings[d.deck[best]]) {
			best = i
		}
	}
	level := d.deck[best]
	d.deck = append(d.deck[:best], d.deck[best+1:]...)
	return level
}

// shuffle and below are written out here because the standard library does not
// promise to keep its own the same for ever.
func (d *dealer) shuffle(x []int) {
	for i := len(x) - 1; i > 0; i-- {
		j := d.below(i + 1)
		x[i], x[j] = x[j], x[i]
	}
}

// below returns a random number from 0 to n-1, each as likely (Lemire, ACM
// Trans. Model. Comput. Simul. 29 (2019) 3).
func (d *dealer) below(n int) int {
	bound := uint64(n)
	high, low := bits.Mul64(d.random.Uint64(), bound)
	for low < -bound%bound {
		high, low = bits.Mul64(d.random.Uint64(), bound)
	}
	return int(high)
}
