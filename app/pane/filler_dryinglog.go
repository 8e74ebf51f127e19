package pane

import (
	"fmt"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// dryingLog is the table of the weighings, with a column for each tray.
type dryingLog struct {
	powder, run int
	tares       int
	table       *rowsTable[material.DryingReading]
}

// of makes the table.
func (l *dryingLog) of(p *Filler) *rowsTable[material.DryingReading] {
	l.tares = len(p.runIn(p.view.Project, l.powder, l.run).Trays)
	l.table = newRowsTable(&p.base, rowsOptions[material.DryingReading]{
		place: benchPlace(l.powder, fmt.Sprintf("/drying/runs/%d/readings", l.run)), label: p.text("pane.filler.drying_log"),
		most: project.MostRows("/materials/*/powder/drying/runs/*/readings"), shown: 12, columns: l.columns(p),
		file:    p.text("pane.filler.drying_file"),
		rowNote: func(index int) string { return p.remark(l.row(p, index).Remark) },
		list: func(d *project.Project) *[]material.DryingReading {
			return &p.runIn(d, l.powder, l.run).Readings
		},
	})
	return l.table
}

// follow gives the table a column for a tray that has come, and takes that of one
// that has gone, without building the pane anew: the keyboard is in the trays.
func (l *dryingLog) follow(p *Filler) {
	if l == nil {
		return
	}
	tares := len(p.runIn(p.view.Project, l.powder, l.run).Trays)
	if tares == l.tares {
		return
	}
	if tares < l.tares {
		l.table.grid.ClearRefused() // it may stand where another column will be
	}
	l.tares = tares
	l.table.opts.columns = l.columns(p)
	l.table.grid.SetColumns(l.table.gridColumns())
}

// row is what a reading comes to.
func (l *dryingLog) row(p *Filler, index int) *bench.DryingRow {
	sheet := p.sheet(l.powder)
	if sheet == nil || l.run >= len(sheet.Drying.Runs) || index >= len(sheet.Drying.Runs[l.run].Rows) {
		return &bench.DryingRow{}
	}
	return &sheet.Drying.Runs[l.run].Rows[index]
}

func (l *dryingLog) columns(p *Filler) []column[material.DryingReading] {
	row := func(index int) *bench.DryingRow { return l.row(p, index) }
	columns := append(p.weighedColumns(l.tares), p.moistureColumns(l.tares > 0, row)...)
	if l.tares > 1 {
		for k := range columns {
			columns[k].width *= unshrunk
		}
	}
	return columns
}

// unshrunk makes a table scroll sideways rather than give a column less than its
// width: a grid takes up to four tenths of it.
const unshrunk = 1 / 0.6

// weighedColumns are the time and the masses of a reading, one for each tray.
func (p *Filler) weighedColumns(tares int) []column[material.DryingReading] {
	columns := []column[material.DryingReading]{
		withoutUnit(quantityColumn(&p.base, "time", p.text("pane.filler.time"), 50, "min",
			func(r *material.DryingReading) *quantity.Of[quantity.Duration] { return &r.Time })),
	}
	for k := range max(1, tares) {
		title := p.text("pane.filler.mass")
		if tares > 1 {
			title = p.words().Say("pane.filler.tray_number", map[string]any{"Number": k + 1})
		}
		columns = append(columns, withoutUnit(listColumn(&p.base, "masses", k, title, 62, "g",
			func(r *material.DryingReading) *[]quantity.Of[quantity.Mass] { return &r.Masses })))
	}
	return columns
}

// moistureColumns are what follows from a reading. Without a tare what is weighed
// is net.
func (p *Filler) moistureColumns(tared bool, row func(int) *bench.DryingRow) []column[material.DryingReading] {
	var columns []column[material.DryingReading]
	add := func(title string, width float32, decimals, digits int, show func(*bench.DryingRow) (value float64, there bool)) {
		columns = append(columns, computedColumn[material.DryingReading](p.text(title), width, func(index int) control.Cell {
			if v, there := show(row(index)); there {
				return muted(p.words().Fixed(v, narrow(v, decimals, digits)))
			}
			return control.Cell{}
		}))
	}
	if tared {
		add("pane.filler.net", 54, 1, 4, func(r *bench.DryingRow) (float64, bool) { return r.NetG, r.Known })
	}
	add("pane.filler.wet_percent", 52, 2, 4, func(r *bench.DryingRow) (float64, bool) { return r.WetPercent, r.HasMoisture })
	add("pane.filler.dry_percent", 52, 2, 4, func(r *bench.DryingRow) (float64, bool) { return r.DryPercent, r.HasMoisture })
	add("pane.filler.residual", 52, 2, 3, func(r *bench.DryingRow) (float64, bool) { return r.ResidualG, r.HasResidual })
	return columns
}

// narrow is how many decimals a number gets in a narrow column: as many as asked
// for while it has no more digits than there is room for.
func narrow(v float64, decimals, digits int) int {
	room := 1.0
	for range digits - decimals {
		room *= 10
	}
	for size := max(v, -v); decimals > 0 && size >= 0.9995*room; room *= 10 { // rounds up to one digit more
		decimals--
	}
	return decimals
}
