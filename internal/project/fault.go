package project

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// Broken is the refusal of a document or of an edit: something in it cannot be
// kept. What is merely unfinished (an amount or price missing, parts that do not
// add up) is never Broken.
type Broken struct {
	Pointer string         // the place, RFC 6901; "" is the whole document
	ID      string         // the text that tells what is wrong and what is accepted
	Values  map[string]any // fills the placeholders of the text
	Cause   error          // what lies below, for example the refusal of a quantity
}

// Message returns the text's ID and its values. The place is not part of the
// text, for a window shows the text beside the field; Refused names the place.
func (b *Broken) Message() (id string, values map[string]any) { return b.ID, b.Values }

// Unwrap returns the cause.
func (b *Broken) Unwrap() error { return b.Cause }

// Error is for developers; people read the text with the ID.
func (b *Broken) Error() string {
	var out strings.Builder
	fmt.Fprintf(&out, "project: %s at %q", b.ID, b.Pointer)
	for _, name := range slices.Sorted(maps.Keys(b.Values)) {
		if _, nested := b.Values[name].(error); !nested {
			fmt.Fprintf(&out, " %s=%v", name, b.Values[name])
		}
	}
	if b.Cause != nil {
		fmt.Fprintf(&out, ": %v", b.Cause)
	}
	return out.String()
}

// Refused says which file is Broken, and where.
type Refused struct {
	Path   string
	Broken *Broken
}

// Message tells the file, the place and the reason in one line.
func (r *Refused) Message() (id string, values map[string]any) {
	values = map[string]any{"File": r.Path, "Reason": r.Broken}
	if r.Broken.Pointer == "" {
		return "project.refused", values
	}
	values["Place"] = r.Broken.Pointer
	return "project.refused_at", values
}

// Unwrap returns the Broken.
func (r *Refused) Unwrap() error { return r.Broken }

// Error is for developers; people read the text with the ID.
func (r *Refused) Error() string { return r.Path + ": " + r.Broken.Error() }

// pointerOf joins member names and list indices to a JSON Pointer. Only what
// this package names itself goes in; such names need no escaping.
func pointerOf(steps ...any) string {
	var out strings.Builder
	for _, step := range steps {
		switch step := step.(type) {
		case int:
			out.WriteString("/" + strconv.Itoa(step))
		case string:
			out.WriteString("/" + step)
		default:
			panic(fmt.Sprintf("project: %T is no step of a pointer", step))
		}
	}
	return out.String()
}

// MaterialPointer is the place of a member of a material, for example
// MaterialPointer(0, "density").
func MaterialPointer(index int, member string) string {
	return pointerOf("materials", index, member)
}

// BlendPointer is the place of a member of a blend.
func BlendPointer(index int, member string) string {
	return pointerOf("blends", index, member)
}

// PartPointer is the place of a member of one part of a blend.
func PartPointer(blend, part int, member string) string {
	return pointerOf("blends", blend, "parts", part, member)
}
