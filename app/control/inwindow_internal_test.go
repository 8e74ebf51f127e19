package control

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What comes back to the window runs there; after the end of its loop, when Fyne would run it
// in the goroutine of the work, it is dropped.
func TestInWindowRunsInTheWindowOnly(t *testing.T) {
	elsewhere := func(f func()) {
		done := make(chan struct{})
		go func() { defer close(done); f() }()
		<-done
	}
	atOnce := func(f func()) { f() }

	ran := 0
	inWindow(elsewhere, func() { ran++ })
	assert.Equal(t, 1, ran, "in the goroutine of the window")
	inWindow(atOnce, func() { ran++ })
	assert.Equal(t, 1, ran, "the loop has ended")
}
