package bench

// PowderSheet is what the bench says of one powder: of its drying, storage,
// preparation, grain sizes and densities. Results are in trade units. Moisture
// is on the wet basis unless the name says dry.
type PowderSheet struct {
	Material    int // index in the project
	Drying      DryingSheet
	Storage     StorageSheet
	Preparation PreparationSheet
	Sieving     SievingSheet
	Clogging    CloggingSheet
	Grain       GrainSheet
	Feeds       []Feed // what takes the place of a property, or would if it were not set aside
}

// Feed is a value of the bench that stands for a property in Blend and Melt.
type Feed struct {
	Member string // of the property: "moisture", "price", "density", "packing_limit"
	Value  Result
	Used   bool // false: set aside by the maker
}

// Fed is the feed of a property, and whether there is one.
func (s *PowderSheet) Fed(member string) (Feed, bool) {
	for _, f := range s.Feeds {
		if f.Member == member {
			return f, true
		}
	}
	return Feed{}, false
}

// Remark says what is wrong or remarkable about one row of a table: an ID of
// the catalogue below "row.", with its values.
type Remark struct {
	ID     string
	Values map[string]any
}

// Message makes a remark readable by wording.
func (r Remark) Message() (string, map[string]any) { return "row." + r.ID, r.Values }

// Powder is the sheet of a material's bench; nil for one that is no filler.
func (s *Sheet) Powder(materialIndex int) *PowderSheet {
	for i := range s.Powders {
		if s.Powders[i].Material == materialIndex {
			return &s.Powders[i]
		}
	}
	return nil
}
