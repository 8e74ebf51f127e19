package project

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestMachineComesBack(t *testing.T) {
	p := full(t)
	data, err := EncodeMachine(p.Line.Machine)
	require.NoError(t, err)
	back, err := DecodeMachine(data)
	require.NoError(t, err)
	assert.Equal(t, p.Line.Machine, back)
	assert.True(t, strings.HasPrefix(string(data), "{\n  \"format\": \"fillwright machine\",\n  \"version\": 1,\n"))

	empty, err := EncodeMachine(Machine{})
	require.NoError(t, err)
	back, err = DecodeMachine(empty)
	require.NoError(t, err)
	assert.Equal(t, Machine{}, back)
}

// TestUnknownMembersOfAMachineStay: what a newer program wrote is kept.
func TestUnknownMembersOfAMachineStay(t *testing.T) {
	m, err := DecodeMachine([]byte(`{"format": "fillwright machine", "version": 1, "machine": {"name": "A", "vented": true}}`))
	require.NoError(t, err)
	data, err := EncodeMachine(m)
	require.NoError(t, err)
	assert.Contains(t, string(data), `"vented": true`)
}

var badMachines = []struct{ text, pointer, id string }{
	{`{`, "", "project.cut_short"},
	{`[]`, "", "project.not_an_object"},
	{`{"format": "fillwright project", "version": 2}`, "/format", "project.not_a_machine"},
	{`{"format": "fillwright machine", "version": 2, "machine": {}}`, "/version", "project.machine_version"},
	{`{"format": "fillwright machine", "version": "1", "machine": {}}`, "/version", "project.machine_version"},
	{`{"format": "fillwright machine", "version": 1}`, "/machine", "project.machine_missing"},
	{`{"format": "fillwright machine", "version": 1, "machine": {"die_bore": "2 kg"}}`, "/machine/die_bore", "quantity.wrong_unit"},
	{`{"format": "fillwright machine", "version": 1, "machine": {"die_bore": "2 m"}}`, "/machine/die_bore", "project.outside_limits"},
	{`{"format": "fillwright machine", "version": 1, "machine": {"name": null}}`, "/machine/name", ""},
	{`{"format": "fillwright machine", "version": 1, "machine": {"name": "A", "name": "B"}}`, "/machine/name", ""},
}

func TestBadMachinesAreRefused(t *testing.T) {
	for _, c := range badMachines {
		_, err := DecodeMachine([]byte(c.text))
		var b *Broken
		require.ErrorAs(t, err, &b, c.text)
		assert.Equal(t, c.pointer, b.Pointer, c.text)
		if c.id != "" {
			id := b.ID
			var cause interface {
				Message() (string, map[string]any)
			}
			if errors.As(b.Cause, &cause) {
				id, _ = cause.Message()
			}
			assert.Equal(t, c.id, id, c.text)
		}
	}
}

// FuzzDecodeMachine: no input makes it panic, every refusal has a text, and what is
// accepted survives writing.
func FuzzDecodeMachine(f *testing.F) {
	for _, c := range badMachines {
		f.Add([]byte(c.text))
	}
	data, err := EncodeMachine(full(f).Line.Machine)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := DecodeMachine(data)
		if err != nil {
			var b *Broken
			if !errors.As(err, &b) || b.ID == "" {
				t.Fatalf("a refusal without a text: %v", err)
			}
			return
		}
		if _, err := EncodeMachine(m); err != nil {
			t.Fatalf("accepted, but not written: %v", err)
		}
	})
}
