package control

import (
	"context"
	"time"
)

// Runner does long work beside the window.
//
// Go is called from the window's goroutine. The caller copies the inputs before;
// work must touch nothing else. It returns what to do with the result, which
// then runs in the window's goroutine, unless the work was cancelled or newer work
// was started meanwhile. So there is one runner for each kind of result. Cancel is
// called from the window's goroutine too.
type Runner interface {
	Go(work func(ctx context.Context, progress func(fraction float64)) (done func())) (cancel func())
}

// JobRunner runs work in a goroutine of its own.
type JobRunner struct {
	// OnProgress hears of the work at most ten times a second, with the share done,
	// and once more with running false when it ends or is cancelled. Optional.
	OnProgress func(fraction float64, running bool)

	do         func(func()) // runs in the window's goroutine
	every      time.Duration
	generation uint64 // touched in the window's goroutine only
	stop       context.CancelFunc
}

var (
	_ Runner = (*JobRunner)(nil)
	_ Runner = Immediate{}
)

// NewRunner returns a runner for one kind of result.
func NewRunner() *JobRunner {
	return &JobRunner{do: InWindow, every: 100 * time.Millisecond}
}

// Go implements Runner.
func (r *JobRunner) Go(work func(context.Context, func(float64)) func()) (cancel func()) {
	if r.stop != nil {
		r.stop()
	}
	r.generation++
	mine := r.generation
	ctx, stop := context.WithCancel(context.Background())
	r.stop = stop
	r.report(0, true)
	go func() {
		done := work(ctx, r.throttled(mine))
		r.do(func() {
			stop()
			if mine != r.generation {
				return
			}
			r.report(1, false)
			if done != nil {
				done()
			}
		})
	}()
	return func() { r.cancel(mine, stop) }
}

func (r *JobRunner) cancel(mine uint64, stop context.CancelFunc) {
	stop()
	if mine != r.generation {
		return
	}
	r.generation++
	r.report(0, false)
}

func (r *JobRunner) report(fraction float64, running bool) {
	if r.OnProgress != nil {
		r.OnProgress(fraction, running)
	}
}

// throttled passes progress on from the goroutine of the work, but not too often.
func (r *JobRunner) throttled(mine uint64) func(float64) {
	var last time.Time
	return func(fraction float64) {
		now := time.Now()
		if now.Sub(last) < r.every {
			return
		}
		last = now
		r.do(func() {
			if mine == r.generation {
				r.report(fraction, true)
			}
		})
	}
}

// Immediate does the work at once, where it is asked for. It is for tests and
// for drawing panes without a window.
type Immediate struct{}

// Go implements Runner.
func (Immediate) Go(work func(context.Context, func(float64)) func()) (cancel func()) {
	if done := work(context.Background(), func(float64) {}); done != nil {
		done()
	}
	return func() {}
}
