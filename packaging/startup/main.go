// Command startup measures how long programs take from their start until they
// have painted a window, and prints the medians and the ratio of the first to
// the second. The programs take turns, so that a busy minute of the machine
// hits both alike; the first turn of each fills the caches and is not counted.
//
//	startup -screen FILE [-repeats N] [-bar R] -- PROGRAM ARGUMENTS -- PROGRAM ARGUMENTS
//
// FILE is the frame buffer of an X server (Xvfb -fbdir) with a root of one colour
// that shows nothing else.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"syscall"
	"time"
)

const (
	pause    = 3 * time.Millisecond // between two looks at the screen
	patience = 60 * time.Second     // for a window to come
	farewell = 10 * time.Second     // for a program to end and its window to go

	// The root is one colour, a window that is only cleared a second. The third
	// shows that something was painted into it.
	painted = 3
	bare    = 1
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "startup:", err)
		os.Exit(1)
	}
}

func run(arguments []string) error {
	flags := flag.NewFlagSet("startup", flag.ContinueOnError)
	path := flags.String("screen", "", "frame buffer of the X server")
	repeats := flags.Int("repeats", 9, "counted starts of each program")
	bar := flags.Float64("bar", 1.5, "ratio that is still fine")
	if err := flags.Parse(arguments); err != nil {
		return err
	}
	commands := split(flags.Args())
	if len(commands) != 2 || *repeats < 1 {
		return errors.New("wanted two programs, each after --, and at least one repeat")
	}
	view, err := openScreen(*path)
	if err != nil {
		return err
	}
	times, err := takeTurns(view, commands, *repeats)
	if err != nil {
		return err
	}
	report(commands, times, *bar)
	return nil
}

// split cuts the arguments at every "--".
func split(arguments []string) [][]string {
	var commands [][]string
	for len(arguments) > 0 {
		end := slices.Index(arguments, "--")
		if end < 0 {
			end = len(arguments)
		}
		if end > 0 {
			commands = append(commands, arguments[:end])
		}
		arguments = arguments[min(end+1, len(arguments)):]
	}
	return commands
}

func takeTurns(view *screen, commands [][]string, repeats int) ([][]time.Duration, error) {
	times := make([][]time.Duration, len(commands))
	for turn := range repeats + 1 {
		for i, command := range commands {
			took, err := start(view, command)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", command[0], err)
			}
			if turn > 0 {
				times[i] = append(times[i], took)
			}
		}
	}
	return times, nil
}

// start runs a program until its window is painted, and ends it again.
func start(view *screen, command []string) (time.Duration, error) {
	if err := await(view, farewell, func(colours int) bool { return colours == bare }); err != nil {
		return 0, fmt.Errorf("the screen is not empty before the start: %w", err)
	}
	var written bytes.Buffer
	program := exec.Command(command[0], command[1:]...)
	program.Stdout, program.Stderr = &written, &written
	begin := time.Now()
	if err := program.Start(); err != nil {
		return 0, err
	}
	err := await(view, patience, func(colours int) bool { return colours >= painted })
	took := time.Since(begin)
	if ended := end(program); err == nil {
		err = ended
	}
	if err != nil {
		err = fmt.Errorf("%w; it wrote: %s", err, written.Bytes())
	}
	return took, err
}

// await looks at the screen until it is as wanted.
func await(view *screen, limit time.Duration, wanted func(colours int) bool) error {
	for begin := time.Now(); ; time.Sleep(pause) {
		colours, err := view.colours(painted)
		if err != nil {
			return err
		}
		if wanted(colours) {
			return nil
		}
		if time.Since(begin) > limit {
			return fmt.Errorf("after %v it shows %d colours", limit, colours)
		}
	}
}

// end asks the program to end, and insists when it does not. How it ends is
// not what is measured here; the smoke test looks at that.
func end(program *exec.Cmd) error {
	if err := program.Process.Signal(syscall.SIGTERM); err != nil {
		return fmt.Errorf("it ended by itself: %w", err)
	}
	insist := time.AfterFunc(farewell, func() { _ = program.Process.Kill() })
	defer insist.Stop()
	_ = program.Wait()
	return nil
}

func report(commands [][]string, times [][]time.Duration, bar float64) {
	fmt.Printf("%-24s %10s %10s %10s %8s\n", "start until painted", "median", "least", "most", "starts")
	medians := make([]time.Duration, len(commands))
	for i, command := range commands {
		slices.Sort(times[i])
		medians[i] = median(times[i])
		fmt.Printf("%-24s %7d ms %7d ms %7d ms %8d\n", filepath.Base(command[0]), medians[i].Milliseconds(),
			times[i][0].Milliseconds(), times[i][len(times[i])-1].Milliseconds(), len(times[i]))
	}
	ratio := float64(medians[0]) / float64(medians[1])
	verdict := "within"
	if ratio > bar {
		verdict = "OVER"
	}
	fmt.Printf("ratio %.2f, %s the bar of %.2f\n", ratio, verdict, bar)
}

// median of sorted values, at least one.
func median(sorted []time.Duration) time.Duration {
	middle := len(sorted) / 2
	if len(sorted)%2 == 1 {
		return sorted[middle]
	}
	return (sorted[middle-1] + sorted[middle]) / 2
}
