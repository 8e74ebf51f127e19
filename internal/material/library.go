package material

import (
	"fmt"
	"io/fs"
	"slices"
	"sync"

	"github.com/go-json-experiment/json"

	"fillwright/assets"
)

// The files of the library, in the order in which they are offered.
var libraryFiles = []string{"library/polymers.json", "library/fillers.json", "library/additives.json"}

var builtIn = sync.OnceValues(func() ([]Material, error) { return readLibrary(assets.Library) })

// Library returns the built-in materials: polymers, then fillers, then
// additives. Ranges are those of the literature, never of one lot, and every
// value has its Source. Prices and the moisture of a powder are not in it, for
// they belong to the maker's own material. The caller owns what it gets.
func Library() ([]Material, error) {
	materials, err := builtIn()
	if err != nil {
		return nil, err
	}
	own := make([]Material, len(materials))
	for i := range materials {
		own[i] = materials[i].Clone()
	}
	return own, nil
}

// Lookup returns a copy of one built-in material, to be put into a project.
func Lookup(id ID) (Material, bool) {
	materials, err := builtIn()
	if err != nil {
		return Material{}, false
	}
	i := slices.IndexFunc(materials, func(m Material) bool { return m.ID == id })
	if i < 0 {
		return Material{}, false
	}
	return materials[i].Clone(), true
}

// readLibrary reads the files of the library. Unlike in a project, a member
// that nobody knows is a spelling mistake here.
func readLibrary(files fs.FS) ([]Material, error) {
	var all []Material
	for _, path := range libraryFiles {
		content, err := fs.ReadFile(files, path)
		if err != nil {
			return nil, fmt.Errorf("material: %w", err)
		}
		var some []Material
		if err := json.Unmarshal(content, &some); err != nil {
			return nil, fmt.Errorf("material: %s: %w", path, err)
		}
		for i := range some {
			if extra := some[i].unknown(); len(extra) > 0 {
				return nil, fmt.Errorf("material: %s: %s: unknown members %s", path, some[i].ID, extra)
			}
		}
		all = append(all, some...)
	}
	return all, nil
}

// unknown returns members that were read but are not known.
func (m *Material) unknown() []byte {
	for i := range m.Sources {
		if len(m.Sources[i].Extra) > 0 {
			return m.Sources[i].Extra
		}
	}
	return m.Extra
}
