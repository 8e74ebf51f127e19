package project

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"fillwright/internal/material"
)

// New returns an empty project. Its currency is an ISO 4217 code.
func New(currency string) Project {
	return Project{Format: Format, Version: Version, Currency: currency}
}

// MaterialByID returns the index of a material, or -1.
func (p *Project) MaterialByID(id material.ID) int {
	return slices.IndexFunc(p.Materials, func(m material.Material) bool { return m.ID == id })
}

// BlendByID returns the index of a blend, or -1.
func (p *Project) BlendByID(id BlendID) int {
	return slices.IndexFunc(p.Blends, func(b Blend) bool { return b.ID == id })
}

// Holds reports whether a material is a part of the blend.
func (b *Blend) Holds(id material.ID) bool {
	return slices.ContainsFunc(b.Parts, func(p Part) bool { return p.Material == id })
}

// RemoveBlend takes a blend out, and with it what refers to it.
func (p *Project) RemoveBlend(id BlendID) {
	p.Blends = slices.DeleteFunc(p.Blends, func(b Blend) bool { return b.ID == id })
	for _, ref := range p.references() {
		if *ref.id == id {
			*ref.id = ""
		}
	}
}

// reference is a place of the document that names a blend.
type reference struct {
	id   *BlendID
	step []any // of its pointer
}

func (r reference) pointer() string { return pointerOf(r.step...) }

// references lists the places that name a blend.
func (p *Project) references() []reference {
	list := []reference{
		{&p.Reference, []any{"reference"}}, {&p.Plan.Base, []any{"plan", "base"}}, {&p.Melt.PinBlend, []any{"melt", "pin_blend"}},
	}
	for i := range p.Melt.Tests {
		list = append(list, reference{&p.Melt.Tests[i].Blend, []any{"melt", "tests", i, "blend"}})
	}
	for i := range p.Line.Changes.Sequence {
		list = append(list, reference{&p.Line.Changes.Sequence[i].Blend, []any{"line", "changes", "sequence", i, "blend"}})
	}
	for i := range p.Line.Runs {
		list = append(list, reference{&p.Line.Runs[i].Blend, []any{"line", "runs", i, "blend"}})
	}
	for i := range p.Spool.Bend.Tests {
		list = append(list, reference{&p.Spool.Bend.Tests[i].Blend, []any{"spool", "bend", "tests", i, "blend"}})
	}
	for i := range p.Strength.Points {
		list = append(list, reference{&p.Strength.Points[i].Blend, []any{"strength", "points", i, "blend"}})
	}
	for i := range p.Spool.Made {
		list = append(list, reference{&p.Spool.Made[i].Blend, []any{"spool", "made", i, "blend"}})
	}
	return list
}

// UniqueID makes an ID of a name: lower case, letters and digits joined by
// hyphens, with a number behind it while taken says that the ID is in use.
func UniqueID(name string, taken func(string) bool) string {
	const most = 60
	base := slug(name)
	if len(base) > most {
		base = strings.Trim(base[:most], "-")
	}
	if base == "" {
		base = "item"
	}
	id := base
	for i := 2; taken(id); i++ {
		id = base + "-" + strconv.Itoa(i)
	}
	return id
}

// slug keeps the letters a to z and digits of a name; accents are dropped.
func slug(name string) string {
	var out strings.Builder
	gap := false
	for _, r := range norm.NFKD.String(name) {
		r = unicode.ToLower(r)
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			if gap && out.Len() > 0 {
				out.WriteByte('-')
			}
			gap = false
			out.WriteRune(r)
		case unicode.Is(unicode.Mn, r): // an accent
		default:
			gap = true
		}
	}
	return out.String()
}
