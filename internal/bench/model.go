// Package bench joins the document and the domain packages: Compile flattens a
// project into a model, Model.Eval is the core that computes every figure of
// every blend, and Evaluate turns one project into one sheet of results, each
// with interval, unit, basis and notes. It is pure: no clock, no files, no
// randomness.
package bench

import (
	"math"

	"fillwright/internal/blend"
	"fillwright/internal/material"
	"fillwright/internal/melt"
	"fillwright/internal/project"
	"fillwright/internal/uncertain"
)

// at is the place of a number in the vector that the core reads: first what is
// derived from the bench of the powders, then the inputs; absent means that it
// was not given.
type at int32

const absent at = -1

// Input is one uncertain number of the project.
type Input struct {
	Pointer string // JSON Pointer of the field it comes from; a name for built-in constants
	Basis   Basis
	uncertain.Input
	only        figurePart
	shape       uncertain.Shape
	least, most float64 // what draws are held within; most is 0 where there are no bounds
}

// figurePart is a part of the figures on which alone an input acts.
type figurePart uint8

const (
	anyPart      figurePart = iota
	linePart                // figures of the line
	strengthPart            // strength and stiffness
	limitPart               // none: what the maker allows
)

// derivation is a number that follows from inputs in closed form, such as a
// density from three weighings. It is worked out anew for every x, so that what
// two figures share in it cancels in their difference.
type derivation struct {
	basis Basis
	of    func(x []float64) float64 // reads the inputs and earlier derivations; nil while there is none
}

// partPlan is one part of a blend as the core sees it.
type partPlan struct {
	kind                                            material.Kind
	basis                                           blend.Basis
	amount                                          at
	density                                         at
	melt                                            at // melt density, polymers only
	price                                           at
	moisture                                        at
	packing                                         at
	oil                                             at // oil content of a powder
	heatCapacity, meltingHeat, conductivity, aspect at
	powder                                          int          // of a filler: its place among the powders of the model; else -1
	body                                            int          // the material whose density and melt hold
	regrind                                         *regrindPlan // nil for a fresh part
	isOil                                           bool         // the part itself is an oil
	oilKnown                                        float64      // 0 where the class cannot hold oil, NaN where the content was not given
}

// water says what residual water does to a polymer.
type water uint8

const (
	waterUnknown water = iota // class not given
	waterKinetic              // chain scission with an estimated rate (PLA)
	waterBound                // chain scission, rate not known: bound and own measurement only
	waterVoids                // no scission: bubbles only
)

// blendPlan is one blend as the core sees it.
type blendPlan struct {
	id              project.BlendID
	index           int // in the project; -1 for a swept copy
	parts           []partPlan
	unset           int           // first part whose amount was not given, or -1
	powder          int           // place among the powders of its first powder; -1 for none
	target          at            // moisture to which that powder is dried, wet basis; absent: from limit
	limit           float64       // moisture that the main polymer stands; NaN while not known
	timeNoise       at            // logarithm of what the drying time may be off by
	problem         blend.Problem // why the amounts make no blend
	total           float64       // what they add up to, as a fraction
	filled          bool          // has a powder among its parts, whatever its amount
	isReference     bool
	noTimes         bool    // nobody asks for its drying time, which is slow
	content         float64 // filler content to set instead of the entered one, or NaN
	main            int     // index of the largest polymer part, or -1
	water           water
	molarMass       at
	measuredDensity at
	measuredFlow    at
	flowTest        int // of the document, where measuredFlow comes from one; else -1
	flowBase        flowBase
	lumps           at                // in strand, 1/kg
	heat            []melt.HeatLimits // of each part
	strength        strengthPlan
	bend            bendPlan
	basis           [FigureCount]Basis
	kept            *composition // at the best estimates; nil until it is worked out
}

// composition is the state of a blend, and whether its parts make a whole.
type composition struct {
	state state
	whole bool
}

// settings are the inputs that all blends share.
type settings struct {
	diameter, netMass, emptyMass, weighed            at
	startUp, purge, scrap                            at
	energyPrice, power, throughput, labour           at
	wear, extraTime, emptySpool, boughtPrice, bought at
	temperature, residence                           at
	printMass, printTemperature, nozzle              at
	rateLog, exponent, oilEffect                     at // model constants with their own uncertainty
	spools                                           float64
}

// Model is a project flattened for computing.
type Model struct {
	derived      []derivation
	inputs       []Input
	nominal      []float64 // best, once all inputs are placed
	powders      []powderPlan
	tests        []testedFlow
	line         linePlan
	pin          pinPlan
	meanS        float64 // that the melt stands in the line, for fits; NaN while not known
	blends       []blendPlan
	reference    int // index among blends, or -1
	set          settings
	most         int // parts in the largest blend
	limits       []limitRule
	betweenBends at      // see the compiler
	upTo         float64 // filler content up to which limits are looked for
	axis         float64 // filler content up to which they are told, no more than that
	currency     string
}

// Inputs lists the uncertain numbers in the order of x.
func (m *Model) Inputs() []Input { return m.inputs }

// Outputs is the length of y: every figure of every blend, and what is derived
// for the powders.
func (m *Model) Outputs() int { return len(m.blends)*FigureCount + len(m.derived) }

// Nominal fills x with the best estimates.
func (m *Model) Nominal() []float64 {
	x := make([]float64, len(m.inputs))
	for i := range m.inputs {
		x[i] = m.inputs[i].Value
	}
	return x
}

// best is the vector that the core reads at the best estimates. It is worked out
// once; nobody writes to it.
func (m *Model) best() []float64 {
	if m.nominal != nil {
		return m.nominal
	}
	return m.fill(make([]float64, len(m.derived)+len(m.inputs)), m.Nominal())
}

// fill writes x and what is derived from it into the vector that the core reads.
func (m *Model) fill(full, x []float64) []float64 {
	copy(full[len(m.derived):], x)
	for i := range m.derived {
		full[i] = math.NaN()
		if of := m.derived[i].of; of != nil {
			full[i] = of(full)
		}
	}
	return full
}

// input is the input that stands at a place of the vector; nil where a derived
// number or nothing stands.
func (m *Model) input(i at) *Input {
	if int(i) < len(m.derived) {
		return nil
	}
	return &m.inputs[int(i)-len(m.derived)]
}

// Scratch holds the buffers of one evaluation so that Eval does not allocate.
// It must not be shared by two goroutines.
type Scratch struct {
	full    []float64
	amounts []blend.Amount
	w, v    []float64
	density []float64
	filler  []bool
	ref     reference
	pinned  float64 // see Model.pinned
}

// NewScratch returns buffers large enough for this model.
func (m *Model) NewScratch() *Scratch {
	return &Scratch{
		full:    make([]float64, len(m.derived)+len(m.inputs)),
		amounts: make([]blend.Amount, m.most),
		w:       make([]float64, m.most),
		v:       make([]float64, m.most),
		density: make([]float64, m.most),
		filler:  make([]bool, m.most),
	}
}

// Filled reports whether a blend holds powder.
func (m *Model) Filled(blendIndex int) bool { return m.blends[blendIndex].filled }

// FirstPowder is the part of a blend that a sweep varies, or -1.
func (m *Model) FirstPowder(blendIndex int) int { return m.firstPowder(&m.blends[blendIndex]) }
