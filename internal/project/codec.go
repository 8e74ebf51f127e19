package project

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"unicode/utf8"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// This is the only file that reads and writes the document.

// MaxBytes is the size up to which a document is read.
const MaxBytes = 64 << 20

// Bounds on what a document may make the program build. They hold for unknown
// members too.
const (
	maxDepth = 32
	maxItems = 100_000
)

// Unknown is a member that this version does not know. It is kept and written
// back, and reported, for it may be a slip in a name.
type Unknown struct{ Pointer string }

// Decode reads a document of this or an older version. Every refusal is a
// *Broken. A document that decodes is valid; it may be unfinished.
func Decode(data []byte) (Project, []Unknown, error) {
	p, unknown, b := decode(data)
	if b != nil {
		return Project{}, nil, b
	}
	return p, unknown, nil
}

func decode(data []byte) (Project, []Unknown, *Broken) {
	if len(data) > MaxBytes {
		return Project{}, nil, tooLarge()
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // RFC 8259 section 8.1 lets a reader ignore it
	if b := scan(data); b != nil {
		return Project{}, nil, b
	}
	version, b := readHead(data)
	if b != nil {
		return Project{}, nil, b
	}
	current, names := migrate(data, version)
	var p Project
	if err := json.Unmarshal(current, &p, noNulls); err != nil {
		return Project{}, nil, names.asInFile(misfit(err, current))
	}
	if b := tidy(&p); b != nil {
		return Project{}, nil, names.asInFile(b)
	}
	var invalid *Broken
	if errors.As(Validate(&p), &invalid) {
		return Project{}, nil, names.asInFile(invalid)
	}
	return p, unknownMembers(&p), nil
}

// Encode writes a valid project as a document: UTF-8, two spaces, members in
// the order of the types, a newline at the end. What it returns decodes to p.
func Encode(p Project) ([]byte, error) {
	p = Clone(p)
	if b := tidy(&p); b != nil {
		return nil, b
	}
	if err := Validate(&p); err != nil {
		return nil, err
	}
	data, err := json.Marshal(&p, jsontext.Multiline(true), jsontext.WithIndent("  "))
	if err != nil {
		return nil, fmt.Errorf("project: encode: %w", err)
	}
	data = append(data, '\n')
	back, _, b := decode(data)
	if b != nil {
		return nil, b // too large, or nested too deep
	}
	if !reflect.DeepEqual(back, p) {
		return nil, errors.New("project: a document would not read back as it was written")
	}
	return data, nil
}

// scan reads the whole document once without keeping anything: it refuses what
// is not JSON, duplicate members, and what would not fit into memory.
func scan(data []byte) *Broken {
	if at := invalidUTF8(data); at >= 0 {
		return broken("", "project.not_utf8_at", position(data, at))
	}
	dec := jsontext.NewDecoder(bytes.NewReader(data))
	var room []int64 // for every open list or object, how many elements it may hold
	for {
		token, err := dec.ReadToken()
		if err != nil {
			return badSyntax(data, err)
		}
		switch token.Kind() {
		case '{':
			room = append(room, 2*maxItems) // names count too
		case '[':
			room = append(room, roomFor(dec.StackPointer()))
		case '}', ']':
			room = room[:len(room)-1]
		}
		depth := dec.StackDepth()
		if depth == 0 {
			break
		}
		if depth > maxDepth {
			return broken(string(dec.StackPointer()), "project.too_deep", map[string]any{"Max": maxDepth})
		}
		if _, length := dec.StackIndex(depth); length > room[depth-1] {
			at := string(dec.StackPointer().Parent())
			return broken(at, "project.list_too_long", map[string]any{"Length": int(length), "Max": int(room[depth-1])})
		}
	}
	return trailing(data, int(dec.InputOffset()))
}

// roomFor says how many elements the list at a pointer may have.
func roomFor(list jsontext.Pointer) int64 {
	if n := document().find(string(list)); n != nil && n.kind == isList {
		return int64(n.rule.items)
	}
	return maxItems
}

// readHead checks that this is a project of a version that can be read.
func readHead(data []byte) (version int, b *Broken) {
	var head struct {
		Format  jsontext.Value `json:"format"`
		Version jsontext.Value `json:"version"`
	}
	if jsontext.Value(data).Kind() != '{' {
		return 0, broken("", "project.not_an_object", map[string]any{"Format": Format})
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return 0, misfit(err, data)
	}
	var format string
	if json.Unmarshal(head.Format, &format) != nil || format != Format {
		return 0, broken("/format", "project.not_a_project", map[string]any{"Format": Format})
	}
	if len(head.Version) == 0 {
		return 0, broken("/version", "project.version_missing", map[string]any{"Newest": Version})
	}
	if json.Unmarshal(head.Version, &version) != nil || version < 1 {
		return 0, broken("/version", "project.version_unreadable", map[string]any{
			"Found": clip(string(head.Version)), "Newest": Version,
		})
	}
	if version > Version {
		return 0, broken("/version", "project.version_newer", map[string]any{"Found": version, "Newest": Version})
	}
	return version, nil
}

// errNull refuses null: a member that is not given is left out.
var errNull = errors.New("null")

// noNulls makes Unmarshal refuse null, which it would take for a zero.
var noNulls = json.WithUnmarshalers(json.UnmarshalFromFunc(func(dec *jsontext.Decoder, _ any) error {
	if dec.PeekKind() == 'n' {
		return errNull
	}
	return errors.ErrUnsupported // not this function's business: go on as usual
}))

// tidy brings p into the form that Decode returns, so that equal projects are
// deeply equal: no empty lists beside nil ones, one spelling for the members
// that are kept unread.
func tidy(p *Project) *Broken {
	var bad *Broken
	err := walkProject(p, func(n *node, v reflect.Value, at path) error {
		switch n.kind {
		case isList:
			if v.Len() == 0 {
				v.SetZero()
			}
		case isObject:
			extra := v.Field(n.extra).Addr().Interface().(*jsontext.Value)
			if err := tidyExtra(extra); err != nil {
				bad = &Broken{Pointer: at.pointer(), ID: "project.extra", Cause: err}
				return err
			}
		}
		return nil
	})
	if err != nil {
		return bad
	}
	return nil
}

func tidyExtra(extra *jsontext.Value) error {
	if len(*extra) == 0 {
		*extra = nil
		return nil
	}
	if err := extra.Format(); err != nil {
		return err
	}
	if extra.Kind() != '{' {
		return errors.New("unknown members are no object")
	}
	if string(*extra) == "{}" {
		*extra = nil
	}
	return nil
}

// unknownMembers lists what the document holds beside what is known.
func unknownMembers(p *Project) []Unknown {
	var all []Unknown
	err := walkProject(p, func(n *node, v reflect.Value, at path) error {
		if n.kind != isObject {
			return nil
		}
		extra := v.Field(n.extra).Interface().(jsontext.Value)
		if len(extra) == 0 {
			return nil
		}
		members, err := readMembers(extra)
		if err != nil {
			return err
		}
		for _, m := range members {
			pointer := jsontext.Pointer(at.pointer()).AppendToken(m.name)
			all = append(all, Unknown{Pointer: string(pointer)})
		}
		return nil
	})
	if err != nil {
		panic("project: tidied members cannot be read: " + err.Error())
	}
	return all
}

// invalidUTF8 returns where data stops to be UTF-8, or -1.
func invalidUTF8(data []byte) int {
	if utf8.Valid(data) {
		return -1
	}
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return -1
}
