package wording

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const repository = "../.."

var (
	prefixForm = regexp.MustCompile(`^([a-z0-9_]+\.)+(%[sv].*)?$`) // "figure." or "figure.%s"
	fileForm   = regexp.MustCompile(`\.(json|toml|csv|tsv|svg|png|md|go|txt|bak|tmp)$`)
)

// use is a place in the code that names a text.
type use struct {
	id, place string
	keys      []string // names of the values beside it
	keysKnown bool     // the values are written out as a literal map
}

// code is what the scan found: literals that must be IDs, all literals, and
// the beginnings of IDs that are put together when the program runs.
type code struct {
	asked    []use
	literals map[string]bool
	prefixes []string
}

// scanCode reads the Go files of the repository, tests excepted.
func scanCode(t *testing.T) code {
	t.Helper()
	found := code{literals: map[string]bool{}}
	err := filepath.WalkDir(repository, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && path != repository && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		files := token.NewFileSet()
		file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		found.scan(files, file)
		return nil
	})
	require.NoError(t, err)
	return found
}

func (c *code) scan(files *token.FileSet, file *ast.File) {
	ask := func(node ast.Node, values ast.Expr, bare bool) {
		id, ok := literal(node)
		if !ok || !idForm.MatchString(id) || fileForm.MatchString(id) {
			return
		}
		u := use{id: id, place: files.Position(node.Pos()).String()}
		u.keys, u.keysKnown = mapKeys(values)
		u.keysKnown = u.keysKnown || bare
		c.asked = append(c.asked, u)
	}
	ast.Inspect(file, func(node ast.Node) bool {
		switch n := node.(type) {
		case *ast.BasicLit:
			c.note(n)
		case *ast.CallExpr:
			if len(n.Args) > 0 && asksForText(n.Fun) {
				ask(n.Args[0], last(n.Args[1:]), len(n.Args) == 1)
			}
		case *ast.CompositeLit:
			if id := member(n, "ID"); id != nil {
				ask(id, member(n, "Values"), false)
			}
		}
		return true
	})
}

// note keeps a literal that may be an ID or the beginning of one.
func (c *code) note(n *ast.BasicLit) {
	text, ok := literal(n)
	if !ok {
		return
	}
	c.literals[text] = true
	if prefixForm.MatchString(text) {
		prefix, _, _ := strings.Cut(text, "%")
		c.prefixes = append(c.prefixes, prefix)
	}
}

// uses says whether the code names a text: all of its ID, or its parts in
// several places, as "figure." and "density", perhaps with "_short" behind. The
// name, hint and remark of a field are asked for by its place in the document: "/batch/purge".
func (c *code) uses(id string) bool {
	for _, area := range []string{"field.", "hint.", "remark."} {
		if place, is := strings.CutPrefix(id, area); is && c.literals["/"+strings.ReplaceAll(place, ".", "/")] {
			return true
		}
	}
	return c.literals[id] || slices.ContainsFunc(c.prefixes, func(prefix string) bool {
		end, ok := strings.CutPrefix(id, prefix)
		if !ok {
			return false
		}
		stem, last := cutLast(end, "_")
		return c.literals[end] || c.literals[strings.TrimSuffix(prefix, ".")+"_"+end] ||
			c.literals[stem] && c.literals["_"+last]
	})
}

// cutLast cuts a text at the last separator.
func cutLast(text, separator string) (before, after string) {
	i := strings.LastIndex(text, separator)
	if i < 0 {
		return text, ""
	}
	return text[:i], text[i+len(separator):]
}

// asksForText says whether a call is w.Text, w.Say or a conversion to wording.ID.
func asksForText(fun ast.Expr) bool {
	selector, ok := fun.(*ast.SelectorExpr)
	return ok && (selector.Sel.Name == "Text" || selector.Sel.Name == "Say" || selector.Sel.Name == "ID")
}

func literal(node ast.Node) (string, bool) {
	lit, ok := node.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

// member returns the value of a field in a struct literal.
func member(n *ast.CompositeLit, name string) ast.Expr {
	for _, element := range n.Elts {
		if pair, ok := element.(*ast.KeyValueExpr); ok {
			if key, ok := pair.Key.(*ast.Ident); ok && key.Name == name {
				return pair.Value
			}
		}
	}
	return nil
}

// mapKeys returns the keys of a literal map, and false for anything else.
func mapKeys(values ast.Expr) ([]string, bool) {
	n, ok := values.(*ast.CompositeLit)
	if !ok {
		return nil, false
	}
	var keys []string
	for _, element := range n.Elts {
		pair, ok := element.(*ast.KeyValueExpr)
		if !ok {
			return nil, false
		}
		key, ok := literal(pair.Key)
		if !ok {
			return nil, false
		}
		keys = append(keys, key)
	}
	return keys, true
}

func last(arguments []ast.Expr) ast.Expr {
	if len(arguments) == 0 {
		return nil
	}
	return arguments[len(arguments)-1]
}

func TestScanSeesTextsInCode(t *testing.T) {
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, "x.go", `package x
func f() {
	w.Text("note.plain")
	w.Say("note.damp", map[string]any{"Name": 1})
	w.Say("note.about", values)
	w.Text("open.json")
	w.Text(other("note.hidden"))
	_ = Refusal{ID: "note.refused", Values: map[string]any{"Unit": 1}}
	_ = "figure." + key + "_short"
	key = "density"
	_ = Sprintf("unit.%s.label", key)
}`, parser.SkipObjectResolution)
	require.NoError(t, err)
	found := code{literals: map[string]bool{}}
	found.scan(files, file)
	var asked []string
	for _, u := range found.asked {
		asked = append(asked, fmt.Sprint(u.id, u.keys, u.keysKnown))
	}
	assert.Equal(t, []string{"note.plain[] true", "note.damp[Name] true", "note.about[] false", "note.refused[Unit] true"}, asked)
	assert.Equal(t, []string{"figure.", "unit."}, found.prefixes)
	assert.True(t, found.literals["note.hidden"])
	for id, used := range map[string]bool{
		"note.plain": true, "figure.density": true, "figure.density_short": true, "figure.mass": false, "figure.mass_short": false,
	} {
		assert.Equal(t, used, found.uses(id), id)
	}
}
