package tabular

import (
	"encoding/csv"
	"io"
)

// Write writes a table as RFC 4180 has it: a header, commas between cells, CR LF
// at the end of lines, quotes where they are needed. Numbers come with a point as
// decimal sign; that is for the caller to see to.
func Write(out io.Writer, header []string, rows [][]string) error {
	w := csv.NewWriter(out)
	w.UseCRLF = true
	if err := w.Write(header); err != nil {
		return err
	}
	return w.WriteAll(rows) // flushes
}
