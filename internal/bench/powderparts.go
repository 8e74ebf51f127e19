package bench

import "fillwright/internal/filler"

// The parts of a [PowderSheet].

// DryingSheet is what the logs of the oven come to.
type DryingSheet struct {
	Runs []RunSheet // as in the document
	// Used is the run that the powder at hand went through, the last one that tells
	// a moisture; -1 while none can be read.
	Used int
	// Energy is the activation energy that a shift in temperature takes, kJ/mol,
	// and Exponent that of the layer.
	Energy, Exponent Result
	// EnergyFrom says what Energy rests on: "entered", "runs", or the usual range,
	// "usual" while there are no runs to fit, "too_close" where the ovens of the runs
	// are, "not_faster" where the hotter of them did not dry faster.
	EnergyFrom string
}

// RunSheet is one run in the oven.
type RunSheet struct {
	Rows      []DryingRow // one for each reading of the document
	Fits      [2]DryFit   // by Lewis and by Page
	Better    int         // of the two, the one that is used; -1 while none holds
	Floor     Result      // moisture that this oven in this room cannot go below, %
	FloorDry  Result      // the same on the dry basis, %
	FloorFrom string      // "wood", "weighed" below that of wood, "machine" of its oven, "class" of a powder that holds next to nothing, "" while not known
	Initial   Result      // moisture at the start, %
	Now       Result      // moisture at the last weighing, %
	ByCurve   bool        // both come from the fitted curve, not from the masses alone
	// The same on the dry basis, %.
	InitialDry, NowDry Result
	DryMass            Result // of the charge, g
	LastH              float64
	Constant           ConstantMass
	Extrapolated       Result                                       // end mass from the last three weighings at even steps, g
	moistureAt         func(hours float64) (wet, low, high float64) // of the fit that is used, %; nil without one
}

// DryingRow is one weighing, in the order of the document. A number that is not
// known is 0 there; Known, HasMoisture and HasResidual say so.
type DryingRow struct {
	TimeH, NetG, WetPercent, DryPercent float64
	ResidualG                           float64 // weighed less fitted
	Known                               bool    // time and net mass can be read
	HasMoisture, HasResidual            bool
	Remark                              Remark // empty ID: nothing to say
}

// DryFit is one fitted law of drying, MR = exp(-k·tⁿ).
type DryFit struct {
	Known     bool
	Why       string // catalogue ID below "fit." that says why it is not known
	K, N      Result // K in 1/minⁿ; N is exactly 1 by Lewis
	End       Result // mass at which it levels off, g
	ResidualG float64
	Freedom   int
	OpenEnded bool // the log ends before the curve levels off: the end mass is an extrapolation
}

// Sample follows the fitted moisture of a run from the start to untilH hours, in
// % with its band; nothing without a fit.
func (r *RunSheet) Sample(points int, untilH float64) (hours, wet, low, high []float64) {
	if r.moistureAt == nil {
		return nil, nil, nil, nil
	}
	for i := range points {
		h := untilH * float64(i) / float64(max(points-1, 1))
		w, l, u := r.moistureAt(h)
		hours, wet, low, high = append(hours, h), append(wet, w), append(low, l), append(high, u)
	}
	return hours, wet, low, high
}

// ConstantMass says whether the last two weighings agree.
type ConstantMass struct {
	Known, Reached      bool
	TooCoarse           bool // the scale does not see a change that small
	ChangePercent, GapH float64
}

// DryingUse is what a target moisture asks of a powder's oven.
type DryingUse struct {
	Target       Result // moisture, %; unknown while nothing says what it should be
	TargetFrom   string // "entered", "limit" or ""
	Beyond       bool   // the target lies below what the oven can reach
	Doubtful     bool   // the target lies within what the oven may leave: no time is told
	Time         Result // from the start of the run, h
	Left         Result // from the last weighing, h; 0 when it is reached
	Shifted      Result // in another oven or layer, h
	ShiftedTo    string // IDs of what was shifted: "temperature", "layer", "both"
	ShiftedWhy   string // why Shifted is not known: "floor" of the other oven, target "beyond" it or "doubtful" there; or ""
	Extrapolated bool   // the target lies beyond the log, or the oven was shifted
}

// StorageSheet is what the air of the store does to a dry powder.
type StorageSheet struct {
	Equilibrium, EquilibriumDry Result                         // %
	From                        string                         // "measured", "gab", "wood" or ""
	After                       Result                         // moisture after lying open, %
	Uptake                      Result                         // time constant, h
	isotherm                    func(humidity float64) float64 // fractions, wet basis; nil without a temperature
}

// Isotherm follows the equilibrium moisture over the relative humidity, both
// in %, up to mostPercent; nothing while the temperature is not given.
func (s *StorageSheet) Isotherm(points int, mostPercent float64) (humidity, wet []float64) {
	if s.isotherm == nil {
		return nil, nil
	}
	for i := range points {
		rh := mostPercent * float64(i) / float64(max(points-1, 1))
		humidity, wet = append(humidity, rh), append(wet, 100*s.isotherm(rh/100))
	}
	return humidity, wet
}

// PreparationSheet is the way from wet powder to usable powder.
type PreparationSheet struct {
	Steps          []StepSheet
	Yield          Result    // usable mass over wet mass, %
	WetPerUsable   Result    // kg/kg
	WaterPerUsable Result    // removed by drying, kg/kg
	EnergyPerKg    Result    // of usable powder, kWh/kg
	Cost           Result    // per usable kilogram, as it comes off the last step
	CostDry        Result    // per kilogram of dry powder, as Blend counts it
	Once           Preparing // with all that a sieve keeps back thrown away
	Again          Preparing // with all of it ground again
}

// Preparing is the outcome with another share of oversize ground again.
type Preparing struct{ Yield, Cost Result }

// StepSheet is one step of preparation.
type StepSheet struct {
	Known  bool
	From   string  // "yield", "masses", "moistures", "log" or ""
	Yield  float64 // mass out over mass in, re-ground oversize included, %
	LeftG  float64 // of a wet kilogram after this step
	Passes float64 // how often a kilogram goes through, 1 without re-grinding
}

// SievingSheet is a sieve analysis, by mass.
type SievingSheet struct {
	Known         bool
	Rows          []SievingRow // one for each sieve of the document
	Balance       Result       // recovered less charged, %
	D10, D50, D90 Percentile
	Span          Result
	Fits          []SizeFit // Rosin-Rammler by line and by least squares, log-normal
	Best          int       // fit with the least misfit; -1 for none
	Top           Result    // no legal grain is larger, µm; unknown without a check sieve
	analysis      filler.Sieving
}

// SievingRow is one sieve, in the order of the document.
type SievingRow struct {
	Mesh                            string // number by ASTM E11, a label only
	RetainedPercent, PassingPercent float64
	Known                           bool
	Remark                          Remark
}

// Percentile is a size below which a share of the mass lies. Outside the sieves
// that were used there is a bound only.
type Percentile struct {
	Size         Result // µm; low and high are the sieves that bracket it
	Below, Above bool   // only a bound is known: Bound
	Bound        float64
}

// SizeFit is one law of grain size, fitted to the passing masses.
type SizeFit struct {
	ID    string // "rosin_rammler_line", "rosin_rammler", "log_normal"
	Known bool
	Size  Result // x' or the median, µm
	Shape Result // n or the geometric standard deviation
	// SizeOpen and ShapeOpen say that the sieves do not determine the parameter.
	SizeOpen, ShapeOpen bool
	Misfit              float64 // root mean square, percentage points of passing
	R2                  float64 // on the scale that was fitted
	Exact               bool    // as many sieves as parameters: no misfit to speak of
	Sauter              Result  // mean by surface, µm; unknown where it does not exist
	law                 filler.SizeLaw
}

// Passing returns the share of mass below a size, in %, by the fitted law.
func (f *SizeFit) Passing(um float64) float64 {
	if f.law == nil {
		return 0
	}
	return 100 * f.law.Passing(um*1e-6)
}

// CloggingSheet is what is known of grains above the critical size.
type CloggingSheet struct {
	Nozzle   Result // bore, mm
	Critical Result // grain size that counts as critical, µm
	Parts    Result // bore over critical size
	Evidence []Evidence
	Best     int    // the evidence that is used; -1 for none
	Longest  Result // longest grain that the sieve lets through end on, µm
	// What is to be said of the rows of the document, one for each.
	Prints, Inspections []Remark
}

// EvidenceKind says where a number of oversize grains comes from.
type EvidenceKind string

// The kinds of evidence. Which counts is not fixed: see rank.
const (
	FromPrints      EvidenceKind = "prints"
	FromInspections EvidenceKind = "inspections"
	FromRetained    EvidenceKind = "retained"
	FromTail        EvidenceKind = "tail"
	FromTopSize     EvidenceKind = "top_size" // the whole lot passed a sieve that keeps every critical grain
)

// Evidence is one estimate of the grains above the critical size.
type Evidence struct {
	Kind      EvidenceKind
	PerKg     Result // of dry powder, 1/kg
	OtherSize bool   // it was seen at another size, and carried over to the critical one
	Leaky     bool   // the widest legal aperture of its sieve lets critical grains pass
}

// BlendClog is what the evidence means for a blend.
type BlendClog struct {
	Known    bool
	Evidence []ClogChance // beside that of the powder's sheet
	Nozzles  []float64    // bores of the table, mm
	Answer   []Answer     // the table in words
	rows     func() []ClogRow
}

// Table is the table of sieves and nozzles with the chance per spool; nothing
// without a powder. It is made when it is asked for, because one blend at a time
// is looked at.
func (c *BlendClog) Table() []ClogRow {
	if c.rows == nil {
		return nil
	}
	return c.rows()
}

// BySieve reports that the chance rests on what a sieve lets pass, not on grains or clogs that
// were counted.
func (c *BlendClog) BySieve() bool {
	for i := range c.Evidence {
		if e := &c.Evidence[i]; e.Used {
			return e.Kind == FromTail || e.Kind == FromTopSize || e.Kind == FromRetained
		}
	}
	return false
}

// ClogChance is the outcome of one piece of evidence.
type ClogChance struct {
	Kind         EvidenceKind
	PerMetre     Result // grains
	Spool, Print Result // chance of at least one, %
	Used         bool
}

// ClogRow is one sieve of the table of sieves and nozzles.
type ClogRow struct {
	OpeningUM, LargestUM float64
	Mesh                 string
	Cells                []ClogCell
}

// ClogCell is one sieve with one nozzle.
type ClogCell struct {
	Fit    SieveFit
	Chance Result // per spool, %; from the fitted tail
}

// SieveFit says how the grains that a sieve lets through stand to a nozzle.
type SieveFit string

// The ways a sieve can stand to a nozzle.
const (
	SieveKeepsAll SieveFit = "keeps_all" // every legal grain is below the critical size
	SieveMarginal SieveFit = "marginal"  // the nominal opening is, the largest legal aperture is not
	SieveCoarse   SieveFit = "coarse"    // grains above the critical size pass by design
	SieveBlocks   SieveFit = "blocks"    // a grain larger than the bore can pass
)

// GrainSheet holds the densities of grain and heap.
type GrainSheet struct {
	Density Result // g/cm3, from displacement
	Bulk    Result // g/cm3, as poured
	Tapped  Result // g/cm3
	Packing Result // share of the tapped heap that is grain, %
	Hausner Result // tapped over poured density
}
