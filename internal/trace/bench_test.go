package trace_test

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"fillwright/internal/trace"
)

// longLog makes the log of 5,000,000 rows that readers of logs are timed with.
func longLog(b *testing.B) string {
	b.Helper()
	path := filepath.Join(b.TempDir(), "diameter.csv")
	out, err := os.Create(path)
	if err != nil {
		b.Fatal(err)
	}
	defer out.Close()
	c := exec.Command("go", "run", "../../testdata/traces", "long")
	c.Stdout, c.Stderr = out, os.Stderr
	if err := c.Run(); err != nil {
		b.Fatal(err)
	}
	return path
}

func BenchmarkTrace(b *testing.B) {
	path := longLog(b)
	for _, quick := range []bool{true, false} {
		b.Run(map[bool]string{true: "quick", false: "full"}[quick], func(b *testing.B) {
			want := trace.Wanted{LowM: 1.7e-3, HighM: 1.8e-3, Quick: quick}
			for b.Loop() {
				if s := readLog(b, path, want); s.Readings != 5_000_000 {
					b.Fatal(s.Readings)
				}
			}
		})
	}
}

func readLog(b *testing.B, path string, want trace.Wanted) trace.Summary {
	b.Helper()
	f, err := os.Open(path)
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	piece := make([]byte, trace.GuessBytes)
	n, _ := f.Read(piece)
	g, err := trace.GuessLayout(piece[:n])
	if err != nil {
		b.Fatal(err)
	}
	if _, err := f.Seek(0, 0); err != nil {
		b.Fatal(err)
	}
	s, err := trace.Summarise(context.Background(), f, g.Layout, trace.Reading{TypicalM: g.TypicalM}, want)
	if err != nil {
		b.Fatal(err)
	}
	return s
}
