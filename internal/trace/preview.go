package trace

import "bytes"

// PreviewRow is one of the first lines of a log as a layout reads it.
type PreviewRow struct {
	Number   int // of the line, from 1
	Cells    []string
	Header   bool
	Fault    Fault
	At       float64 // s or m as in the log, where it has such
	Diameter float64 // m
	Second   float64 // m
}

// Preview reads the first lines of a log, so that the maker sees what is taken for what.
func Preview(piece []byte, l Layout, typicalM float64, most int) []PreviewRow {
	r := newRowReader(l, typicalM)
	var out []PreviewRow
	for i, line := range bytes.Split(piece, []byte("\n")) {
		if len(out) == most {
			break
		}
		line = bytes.TrimRight(line, "\r")
		if len(bytes.TrimSpace(line)) == 0 {
			continue
		}
		row := PreviewRow{Number: i + 1, Cells: splitCells(string(bytes.ToValidUTF8(line, []byte("\uFFFD"))), l.Separator), Header: i < l.Header}
		if !row.Header {
			var v reading
			row.Fault = r.read(line, &v)
			row.At, row.Diameter, row.Second = v.at, v.diameter, v.second
		}
		out = append(out, row)
	}
	return out
}
