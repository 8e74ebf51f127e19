package bench

import (
	"fmt"
	"math"

	"fillwright/internal/blend"
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

// MakeBlend adds a blend with a filler content to a project, made of another one with the
// levers elsewhere, and returns its ID. A powder that would be sieved or dried otherwise
// becomes a material of its own, so that nothing of what was entered is lost; nozzle,
// pellets and core are those of the line and are set for all blends.
func (w WhatIf) MakeBlend(p *project.Project, blend int, content float64, names MakeNames) (project.BlendID, error) {
	if blend < 0 || blend >= len(p.Blends) || firstPowderOf(p, blend) < 0 || mainPart(p, blend) < 0 {
		return "", fmt.Errorf("bench: no powder to vary against a polymer in blend %d", blend)
	}
	next := project.Clone(project.Project{Blends: p.Blends[blend : blend+1]}).Blends[0]
	next.ID = project.BlendID(project.UniqueID(names.Blend, func(id string) bool { return p.BlendByID(project.BlendID(id)) >= 0 }))
	next.Name, next.Notes = names.Blend, ""
	next.MeasuredDensity, next.MeasuredFlow = quantity.Of[quantity.Density]{}, quantity.Of[quantity.Factor]{}
	next.Evenness = project.Evenness{}
	p.Blends = append(p.Blends, next)
	made := len(p.Blends) - 1
	if w.otherPowder() {
		points := carriedPoints(p, made, names.Carried)
		w.ownPowder(p, made, names.Powder)
		p.Strength.Points = append(p.Strength.Points, points...)
	}
	w.onLine(p)
	if oil, set := w[LeverOil]; set {
		w.onOil(p, made, oil)
	}
	setContent(p, made, content)
	return next.ID, nil
}

// MakeNames are the names of what MakeBlend adds.
type MakeNames struct {
	Blend, Powder string
	Carried       string // note of a strength point that was measured with the powder as it was
}

// carriedPoints are the strength points of the powder of a blend, as points of that blend: they
// hold for the powder sieved or dried otherwise too, until bars of it were broken.
func carriedPoints(p *project.Project, blend int, note string) (list []project.StrengthPoint) {
	m := Compile(p)
	powder := firstPowderOf(p, blend)
	for _, pt := range p.Strength.Points {
		from := p.BlendByID(pt.Blend)
		if from < 0 || from >= len(m.blends) || firstPowderOf(p, from) != powder || m.blends[from].main < 0 ||
			m.blends[from].parts[m.blends[from].main].body != m.blends[blend].parts[m.blends[blend].main].body {
			continue
		}
		if !pt.Content.Given() {
			pt.Content = quantity.FromSI[quantity.Fraction](m.blends[from].kept.state.powder, "%", 3)
		}
		if !(pt.Content.SI() > 0) {
			continue
		}
		pt.Blend, pt.Notes = p.Blends[blend].ID, note
		list = append(list, pt)
	}
	return list
}

// ownPowder gives a blend a powder of its own, whose sieve or moisture is another.
func (w WhatIf) ownPowder(p *project.Project, blend int, name string) {
	_, dried := w[LeverDrying]
	powder := firstPowderOf(p, blend)
	own, before := p.Materials[powder].Clone(), p.Materials[powder].ID
	own.ID = material.ID(project.UniqueID(name, func(id string) bool { return p.MaterialByID(material.ID(id)) >= 0 }))
	own.Name = name
	own.Sources = withoutSource(own.Sources, "moisture", dried)
	p.Materials = append(p.Materials, own)
	w.onPowder(p, len(p.Materials)-1)
	for i := range p.Blends[blend].Parts {
		if part := &p.Blends[blend].Parts[i]; part.Material == before {
			part.Material = own.ID
		}
	}
}

func withoutSource(sources []material.Source, field string, drop bool) (kept []material.Source) {
	for _, s := range sources {
		if !drop || s.Field != field {
			kept = append(kept, s)
		}
	}
	return kept
}

// setContent sets the amount of the first powder so that a blend holds this much powder in
// all, in percent of the whole; its main polymer becomes the balance, and other amounts are
// told on the whole too.
func setContent(p *project.Project, index int, content float64) {
	m := Compile(p)
	b := &m.blends[index]
	st, composed := m.nominalState(b)
	if !composed || b.main < 0 {
		return
	}
	others := st.powder - st.loose // within regrind
	first := m.firstPowder(b)
	for i := range b.parts {
		if b.parts[i].kind == material.Filler && i != first {
			others += st.w[i]
		}
	}
	parts := p.Blends[index].Parts
	for i := range parts {
		switch {
		case i == b.main:
			parts[i].Amount = project.Balance()
		case i == first:
			parts[i].Amount = wholeAmount(math.Max(0, content-others))
		case b.parts[i].basis != blend.OfWhole:
			parts[i].Amount = wholeAmount(st.w[i])
		}
	}
}

// wholeAmount is a content of the whole, to a tenth of a percent or finer where it is small.
func wholeAmount(share float64) project.Amount {
	digits := 1
	if share < 0.01 {
		digits = 2
	}
	return project.Content(quantity.FromSI[quantity.Content](share, "wt%", digits))
}
