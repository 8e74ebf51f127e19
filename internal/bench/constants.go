package bench

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"fillwright/internal/melt"
	"fillwright/internal/project"
	"fillwright/internal/stat"
	"fillwright/internal/uncertain"
)

// The constants of the melt models are as uncertain as anything that a maker
// measures, so they are inputs like the others.

// hydrolysisRate is the logarithm of the rate at 210 °C, known within a factor.
func hydrolysisRate() uncertain.Input {
	u := math.Log(melt.K210Factor) / coverage
	return uncertain.Input{Value: math.Log(melt.K210), UMinus: u, UPlus: u}
}

// molarMassExponent is 3.4 unless proved higher: measured values reach 4.6.
func molarMassExponent() uncertain.Input {
	return uncertain.Input{Value: melt.ExponentLow, UPlus: (melt.ExponentHigh - melt.ExponentLow) / coverage}
}

// oilEffect rests on one measured system, so half of it either way is allowed
// for (own judgement, not from the literature).
func oilEffect() uncertain.Input {
	u := 0.5 * melt.KOil / coverage
	return uncertain.Input{Value: melt.KOil, UMinus: u, UPlus: u}
}

// diameter places the root of the mean squared diameter: from the readings
// where there are any, because measured beats nominal, else the one entered.
func (c *compiler) diameter() at {
	summary, some := readings(c.project)
	if !some {
		return input(c, "/spool/diameter", Entered, c.project.Spool.Diameter)
	}
	u := meanUncertainty(summary)
	if summary.N == 1 { // one reading says nothing of the spread: take that of the diameter entered
		entered, _ := c.project.Spool.Diameter.Estimate()
		u = entered.StdU
	}
	u = math.Hypot(u, gaugeU(c.project)) // the caliper's own error is common to all readings
	return c.place("/spool/readings", Measured,
		uncertain.Input{Value: math.Sqrt(summary.MeanSquare), UMinus: u, UPlus: u})
}

// gaugeU is the standard uncertainty of the caliper, in metres: the one entered
// for it, else the largest that comes with a reading, else 0.
func gaugeU(p *project.Project) float64 {
	if gauge, given := p.Spool.Gauge.Estimate(); given {
		return gauge.Value / coverage
	}
	u := 0.0
	for _, r := range p.Spool.Readings {
		e, _ := r.Estimate()
		u = math.Max(u, e.StdU)
	}
	return u
}

// readings summarises the caliper readings, in metres.
func readings(p *project.Project) (stat.Summary, bool) {
	values := make([]float64, 0, len(p.Spool.Readings))
	for _, r := range p.Spool.Readings {
		if r.Given() {
			values = append(values, r.SI())
		}
	}
	return stat.Summarise(values)
}

// meanUncertainty is the standard uncertainty of a mean such that twice it
// covers 95 %: half of Student's interval, on the effective number of readings
// because neighbours on a strand resemble each other.
func meanUncertainty(s stat.Summary) float64 {
	if s.N < 2 || s.SD == 0 {
		return 0
	}
	n := math.Max(2, s.Effective)
	student := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}
	return student.Quantile(0.975) * s.SD / math.Sqrt(n) / coverage
}
