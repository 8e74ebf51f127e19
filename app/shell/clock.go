package shell

import (
	"time"

	"fillwright/app/control"
)

// Clock tells the time to run logs.
type Clock interface {
	Now() time.Time
	// Tick calls a function every second, where callbacks of the window run, until it
	// is stopped.
	Tick(every func()) (stop func())
}

// dayClock is the time of day.
type dayClock struct{}

// Now implements Clock.
func (dayClock) Now() time.Time { return time.Now() }

// Tick implements Clock.
func (dayClock) Tick(every func()) (stop func()) {
	ticker := time.NewTicker(time.Second)
	done := make(chan struct{})
	go func() {
		for {
			select {
			case <-ticker.C:
				control.InWindow(every)
			case <-done:
				return
			}
		}
	}()
	return func() {
		ticker.Stop()
		close(done)
	}
}

// Now implements pane.Desk.
func (b *Workbench) Now() time.Time { return b.clock.Now() }

// Tick implements pane.Desk.
func (b *Workbench) Tick(every func()) (stop func()) { return b.clock.Tick(every) }
