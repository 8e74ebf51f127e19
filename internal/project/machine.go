package project

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// A machine can be kept in a file of its own and taken into other projects.

// MachineFormat and MachineVersion stand at the head of a machine's file.
const (
	MachineFormat  = "fillwright machine"
	MachineVersion = 1
)

// machineFile is the file of a machine.
type machineFile struct {
	Format  string  `json:"format"`
	Version int     `json:"version"`
	Machine Machine `json:"machine"`
}

// EncodeMachine writes a machine as a file, in the form of a project's file. What it
// returns decodes to m.
func EncodeMachine(m Machine) ([]byte, error) {
	p := New("EUR") // a machine holds no prices
	p.Line.Machine = cloneMachine(m)
	if b := tidy(&p); b != nil {
		return nil, b
	}
	if err := Validate(&p); err != nil {
		return nil, err
	}
	m = p.Line.Machine
	data, err := json.Marshal(&machineFile{MachineFormat, MachineVersion, m}, jsontext.Multiline(true), jsontext.WithIndent("  "))
	if err != nil {
		return nil, fmt.Errorf("project: encode a machine: %w", err)
	}
	data = append(data, '\n')
	back, err := DecodeMachine(data)
	if err != nil {
		return nil, err
	}
	if !reflect.DeepEqual(back, m) {
		return nil, errors.New("project: a machine would not read back as it was written")
	}
	return data, nil
}

// DecodeMachine reads the file of a machine, as strictly as a project: the same limits
// and the same messages. Every refusal is a *Broken.
func DecodeMachine(data []byte) (Machine, error) {
	m, b := decodeMachine(data)
	if b != nil {
		return Machine{}, b
	}
	return m, nil
}

func decodeMachine(data []byte) (Machine, *Broken) {
	if len(data) > MaxBytes {
		return Machine{}, tooLarge()
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if b := scan(data); b != nil {
		return Machine{}, b
	}
	raw, b := machineIn(data)
	if b != nil {
		return Machine{}, b
	}
	// Within a project it meets the same reader as every other member.
	const above = "/line"
	project := fmt.Appendf(nil, `{"format": %q, "version": %d, "currency": "EUR", "line": {"machine": %s}}`, Format, Version, raw)
	p, _, b := decode(project)
	if b != nil {
		b.Pointer = strings.TrimPrefix(b.Pointer, above)
		return Machine{}, b
	}
	return p.Line.Machine, nil
}

// machineIn checks the head of a machine's file and finds the machine in it.
func machineIn(data []byte) (jsontext.Value, *Broken) {
	var file struct {
		Format  jsontext.Value `json:"format"`
		Version jsontext.Value `json:"version"`
		Machine jsontext.Value `json:"machine"`
	}
	if jsontext.Value(data).Kind() != '{' {
		return nil, broken("", "project.not_an_object", map[string]any{"Format": MachineFormat})
	}
	if err := json.Unmarshal(data, &file); err != nil {
		return nil, misfit(err, data)
	}
	var format string
	if json.Unmarshal(file.Format, &format) != nil || format != MachineFormat {
		return nil, broken("/format", "project.not_a_machine", map[string]any{"Format": MachineFormat})
	}
	var version int
	if json.Unmarshal(file.Version, &version) != nil || version != MachineVersion {
		return nil, broken("/version", "project.machine_version", map[string]any{"Newest": MachineVersion})
	}
	if len(file.Machine) == 0 {
		return nil, broken("/machine", "project.machine_missing", nil)
	}
	return file.Machine, nil
}
