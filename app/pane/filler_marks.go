package pane

import (
	"slices"
	"strings"

	"fillwright/app/control"
	"fillwright/internal/bench"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

// The marks beside the parts of the Filler pane.

// markOf is the worst note of a part or, without any, whether it holds anything.
func (p *Filler) markOf(section fillerSection) control.Mark {
	if p.view.Project == nil {
		return control.MarkEmpty
	}
	index := p.view.Project.MaterialByID(p.chosen)
	if index < 0 {
		return control.MarkEmpty
	}
	mine := func(n bench.Note) bool {
		chance := section == sectionClogging && strings.HasPrefix(n.ID, "clog_") // whatever mends it
		return sectionOf(n.Field) == section || chance
	}
	return markOfNotes(p.notes(), mine, p.holds(section, &p.view.Project.Materials[index].Powder))
}

// notes are those of the pane that concern the chosen powder: of the blend at
// work, or of the first one that holds it, and of the project.
func (p *Filler) notes() []bench.Note {
	all := slices.Clone(p.view.Sheet.Notes)
	if k := p.blendOf(p.chosen); k >= 0 {
		all = append(all, p.view.Sheet.Blends[k].Notes...)
	}
	return slices.DeleteFunc(all, func(n bench.Note) bool {
		id, of := p.powderAt(n.Field)
		return n.Pane != bench.PaneFiller || of && id != p.chosen
	})
}

// blendOf is the blend at work if it holds a powder, else the first that does, else
// that at work all the same; -1 for none.
func (p *Filler) blendOf(id material.ID) int {
	holds := func(b project.Blend) bool {
		return slices.ContainsFunc(b.Parts, func(part project.Part) bool { return part.Material == id })
	}
	if atWork := p.view.Blend(); atWork == nil || !holds(*atWork) {
		if k := slices.IndexFunc(p.view.Project.Blends, holds); k >= 0 && k < len(p.view.Sheet.Blends) {
			return k
		}
	}
	if p.view.Results() == nil {
		return -1
	}
	return p.view.Chosen
}

// holds reports whether anything was entered in a part.
func (p *Filler) holds(section fillerSection, b *material.Powder) bool {
	switch section {
	case sectionDrying:
		return slices.ContainsFunc(b.Drying.Runs, func(r material.DryingRun) bool { return len(r.Readings) > 0 })
	case sectionStorage:
		return b.Storage.Humidity.Given() || b.Storage.OpenTime.Given() || b.Storage.Equilibrium.Given()
	case sectionPreparation:
		return len(b.Preparation.Steps) > 0
	case sectionSieving:
		return len(b.Sieving.Sieves) > 0 || b.Sieving.CheckSieve.Given()
	case sectionClogging:
		seen := len(b.Clogging.Prints) > 0 || len(b.Clogging.Inspections) > 0 || b.Clogging.Control.Mass.Given()
		return seen || p.view.Project.Print.Nozzle.Given()
	case sectionGrain:
		return b.Grain.Full.Given() || b.Grain.HeapMass.Given()
	}
	return true
}
