package project

import (
	"bytes"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// Older versions are brought to the current one on the level of JSON members,
// step by step, before the types see them. Members that no version knows stay.

// migrations holds the step from version i+1 to i+2.
var migrations = [Version - 1]migration{
	{members: fromVersion1, renamed: renames{{now: "/reference", then: "/ref"}}},
}

type migration struct {
	members func(members) members
	renamed renames
}

// renames maps places of the current version back to those in an old file, so
// that a refusal names the place that the maker finds there.
type renames []struct{ now, then string }

// asInFile puts the place of b into the terms of the file.
func (r renames) asInFile(b *Broken) *Broken {
	for _, name := range r {
		rest, ok := strings.CutPrefix(b.Pointer, name.now)
		if ok && (rest == "" || rest[0] == '/') {
			b.Pointer = name.then + rest
		}
	}
	return b
}

// migrate brings a scanned document to the current version.
func migrate(data []byte, version int) ([]byte, renames) {
	var back renames
	for _, step := range migrations[version-1:] {
		data = changeObject(data, step.members)
		back = append(step.renamed, back...)
	}
	return data, back
}

// fromVersion1 takes over what version 1 wrote differently: the reference blend
// was called "ref", and an amount was a bare number with its basis beside it.
func fromVersion1(doc members) members {
	doc.set("version", jsontext.Value("2"))
	doc.rename("ref", "reference")
	doc.change("blends", func(blends jsontext.Value) jsontext.Value {
		return changeEach(blends, func(blend members) members {
			blend.change("parts", func(parts jsontext.Value) jsontext.Value {
				return changeEach(parts, joinBasis)
			})
			return blend
		})
	})
	return doc
}

// joinBasis makes "amount": "10 wt%" of "amount": 10, "basis": "wt%". Without a
// basis the number stays alone and is refused as every number without a unit.
func joinBasis(part members) members {
	number, basis := part.get("amount"), part.get("basis")
	if number.Kind() == '0' && basis.Kind() == '"' {
		unit, err := jsontext.AppendUnquote(nil, basis)
		if err != nil {
			panic("project: a scanned text does not unquote: " + err.Error())
		}
		joined, err := jsontext.AppendQuote(nil, string(number)+" "+string(unit))
		if err != nil {
			panic("project: a scanned text does not quote: " + err.Error())
		}
		part.set("amount", joined)
		return part.without("basis")
	}
	if string(number) == `"`+balanceText+`"` { // a balance never had one
		return part.without("basis")
	}
	return part
}

// member is one name and value of an object; members keeps their order.
type member struct {
	name  string
	value jsontext.Value
}

type members []member

func (m members) get(name string) jsontext.Value {
	for _, one := range m {
		if one.name == name {
			return one.value
		}
	}
	return nil
}

func (m members) set(name string, value jsontext.Value) {
	m.change(name, func(jsontext.Value) jsontext.Value { return value })
}

func (m members) change(name string, fn func(jsontext.Value) jsontext.Value) {
	for i := range m {
		if m[i].name == name {
			m[i].value = fn(m[i].value)
		}
	}
}

func (m members) rename(from, to string) {
	for i := range m {
		if m[i].name == from {
			m[i].name = to
		}
	}
}

func (m members) without(name string) members {
	var rest members
	for _, one := range m {
		if one.name != name {
			rest = append(rest, one)
		}
	}
	return rest
}

// changeObject applies fn to the members of an object. Anything else stays as
// it is, to be refused by the types.
func changeObject(value jsontext.Value, fn func(members) members) jsontext.Value {
	if value.Kind() != '{' {
		return value
	}
	all, err := readMembers(value)
	if err != nil {
		panic("project: a scanned object does not read: " + err.Error())
	}
	return writeMembers(fn(all))
}

// changeEach applies fn to every object in a list.
func changeEach(value jsontext.Value, fn func(members) members) jsontext.Value {
	if value.Kind() != '[' {
		return value
	}
	dec := jsontext.NewDecoder(bytes.NewReader(value))
	out := []byte{'['}
	mustToken(dec)
	for dec.PeekKind() != ']' {
		element, err := dec.ReadValue()
		if err != nil {
			panic("project: a scanned list does not read: " + err.Error())
		}
		if len(out) > 1 {
			out = append(out, ',')
		}
		out = append(out, changeObject(element, fn)...)
	}
	return append(out, ']')
}

func mustToken(dec *jsontext.Decoder) {
	if _, err := dec.ReadToken(); err != nil {
		panic("project: a scanned value does not read: " + err.Error())
	}
}

// readMembers splits an object.
func readMembers(value jsontext.Value) (members, error) {
	dec := jsontext.NewDecoder(bytes.NewReader(value))
	if _, err := dec.ReadToken(); err != nil {
		return nil, err
	}
	all := members{}
	for dec.PeekKind() != '}' {
		name, err := dec.ReadToken()
		if err != nil {
			return nil, err
		}
		one := member{name: name.String()}
		value, err := dec.ReadValue()
		if err != nil {
			return nil, err
		}
		one.value = value.Clone()
		all = append(all, one)
	}
	return all, nil
}

// writeMembers joins an object. Names that are there twice are written twice,
// and refused when the document is read.
func writeMembers(all members) jsontext.Value {
	out := []byte{'{'}
	for i, one := range all {
		if i > 0 {
			out = append(out, ',')
		}
		var err error
		if out, err = jsontext.AppendQuote(out, one.name); err != nil {
			panic("project: a name does not quote: " + err.Error())
		}
		out = append(append(out, ':'), one.value...)
	}
	return append(out, '}')
}
