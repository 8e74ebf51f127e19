package bench

import (
	"fmt"
	"math"

	"fillwright/internal/filler"
	"fillwright/internal/material"
	"fillwright/internal/melt"
	"fillwright/internal/project"
)

// Draw-down below and above which a strand hardly holds its diameter (common practice).
const (
	leastDrawDown = 1.05
	mostDrawDown  = 2
	// largestSwing is what may be left of a swing in the feed before it is worth a word
	// (own judgement).
	largestSwing = 50
)

// lineNotes notes what the line does with a blend.
func (n *notebook) lineNotes() {
	n.setPoints()
	n.longInHeat()
	n.beyondRates()
	n.drawDown()
	n.screens()
	n.fallsOff()
	n.groundSize()
	n.feedSwing()
	n.secondPass()
	n.abrasive()
	n.shutDown()
}

// setPoints holds the set points of the zones and of the print nozzle against the
// onset of every part.
func (n *notebook) setPoints() {
	for i := range n.plan.parts {
		onset := n.plan.heat[i].OnsetK
		if !finite(onset) {
			continue
		}
		values := func(t float64) map[string]any {
			return map[string]any{
				"Material": n.partName(i), "Temperature": celsius(t), "Onset": celsius(onset), "Above": number(t-onset, "K", 2),
			}
		}
		for k, zone := range n.project.Line.Zones {
			if e, given := zone.Estimate(); given && e.Value >= onset {
				v := values(e.Value)
				v["Number"] = k + 1
				n.add(Stop, PaneLine, fmt.Sprintf("/line/zones/%d", k), "zone_above_onset", v)
				break
			}
		}
		if e, given := n.project.Print.Temperature.Estimate(); given && e.Value >= onset {
			n.add(Caution, PaneMelt, "/print/temperature", "print_above_onset", values(e.Value))
		}
	}
}

// longInHeat warns of plant matter that stays too long in the melt for its
// temperature, and of a window that no temperature fits.
func (n *notebook) longInHeat() {
	w := &n.sheet.Melt.Window
	if w.Empty {
		n.add(Caution, PaneMelt, "/melt/temperature", "window_empty", map[string]any{
			"Low": number(w.Low.Value, "°C", 3), "High": number(w.High.Value, "°C", 3),
			"LowOf": n.partName(w.LowOf), "HighOf": n.partName(w.HighOf),
		})
	}
	organic := n.partWhere(func(m *material.Material) bool { return m.Kind == material.Filler && m.Class == material.Organic })
	if organic >= 0 && w.TooLong && n.powder >= 0 {
		n.add(Caution, PaneMelt, "/melt/temperature", "heat_severity", map[string]any{
			"Material": n.partName(organic), "Severity": number(w.Severity.Value, "min", 2),
			"Limit": number(melt.SeverityLimitS/60, "min", 2),
		})
	}
}

// beyondRates says that the rates of chain scission do not hold at this temperature.
func (n *notebook) beyondRates() {
	t, given := n.project.Melt.Temperature.Estimate()
	if !given || n.plan.water != waterKinetic || !n.wet || t.Value >= melt.ScissionLowK && t.Value <= melt.ScissionHighK {
		return
	}
	n.add(Caution, PaneMelt, "/melt/temperature", "outside_scission_range", map[string]any{
		"Temperature": celsius(t.Value), "Low": celsius(melt.ScissionLowK), "High": celsius(melt.ScissionHighK),
	})
}

func (n *notebook) drawDown() {
	r := n.sheet.Results[DrawDown]
	if !r.Known() || r.High >= leastDrawDown && r.Low <= mostDrawDown {
		return
	}
	id := "draw_down_high"
	if r.High < leastDrawDown {
		id = "draw_down_low"
	}
	n.add(Caution, PaneLine, "/line/machine/die_bore", id, map[string]any{"DrawDown": number(r.Value, "", 3), "Bore": n.project.Line.Machine.DieBore})
}

// fallsOff says that the pellets cannot carry the powder.
func (n *notebook) fallsOff() {
	content, limit := n.sheet.Loose(), n.sheet.Results[PickUpLimit]
	if n.powder < 0 || !limit.Known() || content.Value <= limit.High {
		return
	}
	id := "powder_falls_off"
	if !n.sheet.Line.GroundNeeded.Known() {
		id = "powder_falls_off_ground" // the same of ground pellets
	}
	n.add(Caution, PaneLine, "/line/spreading/ground", id, map[string]any{
		"Powder": n.partName(n.powder), "Content": number(content.Value, "wt%", 3),
		"Limit": number(limit.Value, "wt%", 2), "Low": number(limit.Low, "wt%", 2), "High": number(limit.High, "wt%", 2),
	})
}

// groundSize asks how fine the pellets are ground.
func (n *notebook) groundSize() {
	s := &n.project.Line.Spreading
	if n.powder >= 0 && s.Ground.Given() && s.Ground.SI() > 0 && !s.GroundSize.Given() {
		n.add(Info, PaneLine, "/line/spreading/ground_size", "ground_size_missing", map[string]any{"Share": s.Ground})
	}
}

func (n *notebook) feedSwing() {
	swing := n.sheet.Line.Swing
	if n.powder < 0 || !swing.Known() || swing.Value < largestSwing {
		return
	}
	n.add(Info, PaneLine, "/line/spreading/feed_period", "feed_swing", map[string]any{
		"Share": number(swing.Value, "%", 2), "Period": n.project.Line.Spreading.FeedPeriod,
	})
}

// secondPass tells what more passes through the line cost in time in the heat.
func (n *notebook) secondPass() {
	once := n.sheet.Results[MeltFlowWater]
	residence, passes := n.model.residence(n.x, &n.st), n.model.line.passes
	if n.powder < 0 || passes < 2 || n.plan.water != waterKinetic || !once.Known() || !finite(residence) {
		return
	}
	scratch := n.model.NewScratch()
	after, _ := n.model.waterFactorAfter(n.plan, n.x, &n.st, n.model.pinFor(project.PinWater, scratch), passes)
	if !finite(after) || n.plan.measuredFlow >= 0 || once.Value == 1 {
		return
	}
	stretch := math.Log(after) / math.Log(once.Value) // of the band, on the logarithm
	several := newResult(after, math.Pow(once.Low, stretch), math.Pow(once.High, stretch), "1", Estimated)
	n.add(Info, PaneLine, "/line/spreading/passes", "second_pass", map[string]any{
		"Passes": int(passes), "Time": number(passes*residence/60, "min", 2),
		"Factor": banded(several), "Once": banded(once),
	})
}

// screens holds the finest screen before the die against the grains of the powder, and
// against those that are critical for the nozzle.
func (n *notebook) screens() {
	finest, there := finestScreen(n.project)
	if !there || n.powder < 0 {
		return
	}
	const field = "/line/machine/screens"
	top := filler.LargestAperture(finest)
	values := map[string]any{"Screen": number(finest*1e6, "µm", 3), "Top": number(top*1e6, "µm", 3), "Powder": n.partName(n.powder)}
	if coarse := n.sheet.Results[SizeD90]; coarse.Known() && coarse.Value*1e-6 > finest {
		values["D90"] = number(coarse.Value, "µm", 3)
		n.add(Caution, PaneLine, field, "screens_fill", values)
	}
	if bore, parts := criticalSize(n.project); finite(bore) && top > bore/parts {
		values["Critical"], values["Nozzle"] = number(bore/parts*1e6, "µm", 3), number(bore*1e3, "mm", 2)
		n.add(Info, PaneLine, field, "screens_too_coarse", values)
	}
}

// abrasive names powders that wear brass nozzles and screws.
func (n *notebook) abrasive() {
	i := n.partWhere(func(m *material.Material) bool {
		return m.Kind == material.Filler && (m.Class == material.Mineral || m.Class == material.Fibre || m.Class == material.Shell || m.Class == material.Metal)
	})
	if i >= 0 && n.powder >= 0 && n.lineEntered() {
		n.add(Info, PaneLine, "/line/machine/die_bore", "abrasive_powder", map[string]any{"Material": n.partName(i)})
	}
}

// shutDown says how to stop a line with plant powder in it.
func (n *notebook) shutDown() {
	i := n.partWhere(func(m *material.Material) bool { return m.Kind == material.Filler && m.Class == material.Organic })
	if i >= 0 && n.powder >= 0 && n.lineEntered() {
		n.add(Info, PaneLine, "/line/zones", "shut_down_organic", map[string]any{"Material": n.partName(i)})
		n.add(Info, PaneLine, "/line/die_pressure", "safety_plugged_die", nil)
	}
}

// lineEntered reports whether anything was said of the line: before, its notes would
// only be in the way.
func (n *notebook) lineEntered() bool {
	l := &n.project.Line
	return len(l.Zones) > 0 || len(l.Outputs) > 0 || l.Machine.MeltVolume.Given() || l.ScrewSpeed.Given()
}

// flowTestNotes are those of the melt-flow tests, which concern no single blend.
func flowTestNotes(p *project.Project, m *Model) []Note {
	n := &notebook{project: p, model: m}
	for i := range m.tests {
		n.flowTest(i)
	}
	n.pinNotes()
	n.stableColour()
	return n.notes
}

// flowTest notes what keeps a test from being used.
func (n *notebook) flowTest(i int) {
	f, t := &n.model.tests[i], &n.project.Melt.Tests[i]
	if t.SetAside {
		return
	}
	values := map[string]any{"Test": testName(t, i)}
	add := func(severity Severity, below, id string) { n.add(severity, PaneMelt, testPointer(i)+below, id, values) }
	test := f.byMass
	if procedureOf(t) == project.Piston {
		test = f.byVolume
	}
	switch f.verdict {
	case FlowTestEmpty:
		add(Info, "/rows", "flow_test_empty")
	case FlowTestNoBlend:
		add(Caution, "/blend", "flow_test_no_blend")
	case FlowTestFew:
		values["Count"] = len(test.Rates)
		add(Caution, "/rows", "flow_test_few")
	case FlowTestUneven:
		values["Spread"] = number(100*test.Spread, "%", 2)
		add(Caution, "/rows", "flow_test_uneven")
	case FlowTestNoWeight:
		add(Caution, "/melt_density", "flow_test_no_density")
	case FlowTestOther:
		n.otherRecipe(i, values)
		add(Caution, "/content", "flow_test_other_content")
	case FlowTestGood:
		n.goodTest(i, add)
	}
	if bubbles := f.bubbles(); bubbles > 0 {
		values["Bubbles"] = bubbles
		add(Caution, "/rows", "flow_test_bubbles")
	}
}

// bubbles counts the pieces in which bubbles were seen.
func (f *testedFlow) bubbles() (n int) {
	for _, reading := range f.byMass.Readings {
		if reading == melt.ReadingBubbles {
			n++
		}
	}
	return n
}

// otherRecipe names the powder at a test and that of the recipe now.
func (n *notebook) otherRecipe(i int, values map[string]any) {
	f := &n.model.tests[i]
	values["Blend"], values["Now"] = n.project.Blends[f.blend].Name, number(100*f.now, "wt%", 3)
	values["Then"] = n.project.Melt.Tests[i].Content
}

// goodTest says what a good test of a filled blend still lacks to be a ratio.
func (n *notebook) goodTest(i int, add func(severity Severity, below, id string)) {
	f := &n.model.tests[i]
	switch {
	case plainPolymer(n.project, f.blend) != "" || f.compared:
	case f.plain < 0:
		add(Info, "/blend", "flow_test_no_plain")
	default:
		add(Info, "/rows", "flow_test_no_spread")
	}
}

// testName is what a test is called, its number while it has no name.
func testName(t *project.FlowTest, i int) string {
	if t.Name != "" {
		return t.Name
	}
	return fmt.Sprint(i + 1)
}

// pinImpossible are the notes that a part of the model cannot explain a measurement.
var pinImpossible = map[project.Pin]string{
	project.PinWater: "pin_impossible_water", project.PinGrains: "pin_impossible_grains", project.PinOil: "pin_impossible_oil",
}

// pinNotes says when the part of the model that is to be settled cannot explain the
// measurement.
func (n *notebook) pinNotes() {
	pin := n.model.pin
	if n.project.Melt.Pin == "" || len(n.project.Blends) == 0 {
		return
	}
	if pin.from == nil {
		n.add(Info, PaneMelt, "/melt/pin", "pin_no_measurement", nil)
		return
	}
	if x := n.model.best(); !finite(n.model.pinned(x, n.model.NewScratch())) {
		n.add(Caution, PaneMelt, "/melt/pin", pinImpossible[n.project.Melt.Pin], map[string]any{
			"Blend": n.project.Blends[pin.from.index].Name, "Factor": number(x[pin.from.measuredFlow], "", 3),
		})
	}
}

// stableColour says when the time of a stable colour does not suit the time in the line.
func (n *notebook) stableColour() {
	stable, given := n.project.Line.Changes.StableAfter.Estimate()
	if !given || n.model.line.plugFrom != plugUsual || math.IsNaN(n.model.meanS) {
		return
	}
	n.add(Caution, PaneLine, "/line/changes/stable_after", "stable_does_not_suit", map[string]any{
		"Stable": n.project.Line.Changes.StableAfter, "Mean": number(n.model.meanS/60, "min", 2),
		"Ratio": number(stable.Value/n.model.meanS, "", 2),
	})
}
