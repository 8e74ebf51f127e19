package bench

import (
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

// What an oven leaves is not known where its temperature or the room is not given,
// beyond the tables and below the dew point of the room's air. It is taken as nothing
// then, and may be up to what a humid room leaves. Own judgement, all four: that room,
// an oven of which no temperature is given, and the humidity in one that is below the
// dew point.
const (
	humidRoomK = 303.15
	humidRoomH = 0.8
	coolOvenK  = 333.15
	mostHumid  = 0.95
)

// ovenFloor is the moisture on the dry basis that an oven leaves in a powder.
type ovenFloor struct {
	dry       float64 // 0 while not known
	low, high float64 // what it may be
	from      string  // see RunSheet.FloorFrom
	beyond    bool    // not known although all that it takes is given
}

func (f ovenFloor) known() bool { return f.from != "" }

// floorIn is the floor of an oven. Minerals and metals hold next to nothing; plant
// powder as much as wood would, within woodSpread.
func floorIn(m *material.Material, log *material.DryingRun) ovenFloor {
	if !likeWood(m) {
		return ovenFloor{from: "class"}
	}
	room, humid, oven := log.RoomTemperature, log.RoomHumidity, log.OvenTemperature
	given := room.Given() && humid.Given() && oven.Given()
	if given {
		dry := filler.OvenFloor(room.SI(), humid.SI(), oven.SI())
		if finite(dry) && filler.WoodMoistureKnown(oven.SI()) {
			minus, plus := floorOff(log, dry)
			return ovenFloor{dry: dry, low: math.Max(0, dry-minus), high: dry + plus, from: "wood"}
		}
	}
	return ovenFloor{high: humidFloor(log) * (1 + woodSpread), beyond: given}
}

// orOf is a floor or, for plant powder of which room and oven say nothing, what the
// maker knows of the oven.
func (f ovenFloor) orOf(machine *project.Machine, m *material.Material) ovenFloor {
	e, given := machine.OvenFloor.Estimate()
	if f.known() || !given || !likeWood(m) {
		return f
	}
	return ovenFloor{
		dry: filler.DryBasis(e.Value), low: filler.DryBasis(math.Max(0, e.Low)), high: filler.DryBasis(e.High), from: "machine",
	}
}

// floorOff is how far a floor may be off by the spread of wood, and by the ± of the
// room and of the oven. Where one of these leads where the floor is not known, it may
// be up to what a humid room leaves.
func floorOff(log *material.DryingRun, dry float64) (minus, plus float64) {
	minus, plus = woodSpread*dry, woodSpread*dry
	room, humid, oven := log.RoomTemperature, log.RoomHumidity, log.OvenTemperature
	for _, off := range [][3]float64{{half(room), 0, 0}, {0, half(humid), 0}, {0, 0, half(oven)}} {
		for _, side := range []float64{-1, 1} {
			humidity := math.Min(math.Max(humid.SI()+side*off[1], 0), 1)
			there := filler.OvenFloor(room.SI()+side*off[0], humidity, oven.SI()+side*off[2])
			if !finite(there) {
				there = math.Max(dry, humidFloor(log))
			}
			minus, plus = math.Hypot(minus, math.Max(0, dry-there)), math.Hypot(plus, math.Max(0, there-dry))
		}
	}
	return minus, plus
}

// humidFloor is what wood keeps in an oven in a humid room, or in the room itself
// where what is given of it is worse.
func humidFloor(log *material.DryingRun) float64 {
	roomK, roomH, ovenK := humidRoomK, humidRoomH, coolOvenK
	if log.RoomTemperature.Given() {
		roomK = math.Max(roomK, log.RoomTemperature.SI())
	}
	if log.RoomHumidity.Given() {
		roomH = math.Max(roomH, log.RoomHumidity.SI())
	}
	if log.OvenTemperature.Given() {
		ovenK = math.Min(math.Max(log.OvenTemperature.SI(), filler.WoodColdestK), filler.WoodHottestK)
	}
	humidity := filler.HumidityAt(roomH, roomK, ovenK)
	if !(humidity < mostHumid) { // below freezing it is not known either
		humidity = mostHumid
	}
	return filler.WoodMoisture(ovenK, humidity)
}

// within is a floor of which a dry mass that was entered says that it is no more than
// most, the moisture of the last weighing. Where even the least that wood keeps is
// more, wood says nothing of this powder.
func (f ovenFloor) within(most float64) ovenFloor {
	if f.dry > most {
		f.dry, f.from = most, "weighed"
	}
	if f.low > most {
		f.low = 0
	}
	f.high = math.Min(f.high, most)
	return f
}

// onFloor is a curve with the floor that it was fitted for.
type onFloor struct {
	dry   float64
	curve *filler.DryingCurve
}

// atFloor is the curve of a run if its oven left another moisture. To a dry mass that
// was entered it levels off elsewhere, and is fitted anew; one that cannot be says
// nothing.
func (r *dryRun) atFloor(dry float64, o filler.DryingOptions) onFloor {
	if !r.entered || r.curve == nil || dry == r.floor.dry {
		return onFloor{dry, r.curve}
	}
	o.FinalKg = r.dryKg * (1 + dry)
	curve, err := filler.FitDrying(r.rows, r.curve.Law, o)
	if err != nil {
		return onFloor{r.floor.dry, r.curve}
	}
	return onFloor{dry, &curve}
}
