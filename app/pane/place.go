package pane

import (
	"fmt"
	"strconv"
	"strings"

	"fillwright/internal/material"
	"fillwright/internal/project"
)

// lasting is a place with IDs instead of numbers, so that it means the same
// blend or material when others before it come or go.
func lasting(p *project.Project, place string) string {
	parts := strings.SplitN(place, "/", 4)
	if len(parts) < 4 {
		return place
	}
	index, err := strconv.Atoi(parts[2])
	switch {
	case err != nil || index < 0:
		return place
	case parts[1] == "blends" && index < len(p.Blends):
		return "/blends/" + string(p.Blends[index].ID) + "/" + parts[3]
	case parts[1] == "materials" && index < len(p.Materials):
		return "/materials/" + string(p.Materials[index].ID) + "/" + parts[3]
	}
	return place
}

// current is the inverse of lasting; there is false when the blend or the
// material is gone.
func current(p *project.Project, place string) (now string, there bool) {
	parts := strings.SplitN(place, "/", 4)
	if len(parts) < 4 {
		return place, true
	}
	var index int
	switch parts[1] {
	case "blends":
		index = p.BlendByID(project.BlendID(parts[2]))
	case "materials":
		index = p.MaterialByID(material.ID(parts[2]))
	default:
		return place, true
	}
	return fmt.Sprintf("/%s/%d/%s", parts[1], index, parts[3]), index >= 0
}
