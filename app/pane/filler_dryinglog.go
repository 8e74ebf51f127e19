package pane

import (
	"fmt"
	"slices"

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
	trays       *rowsTable[quantity.Of[quantity.Mass]]
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
// that has gone, without building the pane anew: the keyboard is in the trays. Text
// that was refused goes with the column that it stands in.
func (l *dryingLog) follow(p *Filler) {
	if l == nil {
		return
	}
	tares, from := len(p.runIn(p.view.Project, l.powder, l.run).Trays), l.trays.order()
	if tares == l.tares && !reordered(l.tares, from) {
		return
	}
	refused := l.refusedIn(from)
	l.table.grid.ClearRefused()
	l.tares = tares
	l.table.opts.columns = l.columns(p)
	l.table.grid.SetColumns(l.table.gridColumns())
	l.table.grid.RestoreRefused(refused)
}

// refusedIn is the refused text of the readings once the trays are in another order;
// without that of trays that are gone, but for the last one, whose column stays.
func (l *dryingLog) refusedIn(from []int) []control.CellRefusal {
	var refused []control.CellRefusal
	for _, r := range l.table.grid.Refusals() {
		if tray := r.Col - 1; tray >= 0 && len(from) > 0 && tray < l.tares {
			r.Col = 1 + slices.Index(from, tray)
			if r.Col == 0 {
				continue
			}
		}
		refused = append(refused, r)
	}
	return refused
}

// orderMasses lets the masses of all readings follow their trays, of which there
// were so many: from has the old one of each that there is now, -1 for one that was
// put in. When the last tray goes its masses stay, for without trays they are those of
// the powder alone. Masses beyond the trays stay behind them.
func orderMasses(run *material.DryingRun, were int, from []int) {
	if len(from) == 0 {
		return
	}
	for len(from) > 0 && from[len(from)-1] < 0 { // at the end there may be masses already
		from = from[:len(from)-1]
	}
	for i := range run.Readings {
		old := run.Readings[i].Masses
		var masses []quantity.Of[quantity.Mass]
		for _, tray := range from {
			var mass quantity.Of[quantity.Mass]
			if tray >= 0 && tray < len(old) {
				mass = old[tray]
			}
			masses = append(masses, mass)
		}
		masses = append(masses, old[min(were, len(old)):]...)
		for len(masses) > 0 && !masses[len(masses)-1].Given() {
			masses = masses[:len(masses)-1]
		}
		run.Readings[i].Masses = masses
	}
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
		tray := p.words().Say("pane.filler.tray_number", map[string]any{"Number": k + 1})
		title, also := tray, []string(nil)
		if tares <= 1 { // files of a log like this one, or of several trays
			title, also = p.text("pane.filler.mass"), append([]string{tray}, p.titles("pane.filler.mass_also")...)
		}
		mass := withoutUnit(listColumn(&p.base, "masses", k, title, 62, "g",
			func(r *material.DryingReading) *[]quantity.Of[quantity.Mass] { return &r.Masses }))
		mass.also = also
		columns = append(columns, mass)
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
