package project

import (
	"encoding"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"

	"github.com/go-json-experiment/json/jsontext"

	"fillwright/internal/quantity"
)

// kind says what a place in the document holds.
type kind uint8

const (
	isObject kind = iota
	isList
	isText     // a string, or a type of string
	isWhole    // a whole number
	isFlag     // true or false
	isQuantity // a quantity.Of
	isAmount   // an Amount
)

// node is one place of the document, derived from the Go types. Checks, schema
// and reports all walk the one tree of nodes, so that they cannot drift apart.
type node struct {
	name    string // of the member; "" for the document and for list elements
	pattern string // pointer with * for every list index: "/materials/*/density"
	kind    kind
	typ     reflect.Type
	index   int     // of the field in its struct
	members []*node // of an object
	extra   int     // index of the field that keeps unknown members of an object
	element *node   // of a list
	omitted bool    // left out of the file when it is zero
	dim     *dimension
	rule    rule
}

// document is the tree of nodes.
var document = sync.OnceValue(func() *node {
	root := describe(reflect.TypeFor[Project](), "")
	return root
})

var extraType = reflect.TypeFor[jsontext.Value]()

// describe builds the node of a type. A type that the document must not hold
// (pointer, map, interface, function, float) is a mistake of the program.
func describe(t reflect.Type, pattern string) *node {
	n := &node{pattern: pattern, typ: t, extra: -1}
	switch {
	case t == reflect.TypeFor[Amount]():
		n.kind, n.dim = isAmount, dimensions()[reflect.TypeFor[quantity.Of[quantity.Content]]()]
	case reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()):
		n.kind, n.dim = isQuantity, dimensions()[t]
		if n.dim == nil {
			panic(fmt.Sprintf("project: %s holds a %s, whose dimension is not registered", pattern, t))
		}
	case t.Kind() == reflect.Struct:
		n.kind = isObject
		describeMembers(n)
	case t.Kind() == reflect.Slice:
		n.kind, n.element = isList, describe(t.Elem(), pattern+"/*")
	case t.Kind() == reflect.String:
		n.kind = isText
	case t.Kind() == reflect.Int:
		n.kind = isWhole
	case t.Kind() == reflect.Bool:
		n.kind = isFlag
	default:
		panic(fmt.Sprintf("project: %s holds a %s, which the document must not", pattern, t))
	}
	n.rule = ruleFor(n)
	return n
}

// describeMembers adds the members of an object.
func describeMembers(n *node) {
	for i := range n.typ.NumField() {
		field := n.typ.Field(i)
		name, options, _ := strings.Cut(field.Tag.Get("json"), ",")
		if name == "" && field.Type == extraType && options == "embed" {
			n.extra = i
			continue
		}
		if name == "" {
			panic(fmt.Sprintf("project: %s.%s has no name in the file", n.typ, field.Name))
		}
		member := describe(field.Type, n.pattern+"/"+name)
		member.name, member.index = name, i
		member.omitted = options == "omitzero"
		n.members = append(n.members, member)
	}
	if n.extra < 0 {
		panic(fmt.Sprintf("project: %s has no field for unknown members", n.typ))
	}
}

// find returns the node of a JSON Pointer, or nil where the pointer leads into
// something unknown.
func (n *node) find(pointer string) *node {
	for token := range jsontext.Pointer(pointer).Tokens() {
		if n = n.child(token); n == nil {
			return nil
		}
	}
	return n
}

// child returns the node of a member or of a list's elements, or nil.
func (n *node) child(token string) *node {
	if n.kind == isList {
		return n.element
	}
	for _, m := range n.members {
		if m.name == token {
			return m
		}
	}
	return nil
}

// path is where a walk stands. It is kept as steps, because a pointer is only
// wanted where something is found.
type path []step

type step struct {
	name  string
	index int // counts where name is ""
}

// pointer writes the path as a JSON Pointer.
func (p path) pointer() string {
	var out jsontext.Pointer
	for _, s := range p {
		if s.name == "" {
			out = out.AppendToken(strconv.Itoa(s.index))
		} else {
			out = out.AppendToken(s.name)
		}
	}
	return string(out)
}

// walk visits v and everything in it, in the order of the file. It stops at the
// first error.
func (n *node) walk(v reflect.Value, at path, visit func(*node, reflect.Value, path) error) error {
	if err := visit(n, v, at); err != nil {
		return err
	}
	switch n.kind {
	case isObject:
		for _, m := range n.members {
			if err := m.walk(v.Field(m.index), append(at, step{name: m.name}), visit); err != nil {
				return err
			}
		}
	case isList:
		for i := range v.Len() {
			if err := n.element.walk(v.Index(i), append(at, step{index: i}), visit); err != nil {
				return err
			}
		}
	}
	return nil
}

// walkProject visits every place of p.
func walkProject(p *Project, visit func(*node, reflect.Value, path) error) error {
	return document().walk(reflect.ValueOf(p).Elem(), make(path, 0, 8), visit)
}

// dimension is what the document must know of a dimension of quantity.
type dimension struct {
	name    string
	pattern string
	accepts []string
}

// dimensions lists the types of quantity that the document may hold.
var dimensions = sync.OnceValue(func() map[reflect.Type]*dimension {
	all := map[reflect.Type]*dimension{}
	register[quantity.Mass](all)
	register[quantity.Length](all)
	register[quantity.Density](all)
	register[quantity.Volume](all)
	register[quantity.Temperature](all)
	register[quantity.Duration](all)
	register[quantity.Fraction](all)
	register[quantity.Factor](all)
	register[quantity.Pressure](all)
	register[quantity.MolarMass](all)
	register[quantity.Energy](all)
	register[quantity.MolarEnergy](all)
	register[quantity.Power](all)
	register[quantity.MassFlow](all)
	register[quantity.MeltFlow](all)
	register[quantity.Speed](all)
	register[quantity.Rotation](all)
	register[quantity.Current](all)
	register[quantity.SpecificEnergy](all)
	register[quantity.HeatCapacity](all)
	register[quantity.Conductivity](all)
	register[quantity.Content](all)
	register[quantity.Price](all)
	register[quantity.PricePerMass](all)
	register[quantity.PricePerEnergy](all)
	register[quantity.PricePerTime](all)
	register[quantity.PricePerLength](all)
	return all
})

func register[D quantity.Dim](all map[reflect.Type]*dimension) {
	all[reflect.TypeFor[quantity.Of[D]]()] = &dimension{
		name:    quantity.Name[D](),
		pattern: quantity.Pattern[D](),
		accepts: quantity.Accepts[D](),
	}
}
