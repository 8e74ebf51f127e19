package bench

import "math"

// Figure names one computed number of a blend; it is the index of that number
// among the outputs of the core.
type Figure int

// The figures of a blend, in the order in which the core writes them.
const (
	Density Figure = iota
	DensityEstimated
	VoidFraction
	FillerMassFraction
	FillerVolumeFraction
	BlendMoisture
	MaterialCostPerKg
	MaterialCostChange
	CostPerKg
	CostPerMetre
	CostPerSpool
	CostChangePerMetre
	CostChangeBought
	BreakEvenFillerPrice
	BreakEvenLongRun
	SavingPerSpool
	ChangeoverCost
	ExtraCostPerRun
	LengthPerSpool
	MetresPerKg
	RemainingLength
	MeltFlow
	MeltFlowGrains
	MeltFlowWater
	MeltFlowOil
	MeltFlowRegrind
	MeltFlowModel
	MeltFlowWaterBound
	WaterFromPellets
	WaterFromPowder
	FillerMeltFraction
	PowderMoisture
	DryingTime
	PreparationYield
	PreparedCost
	SizeD10
	SizeD50
	SizeD90
	TopSize
	PackingLimit
	GrainsPerMetre
	ClogChancePerSpool
	ClogChancePerPrint
	MeltFlowRate
	MeltVolumeRate
	ApparentViscosity
	MoistureLimit
	VapourFraction
	TemperatureMargin
	Throughput
	PullerSpeed
	DrawDown
	ResidenceTime
	PurgeTime95
	PurgeTime99
	PurgeTime999
	PurgeMass99
	PurgeCost99
	CoatThickness
	PickUpLimitWhole
	PickUpLimit
	RandomMixRSD
	LumpsPerMetre
	LumpChancePerPrint
	HeatPerKg
	Conductivity
	RegrindShare
	FillerFromRegrind
	HeatPasses
	ViscosityRise
	MolarMassLoss
	PickUpUse
	WaterUse
	TopShare
	LineMargin
	NozzleMargin
	StrengthFlat
	StrengthUpright
	StrengthKeptFlat
	StrengthKeptUpright
	Modulus
	StiffnessKept
	figureCount
)

// FigureCount is how many figures a blend has.
const FigureCount = int(figureCount)

// definition says how a figure leaves the core: its key in files, its trade
// unit ("CUR" stands for the project's currency), the factor from SI to that
// unit and whether its interval is formed on a logarithmic scale.
type definition struct {
	key      string
	unit     string
	perSI    float64
	log      bool // factors and bounds: an interval that cannot cross zero
	optional bool // shown only where the maker gave what it needs
	powder   bool // of blends with powder only
	share    bool // part of a whole: between nothing and all of it
	grains   bool // a number of grains, whose ends are those of the counts (grainSpread)
	chance   bool // the core counts events to expect, and the figure is the chance of at least one
}

var definitions = [FigureCount]definition{
	Density:              {key: "density", unit: "g/cm3", perSI: 1e-3},
	DensityEstimated:     {key: "density_estimated", unit: "g/cm3", perSI: 1e-3},
	VoidFraction:         {key: "void_fraction", unit: "%", perSI: 100, optional: true},
	FillerMassFraction:   {key: "filler_mass_fraction", unit: "wt%", perSI: 100, share: true},
	FillerVolumeFraction: {key: "filler_volume_fraction", unit: "vol%", perSI: 100, share: true},
	BlendMoisture:        {key: "blend_moisture", unit: "%", perSI: 100, share: true},
	MaterialCostPerKg:    {key: "material_cost_per_kg", unit: "CUR/kg", perSI: 1},
	MaterialCostChange:   {key: "material_cost_change_per_metre", unit: "%", perSI: 100},
	CostPerKg:            {key: "cost_per_kg", unit: "CUR/kg", perSI: 1},
	CostPerMetre:         {key: "cost_per_metre", unit: "CUR/m", perSI: 1},
	CostPerSpool:         {key: "cost_per_spool", unit: "CUR", perSI: 1},
	CostChangePerMetre:   {key: "cost_change_per_metre", unit: "%", perSI: 100},
	CostChangeBought:     {key: "cost_change_bought", unit: "%", perSI: 100, optional: true},
	BreakEvenFillerPrice: {key: "break_even_filler_price", unit: "CUR/kg", perSI: 1},
	BreakEvenLongRun:     {key: "break_even_filler_price_long_run", unit: "CUR/kg", perSI: 1, optional: true},
	SavingPerSpool:       {key: "saving_per_spool", unit: "CUR", perSI: 1},
	ChangeoverCost:       {key: "changeover_cost", unit: "CUR", perSI: 1},
	ExtraCostPerRun:      {key: "extra_cost_per_run", unit: "CUR", perSI: 1},
	LengthPerSpool:       {key: "length_per_spool", unit: "m", perSI: 1},
	MetresPerKg:          {key: "metres_per_kg", unit: "m/kg", perSI: 1},
	RemainingLength:      {key: "remaining_length", unit: "m", perSI: 1, optional: true},
	MeltFlow:             {key: "melt_flow_factor", unit: "1", perSI: 1, log: true},
	MeltFlowGrains:       {key: "melt_flow_factor_grains", unit: "1", perSI: 1, log: true},
	MeltFlowWater:        {key: "melt_flow_factor_water", unit: "1", perSI: 1, log: true},
	MeltFlowOil:          {key: "melt_flow_factor_oil", unit: "1", perSI: 1, log: true},
	MeltFlowRegrind:      {key: "melt_flow_factor_regrind", unit: "1", perSI: 1, log: true, optional: true},
	MeltFlowModel:        {key: "melt_flow_factor_model", unit: "1", perSI: 1, log: true, optional: true},
	MeltFlowWaterBound:   {key: "melt_flow_factor_water_bound", unit: "1", perSI: 1, log: true, optional: true},
	WaterFromPellets:     {key: "water_from_pellets", unit: "ppm", perSI: 1e6, optional: true},
	WaterFromPowder:      {key: "water_from_powder", unit: "ppm", perSI: 1e6, optional: true},
	FillerMeltFraction:   {key: "filler_melt_fraction", unit: "vol%", perSI: 100, optional: true, share: true},
	PowderMoisture:       {key: "powder_moisture_wet_basis", unit: "%", perSI: 100, powder: true, share: true},
	DryingTime:           {key: "drying_time_to_target", unit: "h", perSI: 1.0 / 3600, log: true, powder: true},
	PreparationYield:     {key: "preparation_yield", unit: "%", perSI: 100, powder: true, share: true},
	PreparedCost:         {key: "prepared_cost_per_kg", unit: "CUR/kg", perSI: 1, powder: true},
	SizeD10:              {key: "d10", unit: "um", perSI: 1e6, powder: true},
	SizeD50:              {key: "d50", unit: "um", perSI: 1e6, powder: true},
	SizeD90:              {key: "d90", unit: "um", perSI: 1e6, powder: true},
	TopSize:              {key: "top_size", unit: "um", perSI: 1e6, powder: true},
	PackingLimit:         {key: "packing_limit", unit: "vol%", perSI: 100, powder: true, share: true},
	GrainsPerMetre:       {key: "grains_over_critical_per_metre", unit: "1/m", perSI: 1, powder: true, grains: true},
	ClogChancePerSpool:   {key: "clog_chance_per_spool", unit: "%", perSI: 100, powder: true, chance: true, grains: true},
	ClogChancePerPrint:   {key: "clog_chance_per_print", unit: "%", perSI: 100, optional: true, chance: true, grains: true},
	MeltFlowRate:         {key: "mfr", unit: "g/10 min", perSI: 6e5, log: true, optional: true},
	MeltVolumeRate:       {key: "mvr", unit: "cm3/10 min", perSI: 6e8, log: true, optional: true},
	ApparentViscosity:    {key: "apparent_viscosity", unit: "Pa.s", perSI: 1, log: true, optional: true},
	MoistureLimit:        {key: "moisture_limit", unit: "%", perSI: 100, optional: true, share: true},
	VapourFraction:       {key: "vapour_fraction", unit: "%", perSI: 100, optional: true, share: true},
	TemperatureMargin:    {key: "temperature_margin", unit: "K", perSI: 1, optional: true},
	Throughput:           {key: "throughput", unit: "kg/h", perSI: 3600, log: true, optional: true},
	PullerSpeed:          {key: "puller_speed", unit: "m/min", perSI: 60, log: true, optional: true},
	DrawDown:             {key: "draw_down", unit: "1", perSI: 1, log: true, optional: true},
	ResidenceTime:        {key: "residence_time", unit: "min", perSI: 1.0 / 60, log: true, optional: true},
	PurgeTime95:          {key: "purge_time_95", unit: "min", perSI: 1.0 / 60, log: true, optional: true},
	PurgeTime99:          {key: "purge_time_99", unit: "min", perSI: 1.0 / 60, log: true, optional: true},
	PurgeTime999:         {key: "purge_time_999", unit: "min", perSI: 1.0 / 60, log: true, optional: true},
	PurgeMass99:          {key: "purge_mass_99", unit: "g", perSI: 1e3, log: true, optional: true},
	PurgeCost99:          {key: "purge_cost_99", unit: "CUR", perSI: 1, optional: true},
	CoatThickness:        {key: "coat_thickness", unit: "um", perSI: 1e6, log: true, optional: true},
	PickUpLimitWhole:     {key: "pick_up_limit_whole_pellets", unit: "wt%", perSI: 100, optional: true, share: true},
	PickUpLimit:          {key: "pick_up_limit", unit: "wt%", perSI: 100, optional: true, share: true},
	RandomMixRSD:         {key: "random_mix_rsd", unit: "%", perSI: 100, log: true, optional: true},
	LumpsPerMetre:        {key: "lumps_per_metre", unit: "1/m", perSI: 1, optional: true},
	LumpChancePerPrint:   {key: "lump_chance_per_print", unit: "%", perSI: 100, optional: true, chance: true},
	HeatPerKg:            {key: "heat_per_kg", unit: "kJ/kg", perSI: 1e-3, optional: true},
	Conductivity:         {key: "conductivity", unit: "W/(m.K)", perSI: 1, log: true, optional: true},
	RegrindShare:         {key: "regrind_share", unit: "wt%", perSI: 100, optional: true, share: true},
	FillerFromRegrind:    {key: "filler_from_regrind", unit: "wt%", perSI: 100, optional: true, share: true},
	HeatPasses:           {key: "heat_passes", unit: "1", perSI: 1, log: true, optional: true},
	ViscosityRise:        {key: "viscosity_rise", unit: "1", perSI: 1, log: true, optional: true},
	MolarMassLoss:        {key: "molar_mass_loss", unit: "%", perSI: 100, optional: true, share: true},
	PickUpUse:            {key: "pick_up_use", unit: "%", perSI: 100, log: true, optional: true},
	WaterUse:             {key: "water_of_limit", unit: "%", perSI: 100, log: true, optional: true},
	TopShare:             {key: "top_size_over_bore", unit: "%", perSI: 100, log: true, optional: true},
	LineMargin:           {key: "line_below_onset", unit: "K", perSI: 1, optional: true},
	NozzleMargin:         {key: "nozzle_below_onset", unit: "K", perSI: 1, optional: true},
	StrengthFlat:         {key: "strength_flat", unit: "MPa", perSI: 1e-6, log: true, optional: true},
	StrengthUpright:      {key: "strength_upright", unit: "MPa", perSI: 1e-6, log: true, optional: true},
	StrengthKeptFlat:     {key: "strength_kept_flat", unit: "%", perSI: 100, log: true, optional: true},
	StrengthKeptUpright:  {key: "strength_kept_upright", unit: "%", perSI: 100, log: true, optional: true},
	Modulus:              {key: "modulus", unit: "GPa", perSI: 1e-9, log: true, optional: true},
	StiffnessKept:        {key: "stiffness_kept", unit: "%", perSI: 100, log: true, optional: true},
}

// Key is the figure's name in files.
func (f Figure) Key() string { return definitions[f].key }

// Optional reports whether the figure is left out where it does not apply.
func (f Figure) Optional() bool { return definitions[f].optional }

// Chance reports the chance, in %, that something happens at least once.
func (f Figure) Chance() bool { return definitions[f].chance }

// Powder reports whether the figure is one of blends with powder only.
func (f Figure) Powder() bool { return definitions[f].powder }

// Figures lists all figures in their order.
func Figures() []Figure {
	list := make([]Figure, FigureCount)
	for i := range list {
		list[i] = Figure(i)
	}
	return list
}

// coverage is the factor k of every interval: about 95 % for a normal spread
// (GUM 7.2.4).
const coverage = 2

// widest bounds a factor's interval on either side: one that is not known to
// within this much is not known at all, and the exponential stays finite.
const widest = 1e12

// interval widens a value by its standard uncertainties down and up, in SI:
//
//	y - k·u to y + k·u,  or  y·exp(-k·u/y) to y·exp(k·u/y)
//
// The second is the same to first order on the logarithm, for figures that are
// above zero by nature.
func (d definition) interval(value, down, up float64) (low, high float64) {
	if !d.log || value <= 0 {
		return value - coverage*down, value + coverage*up
	}
	return value / math.Min(math.Exp(coverage*down/value), widest), value * math.Min(math.Exp(coverage*up/value), widest)
}
