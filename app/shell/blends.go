package shell

import (
	"fyne.io/fyne/v2"

	"fillwright/internal/project"
)

// addBlend adds a copy of the blend at work, or an empty one.
func (b *Workbench) addBlend() {
	b.commit()
	p := b.session.history.Peek()
	if i := p.BlendByID(b.chosen); i >= 0 {
		b.copyBlend(b.chosen)
		return
	}
	var id project.BlendID
	err := b.Edit(b.words.Text("edit.add_blend"), "/blends", func(p *project.Project) error {
		name := b.words.Text("bar.first_blend")
		id = newBlendID(p, name)
		p.Blends = append(p.Blends, project.Blend{ID: id, Name: name})
		if p.Reference == "" {
			p.Reference = id
		}
		return nil
	})
	b.after(err, id)
}

func newBlendID(p *project.Project, name string) project.BlendID {
	return project.BlendID(project.UniqueID(name, func(id string) bool { return p.BlendByID(project.BlendID(id)) >= 0 }))
}

// copyBlend adds a blend with the same parts. What was measured on the original
// does not hold for the copy.
func (b *Workbench) copyBlend(original project.BlendID) {
	var id project.BlendID
	label := b.words.Say("edit.copy_blend", map[string]any{"Blend": b.blendName(original)})
	err := b.Edit(label, "/blends", func(p *project.Project) error {
		i := p.BlendByID(original)
		copied := project.Clone(*p).Blends[i]
		copied.Name = b.words.Say("bar.copy_name", map[string]any{"Blend": copied.Name})
		copied.ID = newBlendID(p, copied.Name)
		copied.MeasuredDensity, copied.MeasuredFlow = project.Blend{}.MeasuredDensity, project.Blend{}.MeasuredFlow
		id = copied.ID
		p.Blends = append(p.Blends, copied)
		return nil
	})
	b.after(err, id)
}

// after chooses a new blend, or says why there is none.
func (b *Workbench) after(err error, id project.BlendID) {
	if err != nil {
		b.say(err)
		return
	}
	b.choose(id)
}

func (b *Workbench) blendName(id project.BlendID) string {
	p := b.session.history.Peek()
	if i := p.BlendByID(id); i >= 0 {
		return p.Blends[i].Name
	}
	return ""
}

// blendMenu is what can be done to a blend.
func (b *Workbench) blendMenu(id string) []*fyne.MenuItem {
	blend := project.BlendID(id)
	return []*fyne.MenuItem{
		fyne.NewMenuItem(b.words.Text("bar.rename"), func() { b.renameBlend(blend) }),
		fyne.NewMenuItem(b.words.Text("bar.copy"), func() { b.copyBlend(blend) }),
		fyne.NewMenuItem(b.words.Text("bar.make_reference"), func() { b.makeReference(blend) }),
		fyne.NewMenuItemSeparator(),
		fyne.NewMenuItem(b.words.Text("bar.delete"), func() { b.deleteBlend(blend) }),
	}
}

func (b *Workbench) renameBlend(id project.BlendID) {
	b.askText(b.words.Text("bar.rename"), b.words.Text("field.blend.name"), b.blendName(id), func(name string) error {
		label := b.words.Say("edit.rename_blend", map[string]any{"Blend": b.blendName(id)})
		return b.Edit(label, "/blends", func(p *project.Project) error {
			p.Blends[p.BlendByID(id)].Name = name
			return nil
		})
	})
}

func (b *Workbench) makeReference(id project.BlendID) {
	label := b.words.Say("edit.make_reference", map[string]any{"Blend": b.blendName(id)})
	b.say(b.Edit(label, "/reference", func(p *project.Project) error {
		p.Reference = id
		return nil
	}))
}

func (b *Workbench) deleteBlend(id project.BlendID) {
	label := b.words.Say("edit.remove_blend", map[string]any{"Blend": b.blendName(id)})
	b.say(b.Edit(label, "/blends", func(p *project.Project) error {
		p.RemoveBlend(id)
		return nil
	}))
}
