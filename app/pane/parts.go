package pane

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// The columns of the table of parts.
const (
	partColumn = iota
	amountColumn
	volumeColumn
	dryColumn
	weighColumn
)

// partsTable is the recipe of the blend at work as a table.
type partsTable struct {
	pane   *Blend
	index  int // of the blend
	grid   *control.Grid
	onPick func() // a part was chosen
}

func newPartsTable(p *Blend) *partsTable {
	t := &partsTable{pane: p, index: p.view.Chosen}
	t.grid = control.NewGrid(control.GridOptions{
		ID: fmt.Sprintf("/blends/%d/parts", t.index), Label: p.text("pane.blend.parts"),
		Columns: []control.GridColumn{
			{Title: p.text("pane.blend.part"), Width: 122},
			{Title: p.text("pane.blend.amount"), Width: 72, Editable: true},
			{Title: p.text("pane.blend.volume"), Width: 46, Align: fyne.TextAlignTrailing},
			{Title: p.text("pane.blend.dry"), Width: 62, Align: fyne.TextAlignTrailing},
			{Title: p.text("pane.blend.weigh"), Width: 78, Align: fyne.TextAlignTrailing},
		},
		Rows: func() int { return len(t.parts()) },
		Cell: t.cell, EditText: t.editText, Total: t.total,
		RowKey:  func(row int) string { return string(t.parts()[row].Material) },
		Empty:   p.text("action.no_parts"),
		OnEdit:  t.edit,
		OnPaste: t.paste,
		OnSelect: func(int) {
			if t.onPick != nil {
				t.onPick()
			}
		},
		Menu: func(row int) []*fyne.MenuItem {
			return []*fyne.MenuItem{fyne.NewMenuItem(p.text("pane.blend.remove_part"), func() { t.removeRow(row) })}
		},
	})
	return t
}

// parts of the blend, as the view has them now.
func (t *partsTable) parts() []project.Part {
	if blend := t.pane.view.Blend(); blend != nil {
		return blend.Parts
	}
	return nil
}

func (t *partsTable) row(row int) (bench.BatchRow, bool) {
	results := t.pane.view.Results()
	if results == nil || row >= len(results.Batch.Rows) {
		return bench.BatchRow{}, false
	}
	return results.Batch.Rows[row], true
}

func (t *partsTable) cell(row, col int) control.Cell {
	parts := t.parts()
	if row >= len(parts) {
		return control.Cell{}
	}
	switch col {
	case partColumn:
		return control.Cell{Text: t.materialName(parts[row].Material)}
	case amountColumn:
		return control.Cell{Text: t.amountText(row)}
	}
	batch, known := t.row(row)
	if !known {
		return control.Cell{Text: "—", State: control.CellMuted}
	}
	return t.batchCell(batch, col, control.CellNormal)
}

// batchCell shows a computed column of the batch.
func (t *partsTable) batchCell(r bench.BatchRow, col int, weigh control.CellState) control.Cell {
	words, blank := t.pane.words(), control.Cell{Text: "—", State: control.CellMuted}
	switch {
	case col == volumeColumn && r.HasVolume:
		return control.Cell{Text: words.Fixed(r.VolumePercent, 1), State: control.CellMuted}
	case col == dryColumn && r.DryG > 0:
		return control.Cell{Text: words.Fixed(r.DryG, 1), State: control.CellMuted}
	case col == weighColumn && r.HasWeigh && r.WeighG > 0:
		return control.Cell{Text: words.Fixed(r.WeighG, 1), State: weigh}
	}
	return blank
}

func (t *partsTable) total(col int) control.Cell {
	results := t.pane.view.Results()
	switch {
	case col == partColumn:
		return control.Cell{Text: t.pane.text("pane.blend.total"), State: control.CellStrong}
	case col == amountColumn || results == nil || !results.Batch.Known:
		return control.Cell{}
	}
	return t.batchCell(results.Batch.Total, col, control.CellStrong)
}

func (t *partsTable) materialName(id material.ID) string {
	if i := t.pane.view.Project.MaterialByID(id); i >= 0 {
		return t.pane.view.Project.Materials[i].Name
	}
	return string(id)
}

// amountText is the amount as people read it.
func (t *partsTable) amountText(row int) string {
	return t.pane.amountText(t.parts()[row].Amount)
}

func (t *partsTable) editText(row, col int) string {
	if col != amountColumn || row >= len(t.parts()) {
		return ""
	}
	return t.amountText(row)
}

func (t *partsTable) place(row int) string {
	return fmt.Sprintf("/blends/%d/parts/%d/amount", t.index, row)
}

// edit reads an amount. A percentage that does not say of what is asked back.
func (t *partsTable) edit(row, col int, text string) error {
	if col != amountColumn || row >= len(t.parts()) {
		return nil
	}
	amount, err := t.parse(text, t.parts()[row].Amount)
	if _, ambiguous := isAmbiguous(err); ambiguous {
		number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%"))
		fyne.Do(func() { t.askBasis(row, number) })
	}
	return t.pane.edit(t.place(row), t.pane.text("field.blend.amount"), func(p *project.Project) error {
		if err != nil {
			return err
		}
		p.Blends[t.index].Parts[row].Amount = amount
		return nil
	})
}

// parse reads an amount; a bare number keeps the basis that stood there.
func (t *partsTable) parse(text string, before project.Amount) (project.Amount, error) {
	if strings.EqualFold(strings.TrimSpace(text), t.pane.text("amount.balance")) {
		return project.Balance(), nil
	}
	amount, err := project.ParseAmount(text)
	if err == nil || !before.Content().Given() {
		return amount, err
	}
	content, err := parseLike(text, before.Content())
	if err != nil {
		return project.Amount{}, err
	}
	return project.Content(content), nil
}

// askBasis asks once what a percentage is of, and shows what each answer means
// on the scale.
func (t *partsTable) askBasis(row int, number string) {
	if row >= len(t.parts()) {
		return
	}
	words := t.pane.words()
	values := map[string]any{
		"Amount": number, "Material": t.materialName(t.parts()[row].Material), "Blend": t.pane.view.Blend().Name,
	}
	answer := func(id, idWithMass, unit string) (string, project.Amount) {
		amount, err := project.ParseAmount(number + " " + unit)
		if err != nil {
			return "", project.Amount{}
		}
		mass, known := bench.PartMass(t.pane.view.Project, t.index, row, amount)
		if !known {
			return words.Say(id, map[string]any{"Amount": number}), amount
		}
		return words.Say(idWithMass, map[string]any{
			"Amount": number, "Mass": wording.Number{Value: mass, Unit: "g", Digits: 4},
		}), amount
	}
	whole, ofWhole := answer("pane.blend.basis_whole", "pane.blend.basis_whole_mass", "wt%")
	polymer, onPolymer := answer("pane.blend.basis_polymer", "pane.blend.basis_polymer_mass", "phr")
	if whole == "" || polymer == "" {
		return
	}
	values["Amount"] = number + " %"
	t.pane.desk.Ask(words.Say("pane.blend.basis_title", values), words.Say("pane.blend.basis_question", values),
		[]string{whole, polymer, words.Text("pane.blend.basis_cancel")}, func(chosen int) {
			t.grid.Drop()
			if chosen < 2 {
				t.set(row, []project.Amount{ofWhole, onPolymer}[chosen])
			}
			t.grid.Sync()
		})
}

// set changes an amount that has been read already.
func (t *partsTable) set(row int, amount project.Amount) {
	err := t.pane.edit(t.place(row), t.pane.text("field.blend.amount"), func(p *project.Project) error {
		p.Blends[t.index].Parts[row].Amount = amount
		return nil
	})
	if err != nil {
		t.grid.Refuse(row, amountColumn, amount.String(), err.Error())
	}
}

// paste reads a column of amounts, from the active row down, in one edit.
func (t *partsTable) paste(row, col int, cells [][]string) {
	if col != amountColumn {
		return
	}
	read := map[int]project.Amount{}
	for i, line := range cells {
		at := row + i
		if at >= len(t.parts()) || len(line) == 0 {
			break
		}
		amount, err := t.parse(line[0], t.parts()[at].Amount)
		if err != nil {
			t.grid.Refuse(at, amountColumn, line[0], t.pane.words().Error(err))
			continue
		}
		read[at] = amount
	}
	err := t.pane.desk.Edit(t.pane.words().Say("edit.paste", map[string]any{"Field": t.pane.text("pane.blend.parts")}), t.place(row),
		func(p *project.Project) error {
			for at, amount := range read {
				p.Blends[t.index].Parts[at].Amount = amount
			}
			return nil
		})
	if err != nil {
		t.grid.Refuse(row, amountColumn, cells[0][0], err.Error())
	}
}

// addItems are the materials that can be added to the blend.
func (t *partsTable) addItems() []*fyne.MenuItem {
	used := map[material.ID]bool{}
	for _, part := range t.parts() {
		used[part.Material] = true
	}
	var items []*fyne.MenuItem
	for _, kind := range []material.Kind{material.Polymer, material.Filler, material.Additive} {
		item := fyne.NewMenuItem(t.pane.text("kind."+string(kind)), nil)
		item.ChildMenu = fyne.NewMenu("", t.pane.libraryItems(kind, used, t.use, t.add)...)
		items = append(items, item)
	}
	return items
}

// use adds a material of the project as a part.
func (t *partsTable) use(id material.ID) {
	t.addPart(t.materialName(id), func(*project.Project) material.ID { return id })
}

// add copies a material into the project and adds it as a part.
func (t *partsTable) add(m material.Material) {
	t.addPart(m.Name, func(p *project.Project) material.ID { return addMaterial(p, m) })
}

// addPart adds a part. The first polymer becomes the balance; another part
// waits for its amount.
func (t *partsTable) addPart(name string, material func(*project.Project) material.ID) {
	label := t.pane.words().Say("edit.add_part", map[string]any{"Material": name})
	place := fmt.Sprintf("/blends/%d/parts", t.index)
	err := t.pane.desk.Edit(label, place, func(p *project.Project) error {
		part := project.Part{Material: material(p)}
		blend := &p.Blends[t.index]
		if !hasBalance(blend) && isPolymer(p, part.Material) {
			part.Amount = project.Balance()
		}
		blend.Parts = append(blend.Parts, part)
		return nil
	})
	if err == nil && t.pane.parts != nil {
		t.pane.parts.grid.FocusCell(len(t.parts())-1, amountColumn)
	}
}

func hasBalance(b *project.Blend) bool {
	for _, part := range b.Parts {
		if part.Amount.Balance() {
			return true
		}
	}
	return false
}

func isPolymer(p *project.Project, id material.ID) bool {
	i := p.MaterialByID(id)
	return i >= 0 && p.Materials[i].Kind == material.Polymer
}

// remove takes the active part out.
func (t *partsTable) remove() {
	row, _ := t.grid.Selected()
	t.removeRow(row)
}

func (t *partsTable) removeRow(row int) {
	if row < 0 || row >= len(t.parts()) {
		return
	}
	label := t.pane.words().Say("edit.remove_part", map[string]any{"Material": t.materialName(t.parts()[row].Material)})
	_ = t.pane.desk.Edit(label, fmt.Sprintf("/blends/%d/parts", t.index), func(p *project.Project) error {
		parts := p.Blends[t.index].Parts
		p.Blends[t.index].Parts = append(parts[:row:row], parts[row+1:]...)
		return nil
	}) // taking a part out cannot break a project
}

// refused are the refused amounts, by material.
func (t *partsTable) refused() map[material.ID]control.Refusal {
	kept := map[material.ID]control.Refusal{}
	for _, r := range t.grid.Refusals() {
		if r.Row < len(t.parts()) {
			kept[t.parts()[r.Row].Material] = r.Refusal
		}
	}
	return kept
}

// restore puts refused amounts back.
func (t *partsTable) restore(kept map[material.ID]control.Refusal) {
	var all []control.CellRefusal
	for row, part := range t.parts() {
		if r, was := kept[part.Material]; was {
			all = append(all, control.CellRefusal{Row: row, Col: amountColumn, Refusal: r})
		}
	}
	t.grid.RestoreRefused(all)
}

// start puts the keyboard on the amount of the first powder.
func (t *partsTable) start() {
	for row, part := range t.parts() {
		if i := t.pane.view.Project.MaterialByID(part.Material); i >= 0 && t.pane.view.Project.Materials[i].Kind == material.Filler {
			t.grid.FocusCell(row, amountColumn)
			return
		}
	}
	t.grid.FocusCell(0, amountColumn)
}

// lead puts the keyboard on the cell of a place.
func (t *partsTable) lead(place string) bool {
	if place == t.grid.ID() {
		t.grid.FocusCell(0, amountColumn)
		return true
	}
	var index, row int
	if _, err := fmt.Sscanf(place, "/blends/%d/parts/%d/amount", &index, &row); err != nil || index != t.index {
		return false
	}
	t.grid.FocusCell(row, amountColumn)
	return true
}
