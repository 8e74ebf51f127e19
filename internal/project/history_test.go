package project

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/material"
)

const plenty = 1 << 30

func title(text string) func(*Project) error {
	return func(p *Project) error { p.Title = text; return nil }
}

func TestEditUndoRedo(t *testing.T) {
	h := NewHistory(New("EUR"), plenty)
	assert.False(t, h.CanUndo())
	assert.False(t, h.CanRedo())
	_, _, ok := h.Undo()
	assert.False(t, ok)
	_, _, ok = h.Redo()
	assert.False(t, ok)

	require.NoError(t, h.Edit("Change title", "/title", title("one")))
	require.NoError(t, h.Edit("Change title again", "/title", title("two")))
	assert.Equal(t, "two", h.Peek().Title)
	assert.Equal(t, "Change title again", h.UndoLabel())
	assert.Empty(t, h.RedoLabel())

	label, place, ok := h.Undo()
	assert.Equal(t, []any{"Change title again", "/title", true}, []any{label, place, ok})
	assert.Equal(t, "one", h.Peek().Title)
	assert.Equal(t, "Change title", h.UndoLabel())
	assert.Equal(t, "Change title again", h.RedoLabel())

	label, place, ok = h.Redo()
	assert.Equal(t, []any{"Change title again", "/title", true}, []any{label, place, ok})
	assert.Equal(t, "two", h.Peek().Title)

	h.Undo()
	require.NoError(t, h.Edit("Other", "/title", title("three")))
	assert.False(t, h.CanRedo(), "an edit ends what could be redone")
}

func TestFailedEditChangesNothing(t *testing.T) {
	h := NewHistory(full(t), plenty)
	before, revision := h.Project(), h.Revision()
	calls := 0
	h.OnChange(func() { calls++ })

	wrong := errors.New("wrong")
	require.ErrorIs(t, h.Edit("x", "", func(p *Project) error {
		p.Title = "half done"
		p.Blends[0].Parts[0].Material = "gone"
		return wrong
	}), wrong)
	requireBroken(t, h.Edit("x", "", func(p *Project) error {
		p.Materials = nil
		return nil
	}), "/blends/0/parts/0/material", "project.material_unknown")
	assert.Panics(t, func() { _ = h.Edit("x", "", func(*Project) error { panic("a mistake") }) })

	assert.Equal(t, before, h.Project())
	assert.Equal(t, revision, h.Revision())
	assert.False(t, h.CanUndo())
	assert.False(t, h.Dirty())
	assert.Zero(t, calls)
	require.NoError(t, h.Edit("x", "", title("fine after all that")))
	assert.Equal(t, 1, calls)
}

func TestEditThatChangesNothingIsForgotten(t *testing.T) {
	h := NewHistory(full(t), plenty)
	require.NoError(t, h.Edit("one", "", title("one")))
	h.Undo()
	calls := 0
	h.OnChange(func() { calls++ })
	require.NoError(t, h.Edit("nothing", "", func(p *Project) error {
		p.Plan.Contents = append(p.Plan.Contents[:0:0], p.Plan.Contents...)
		p.Materials[1].Sources = []material.Source{} // as empty as before
		return nil
	}))
	assert.Zero(t, calls)
	assert.False(t, h.CanUndo())
	assert.True(t, h.CanRedo(), "what was undone can still be redone")
}

func TestSnapshotsShareNothingWithTheirEdits(t *testing.T) {
	h := NewHistory(full(t), plenty)
	var kept *Project
	sources := []material.Source{{Field: "density", Text: "a"}}
	require.NoError(t, h.Edit("x", "", func(p *Project) error {
		kept = p
		p.Materials[1].Sources = sources
		return nil
	}))
	kept.Title, kept.Blends[0].Name = "written later", "written later"
	sources[0].Text = "written later"
	copied := h.Project()
	copied.Blends[0].Name = "written later"
	assert.NotEqual(t, "written later", h.Peek().Title)
	assert.NotEqual(t, "written later", h.Peek().Blends[0].Name)
	assert.Equal(t, "a", h.Peek().Materials[1].Sources[0].Text)
}

func TestDirtyComparesRevisions(t *testing.T) {
	h := NewHistory(New("EUR"), plenty)
	assert.False(t, h.Dirty())
	require.NoError(t, h.Edit("1", "", title("1")))
	assert.True(t, h.Dirty())
	h.MarkSaved()
	assert.False(t, h.Dirty())
	require.NoError(t, h.Edit("2", "", title("2")))
	assert.True(t, h.Dirty())
	h.Undo()
	assert.False(t, h.Dirty(), "undone back to the saved state")
	h.Undo()
	assert.True(t, h.Dirty(), "undone beyond it")
	h.Redo()
	assert.False(t, h.Dirty())
	h.Undo()
	require.NoError(t, h.Edit("other", "", title("other")))
	assert.True(t, h.Dirty(), "the saved state is not in the history any more")
	h.Undo()
	assert.True(t, h.Dirty())
	require.NoError(t, h.Edit("1", "", title("1")))
	assert.True(t, h.Dirty(), "the same words, but nobody saved this state")
}

func TestSavedStateCanFallOut(t *testing.T) {
	h := NewHistory(New("EUR"), 1) // keeps one step back
	require.NoError(t, h.Edit("1", "", title("1")))
	require.NoError(t, h.Edit("2", "", title("2")))
	require.NoError(t, h.Edit("3", "", title("3")))
	for h.CanUndo() {
		h.Undo()
	}
	assert.Equal(t, "2", h.Peek().Title)
	assert.True(t, h.Dirty())
}

func TestHistoryIsBoundedByBytes(t *testing.T) {
	p := full(t)
	one := sizeOf(&p)
	h := NewHistory(p, 10*one)
	for i := range 100 {
		require.NoError(t, h.Edit(fmt.Sprint(i), "", title(fmt.Sprint("title number ", i))))
		total := 0
		for _, s := range h.states {
			assert.Equal(t, sizeOf(&s.project), s.bytes)
			total += s.bytes
		}
		require.Equal(t, total, h.bytes)
		require.LessOrEqual(t, h.bytes, 10*one)
		if i%7 == 0 {
			h.Undo()
			h.Undo()
		}
	}
	assert.Greater(t, len(h.states), 5)
	assert.Equal(t, "title number 99", h.Peek().Title)

	small := NewHistory(p, 1)
	require.NoError(t, small.Edit("x", "", title("x")))
	require.NoError(t, small.Edit("y", "", title("y")))
	assert.True(t, small.CanUndo(), "one step back always stays")
	assert.Len(t, small.states, 2)
}

func TestListenersAreToldOnce(t *testing.T) {
	h := NewHistory(New("EUR"), plenty)
	var seen []string
	cancel := h.OnChange(func() { seen = append(seen, "a:"+h.Peek().Title) })
	h.OnChange(func() { seen = append(seen, "b:"+h.Peek().Title) })
	require.NoError(t, h.Edit("x", "", func(p *Project) error {
		p.Title = "half"
		p.Title = "x"
		return nil
	}))
	assert.Equal(t, []string{"a:x", "b:x"}, seen)
	cancel()
	seen = nil
	h.Undo()
	h.Redo()
	h.MarkSaved()
	assert.Equal(t, []string{"b:", "b:x"}, seen)
}

func TestListenersMustNotEdit(t *testing.T) {
	for name, act := range map[string]func(*History){
		"edit": func(h *History) { _ = h.Edit("y", "", title("y")) },
		"undo": func(h *History) { h.Undo() },
		"redo": func(h *History) { h.Redo() },
	} {
		t.Run(name, func(t *testing.T) {
			h := NewHistory(New("EUR"), plenty)
			h.OnChange(func() { act(h) })
			assert.Panics(t, func() { _ = h.Edit("x", "", title("x")) })
			assert.Equal(t, "x", h.Peek().Title)
		})
	}
	h := NewHistory(New("EUR"), plenty)
	assert.Panics(t, func() {
		_ = h.Edit("x", "", func(*Project) error { return h.Edit("y", "", title("y")) })
	})
}

func TestRevisionNamesTheState(t *testing.T) {
	h := NewHistory(New("EUR"), plenty)
	first := h.Revision()
	require.NoError(t, h.Edit("1", "", title("1")))
	second := h.Revision()
	assert.NotEqual(t, first, second)
	h.Undo()
	assert.Equal(t, first, h.Revision())
	require.NoError(t, h.Edit("2", "", title("2")))
	assert.NotContains(t, []int{first, second}, h.Revision(), "no number is given twice")
}

// randomEdit changes something, or nothing, or fails.
func randomEdit(r *rand.Rand) func(*Project) error {
	return func(p *Project) error {
		switch r.IntN(6) {
		case 0:
			p.Title = fmt.Sprint("title ", r.IntN(5))
		case 1:
			id := UniqueID("blend", func(id string) bool { return p.BlendByID(BlendID(id)) >= 0 })
			p.Blends = append(p.Blends, Blend{ID: BlendID(id), Name: id})
		case 2:
			if len(p.Blends) > 0 {
				p.RemoveBlend(p.Blends[r.IntN(len(p.Blends))].ID)
			}
		case 3:
			p.Spool.Readings = p.Spool.Readings[:r.IntN(len(p.Spool.Readings)+1)]
		case 4:
			p.Reference = "gone"
		case 5:
			return errors.New("refused")
		}
		return nil
	}
}

// TestUndoAllRedoAll compares the history with a plain list of what it was.
func TestUndoAllRedoAll(t *testing.T) {
	for seed := range uint64(50) {
		r := rand.New(rand.NewPCG(seed, 1))
		h := NewHistory(full(t), plenty)
		model, at := []Project{h.Project()}, 0
		for range 60 {
			switch r.IntN(5) {
			case 0:
				if _, _, ok := h.Undo(); ok {
					at--
				}
			case 1:
				if _, _, ok := h.Redo(); ok {
					at++
				}
			default:
				revision := h.Revision()
				_ = h.Edit("x", "", randomEdit(r))
				if h.Revision() != revision {
					at++
					model = append(model[:at], h.Project())
				}
			}
			require.Equal(t, model[at], *h.Peek(), "seed %d", seed)
			require.NoError(t, Validate(h.Peek()))
		}
		for h.CanUndo() {
			h.Undo()
			at--
			require.Equal(t, model[at], *h.Peek(), "seed %d", seed)
		}
		require.Zero(t, at)
		assert.False(t, h.Dirty())
		for h.CanRedo() {
			h.Redo()
			at++
			require.Equal(t, model[at], *h.Peek(), "seed %d", seed)
		}
		require.Equal(t, len(model)-1, at)
	}
}
