package filler

// DryingFits holds both laws fitted to one log.
type DryingFits struct {
	Lewis, Page       DryingCurve
	LewisErr, PageErr error // *DryingError
	Best              DryingLaw
}

// FitDryingLaws fits both laws and chooses.
func FitDryingLaws(rows []Weighing, o DryingOptions) (DryingFits, error) {
	return DryingFits{}, &DryingError{Kind: DryingNotConverged} // the solver comes next
}
