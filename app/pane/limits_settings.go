package pane

import (
	"fyne.io/fyne/v2"

	"fillwright/app/control"
	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// loadingField is a setting of what is allowed, with what is usual beside it while it is
// not given.
func loadingField[D quantity.Dim](p *Limits, place string, at func(*project.Loading) *quantity.Of[D]) *control.Field {
	look := p.lookOf(place)
	f := newQuantity(&p.base, place, look, func(d *project.Project) *quantity.Of[D] { return at(&d.Loading) })
	if look.remark == "" {
		p.remarks = append(p.remarks, func() {
			remark := ""
			if !at(&p.view.Project.Loading).Given() {
				remark = p.usual(place)
			}
			f.SetRemark(remark)
		})
	}
	if p.first == nil {
		p.first = f
	}
	return f
}

// usual says what stands in for a setting that is not given.
func (p *Limits) usual(place string) string {
	s := p.sheet()
	if place == "/loading/most" {
		return p.words().Say("pane.limits.usual_value", map[string]any{"Value": wording.Number{Value: s.Most, Unit: "wt%", Digits: 3}})
	}
	for i := range s.Limits {
		if l := &s.Limits[i]; l.Field == place && l.Threshold.Known() {
			return p.words().Say("pane.limits.usual_value", map[string]any{"Value": p.ranged(l.Threshold)})
		}
	}
	return ""
}

// settings are what the maker allows.
func (p *Limits) settings() fyne.CanvasObject {
	type l = project.Loading
	return section(p.text("pane.limits.settings"), control.NewCaption(p.text("pane.limits.settings_remark")), control.NewPairs(8,
		loadingField(p, "/loading/most", func(s *l) *fraction { return &s.Most }),
		loadingField(p, "/loading/clog_chance", func(s *l) *fraction { return &s.ClogChance }),
		loadingField(p, "/loading/top_share", func(s *l) *fraction { return &s.TopShare }),
		loadingField(p, "/loading/pick_up", func(s *l) *fraction { return &s.PickUp }),
		loadingField(p, "/loading/viscosity_rise", func(s *l) *quantity.Of[quantity.Factor] { return &s.ViscosityRise }),
		loadingField(p, "/loading/molar_mass_loss", func(s *l) *fraction { return &s.MolarMassLoss }),
		loadingField(p, "/loading/bubbles", func(s *l) *fraction { return &s.Bubbles }),
		loadingField(p, "/loading/water_share", func(s *l) *fraction { return &s.WaterShare }),
		loadingField(p, "/loading/strength_kept", func(s *l) *fraction { return &s.StrengthKept }),
		loadingField(p, "/loading/floor_flat", func(s *l) *pressure { return &s.FloorFlat }),
		loadingField(p, "/loading/floor_upright", func(s *l) *pressure { return &s.FloorUpright }),
		loadingField(p, "/loading/stiffness_kept", func(s *l) *fraction { return &s.StiffnessKept }),
		loadingField(p, "/loading/cost_share", func(s *l) *fraction { return &s.CostShare })))
}

type pressure = quantity.Of[quantity.Pressure]
