package project

import (
	"encoding"
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
)

const repository = "../.."

var update = flag.Bool("update", false, "write generated files anew")

func TestMain(m *testing.M) {
	if path := os.Getenv(killedChild); path != "" {
		saveForEver(path)
	}
	os.Exit(m.Run())
}

// inRepository reads a file by its path from the top of the repository.
func inRepository(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(repository, path))
	require.NoError(t, err)
	return data
}

// full returns a project in which every member is given.
func full(t testing.TB) Project {
	t.Helper()
	p, unknown, err := Decode(inRepository(t, "testdata/versions/v2-full.json"))
	require.NoError(t, err)
	require.Empty(t, unknown)
	return p
}

// withExtras returns full with one unknown member in every object.
func withExtras(t testing.TB) (p Project, pointers []string) {
	t.Helper()
	p = full(t)
	require.NoError(t, walkProject(&p, func(n *node, v reflect.Value, at path) error {
		if n.kind == isObject {
			v.Field(n.extra).SetBytes([]byte(`{"later":{"deep":[1,2.50,"x",null]}}`))
			pointers = append(pointers, at.pointer()+"/later")
		}
		return nil
	}))
	return p, pointers
}

// setText gives the place at a pointer the value that a text stands for.
func setText(t testing.TB, p *Project, pointer, text string) {
	t.Helper()
	found := false
	require.NoError(t, walkProject(p, func(n *node, v reflect.Value, at path) error {
		if at.pointer() != pointer {
			return nil
		}
		found = true
		switch n.kind {
		case isText:
			v.SetString(text)
		default:
			require.NoError(t, v.Addr().Interface().(encoding.TextUnmarshaler).UnmarshalText([]byte(text)), pointer)
		}
		return nil
	}))
	require.True(t, found, pointer)
}

// places lists the pointers of p that belong to a pattern.
func places(t testing.TB, p *Project, pattern string) (pointers []string) {
	t.Helper()
	require.NoError(t, walkProject(p, func(n *node, _ reflect.Value, at path) error {
		if n.pattern == pattern {
			pointers = append(pointers, at.pointer())
		}
		return nil
	}))
	return pointers
}

// everyNode visits the nodes below n, n included.
func everyNode(n *node, visit func(*node)) {
	visit(n)
	for _, m := range n.members {
		everyNode(m, visit)
	}
	if n.element != nil {
		everyNode(n.element, visit)
	}
}

// requireBroken checks that err refuses a place with a text.
func requireBroken(t testing.TB, err error, pointer, id string) *Broken {
	t.Helper()
	var b *Broken
	require.ErrorAs(t, err, &b)
	require.Equal(t, id, b.ID, "%v", err)
	require.Equal(t, pointer, b.Pointer, "%v", err)
	return b
}
