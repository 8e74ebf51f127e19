package shell_test

import "time"

// handClock is a clock that a test moves on.
type handClock struct {
	now   time.Time
	every func()
}

func (c *handClock) Now() time.Time { return c.now }

func (c *handClock) Tick(every func()) (stop func()) {
	c.every = every
	return func() { c.every = nil }
}

// pass lets time pass.
func (c *handClock) pass(d time.Duration) {
	c.now = c.now.Add(d)
	if c.every != nil {
		c.every()
	}
}
