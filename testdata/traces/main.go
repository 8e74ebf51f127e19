// Traces makes logs of a diameter gauge. They are the same each time.
//
//	go run ./testdata/traces story > assets/samples/logs/olive-10-spool-1.csv
//	go run ./testdata/traces hand > assets/samples/logs/mussel-10-spool-1.csv
//	go run ./testdata/traces long [ROWS] > diameter.csv
//
// The story is that of a spool: a wave of the screw, one lump, one thin spot, and a slow
// drift. The one by hand is what a maker without a gauge writes down: every metre or so, on two
// axes, with a decimal comma. The long one is what readers of logs are timed with: 5,000,000 rows of time and
// diameter, a slow sine, noise, and 500 rows that stand out.
package main

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
)

func main() {
	out := bufio.NewWriterSize(os.Stdout, 1<<20)
	kind, rows := "", 5_000_000
	if len(os.Args) > 1 {
		kind = os.Args[1]
	}
	if len(os.Args) > 2 {
		n, err := strconv.Atoi(os.Args[2])
		if err != nil || n < 1 {
			fail("rows: a whole number above 0")
		}
		rows = n
	}
	switch kind {
	case "story":
		story(out)
	case "hand":
		hand(out)
	case "long":
		long(out, rows)
	default:
		fail("wanted: traces story | hand | long [ROWS]")
	}
	if out.Flush() != nil {
		os.Exit(1)
	}
}

func fail(text string) {
	fmt.Fprintln(os.Stderr, text)
	os.Exit(2)
}

// What the story tells, in s, m and mm.
const (
	rowsOfStory = 14_700 // of half a second: 5 h of winding
	screwTurn   = 3.0    // s, 20 turns a minute
	surge       = 0.009
	noise       = 0.006
	driftOver   = -0.020 // from the beginning to the end
	lumpAt      = 5230.0
	lumpHeight  = 0.34
	thinAt      = 3105.0
	thinDepth   = 0.17
)

func story(out io.Writer) {
	random := rand.New(rand.NewPCG(2026, 11))
	fmt.Fprintln(out, "time_s,diameter_mm")
	for i := range rowsOfStory {
		t := 0.5 * float64(i)
		d := 1.757 + surge*math.Sin(2*math.Pi*t/screwTurn) + noise*random.NormFloat64() + driftOver*float64(i)/rowsOfStory
		d += bump(t, lumpAt, 1.6, lumpHeight) - bump(t, thinAt, 3, thinDepth)
		fmt.Fprintf(out, "%.1f,%.3f\n", t, d)
	}
}

// hand is 60 places of a strand that is a little oval and too thin.
func hand(out io.Writer) {
	random := rand.New(rand.NewPCG(2026, 12))
	fmt.Fprintln(out, "position m;dx mm;dy mm")
	for i := range 60 {
		d := 1.732 + 0.012*random.NormFloat64()
		oval := 0.03 + 0.01*random.NormFloat64()
		line := fmt.Sprintf("%d;%.2f;%.2f", 2*i, d+oval/2, d-oval/2)
		fmt.Fprintln(out, strings.ReplaceAll(line, ".", ","))
	}
}

// bump is a smooth hill of a half width around a time.
func bump(t, at, width, height float64) float64 {
	x := (t - at) / width
	return height * math.Exp(-x*x)
}

func long(out *bufio.Writer, rows int) {
	random := rand.New(rand.NewPCG(5, 5))
	spikes := map[int]float64{}
	for range 500 {
		spikes[random.IntN(rows)] = 0.08 * random.NormFloat64()
	}
	var line []byte
	fmt.Fprintln(out, "time_s,diameter_mm")
	for i := range rows {
		t := 0.01 * float64(i)
		d := 1.75 + 0.01*math.Sin(t/300) + 0.012*random.NormFloat64() + spikes[i]
		line = strconv.AppendFloat(line[:0], t, 'f', 2, 64)
		line = append(line, ',')
		line = strconv.AppendFloat(line, d, 'f', 4, 64)
		line = append(line, '\n')
		_, _ = out.Write(line) // the error stays until Flush
	}
}
