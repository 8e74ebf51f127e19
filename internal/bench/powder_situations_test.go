package bench

import (
	"fillwright/internal/material"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
)

const benchAt = "/materials/1/powder"

// benchOf is the bench of the powder of quiet.
func benchOf(p *project.Project) *material.Powder { return &p.Materials[1].Powder }

// dryingLog is a drying log without trays: minutes and grams by turns; an empty text is
// a cell that was left out.
func dryingLog(p *project.Project, cells ...string) *material.DryingRun {
	run := material.DryingRun{}
	for i := 0; i+1 < len(cells); i += 2 {
		reading := material.DryingReading{}
		if cells[i] != "" {
			reading.Time = q[quantity.Duration](cells[i] + " min")
		}
		if cells[i+1] != "" {
			reading.Masses = []quantity.Of[quantity.Mass]{q[quantity.Mass](cells[i+1] + " g")}
		}
		run.Readings = append(run.Readings, reading)
	}
	benchOf(p).Drying.Runs = []material.DryingRun{run}
	return &benchOf(p).Drying.Runs[0]
}

// goodLog dries 100 g of dry powder from 40 % on dry basis by Lewis's law, with
// what a scale of 0.1 g shows.
func goodLog(p *project.Project) *material.DryingRun {
	return dryingLog(p, "0", "140.0", "20", "124.3", "40", "114.7", "60", "108.9", "90", "104.2", "120", "102.0", "180", "100.4", "240", "100.1")
}

// inTheRoom gives the log of an oven what its floor needs.
func inTheRoom(run *material.DryingRun) {
	run.OvenTemperature = q[quantity.Temperature]("103 degC")
	run.RoomTemperature, run.RoomHumidity = q[quantity.Temperature]("21 degC"), q[quantity.Fraction]("50 %")
}

// stack is a sieve stack: openings in µm and grams by turns.
func stack(p *project.Project, pan string, cells ...string) *material.Sieving {
	s := &benchOf(p).Sieving
	s.Sieves = nil
	for i := 0; i+1 < len(cells); i += 2 {
		row := material.Sieve{}
		if cells[i] != "" {
			row.Opening = q[quantity.Length](cells[i] + " um")
		}
		if cells[i+1] != "" {
			row.Retained = q[quantity.Mass](cells[i+1] + " g")
		}
		s.Sieves = append(s.Sieves, row)
	}
	if pan != "" {
		s.Pan = q[quantity.Mass](pan + " g")
	}
	return s
}

func goodStack(p *project.Project) *material.Sieving {
	return stack(p, "20", "125", "5", "90", "25", "63", "30", "45", "20")
}

func nozzle(p *project.Project, bore string) { p.Print.Nozzle = q[quantity.Length](bore) }

func steps(p *project.Project, list ...material.Step) *material.Preparation {
	benchOf(p).Preparation.Steps = list
	return &benchOf(p).Preparation
}

// benchSituations lead to one note of the powder's bench each.
var benchSituations = []noteSituation{
	{"no drying log", func(*project.Project) {}, "drying_log_missing", Info, benchAt + "/drying/runs"},
	{"two weighings that differ", func(p *project.Project) { inTheRoom(dryingLog(p, "0", "140", "30", "120")) }, "drying_not_fitted", Caution, benchAt + "/drying/runs/0/readings"},
	{"masses all equal", func(p *project.Project) { dryingLog(p, "0", "140", "30", "140", "60", "140", "90", "140") }, "drying_not_fitted", Caution, benchAt + "/drying/runs/0/readings"},
	{"log that ends early", func(p *project.Project) {
		inTheRoom(dryingLog(p, "0", "140.0", "5", "138.1", "10", "136.3", "15", "134.5", "20", "132.8"))
	}, "drying_open_end", Caution, benchAt + "/drying/runs/0/readings"},
	{"slow powder", func(p *project.Project) {
		inTheRoom(dryingLog(p, "0", "100.00", "40", "99.98", "80", "99.97"))
	}, "drying_slow_end", Caution, benchAt + "/drying/runs/0/readings"},
	{"three weighings", func(p *project.Project) { inTheRoom(dryingLog(p, "0", "140", "60", "108.9", "240", "100.1")) }, "drying_no_interval", Caution, benchAt + "/drying/runs/0/readings"},
	{"mass rises", func(p *project.Project) { r := goodLog(p); r.Readings[5].Masses[0] = q[quantity.Mass]("106 g") }, "drying_mass_rises", Caution, benchAt + "/drying/runs/0/readings/5"},
	{"time twice", func(p *project.Project) { r := goodLog(p); r.Readings[3].Time = q[quantity.Duration]("40 min") }, "drying_time_repeats", Caution, benchAt + "/drying/runs/0/readings/3"},
	{"time goes back", func(p *project.Project) { r := goodLog(p); r.Readings[4].Time = q[quantity.Duration]("30 min") }, "drying_time_goes_back", Caution, benchAt + "/drying/runs/0/readings/4"},
	{"no time", func(p *project.Project) { r := goodLog(p); r.Readings[2].Time = quantity.Of[quantity.Duration]{} }, "drying_no_time", Caution, benchAt + "/drying/runs/0/readings/2"},
	{"no mass", func(p *project.Project) { r := goodLog(p); r.Readings[2].Masses = nil }, "drying_no_mass", Caution, benchAt + "/drying/runs/0/readings/2"},
	{"no tare", func(p *project.Project) {
		goodLog(p).Trays = []quantity.Of[quantity.Mass]{{}}
	}, "drying_no_tare", Caution, benchAt + "/drying/runs/0/trays/0"},
	{"below the tare", func(p *project.Project) {
		r := goodLog(p)
		r.Trays = []quantity.Of[quantity.Mass]{q[quantity.Mass]("101 g")}
	}, "drying_below_tare", Caution, benchAt + "/drying/runs/0/readings/6"},
	{"second run just begun", func(p *project.Project) {
		inTheRoom(goodLog(p))
		second := material.DryingRun{Readings: benchOf(p).Drying.Runs[0].Readings[:1]}
		benchOf(p).Drying.Runs = append(benchOf(p).Drying.Runs, second)
	}, "drying_later_run", Info, benchAt + "/drying/runs/1/readings"},
	{"dry mass above the last weighing", func(p *project.Project) { goodLog(p).DryMass = q[quantity.Mass]("101 g") }, "drying_dry_mass_above", Caution, benchAt + "/drying/runs/0/dry_mass"},
	{"log in waves", func(p *project.Project) {
		inTheRoom(dryingLog(p, "0", "140.0", "20", "128", "40", "112", "60", "110", "90", "103", "120", "102.5", "180", "99.8", "240", "100.1"))
	}, "drying_misfit", Caution, benchAt + "/drying/runs/0/readings"},
	{"target above the limit", func(p *project.Project) {
		inTheRoom(goodLog(p))
		benchOf(p).Drying.Target = q[quantity.Fraction]("3 %")
	}, "drying_target_loose", Caution, benchAt + "/drying/target"},
	{"still wet", func(p *project.Project) {
		inTheRoom(goodLog(p))
		benchOf(p).Drying.Target = q[quantity.Fraction]("0.15 %")
		benchOf(p).Drying.Runs[0].Readings = benchOf(p).Drying.Runs[0].Readings[:7]
	}, "drying_goes_on", Caution, benchAt + "/drying/runs/0/readings"},
	{"no target", func(p *project.Project) {
		inTheRoom(goodLog(p))
		p.Materials[0].MoistureLimit = quantity.Of[quantity.Fraction]{}
	}, "drying_target_missing", Info, benchAt + "/drying/target"},
	{"target below the oven", func(p *project.Project) {
		inTheRoom(goodLog(p))
		benchOf(p).Drying.Target = q[quantity.Fraction]("10 ppm")
	}, "drying_target_beyond", Caution, benchAt + "/drying/target"},
	{"target about what the oven leaves", func(p *project.Project) {
		inTheRoom(goodLog(p))
		benchOf(p).Drying.Target = q[quantity.Fraction]("0.1 %")
	}, "drying_target_doubtful", Caution, benchAt + "/drying/target"},
	{"limit below the oven", func(p *project.Project) {
		inTheRoom(goodLog(p))
		p.Materials[0].MoistureLimit = q[quantity.Fraction]("50 ppm")
		filled(p).Parts[1].Amount = amount("40 wt%")
	}, "drying_limit_beyond", Caution, benchAt + "/drying/runs/0/oven_temperature"},
	{"room not known", func(p *project.Project) { goodLog(p).OvenTemperature = q[quantity.Temperature]("103 degC") }, "oven_floor_unknown", Info, benchAt + "/drying/runs/0/room_temperature"},
	{"oven not known", func(p *project.Project) { goodLog(p) }, "oven_floor_unknown", Caution, benchAt + "/drying/runs/0/oven_temperature"},
	{"oven beyond the tables", func(p *project.Project) {
		r := goodLog(p)
		inTheRoom(r)
		r.OvenTemperature = q[quantity.Temperature]("140 degC")
	}, "oven_floor_beyond", Info, benchAt + "/drying/runs/0/oven_temperature"},
	{"oven below the dew point", func(p *project.Project) {
		r := goodLog(p)
		inTheRoom(r)
		r.OvenTemperature = q[quantity.Temperature]("8 degC")
	}, "oven_floor_beyond", Caution, benchAt + "/drying/runs/0/oven_temperature"},
	{"hot oven", func(p *project.Project) { goodLog(p).OvenTemperature = q[quantity.Temperature]("120 degC") }, "oven_too_hot", Caution, benchAt + "/drying/runs/0/oven_temperature"},
	{"hot plan", func(p *project.Project) { benchOf(p).Drying.OtherTemperature = q[quantity.Temperature]("110 degC") }, "oven_too_hot", Caution, benchAt + "/drying/other_temperature"},
	{"left open", func(p *project.Project) {
		benchOf(p).Storage = material.Storage{
			Temperature: q[quantity.Temperature]("20 degC"), Humidity: q[quantity.Fraction]("50 %"), OpenTime: q[quantity.Duration]("3 h"),
		}
	}, "left_open", Caution, benchAt + "/storage/open_time"},
	{"left open in unknown air", func(p *project.Project) { benchOf(p).Storage.OpenTime = q[quantity.Duration]("3 h") }, "storage_air_missing", Caution, benchAt + "/storage/humidity"},
	{"wet powder left open", func(p *project.Project) {
		p.Materials[1].Moisture = q[quantity.Fraction]("20 %")
		benchOf(p).Storage = material.Storage{Equilibrium: q[quantity.Fraction]("8.8 %"), OpenTime: q[quantity.Duration]("100 h")}
	}, "left_open_dries", Info, benchAt + "/storage/open_time"},
	{"mineral left open", func(p *project.Project) {
		p.Materials[1].Class = material.Mineral
		benchOf(p).Storage.OpenTime = q[quantity.Duration]("3 h")
	}, "storage_measure", Caution, benchAt + "/storage/equilibrium"},
	{"left open in the freezer", func(p *project.Project) {
		benchOf(p).Storage = material.Storage{
			Temperature: q[quantity.Temperature]("-18 degC"), Humidity: q[quantity.Fraction]("50 %"), OpenTime: q[quantity.Duration]("3 h"),
		}
	}, "storage_air_beyond", Caution, benchAt + "/storage/equilibrium"},
	{"law without an end", func(p *project.Project) {
		benchOf(p).Storage = material.Storage{
			Monolayer: q[quantity.Fraction]("5 %"), GABC: q[quantity.Factor]("10"), GABK: q[quantity.Factor]("1"),
			Humidity: q[quantity.Fraction]("100 %"), OpenTime: q[quantity.Duration]("3 h"),
		}
	}, "storage_impossible", Caution, benchAt + "/storage/equilibrium"},
	{"damp cellar", func(p *project.Project) { benchOf(p).Storage.Humidity = q[quantity.Fraction]("95 %") }, "humid_store", Info, benchAt + "/storage/humidity"},
	{"no preparation", func(*project.Project) {}, "preparation_missing", Info, benchAt + "/preparation/steps"},
	{"step without a yield", func(p *project.Project) { steps(p, material.Step{Kind: material.Grind}) }, "step_yield_missing", Caution, benchAt + "/preparation/steps/0/yield"},
	{"step that leaves nothing", func(p *project.Project) {
		steps(p, material.Step{Kind: material.Grind, Yield: q[quantity.Fraction]("0 %")})
	}, "step_yield_impossible", Caution, benchAt + "/preparation/steps/0/yield"},
	{"drying that wets", func(p *project.Project) {
		steps(p, material.Step{Kind: material.Dry, MoistureIn: q[quantity.Fraction]("5 %"), MoistureOut: q[quantity.Fraction]("10 %")})
	}, "step_gains", Caution, benchAt + "/preparation/steps/0/moisture_out"},
	{"more than all, ground again", func(p *project.Project) {
		steps(p, material.Step{Kind: material.Sift, Yield: q[quantity.Fraction]("120 %"), Recycled: q[quantity.Fraction]("50 %")})
	}, "step_yield_impossible", Caution, benchAt + "/preparation/steps/0/yield"},
	{"no wet price", func(p *project.Project) {
		steps(p, material.Step{Kind: material.Grind, Yield: q[quantity.Fraction]("95 %")})
	}, "preparation_unpriced", Caution, benchAt + "/preparation/wet_price"},
	{"energy of a run of unknown size", func(p *project.Project) {
		prep := steps(p, material.Step{Yield: q[quantity.Fraction]("95 %"), Energy: q[quantity.Energy]("1 kWh")})
		prep.WetPrice, prep.Transport = q[quantity.PricePerMass]("0 EUR/kg"), q[quantity.PricePerMass]("0 EUR/kg")
	}, "preparation_unpriced", Caution, benchAt + "/preparation/wet_mass"},
	{"solvent", func(p *project.Project) {
		steps(p, material.Step{Kind: material.Extract, Yield: q[quantity.Fraction]("85 %")})
	}, "safety_solvent", Caution, benchAt + "/preparation/steps/0/kind"},
	{"no sieves", func(*project.Project) {}, "sieving_missing", Info, benchAt + "/sieving/sieves"},
	{"empty rows only", func(p *project.Project) { stack(p, "10", "", "", "", "") }, "sieving_empty", Caution, benchAt + "/sieving/sieves"},
	{"row without a mass", func(p *project.Project) { goodStack(p).Sieves[1].Retained = quantity.Of[quantity.Mass]{} }, "sieve_row_unread", Caution, benchAt + "/sieving/sieves/1/retained"},
	{"neither pan nor charge", func(p *project.Project) { goodStack(p).Pan = quantity.Of[quantity.Mass]{} }, "sieve_pan_missing", Caution, benchAt + "/sieving/pan"},
	{"charge below what lies on the sieves", func(p *project.Project) {
		s := goodStack(p)
		s.Pan, s.Charge = quantity.Of[quantity.Mass]{}, q[quantity.Mass]("50 g")
	}, "sieve_charge_below", Caution, benchAt + "/sieving/charge"},
	{"nothing anywhere", func(p *project.Project) { stack(p, "0", "125", "0", "63", "0") }, "sieve_nothing", Caution, benchAt + "/sieving/pan"},
	{"one sieve twice", func(p *project.Project) { stack(p, "20", "125", "5", "125", "6", "63", "30") }, "sieve_twice", Caution, benchAt + "/sieving/sieves/1/opening"},
	{"some lost", func(p *project.Project) { goodStack(p).Charge = q[quantity.Mass]("101 g") }, "sieve_loss", Caution, benchAt + "/sieving/charge"},
	{"much lost", func(p *project.Project) { goodStack(p).Charge = q[quantity.Mass]("110 g") }, "sieve_loss_large", Caution, benchAt + "/sieving/charge"},
	{"more than was charged", func(p *project.Project) { goodStack(p).Charge = q[quantity.Mass]("95 g") }, "sieve_gain", Caution, benchAt + "/sieving/charge"},
	{"one sieve", func(p *project.Project) { stack(p, "60", "125", "40") }, "sieve_single", Info, benchAt + "/sieving/sieves"},
	{"wrong order", func(p *project.Project) { stack(p, "20", "63", "30", "125", "5", "45", "10") }, "sieve_order", Caution, benchAt + "/sieving/sieves/1/opening"},
	{"no such sieve", func(p *project.Project) { stack(p, "20", "130", "5", "63", "30", "45", "10") }, "sieve_not_nominal", Info, benchAt + "/sieving/sieves/0/opening"},
	{"fines below the stack", func(p *project.Project) { goodStack(p) }, "size_below", Info, benchAt + "/sieving/sieves"},
	{"coarse above the stack", func(p *project.Project) { stack(p, "10", "90", "60", "45", "30") }, "size_above", Info, benchAt + "/sieving/sieves"},
	{"no check sieve", func(p *project.Project) { goodStack(p) }, "top_size_unknown", Info, benchAt + "/sieving/check_sieve"},
	{"stack of the powder as it was ground", func(p *project.Project) {
		stack(p, "60", "250", "5", "125", "35").CheckSieve = q[quantity.Length]("125 um")
	}, "stack_above_check", Info, benchAt + "/sieving/check_sieve"},
	{"powder that takes no room", func(p *project.Project) { displaced(p, "392.2 g") }, "grain_impossible", Caution, benchAt + "/grain/full_with_powder"},
	{"powder that is more water than it took room", func(p *project.Project) {
		displaced(p, "365 g")
		benchOf(p).Grain.Moisture = q[quantity.Fraction]("90 %")
	}, "grain_too_wet", Caution, benchAt + "/grain/moisture"},
	{"tapped looser than poured", func(p *project.Project) { heap(p, "150 mL", "160 mL") }, "tapped_looser", Caution, benchAt + "/grain/tapped_volume"},
	{"heap denser than its grains", func(p *project.Project) { heap(p, "80 mL", "60 mL") }, "packing_impossible", Caution, benchAt + "/grain/tapped_volume"},
	{"very dense heap", func(p *project.Project) { heap(p, "100 mL", "85 mL") }, "packing_dense", Info, benchAt + "/grain/tapped_volume"},
	{"hot water", func(p *project.Project) {
		displaced(p, "365 g")
		benchOf(p).Grain.LiquidTemperature = q[quantity.Temperature]("60 degC")
	}, "liquid_unknown", Caution, benchAt + "/grain/liquid_density"},
	{"no nozzle", func(p *project.Project) { goodStack(p) }, "nozzle_missing", Info, "/print/nozzle"},
	{"nothing known of coarse grains", func(p *project.Project) { nozzle(p, "0.4 mm") }, "clog_evidence_missing", Info, benchAt + "/sieving/sieves"},
	{"grains above the bore", func(p *project.Project) { nozzle(p, "0.4 mm"); stack(p, "60", "425", "5", "250", "35") }, "grains_over_bore", Stop, benchAt + "/sieving/check_sieve"},
	{"sieve as wide as the bore", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		goodStack(p).CheckSieve = q[quantity.Length]("355 um")
	}, "top_over_bore", Stop, benchAt + "/sieving/check_sieve"},
	{"sieve beyond the usual", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		goodStack(p).CheckSieve = q[quantity.Length]("300 um")
	}, "top_over_critical", Caution, benchAt + "/sieving/check_sieve"},
	{"60 mesh for 0.4 mm", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		goodStack(p).CheckSieve = q[quantity.Length]("250 um")
	}, "top_over_critical_practice", Caution, benchAt + "/sieving/check_sieve"},
	{"needles", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		goodStack(p).CheckSieve = q[quantity.Length]("125 um")
		p.Materials[1].AspectRatio = q[quantity.Factor]("4")
	}, "long_grains", Info, "/materials/1/aspect_ratio"},
	{"torn mesh", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		goodStack(p).CheckSieve = q[quantity.Length]("90 um")
		benchOf(p).Clogging.Inspections = []material.Inspection{{Mass: q[quantity.Mass]("10 g"), Size: q[quantity.Length]("133.3 um"), Found: 4}}
	}, "check_sieve_leaks", Caution, benchAt + "/clogging/inspections/0/size"},
	{"print without a content", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		benchOf(p).Clogging.Prints = []material.NozzleRun{printedRun("0.4 mm", "1 kg", 0), {Nozzle: q[quantity.Length]("0.4 mm"), Strand: q[quantity.Mass]("5 kg")}}
	}, "print_row_unread", Caution, benchAt + "/clogging/prints/1/content"},
	{"sample without a size", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		benchOf(p).Clogging.Inspections = []material.Inspection{{Mass: q[quantity.Mass]("10 g"), Found: 1}}
	}, "inspection_row_unread", Caution, benchAt + "/clogging/inspections/0/size"},
	{"printed much", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		benchOf(p).Clogging.Prints = []material.NozzleRun{{Nozzle: q[quantity.Length]("0.4 mm"), Strand: q[quantity.Mass]("500 kg"), Content: q[quantity.Fraction]("5 %")}}
	}, "clog_small", Info, benchAt + "/clogging/prints"},
	{"control sieving of an unknown sample", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		benchOf(p).Clogging.Control = material.Control{Opening: q[quantity.Length]("125 um"), Retained: q[quantity.Mass]("1 g")}
	}, "control_unread", Caution, benchAt + "/clogging/control/mass"},
	{"control sieving that keeps back more than all", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		benchOf(p).Clogging.Control = material.Control{Opening: q[quantity.Length]("125 um"), Mass: q[quantity.Mass]("100 g"), Retained: q[quantity.Mass]("200 g")}
	}, "control_unread", Caution, benchAt + "/clogging/control/retained"},
	{"coarse stack", func(p *project.Project) { nozzle(p, "0.4 mm"); stack(p, "5", "212", "15", "180", "40", "150", "40") }, "clog_from_stack", Caution, benchAt + "/sieving/check_sieve"},
	{"limit at what the oven may leave", func(p *project.Project) {
		run := goodLog(p)
		inTheRoom(run)
		p.Materials[0].MoistureLimit = q[quantity.Fraction]("46 ppm")
	}, "drying_limit_doubtful", Caution, benchAt + "/drying/runs/0/oven_temperature"},
	{"printed little", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		benchOf(p).Clogging.Prints = []material.NozzleRun{printedRun("0.4 mm", "1 kg", 1)}
	}, "clog_from_prints", Caution, benchAt + "/clogging/prints"},
	{"large grains in the sample", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		benchOf(p).Clogging.Inspections = []material.Inspection{inspected("500 um", "10 g", 2)}
	}, "grains_seen_over_bore", Stop, benchAt + "/clogging/inspections/0/size"},
	{"large grains on the second sieve", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		benchOf(p).Clogging.Control = material.Control{Opening: q[quantity.Length]("500 um"), Mass: q[quantity.Mass]("100 g"), Retained: q[quantity.Mass]("1 g")}
	}, "grains_seen_over_bore", Stop, benchAt + "/clogging/control/retained"},
	{"looked through", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		benchOf(p).Clogging.Inspections = []material.Inspection{{Mass: q[quantity.Mass]("10 g"), Size: q[quantity.Length]("100 um"), Found: 1}}
	}, "clog_from_inspections", Caution, benchAt + "/clogging/inspections"},
	{"sieved again", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		benchOf(p).Clogging.Control = material.Control{Opening: q[quantity.Length]("125 um"), Mass: q[quantity.Mass]("100 g"), Retained: q[quantity.Mass]("0.05 g")}
	}, "clog_from_retained", Caution, benchAt + "/sieving/check_sieve"},
	{"tail only", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		stack(p, "5", "212", "15", "180", "40", "150", "40").CheckSieve = q[quantity.Length]("212 um")
	}, "clog_from_tail", Caution, benchAt + "/sieving/check_sieve"},
	{"two powders that were printed", func(p *project.Project) {
		*p = twoPowders()
		for _, i := range []int{1, 3} {
			p.Materials[i].Powder.Clogging.Prints = []material.NozzleRun{printedRun("0.4 mm", "5 kg", 1)}
		}
	}, "clog_all_powders", Caution, "/print/nozzle"},
	{"fine check sieve", func(p *project.Project) {
		nozzle(p, "0.4 mm")
		goodStack(p).CheckSieve = q[quantity.Length]("90 um")
	}, "clog_from_top_size", Info, benchAt + "/clogging/prints"},
}

func displaced(p *project.Project, together string) {
	benchOf(p).Grain = material.Grain{
		Full: q[quantity.Mass]("352.1 g"), Powder: q[quantity.Mass]("40.0 g"), FullWithPowder: q[quantity.Mass](together),
		LiquidTemperature: q[quantity.Temperature]("21 degC"),
	}
}

func heap(p *project.Project, poured, tapped string) {
	benchOf(p).Grain = material.Grain{
		HeapMass: q[quantity.Mass]("100 g"), HeapVolume: q[quantity.Volume](poured), TappedVolume: q[quantity.Volume](tapped),
	}
}
