package bench

import (
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/wording"
)

// What was counted: blockages in prints, and grains in samples.

// prints are the counts of what was printed: what passes a small nozzle passes a large
// one, and what blocks a large one blocks a small one. One for each row; a row that
// lacks something has no mass.
func prints(in *material.Clogging) []filler.Count {
	list := make([]filler.Count, len(in.Prints))
	for i := range in.Prints {
		if r := &in.Prints[i]; missingOfPrint(r) == "" {
			strandKg, content := r.Strand.SI(), r.Content.SI()
			off := math.Hypot(half(r.Strand)*content, strandKg*half(r.Content))
			list[i] = filler.Count{MassKg: strandKg * content, OffKg: off, SizeM: r.Nozzle.SI(), Found: r.Blockages}
		}
	}
	return list
}

// inspections are the counts of the samples that were looked through.
func inspections(in *material.Clogging) []filler.Count {
	list := make([]filler.Count, len(in.Inspections))
	for i := range in.Inspections {
		if r := &in.Inspections[i]; missingOfInspection(r) == "" {
			list[i] = filler.Count{MassKg: r.Mass.SI(), OffKg: half(r.Mass), SizeM: r.Size.SI(), Found: r.Found}
		}
	}
	return list
}

// countRemarks say which rows of prints and of samples take no part.
func (b *clogBench) countRemarks(in *material.Clogging) (ofPrints, ofInspections []Remark) {
	list := prints(in)
	ofPrints = make([]Remark, len(list))
	for i := range list {
		ofPrints[i] = countRemark(list, i, missingOfPrint(&in.Prints[i]), b.boreM)
	}
	list = inspections(in)
	ofInspections = make([]Remark, len(list))
	for i := range list {
		ofInspections[i] = countRemark(list, i, missingOfInspection(&in.Inspections[i]), b.criticalM)
	}
	return ofPrints, ofInspections
}

// missingOfPrint is the first member that a row of prints lacks; empty for none.
func missingOfPrint(r *material.NozzleRun) string {
	switch {
	case !r.Nozzle.Given():
		return "nozzle"
	case !r.Strand.Given():
		return "strand"
	case !r.Content.Given():
		return "content"
	}
	return ""
}

// missingOfInspection is the same of a sample that was looked through.
func missingOfInspection(r *material.Inspection) string {
	switch {
	case !r.Mass.Given():
		return "mass"
	case !r.Size.Given():
		return "size"
	}
	return ""
}

func countRemark(list []filler.Count, i int, missing string, sizeM float64) Remark {
	c := list[i]
	switch {
	case missing != "":
		return Remark{ID: "count_incomplete", Values: map[string]any{"Missing": wording.ID("counted." + missing)}}
	case c.MassKg <= 0:
		return Remark{ID: "count_no_powder"}
	case !filler.TakesPart(c, list, sizeM):
		return Remark{ID: "count_larger"}
	}
	return Remark{}
}
