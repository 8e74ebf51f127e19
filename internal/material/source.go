package material

import "slices"

// SourceOf returns where the value of a property came from. A value that the
// maker entered has no source.
func (m *Material) SourceOf(member string) (Source, bool) {
	i := slices.IndexFunc(m.Sources, func(s Source) bool { return s.Field == member })
	if i < 0 {
		return Source{}, false
	}
	return m.Sources[i], true
}

// DropSource forgets the source of a property, for its value is now the maker's.
func (m *Material) DropSource(member string) {
	// A new slice: the old one may belong to an earlier state of the document.
	var kept []Source
	for _, s := range m.Sources {
		if s.Field != member {
			kept = append(kept, s)
		}
	}
	m.Sources = kept
}
