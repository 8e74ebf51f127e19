package control

import (
	"context"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// uiQueue stands in for the window's goroutine: what is posted runs when the test
// says so.
type uiQueue struct {
	mu    sync.Mutex
	jobs  []func()
	ready chan struct{}
}

func newQueue() *uiQueue { return &uiQueue{ready: make(chan struct{}, 100)} }

func (q *uiQueue) post(f func()) {
	q.mu.Lock()
	q.jobs = append(q.jobs, f)
	q.mu.Unlock()
	q.ready <- struct{}{}
}

// run waits for n posts and runs them.
func (q *uiQueue) run(n int) {
	for range n {
		<-q.ready
	}
	q.mu.Lock()
	jobs := q.jobs
	q.jobs = nil
	q.mu.Unlock()
	for _, f := range jobs {
		f()
	}
}

type report struct {
	fraction float64
	running  bool
}

func newTestRunner() (*JobRunner, *uiQueue, *[]report) {
	q, reports := newQueue(), &[]report{}
	r := NewRunner()
	r.do = q.post
	r.OnProgress = func(f float64, running bool) { *reports = append(*reports, report{f, running}) }
	return r, q, reports
}

func TestRunnerDeliversInTheWindow(t *testing.T) {
	r, q, reports := newTestRunner()
	got := 0
	r.Go(func(context.Context, func(float64)) func() {
		return func() { got = 42 }
	})
	assert.Zero(t, got)
	q.run(1)
	assert.Equal(t, 42, got)
	assert.Equal(t, []report{{0, true}, {1, false}}, *reports)
}

func TestNewerWorkWins(t *testing.T) {
	r, q, _ := newTestRunner()
	var got []string
	work := func(name string) func(context.Context, func(float64)) func() {
		return func(context.Context, func(float64)) func() {
			return func() { got = append(got, name) }
		}
	}
	r.Go(work("old"))
	r.Go(work("new"))
	q.run(2)
	assert.Equal(t, []string{"new"}, got, "a result that was overtaken is dropped, in whichever order they come")
}

func TestOldResultIsDroppedInsideTheWindow(t *testing.T) {
	r, q, _ := newTestRunner()
	var got []string
	r.Go(func(context.Context, func(float64)) func() { return func() { got = append(got, "old") } })
	<-q.ready // the old result waits in the queue of the window
	r.Go(func(context.Context, func(float64)) func() { return func() { got = append(got, "new") } })
	q.run(1)
	assert.Equal(t, []string{"new"}, got)
}

func TestCancel(t *testing.T) {
	r, q, reports := newTestRunner()
	got := false
	cancel := r.Go(func(ctx context.Context, _ func(float64)) func() {
		<-ctx.Done()
		return func() { got = true }
	})
	cancel()
	q.run(1)
	assert.False(t, got, "cancelled work delivers nothing")
	assert.Equal(t, report{0, false}, (*reports)[len(*reports)-1])
	n := len(*reports)
	cancel()
	assert.Len(t, *reports, n, "cancelling twice is harmless")
}

func TestStartingAnewCancelsTheOld(t *testing.T) {
	r, q, _ := newTestRunner()
	stopped := make(chan struct{})
	r.Go(func(ctx context.Context, _ func(float64)) func() {
		<-ctx.Done()
		close(stopped)
		return nil
	})
	r.Go(func(context.Context, func(float64)) func() { return nil })
	<-stopped
	q.run(2)
}

func TestProgressIsThrottled(t *testing.T) {
	r, q, reports := newTestRunner()
	r.every = time.Hour
	r.Go(func(_ context.Context, progress func(float64)) func() {
		for i := range 1000 {
			progress(float64(i) / 1000)
		}
		return nil
	})
	q.run(2)
	assert.Equal(t, []report{{0, true}, {0, true}, {1, false}}, *reports)
}

func TestImmediate(t *testing.T) {
	got := 0
	cancel := Immediate{}.Go(func(ctx context.Context, progress func(float64)) func() {
		progress(0.5)
		assert.NoError(t, ctx.Err())
		return func() { got = 1 }
	})
	assert.Equal(t, 1, got)
	cancel()
	Immediate{}.Go(func(context.Context, func(float64)) func() { return nil })
}
