package trace_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/text/encoding/unicode"

	"fillwright/internal/trace"
)

// taken is what Scan handed on.
type taken struct {
	at, diameter, second []float64
	gaps                 []int
}

// scan guesses the layout of a log and reads it all.
func scan(t *testing.T, text string) (taken, trace.Count, error) {
	t.Helper()
	g, err := trace.GuessLayout([]byte(text[:min(len(text), trace.GuessBytes)]))
	require.NoError(t, err)
	return scanAs(text, g.Layout, g.TypicalM)
}

func scanAs(text string, l trace.Layout, typicalM float64) (taken, trace.Count, error) {
	var all taken
	count, err := trace.Scan(context.Background(), trace.Text(strings.NewReader(text)), l, trace.Reading{TypicalM: typicalM},
		func(b *trace.Block) error {
			for i, gap := range b.Gap {
				if gap {
					all.gaps = append(all.gaps, len(all.at)+i)
				}
			}
			all.at = append(all.at, b.At...)
			all.diameter = append(all.diameter, b.Diameter...)
			all.second = append(all.second, b.Second...)
			return nil
		})
	return all, count, err
}

func TestScanReadsEveryRow(t *testing.T) {
	const n = 100_000 // several pieces
	text := "time_s,diameter_mm\n" + rows(n, func(i int) string { return fmt.Sprintf("%.2f,%.4f", 3+float64(i)*.01, wobble(i)) })
	got, count, err := scan(t, text)
	require.NoError(t, err)
	require.Len(t, got.diameter, n)
	assert.EqualValues(t, n, count.Readings)
	assert.EqualValues(t, n+1, count.Lines)
	assert.EqualValues(t, len(text), count.Bytes)
	assert.Zero(t, count.LeftOut(), "the header is none of the rows")
	assert.Empty(t, count.Shown)
	assert.InDelta(t, 0.01, count.Step, 1e-9)
	assert.InDelta(t, (n-1)*0.01, count.Span, 1e-6)
	for i, d := range got.diameter {
		if math.Abs(d-math.Round(wobble(i)*1e4)/1e7) > 1e-15 || math.Abs(got.at[i]-float64(i)*.01) > 1e-9 {
			t.Fatalf("row %d: %v at %v", i, d, got.at[i])
		}
	}
}

func TestScanCountsShowsAndLeavesOutBadRows(t *testing.T) {
	text := "t,d mm\n0,1.750\n1,NaN\n2,1.751\n3,\n4\n5,0\n6,-1.7\n7,9999\n8,abc\n9,1.752\n;;;\n10,1,753\n11,1.749 mm\n12,1.75e0\n13,inf\n"
	l := trace.Layout{Separator: ',', Header: 1, Columns: []trace.Column{{Role: trace.Time, Unit: "s"}, {Role: trace.Diameter, Unit: "mm"}}}
	got, count, err := scanAs(text, l, 1.75e-3)
	require.NoError(t, err)
	assert.InDeltaSlice(t, []float64{0, 2, 9, 11, 12}, got.at, 1e-12)
	assert.InDeltaSlice(t, []float64{1.750e-3, 1.751e-3, 1.752e-3, 1.749e-3, 1.75e-3}, got.diameter, 1e-15)
	assert.EqualValues(t, 4, count.Left[trace.NotANumber], "NaN, abc, ;;; and inf")
	assert.EqualValues(t, 2, count.Left[trace.Missing])
	assert.EqualValues(t, 2, count.Left[trace.NotAbove0])
	assert.EqualValues(t, 1, count.Left[trace.Implausible])
	assert.EqualValues(t, 1, count.Left[trace.TooWide], "10,1,753 is 1.753 or two columns")
	assert.EqualValues(t, 10, count.LeftOut())
	lines := make([]int64, 0, len(count.Shown))
	for _, s := range count.Shown {
		lines = append(lines, s.Number)
	}
	assert.Equal(t, []int64{3, 5, 6, 7, 8, 9, 10, 12, 13, 16}, lines)
	assert.Equal(t, "1,NaN", count.Shown[0].Text)
}

func TestScanKeepsGapsAndRestarts(t *testing.T) {
	text := rows(300, func(i int) string {
		at := float64(i) * .1
		switch {
		case i >= 200:
			at = float64(i-200) * .1 // the logger was started anew
		case i >= 100:
			at += 30
		}
		return fmt.Sprintf("%.1f;%.4f", at, wobble(i))
	})
	l := trace.Layout{Separator: ';', Columns: []trace.Column{{Role: trace.Time, Unit: "s"}, {Role: trace.Diameter, Unit: "mm"}}}
	got, count, err := scanAs(text, l, 0)
	require.NoError(t, err)
	assert.Equal(t, []int{100}, got.gaps)
	assert.EqualValues(t, 1, count.Gaps)
	assert.EqualValues(t, 1, count.Restarts)
	assert.InDelta(t, 30.1, count.Missing, 1e-9)
	assert.InDelta(t, 29.8, count.Span, 1e-9)
	assert.InDelta(t, 59.9, got.at[299], 1e-9)
	for i := 1; i < len(got.at); i++ {
		assert.GreaterOrEqual(t, got.at[i], got.at[i-1])
	}
}

func TestScanGoesOnAfterMidnight(t *testing.T) {
	text := rows(100, func(i int) string {
		s := 86350 + i
		return fmt.Sprintf("%02d:%02d:%02d,%.4f", s/3600%24, s/60%60, s%60, wobble(i))
	})
	got, count, err := scan(t, text)
	require.NoError(t, err)
	assert.Zero(t, count.Restarts)
	assert.InDelta(t, 99, got.at[99], 1e-9)
}

func TestScanTakesSecondsOfAClockForNoGap(t *testing.T) {
	text := rows(400, func(i int) string { return fmt.Sprintf("10:00:%02d,%.4f", i/10, wobble(i)) })
	_, count, err := scan(t, text)
	require.NoError(t, err)
	assert.Zero(t, count.Gaps)
	assert.InDelta(t, 39.0/399, count.Step, 1e-9)
}

func TestScanReadsUTF16AndOldLineEnds(t *testing.T) {
	plain := "t;d mm\n" + rows(80, func(i int) string { return comma(fmt.Sprintf("%.1f;%.4f", float64(i)*.5, wobble(i))) })
	wide, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().String(plain)
	require.NoError(t, err)
	l := trace.Layout{Separator: ';', Comma: true, Header: 1, Columns: []trace.Column{{Role: trace.Time, Unit: "s"}, {Role: trace.Diameter, Unit: "mm"}}}
	for name, text := range map[string]string{
		"UTF-16": wide, "with a mark": "\ufeff" + plain, "Windows": strings.ReplaceAll(plain, "\n", "\r\n"),
		"old": strings.ReplaceAll(plain, "\n", "\r"), "no end of the last line": strings.TrimSuffix(plain, "\n"),
	} {
		t.Run(name, func(t *testing.T) {
			got, count, err := scanAs(text, l, 1.75e-3)
			require.NoError(t, err)
			assert.Len(t, got.diameter, 80)
			assert.Zero(t, count.LeftOut())
		})
	}
}

func TestScanLeavesOutALineWithoutEnd(t *testing.T) {
	text := "1.750\n" + strings.Repeat("1.7,", 1<<20) + "1.9\n1.751\n"
	l := trace.Layout{Separator: ';', Columns: []trace.Column{{Role: trace.Diameter, Unit: "mm"}}}
	got, count, err := scanAs(text, l, 1.75e-3)
	require.NoError(t, err)
	assert.InDeltaSlice(t, []float64{1.75e-3, 1.751e-3}, got.diameter, 1e-15)
	assert.Positive(t, count.Left[trace.TooLong])
	for _, s := range count.Shown {
		assert.LessOrEqual(t, len(s.Text), 80)
	}
}

func TestScanRefuses(t *testing.T) {
	l := trace.Layout{Separator: ',', Columns: []trace.Column{{Role: trace.Diameter, Unit: "mm"}}}
	_, _, err := scanAs("", l, 0)
	var nothing *trace.NothingRead
	require.ErrorAs(t, err, &nothing)
	_, _, err = scanAs("x\ny\n", l, 0)
	require.ErrorAs(t, err, &nothing)
	_, _, err = scanAs("1.75\n\x00\x00", l, 0)
	var binary *trace.NotText
	require.ErrorAs(t, err, &binary)
}

func TestScanStops(t *testing.T) {
	text := rows(200_000, func(i int) string { return fmt.Sprintf("%.4f", wobble(i)) })
	l := trace.Layout{Separator: ',', Columns: []trace.Column{{Role: trace.Diameter, Unit: "mm"}}}
	failed := errors.New("enough")
	_, err := trace.Scan(context.Background(), strings.NewReader(text), l, trace.Reading{}, func(*trace.Block) error { return failed })
	require.ErrorIs(t, err, failed)
	ctx, cancel := context.WithCancel(context.Background())
	_, err = trace.Scan(ctx, strings.NewReader(text), l, trace.Reading{}, func(*trace.Block) error { cancel(); return nil })
	require.ErrorIs(t, err, context.Canceled)
}

// The plain way of reading rows and the careful one read the same: a blank at the
// beginning of a row sends it to the careful one.
func TestScanReadsPlainRowsAsAllOthers(t *testing.T) {
	for _, c := range []struct {
		row  string
		last bool // the diameter is the last column
	}{{"0.5;1.7500", true}, {"12;1.75", true}, {"3.25;1.75;9.5;x", false}, {".5;1.75;", false}} {
		l := trace.Layout{Separator: ';', Columns: []trace.Column{{Role: trace.Time, Unit: "s"}, {Role: trace.Diameter, Unit: "mm"}}}
		if !c.last {
			l.Columns = append(l.Columns, trace.Column{Role: trace.Ignored})
		}
		plain, countPlain, err := scanAs(c.row+"\n"+c.row+"\r\n"+c.row, l, 1.75e-3)
		require.NoError(t, err)
		careful, countCareful, err := scanAs(" "+c.row+"\n "+c.row+"\r\n "+c.row, l, 1.75e-3)
		require.NoError(t, err)
		assert.Equal(t, careful, plain, c.row)
		assert.Equal(t, countCareful.Lines, countPlain.Lines)
		assert.Len(t, plain.diameter, 3)
	}
}
