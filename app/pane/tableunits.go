package pane

import (
	"errors"
	"slices"
	"strings"
	"unicode"

	"fillwright/internal/quantity"
)

// checkUnits refuses a unit that its column cannot take.
func (t *rowsTable[T]) checkUnits(l *layout, rows [][]string) error {
	for i, col := range l.columns {
		if col < 0 || l.units[i] == "" {
			continue
		}
		c := &t.opts.columns[col]
		if c.takesUnit(l.units[i], columnOf(rows, i)) {
			continue
		}
		values := map[string]any{"Heading": short(l.names[i]), "Column": c.title, "Unit": short(l.units[i])}
		if c.unit == nil {
			return said{"table.no_unit_there", values}
		}
		values["Units"] = c.unitsTaken()
		return said{"table.wrong_unit", values}
	}
	return nil
}

// takesUnit reports whether bare numbers can have a unit in a column: one such as
// "g", or what some of its texts make sense with, as mesh numbers do.
func (c *column[T]) takesUnit(unit string, texts []string) bool {
	var row T
	if c.unit == nil {
		return false
	}
	if c.set(&row, "1 "+unit) == nil && c.file(&row) == "1 "+c.unit(&row) { // and not "± 2 g"
		return true
	}
	return strings.IndexFunc(unit, func(r rune) bool { return !unicode.IsLetter(r) }) < 0 &&
		slices.ContainsFunc(texts, func(text string) bool {
			var row T
			return text != "" && c.set(&row, text+" "+unit) == nil
		})
}

// unitsTaken lists the units of a column.
func (c *column[T]) unitsTaken() string {
	var row T
	var refusal *quantity.Refusal
	if errors.As(c.set(&row, "1 ?"), &refusal) {
		units, _ := refusal.Values["Units"].(string)
		return units
	}
	return c.usual
}

// readUnits takes the units of a second row of headings, in which nothing but units
// stands, with or without brackets.
func (t *rowsTable[T]) readUnits(l *layout, cells []string) {
	units, some := slices.Clone(l.units), false
	for i, text := range cells {
		if i >= len(l.columns) || l.columns[i] < 0 || text == "" {
			continue
		}
		unit := strings.Trim(text, "()[] ")
		if !t.opts.columns[l.columns[i]].takesUnit(unit, nil) {
			return
		}
		units[i], some = unit, true
	}
	if some {
		l.units, l.heads = units, 2
	}
}

// saysUnit reports that a unit, or the texts themselves, say that a column is meant:
// in a row of units or behind each number.
func (c *column[T]) saysUnit(unit string, texts []string) bool {
	if unit != "" {
		return c.takesUnit(unit, texts)
	}
	if len(texts) > 0 && c.takesUnit(strings.Trim(texts[0], "()[] "), texts[1:]) {
		return true
	}
	some := false
	for _, text := range texts {
		var row T
		if c.set(&row, text) != nil {
			return false
		}
		some = some || text != ""
	}
	return some && c.unit != nil
}
