package figure

import (
	"fmt"
	"strings"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// powderParts are the parts of a powder's bench whose inputs are told together.
var powderParts = map[string]string{
	"clogging": "input.clogging", "drying": "input.drying", "storage": "input.storage", "grain": "input.grain",
	"preparation": "input.preparation", "sieving": "input.sieving",
}

// constantNames are the constants of the models, by the beginning of their names.
var constantNames = []struct{ begin, id string }{
	{"between bends", "input.between_bends"},
	{"bond across layers", "input.bond_across"},
	{"bonds that differ", "input.bonds_differ"},
	{"bond of", "input.bond"},
	{"drying curve", "input.drying_curve"},
	{"drying heat", "input.drying_heat"},
	{"hydrolysis rate", "input.hydrolysis_rate"},
	{"molar-mass exponent", "input.molar_mass_exponent"},
	{"oil effect", "input.oil_effect"},
	{"sorption", "input.sorption"},
	{"uptake", "input.uptake"},
	{"stiffening", "input.stiffening"},
	{"upright over flat", "input.upright_share"},
	{"output over drag flow", "input.drag"},
}

// InputName is what an input is called where people read it, by its pointer.
func InputName(p *project.Project, pointer string, w *wording.Words) string {
	var index int
	var rest string
	if n, _ := fmt.Sscanf(pointer, "/materials/%d/%s", &index, &rest); n == 2 && index < len(p.Materials) {
		return materialInput(p, index, rest, w)
	}
	if n, _ := fmt.Sscanf(pointer, "/strength/points/%d/%s", &index, &rest); n == 2 {
		return w.Say("input.strength_point", map[string]any{"Number": index + 1})
	}
	if n, _ := fmt.Sscanf(pointer, "/melt/tests/%d/%s", &index, &rest); n == 2 {
		return w.Say("input.flow_test", map[string]any{"Number": index + 1})
	}
	if n, _ := fmt.Sscanf(pointer, "/blends/%d/%s", &index, &rest); n == 2 && index < len(p.Blends) {
		return blendInput(p, index, rest, w)
	}
	if strings.HasPrefix(pointer, "/") {
		return placeInput(pointer, w)
	}
	for _, c := range constantNames {
		if strings.HasPrefix(pointer, c.begin) {
			return w.Say(c.id, map[string]any{"Of": afterOf(p, pointer)})
		}
	}
	return pointer
}

// materialInput is a property of a material, or a part of its bench.
func materialInput(p *project.Project, index int, rest string, w *wording.Words) string {
	name := p.Materials[index].Name
	if name == "" {
		name = string(p.Materials[index].ID)
	}
	values := map[string]any{"Material": name}
	member, below, _ := strings.Cut(rest, "/")
	if member == "powder" {
		part, _, _ := strings.Cut(below, "/")
		if id := powderParts[part]; id != "" {
			return w.Say(id, values)
		}
	}
	if member == "regrind" {
		return w.Say("input.regrind", values)
	}
	values["Property"] = member
	if id := "material." + member; w.Has(id) {
		values["Property"] = wording.ID(id)
	}
	return w.Say("input.property", values)
}

func blendInput(p *project.Project, index int, rest string, w *wording.Words) string {
	values := map[string]any{"Blend": p.Blends[index].Name}
	switch member, _, _ := strings.Cut(rest, "/"); member {
	case "measured_density":
		return w.Say("input.measured_density", values)
	case "measured_flow":
		return w.Say("input.measured_flow", values)
	case "evenness":
		return w.Say("input.evenness", values)
	}
	return w.Say("input.amount", values)
}

// placeInput is a field that all blends share.
func placeInput(pointer string, w *wording.Words) string {
	if id := "field" + strings.ReplaceAll(pointer, "/", "."); w.Has(id) {
		return w.Text(id)
	}
	switch {
	case strings.HasPrefix(pointer, "/line/outputs"):
		return w.Text("input.outputs")
	case strings.HasPrefix(pointer, "/line/changes"):
		return w.Text("input.changes")
	}
	return strings.TrimPrefix(pointer, "/")
}

// afterOf is the name of the material behind "of" in a constant's name.
func afterOf(p *project.Project, pointer string) string {
	_, of, found := strings.Cut(pointer, " of ")
	if !found {
		_, of, _ = strings.Cut(pointer, ", flat ")
	}
	for i := range p.Materials {
		if string(p.Materials[i].ID) == of && p.Materials[i].Name != "" {
			return p.Materials[i].Name
		}
	}
	return of
}

// sharesShown is how many inputs a picture of shares shows.
const sharesShown = 9

// VarianceShares shows from which inputs the variance of a target comes: the whole share of
// each, with its standard error twice either way.
func VarianceShares(p *project.Project, shares *bench.Shares, w *wording.Words) Picture {
	picture := Picture{Title: w.Text("picture.shares.title"), Alt: w.Text("picture.shares.alt"), Empty: w.Text("picture.shares.empty")}
	if shares == nil || len(shares.Inputs) == 0 {
		return picture
	}
	panel := Panel{X: Axis{Label: w.Text("picture.shares.axis"), Unit: "%", Min: 0, Max: 100}}
	for i, in := range shares.Inputs {
		if i == sharesShown {
			break
		}
		sub := w.Text("picture.shares.not_measured")
		switch {
		case in.Measure != "":
			sub = w.Text("measure_short." + string(in.Measure))
		case strings.HasPrefix(in.Pointer, "/loading/"):
			sub = w.Text("picture.shares.chosen")
		}
		panel.Bars = append(panel.Bars, Bar{
			Label: InputName(p, in.Pointer, w), Sub: sub, Strong: i == 0, Known: true, Filled: true,
			Low: max(0, 100*(in.Total-2*in.Err)), Likely: 100 * in.Total, High: min(100, 100*(in.Total+2*in.Err)),
			Text: w.Number(100*in.Total, 2) + " %",
		})
	}
	picture.Panels = []Panel{panel}
	return picture
}
