package project

import (
	"reflect"
	"slices"

	"fillwright/internal/material"
)

// Clone returns a copy of p that shares no memory with it, except the bytes of
// its texts, which never change.
func Clone(p Project) Project {
	p.Materials = cloneEach(p.Materials, func(m material.Material) material.Material { return m.Clone() })
	p.Blends = cloneEach(p.Blends, cloneBlend)
	p.Extra = slices.Clone(p.Extra)

	p.Spool = cloneSpool(p.Spool)
	p.Batch.Extra = slices.Clone(p.Batch.Extra)
	p.Cost.Extra = slices.Clone(p.Cost.Extra)
	p.Melt = cloneMelt(p.Melt)
	p.Line = cloneLine(p.Line)
	p.Print.Extra = slices.Clone(p.Print.Extra)
	p.Plan.Contents = slices.Clone(p.Plan.Contents)
	p.Plan.Extra = slices.Clone(p.Plan.Extra)
	p.Strength.Extra = slices.Clone(p.Strength.Extra)
	p.Strength.Points = cloneEach(p.Strength.Points, func(s StrengthPoint) StrengthPoint { s.Extra = slices.Clone(s.Extra); return s })
	p.Loading.Extra = slices.Clone(p.Loading.Extra)
	p.Loading.Efforts = cloneEach(p.Loading.Efforts, func(e Effort) Effort { e.Extra = slices.Clone(e.Extra); return e })
	return p
}

func cloneBlend(b Blend) Blend {
	b.Parts = cloneEach(b.Parts, clonePart)
	b.Evenness.Loadings = slices.Clone(b.Evenness.Loadings)
	b.Evenness.Extra = slices.Clone(b.Evenness.Extra)
	b.Extra = slices.Clone(b.Extra)
	return b
}

func clonePart(p Part) Part {
	p.Extra = slices.Clone(p.Extra)
	return p
}

func cloneMelt(m Melt) Melt {
	m.Extra = slices.Clone(m.Extra)
	m.Tests = cloneEach(m.Tests, func(t FlowTest) FlowTest {
		t.Extra = slices.Clone(t.Extra)
		t.Rows = cloneEach(t.Rows, func(r FlowRow) FlowRow { r.Extra = slices.Clone(r.Extra); return r })
		return t
	})
	return m
}

func cloneLine(l Line) Line {
	l.Extra = slices.Clone(l.Extra)
	l.Machine = cloneMachine(l.Machine)
	l.Zones = slices.Clone(l.Zones)
	l.Outputs = cloneEach(l.Outputs, func(o Output) Output { o.Extra = slices.Clone(o.Extra); return o })
	l.Spreading.Extra = slices.Clone(l.Spreading.Extra)
	l.Changes.Extra = slices.Clone(l.Changes.Extra)
	l.Changes.Samples = cloneEach(l.Changes.Samples, func(s PurgeSample) PurgeSample { s.Extra = slices.Clone(s.Extra); return s })
	l.Changes.Sequence = cloneEach(l.Changes.Sequence, func(c Change) Change { c.Extra = slices.Clone(c.Extra); return c })
	l.Runs = cloneEach(l.Runs, cloneRun)
	return l
}

func cloneMachine(m Machine) Machine {
	m.Extra = slices.Clone(m.Extra)
	m.Screens = slices.Clone(m.Screens)
	return m
}

func cloneRun(r LineRun) LineRun {
	r.Extra = slices.Clone(r.Extra)
	r.Zones = cloneEach(r.Zones, func(z ZoneReading) ZoneReading { z.Extra = slices.Clone(z.Extra); return z })
	r.Events = cloneEach(r.Events, func(e RunEvent) RunEvent { e.Extra = slices.Clone(e.Extra); return e })
	r.Photos = slices.Clone(r.Photos)
	return r
}

func cloneSpool(s Spool) Spool {
	s.Extra = slices.Clone(s.Extra)
	s.Readings = slices.Clone(s.Readings)
	s.Reel.Extra = slices.Clone(s.Reel.Extra)
	s.Bend.Extra = slices.Clone(s.Bend.Extra)
	s.Bend.Tests = cloneEach(s.Bend.Tests, func(t BendTest) BendTest { t.Extra = slices.Clone(t.Extra); return t })
	s.Made = cloneEach(s.Made, func(m MadeSpool) MadeSpool {
		m.Extra = slices.Clone(m.Extra)
		m.Prints = cloneEach(m.Prints, func(t PrintTaken) PrintTaken { t.Extra = slices.Clone(t.Extra); return t })
		m.Trace = cloneTrace(m.Trace)
		return m
	})
	return s
}

func cloneTrace(t Trace) Trace {
	t.Extra = slices.Clone(t.Extra)
	t.Columns = cloneEach(t.Columns, func(c TraceColumn) TraceColumn { c.Extra = slices.Clone(c.Extra); return c })
	t.Summary.Extra = slices.Clone(t.Summary.Extra)
	t.Summary.Lumps = cloneEach(t.Summary.Lumps, func(l TraceLump) TraceLump { l.Extra = slices.Clone(l.Extra); return l })
	t.Summary.Waves = cloneEach(t.Summary.Waves, func(w TraceWave) TraceWave { w.Extra = slices.Clone(w.Extra); return w })
	return t
}

func cloneEach[T any](list []T, clone func(T) T) []T {
	out := slices.Clone(list)
	for i := range out {
		out[i] = clone(out[i])
	}
	return out
}

// sizeOf counts the bytes that p holds. Texts that two projects share count for
// both, so the sum over a history is an upper bound.
func sizeOf(p *Project) int {
	v := reflect.ValueOf(p).Elem()
	return int(v.Type().Size()) + held(v)
}

// held counts the bytes that a value points to.
func held(v reflect.Value) int {
	bytes := 0
	switch v.Kind() {
	case reflect.String:
		bytes = v.Len()
	case reflect.Struct:
		for i := range v.NumField() {
			bytes += held(v.Field(i))
		}
	case reflect.Slice:
		bytes = v.Cap() * int(v.Type().Elem().Size())
		if v.Type().Elem().Kind() == reflect.Uint8 {
			return bytes
		}
		for i := range v.Len() {
			bytes += held(v.Index(i))
		}
	}
	return bytes
}
