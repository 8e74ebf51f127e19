package bench

import (
	"fillwright/internal/blend"
	"fillwright/internal/material"
	"fillwright/internal/project"
)

// BatchSheet is what to put on the scale for one run.
type BatchSheet struct {
	Known   bool
	Rows    []BatchRow
	Total   BatchRow
	TargetG float64 // strand on the spools
	ChargeG float64 // what must go in so that the target comes out, dry
	LetDown LetDown
}

// BatchRow is one line of the sheet. The charge is unknown while losses or the
// spool are, the shares stand all the same.
type BatchRow struct {
	Material      material.ID
	Name          string
	MassPercent   float64
	VolumePercent float64 // NaN-free: HasVolume says whether it is known
	HasVolume     bool
	DryG          float64
	WaterG        float64
	WeighG        float64
	HasWeigh      bool    // the moisture is known, so the mass to weigh is
	ScaleError    float64 // what rounding to the scale's step can do, relative
}

// LetDown is the way to the blend through a masterbatch.
type LetDown struct {
	Wanted      bool
	Possible    bool
	Share       float64 // masterbatch in the mix, mass fraction
	Ratio       float64 // parts of resin to one part of masterbatch
	MasterG     float64
	ResinG      float64
	MasterIsPct float64 // filler content of the masterbatch, wt%
}

// nominalState composes a blend at the best estimates, and brings it into the line.
func (m *Model) nominalState(b *blendPlan) (state, bool) {
	if b.kept != nil {
		return b.kept.state, b.kept.whole
	}
	x, s := m.best(), m.NewScratch()
	var st state
	ok := compose(b, x, s, &st)
	if ok {
		m.toLine(b, x, &st)
	}
	return st, ok
}

// batchSheet weighs out one run of a blend.
func batchSheet(p *project.Project, m *Model, index int) BatchSheet {
	b := &m.blends[index]
	st, ok := m.nominalState(b)
	if !ok {
		return BatchSheet{}
	}
	sheet := BatchSheet{Known: true}
	x := m.best()
	target := m.set.spools * get(x, m.set.netMass)
	fixed := get(x, m.set.startUp)
	if !b.isReference {
		fixed += get(x, m.set.purge)
	}
	charge := blend.Charge(target, fixed, get(x, m.set.scrap))
	if !finite(charge) || target == 0 {
		charge, target = 0, 0
	}
	sheet.TargetG, sheet.ChargeG = target*1000, charge*1000
	resolution, hasScale := scaleStep(p).Estimate()
	for i := range b.parts {
		row := batchRow(p, b, i, &st, x, charge)
		if hasScale && row.WeighG > 0 {
			row.ScaleError = blend.WeighingError(row.WeighG/1000, resolution.Value)
		}
		sheet.Rows = append(sheet.Rows, row)
	}
	sheet.Total = total(sheet.Rows)
	sheet.LetDown = letDown(p, index, &st, charge)
	return sheet
}

func batchRow(p *project.Project, b *blendPlan, i int, st *state, x []float64, chargeKg float64) BatchRow {
	mat := &p.Materials[p.MaterialByID(p.Blends[b.index].Parts[i].Material)]
	row := BatchRow{Material: mat.ID, Name: nameOf(mat), MassPercent: st.w[i] * 100}
	if finite(st.v[i]) {
		row.VolumePercent, row.HasVolume = st.v[i]*100, true
	}
	dry := st.w[i] * chargeKg
	row.DryG = dry * 1000
	water := dry * waterOf(&b.parts[i], x)
	if finite(water) {
		row.WaterG, row.WeighG, row.HasWeigh = water*1000, (dry+water)*1000, true
	}
	return row
}

func total(rows []BatchRow) BatchRow {
	t := BatchRow{HasVolume: true, HasWeigh: true}
	for _, r := range rows {
		t.MassPercent += r.MassPercent
		t.VolumePercent += r.VolumePercent
		t.DryG += r.DryG
		t.WaterG += r.WaterG
		t.WeighG += r.WeighG
		t.HasVolume = t.HasVolume && r.HasVolume
		t.HasWeigh = t.HasWeigh && r.HasWeigh
	}
	return t
}

// letDown splits the charge into masterbatch and resin.
func letDown(p *project.Project, index int, st *state, chargeKg float64) LetDown {
	content, wanted := p.Blends[index].Masterbatch.Estimate()
	if !wanted {
		return LetDown{}
	}
	l := LetDown{Wanted: true, MasterIsPct: content.Value * 100}
	resin := (st.powder - st.loose) / (1 - st.loose) // regrind is let down into, with the powder that it holds
	l.Share, l.Ratio, l.Possible = blend.LetDown(st.powder, content.Value, resin)
	if l.Possible {
		l.MasterG, l.ResinG = chargeKg*l.Share*1000, chargeKg*(1-l.Share)*1000
	}
	return l
}
