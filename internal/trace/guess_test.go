package trace_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/trace"
)

// rows writes n rows, each by the format from its number.
func rows(n int, row func(i int) string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(row(i))
		b.WriteByte('\n')
	}
	return b.String()
}

// wobble is a diameter in mm that varies a little.
func wobble(i int) float64 { return 1.75 + 0.002*float64(i%7) - 0.004*float64(i%3) }

func comma(text string) string { return strings.ReplaceAll(text, ".", ",") }

func TestGuessLayout(t *testing.T) {
	column := func(role trace.Role, unit string) trace.Column { return trace.Column{Role: role, Unit: unit} }
	time, mm := column(trace.Time, "s"), column(trace.Diameter, "mm")
	second, ignored := column(trace.Second, "mm"), column(trace.Ignored, "")
	for name, c := range map[string]struct {
		text    string
		by      byte
		comma   bool
		header  int
		columns []trace.Column
		doubt   trace.Doubt
	}{
		"time and diameter": {
			text: "time_s,diameter_mm\n" + rows(50, func(i int) string { return fmt.Sprintf("%.2f,%.4f", float64(i)*.01, wobble(i)) }),
			by:   ',', header: 1, columns: []trace.Column{time, mm},
		},
		"no header": {
			text: rows(50, func(i int) string { return fmt.Sprintf("%.2f,%.4f", float64(i)*.01, wobble(i)) }),
			by:   ',', columns: []trace.Column{time, mm},
		},
		"one column": {
			text: rows(50, func(i int) string { return fmt.Sprintf("%.3f", wobble(i)) }),
			by:   ',', columns: []trace.Column{mm},
		},
		"one column with a decimal comma": {
			text: rows(50, func(i int) string { return comma(fmt.Sprintf("%.3f", wobble(i))) }),
			by:   ';', comma: true, columns: []trace.Column{mm},
		},
		"decimal comma and semicolon": {
			text: "Zeit [s];Durchmesser [mm]\n" + rows(50, func(i int) string { return comma(fmt.Sprintf("%.2f;%.4f", float64(i)*.1, wobble(i))) }),
			by:   ';', comma: true, header: 1, columns: []trace.Column{time, mm},
		},
		"whole micrometres, with a comma between": {
			text: rows(50, func(i int) string { return fmt.Sprintf("%d,%.0f", 3*i, 1000*wobble(i)) }),
			by:   ',', columns: []trace.Column{time, column(trace.Diameter, "um")},
		},
		"two axes behind a tab": {
			text: "no\tposition m\tdx\tdy\n" + rows(50, func(i int) string {
				return fmt.Sprintf("%d\t%.3f\t%.4f\t%.4f", i+1, float64(i)*.02, wobble(i), wobble(i+1)-.02)
			}),
			by: '\t', header: 1, columns: []trace.Column{ignored, column(trace.Position, "m"), mm, second},
		},
		"a date and a time, and a target that never varies": {
			text: "# gauge 2\n# started by hand\nstamp;target;d (µm)\n" + rows(70, func(i int) string {
				return fmt.Sprintf("21.08.2026 14:%02d:%02d.5;1750.0;%.1f", i/60, i%60, 1000*wobble(i))
			}),
			by: ';', header: 3, columns: []trace.Column{column(trace.Time, trace.DayFirst), ignored, column(trace.Diameter, "um")},
		},
		"a date with the year first": {
			text: rows(70, func(i int) string { return fmt.Sprintf("2026-08-21T14:%02d:%02dZ,%.4f", i/60, i%60, wobble(i)) }),
			by:   ',', columns: []trace.Column{column(trace.Time, trace.Clock), mm},
		},
		"blanks between, and inches": {
			text: rows(50, func(i int) string { return fmt.Sprintf("  %6.1f   %.5f", float64(i)*.5, wobble(i)/25.4) }),
			by:   ' ', columns: []trace.Column{time, column(trace.Diameter, "in")},
		},
		"unit in the cells": {
			text: rows(50, func(i int) string { return fmt.Sprintf("%.1f s, %.3f mm", float64(i)*.5, wobble(i)) }),
			by:   ',', columns: []trace.Column{time, mm},
		},
		"quotes and decimal commas between commas": {
			text: "\"t\",\"dia\"\n" + rows(50, func(i int) string {
				return fmt.Sprintf("%q,%q", comma(fmt.Sprintf("%.1f", float64(i)*.5)), comma(fmt.Sprintf("%.3f", wobble(i))))
			}),
			by: ',', comma: true, header: 1, columns: []trace.Column{time, mm},
		},
		"a header that tells commas from decimal commas": {
			text: "t,rpm,mm\n" + rows(50, func(i int) string { return fmt.Sprintf("%d,%d,%.3f", i, 20+i%2, wobble(i)) }),
			by:   ',', header: 1, columns: []trace.Column{time, ignored, mm},
		},
		"numbers that are no strand": {
			text: "t,dia\n" + rows(50, func(i int) string { return fmt.Sprintf("%d,%.1f", 2*i, 55+wobble(i)) }),
			by:   ',', header: 1, columns: []trace.Column{time, mm}, doubt: trace.UnitDoubt,
		},
	} {
		t.Run(name, func(t *testing.T) {
			g, err := trace.GuessLayout([]byte(c.text))
			require.NoError(t, err)
			for i := range g.Layout.Columns {
				g.Layout.Columns[i].Name = ""
			}
			assert.Equal(t, string(c.by), string(g.Layout.Separator))
			assert.Equal(t, c.comma, g.Layout.Comma, "decimal comma")
			assert.Equal(t, c.header, g.Layout.Header, "lines above the rows")
			assert.Equal(t, c.columns, g.Layout.Columns)
			assert.Equal(t, c.doubt, g.Doubt)
			assert.True(t, g.Layout.Readable())
		})
	}
}

func TestGuessRefusesWhatIsNoLog(t *testing.T) {
	for name, text := range map[string]string{
		"empty": "", "blank lines": "\n\n  \n", "prose": "Dear all,\nthe gauge is broken.\n", "binary": "\x00\x01\x02",
	} {
		t.Run(name, func(t *testing.T) {
			_, err := trace.GuessLayout([]byte(text))
			assert.Error(t, err)
		})
	}
}
