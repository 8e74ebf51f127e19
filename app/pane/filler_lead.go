package pane

import (
	"fmt"
	"strings"

	"fillwright/internal/material"
)

// How a place of the document leads to its powder, its part, and its run or step.

// sectionOf is the part that a place belongs to.
func sectionOf(place string) fillerSection {
	if strings.HasPrefix(place, "/print/") {
		return sectionClogging
	}
	_, below, is := strings.Cut(place, "/powder/")
	if !is {
		return sectionProperties
	}
	section, _, _ := strings.Cut(below, "/")
	return fillerSection(section)
}

// powderAt is the powder that a place of the document belongs to.
func (p *Filler) powderAt(place string) (material.ID, bool) {
	var index int
	var member string
	_, err := fmt.Sscanf(place, "/materials/%d/%s", &index, &member)
	if err != nil || p.view.Project == nil || index < 0 || index >= len(p.view.Project.Materials) {
		return "", false
	}
	m := &p.view.Project.Materials[index]
	return m.ID, m.Kind == material.Filler
}

// Has reports whether a place belongs to a powder or its nozzle.
func (p *Filler) Has(place string) bool {
	_, is := p.powderAt(place)
	return is || strings.HasPrefix(place, "/print/") || p.base.Has(place)
}

// Lead chooses the powder and the part that a place belongs to, then its field.
func (p *Filler) Lead(place string) bool {
	id, is := p.powderAt(place)
	if !is && !strings.HasPrefix(place, "/print/") {
		return p.base.Lead(place)
	}
	if is && id != p.chosen {
		p.chosen, p.run, p.step = id, -1, 0
	}
	p.section = sectionOf(place)
	p.follow(place)
	p.Show(p.view)
	return p.base.Lead(p.field(place)) || p.first != nil && p.focusFirst()
}

// follow opens the run or the step that a place lies in.
func (p *Filler) follow(place string) {
	_, below, _ := strings.Cut(place, "/powder/")
	var index int
	if _, err := fmt.Sscanf(below, "drying/runs/%d", &index); err == nil {
		p.run = index
	}
	if _, err := fmt.Sscanf(below, "preparation/steps/%d", &index); err == nil {
		p.step = index
	}
}

// field is the input that stands for a place which has none of its own.
func (p *Filler) field(place string) string {
	before, below, _ := strings.Cut(place, "/powder/")
	run, isRun := strings.CutPrefix(below, "drying/runs")
	switch {
	case below == "clogging":
		return before + "/powder/clogging/prints"
	case isRun && strings.Count(run, "/") < 2: // all runs, or one of them
		return fmt.Sprintf("%s/powder/drying/runs/%d/readings", before, p.run)
	}
	return place
}

func (p *Filler) focusFirst() bool {
	p.first.Focus()
	return true
}
