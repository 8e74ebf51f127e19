package project

import (
	"maps"
	"slices"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

//go:generate go test -run TestSchemaIsCurrent -update .

// SchemaPath is where the published schema stands, from the top of the repository.
const SchemaPath = "assets/schema/project.schema.json"

// Schema returns the JSON Schema (draft 2020-12) of the document's current
// version. It says what a file looks like as the program writes it; Decode reads
// some more (a decimal comma, printed units), and checks more (limits, currency,
// references). Members that it does not name are allowed: they are kept.
func Schema() []byte {
	used := map[string]*dimension{}
	all := members{
		{"$schema", quote("https://json-schema.org/draft/2020-12/schema")},
		{"title", quote("Fillwright project")},
		{"description", quote("What a maker of filled filament entered and measured. Quantities carry their unit; " +
			"± is the expanded uncertainty (k = 2); a member that is left out was not given.")},
	}
	all = append(all, document().schema(used)...)

	var defs members
	for _, name := range slices.Sorted(maps.Keys(used)) {
		defs = append(defs, member{name, quantitySchema(used[name])})
	}
	all = append(all, member{"$defs", writeMembers(defs)})

	out := writeMembers(all)
	if err := out.Indent(jsontext.WithIndent("  ")); err != nil {
		panic("project: the schema is not JSON: " + err.Error())
	}
	return append(out, '\n')
}

func quantitySchema(d *dimension) jsontext.Value {
	all := members{{"type", quote("string")}}
	if len(d.accepts) > 0 {
		all = append(all, member{"description", quote("A number with one of " + strings.Join(d.accepts, ", ") + " (and their printed forms).")})
	}
	return writeMembers(append(all, member{"pattern", quote(d.pattern)}))
}

// schema describes a node and notes the dimensions that it uses.
func (n *node) schema(used map[string]*dimension) members {
	switch n.kind {
	case isObject:
		return n.objectSchema(used)
	case isList:
		return members{
			{"type", quote("array")},
			{"maxItems", quote(n.rule.items)},
			{"items", writeMembers(n.element.schema(used))},
		}
	case isText:
		return n.rule.text.schema()
	case isWhole:
		return members{
			{"type", quote("integer")}, {"minimum", quote(n.rule.whole[0])}, {"maximum", quote(n.rule.whole[1])},
		}
	case isFlag:
		return members{{"type", quote("boolean")}}
	case isAmount:
		used[n.dim.name] = n.dim
		balance := writeMembers(members{{"const", quote(balanceText)}})
		content := writeMembers(members{{"$ref", quote("#/$defs/" + n.dim.name)}})
		return members{{"anyOf", quote([]jsontext.Value{balance, content})}}
	case isQuantity:
		used[n.dim.name] = n.dim
		limits := n.rule.quantity.text
		return members{
			{"$ref", quote("#/$defs/" + n.dim.name)},
			{"description", quote("From " + limits[0] + " to " + limits[1] + ".")},
		}
	}
	panic("project: no schema for " + n.pattern)
}

func (n *node) objectSchema(used map[string]*dimension) members {
	var properties members
	required := []string{}
	for _, m := range n.members {
		properties = append(properties, member{m.name, writeMembers(m.schema(used))})
		if m.rule.text.required || m.rule.whole[0] > 0 {
			required = append(required, m.name)
		}
	}
	all := members{{"type", quote("object")}}
	if len(required) > 0 {
		all = append(all, member{"required", quote(required)})
	}
	return append(all,
		member{"properties", writeMembers(properties)},
		member{"additionalProperties", quote(true)})
}

func (r textRule) schema() members {
	all := members{{"type", quote("string")}}
	if r.choices != nil {
		return append(all, member{"enum", quote(r.choices)})
	}
	if r.required {
		all = append(all, member{"minLength", quote(1)})
	}
	all = append(all, member{"maxLength", quote(r.runes)})
	if r.pattern != "" {
		all = append(all, member{"pattern", quote(r.pattern)})
	}
	return all
}

// quote writes a value as JSON.
func quote(v any) jsontext.Value {
	data, err := json.Marshal(v)
	if err != nil {
		panic("project: the schema holds what is not JSON: " + err.Error())
	}
	return data
}
