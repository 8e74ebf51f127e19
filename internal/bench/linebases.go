package bench

// lineBases fills in what the figures of melt and line rest on.
func (c *compiler) lineBases(b *blendPlan, strand Basis) {
	l := &c.model.line
	set := func(basis Basis, figures ...Figure) {
		for _, f := range figures {
			b.basis[f] = basis
		}
	}
	rate := Estimated
	if b.flowBase.own {
		rate = Measured
	}
	set(rate, MeltFlowRate)
	set(weakest(rate, c.worst(b, func(p *partPlan) at { return p.melt })), MeltVolumeRate, ApparentViscosity)
	set(Estimated, MoistureLimit, VapourFraction, TemperatureMargin, RandomMixRSD, PickUpLimit, PickUpLimitWhole,
		CoatThickness, HeatPerKg, Conductivity, DrawDown)

	flow := c.basisAt(l.throughput)
	if l.from == throughputDrag {
		flow = Estimated
	}
	set(flow, Throughput)
	set(weakest(flow, strand, c.basisAt(c.model.set.diameter)), PullerSpeed)
	stands := Estimated // by the melt density
	set(stands, ResidenceTime)
	if c.model.set.residence >= 0 {
		set(c.basisAt(c.model.set.residence), ResidenceTime)
	}
	set(weakest(stands, c.basisAt(l.plug)), PurgeTime95, PurgeTime99, PurgeTime999, PurgeMass99, PurgeCost99)
	set(Measured, LumpsPerMetre, LumpChancePerPrint)
	set(weakest(Measured, strand, c.basisAt(c.model.set.diameter)), LumpsPerMetre)
}
