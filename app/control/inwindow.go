package control

import (
	"bytes"
	"runtime"

	"fyne.io/fyne/v2"
)

// InWindow has f run in the window's goroutine, and not at all once the window's loop has
// ended. It is for goroutines beside the window: Fyne runs what it is asked after the end of
// its loop at once, in the goroutine that asks, where no widget may be touched; nobody would
// see the result either.
func InWindow(f func()) { inWindow(fyne.Do, f) }

// inWindow is InWindow with what Fyne does given.
func inWindow(do func(func()), f func()) {
	asking := goroutine()
	do(func() {
		if goroutine() != asking {
			f()
		}
	})
}

// goroutine tells goroutines apart by the head of their stack, "goroutine 12 [".
func goroutine() string {
	var head [64]byte
	line, _, _ := bytes.Cut(head[:runtime.Stack(head[:], false)], []byte("["))
	return string(line)
}
