package pane

import "fillwright/app/control"

// table is what a pane asks of its tables, whatever stands in their rows.
type table interface {
	ID() string
	Has(place string) bool
	Lead(place string) bool
	Commit()
	Sync()
	hold() any
	takeBack(state any)
}

// holdTables keeps what tables would lose that are about to be built anew.
func (b *base) holdTables() {
	for _, t := range b.tables {
		place := lasting(b.view.Project, t.ID())
		delete(b.held, place)
		if state := t.hold(); state != nil {
			b.held[place] = state
		}
	}
}

// takeBackTables hands it to the tables of the same places.
func (b *base) takeBackTables() {
	for _, t := range b.tables {
		place := lasting(b.view.Project, t.ID())
		if state, held := b.held[place]; held {
			t.takeBack(state)
			delete(b.held, place)
		}
	}
}

// held is what a table must not lose when its pane is built anew.
type held[T any] struct {
	lineUp
	seen     []T
	keys     int
	refusals []control.CellRefusal
}

// hold hands out the refused texts with the rows that they belong to, nil when
// there are none.
func (t *rowsTable[T]) hold() any {
	refusals := t.grid.Refusals()
	if len(refusals) == 0 {
		return nil
	}
	return held[T]{lineUp{t.lines, t.last}, t.seen, t.keys, refusals}
}

// takeBack puts refused texts back.
func (t *rowsTable[T]) takeBack(state any) {
	h, fits := state.(held[T])
	if !fits {
		return
	}
	t.lines, t.last, t.seen, t.keys = h.lines, h.last, h.seen, h.keys
	var of []control.CellRefusal
	for _, r := range h.refusals {
		if r.Col < len(t.opts.columns) {
			of = append(of, r)
		}
	}
	t.grid.RestoreRefused(of)
	t.Sync()
}
