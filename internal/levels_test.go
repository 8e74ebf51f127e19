// Package internal_test holds the law of who may import whom, so that numbers
// can be read without the window and the window without the numbers.
package internal_test

import (
	"cmp"
	"fmt"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	module    = "fillwright/"
	fyne      = "fyne.io/"
	fyneApp   = "fyne.io/fyne/v2/app" // brings the real driver, OpenGL and with it a C compiler
	gonum     = "gonum.org/"
	mainOfApp = "app"
)

// level says how high each package stands. A package imports only packages of
// lower levels, never one of its own. A new package gets its line here; see
// "Layout" in DEVELOPERS.md for what belongs where.
var level = map[string]int{
	"assets": -1, // files and nothing else, so below all code

	"internal/printed":   0,
	"internal/quantity":  0,
	"internal/stat":      0,
	"internal/tabular":   0,
	"internal/uncertain": 0,
	"internal/wording":   0,

	"internal/blend":    1,
	"internal/filler":   1,
	"internal/line":     1,
	"internal/material": 1,
	"internal/melt":     1,
	"internal/plan":     1,
	"internal/spool":    1,
	"internal/strength": 1,
	"internal/trace":    1,

	"internal/project": 2,
	"internal/bench":   3,
	"internal/figure":  4,
	"internal/report":  5,

	"app/control": 6,
	"app/pane":    7,
	"app/shell":   8,
	mainOfApp:     9,
}

// forTests is what only tests may import: it brings the test libraries along.
const forTests = module + "internal/printed"

// tools are the small programs that packaging uses. They import nothing of the
// module, and say whether they may open a window.
var tools = map[string]bool{
	"packaging/emptywindow": true,
	"packaging/jsondiff":    false,
	"packaging/startup":     false,
	"testdata/traces":       false,
}

// dialling lists what reaches for the network; a name that ends in a slash
// stands for all below it. Fillwright works on the maker's own machine only.
var dialling = []string{
	"net", "net/http/", "net/http", "net/rpc/", "net/rpc", "net/smtp", "crypto/tls",
	"golang.org/x/net/", "golang.org/x/crypto/ssh/", "golang.org/x/crypto/ssh",
}

// source is what one Go file imports. Files under every build tag count.
type source struct {
	file    string // slash-separated, from the root of the module
	imports []string
}

func (s source) folder() string { return path.Dir(s.file) }
func (s source) isTest() bool   { return strings.HasSuffix(s.file, "_test.go") }

// violations holds the files against the law and says what breaks it.
func violations(sources []source) []string {
	var found []string
	for _, s := range sources {
		if say := placed(s); say != "" {
			found = append(found, say)
			continue
		}
		for _, imported := range s.imports {
			if say := allowed(s, imported); say != "" {
				found = append(found, fmt.Sprintf("%s imports %s: %s", s.file, imported, say))
			}
		}
	}
	slices.Sort(found)
	return slices.Compact(found)
}

// placed says what is wrong with where a file lies, or nothing.
func placed(s source) string {
	_, hasLevel := level[s.folder()]
	_, isTool := tools[s.folder()]
	testsOnly := s.folder() == "internal" && s.isTest()
	if hasLevel || isTool || testsOnly {
		return ""
	}
	return fmt.Sprintf("package %s is new: add it to the level table in internal/levels_test.go", s.folder())
}

// allowed says why a file must not import a package, or nothing.
func allowed(s source, imported string) string {
	folder := s.folder()
	inApp := folder == "app" || strings.HasPrefix(folder, "app/")
	switch {
	case dials(imported):
		return "nothing here reaches for the network"
	case strings.HasPrefix(imported, fyne) && !inApp && !tools[folder]:
		return "only app may draw"
	case imported == fyneApp && folder != mainOfApp && !tools[folder]:
		return "only the main package of app may start Fyne's real driver; take a fyne.App or a fyne.Window instead"
	case strings.HasPrefix(imported, gonum) && inApp:
		return "no numerics in app"
	case imported == forTests && !s.isTest():
		return "it is for tests only"
	case strings.HasPrefix(imported, module) && !s.isTest():
		return lower(folder, strings.TrimPrefix(imported, module))
	}
	return ""
}

// lower says why one package of the module must not import another, or
// nothing. Tests are exempt: they may hold a package against any other.
func lower(importer, imported string) string {
	if _, isTool := tools[importer]; isTool {
		return "the programs of packaging stand alone"
	}
	to, known := level[imported]
	if !known {
		return fmt.Sprintf("%s has no level: add it to the level table in internal/levels_test.go", imported)
	}
	if from := level[importer]; to >= from {
		return fmt.Sprintf("level %d must not import level %d, only lower ones", from, to)
	}
	return ""
}

func dials(imported string) bool {
	return slices.ContainsFunc(dialling, func(name string) bool {
		return imported == name || strings.HasSuffix(name, "/") && strings.HasPrefix(imported, name)
	})
}

func TestPackagesImportOnlyLowerLevels(t *testing.T) {
	sources := read(t, "..")
	require.NotEmpty(t, sources)
	for _, say := range violations(sources) {
		t.Error(say)
	}
}

// read parses the imports of every Go file under the root.
func read(t *testing.T, root string) []source {
	t.Helper()
	var sources []source
	err := filepath.WalkDir(root, func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() {
			return skipped(entry.Name())
		}
		if filepath.Ext(name) != ".go" {
			return nil
		}
		relative, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		imports, err := importsOf(name)
		sources = append(sources, source{filepath.ToSlash(relative), imports})
		return err
	})
	require.NoError(t, err)
	return sources
}

// skipped leaves out the folders that the go command leaves out.
func skipped(folder string) error {
	hidden := folder != ".." && strings.HasPrefix(folder, ".") || strings.HasPrefix(folder, "_")
	if hidden || folder == "testdata" || folder == "vendor" {
		return fs.SkipDir
	}
	return nil
}

func importsOf(file string) ([]string, error) {
	parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
	if err != nil {
		return nil, err
	}
	imports := make([]string, len(parsed.Imports))
	for i, spec := range parsed.Imports {
		if imports[i], err = strconv.Unquote(spec.Path.Value); err != nil {
			return nil, err
		}
	}
	return imports, nil
}

// The law would be worth nothing if it let everything pass.
func TestViolationsAreSeen(t *testing.T) {
	for name, test := range map[string]struct {
		file, imported string
		want           string // part of the message; empty: allowed
	}{
		"lower level":                   {"internal/bench/a.go", "fillwright/internal/blend", ""},
		"standard library":              {"internal/blend/a.go", "math", ""},
		"addresses need no network":     {"app/shell/a.go", "net/url", ""},
		"embedded files":                {"internal/wording/a.go", "fillwright/assets", ""},
		"numerics in internal":          {"internal/stat/a.go", "gonum.org/v1/gonum/stat", ""},
		"window in app":                 {"app/pane/a.go", "fyne.io/fyne/v2/widget", ""},
		"driver in main":                {"app/main.go", "fyne.io/fyne/v2/app", ""},
		"empty window":                  {"packaging/emptywindow/main.go", "fyne.io/fyne/v2/app", ""},
		"test looks upward":             {"internal/blend/a_test.go", "fillwright/internal/project", ""},
		"tests of the law":              {"internal/levels_test.go", "go/parser", ""},
		"numbers as printed, in a test": {"internal/blend/a_test.go", "fillwright/internal/printed", ""},
		"numbers as printed, in code":   {"internal/blend/a.go", "fillwright/internal/printed", "for tests only"},
		"same level":                    {"internal/blend/a.go", "fillwright/internal/melt", "level 1 must not import level 1"},
		"same level, basics":            {"internal/stat/a.go", "fillwright/internal/quantity", "level 0 must not import level 0"},
		"higher level":                  {"internal/project/a.go", "fillwright/internal/bench", "level 2 must not import level 3"},
		"code in assets":                {"assets/assets.go", "fillwright/internal/quantity", "level -1 must not import level 0"},
		"control knows panes":           {"app/control/a.go", "fillwright/app/pane", "level 6 must not import level 7"},
		"pane knows shell":              {"app/pane/a.go", "fillwright/app/shell", "level 7 must not import level 8"},
		"internal knows app":            {"internal/report/a.go", "fillwright/app/control", "level 5 must not import level 6"},
		"internal draws":                {"internal/figure/a.go", "fyne.io/fyne/v2/canvas", "only app may draw"},
		"test of internal draws":        {"internal/figure/a_test.go", "fyne.io/fyne/v2/test", "only app may draw"},
		"tray in internal":              {"internal/bench/a.go", "fyne.io/systray", "only app may draw"},
		"numerics in app":               {"app/pane/a.go", "gonum.org/v1/plot", "no numerics in app"},
		"numerics in a test of app":     {"app/pane/a_test.go", "gonum.org/v1/gonum/floats", "no numerics in app"},
		"numerics in main":              {"app/main.go", "gonum.org/v1/gonum/mat", "no numerics in app"},
		"driver in shell":               {"app/shell/a.go", "fyne.io/fyne/v2/app", "real driver"},
		"driver in a test":              {"app/pane/a_test.go", "fyne.io/fyne/v2/app", "real driver"},
		"network":                       {"app/shell/a.go", "net", "network"},
		"network by another name":       {"internal/project/a.go", "net/http", "network"},
		"network in a test":             {"internal/project/a_test.go", "net/http/httptest", "network"},
		"package without a level":       {"internal/novelty/a.go", "math", "package internal/novelty is new: add it to the level table"},
		"import of one without a level": {"internal/bench/a.go", "fillwright/internal/novelty", "internal/novelty has no level"},
		"code in internal itself":       {"internal/a.go", "math", "package internal is new"},
		"tool with a window":            {"packaging/startup/main.go", "fyne.io/fyne/v2", "only app may draw"},
		"tool that uses the module":     {"packaging/jsondiff/main.go", "fillwright/internal/project", "stand alone"},
	} {
		t.Run(name, func(t *testing.T) {
			got := violations([]source{{test.file, []string{"fmt", test.imported}}})
			if test.want == "" {
				assert.Empty(t, got)
				return
			}
			require.Len(t, got, 1)
			assert.Contains(t, got[0], test.want)
		})
	}
}

// A file under a build tag must not hide from the law.
func TestReadSeesEveryFile(t *testing.T) {
	root := t.TempDir()
	for name, text := range map[string]string{
		"internal/a/a.go":          "//go:build never\n\npackage a\n\nimport _ \"net\"\n",
		"internal/a/a_test.go":     "package a_test\n\nimport x \"fyne.io/fyne/v2\"\n",
		"internal/a/testdata/b.go": "package b\n\nimport \"net/http\"\n",
		".hidden/c.go":             "package c\n\nimport \"net/http\"\n",
	} {
		file := filepath.Join(root, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o700))
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	}
	got := read(t, root)
	slices.SortFunc(got, func(a, b source) int { return cmp.Compare(a.file, b.file) })
	assert.Equal(t, []source{
		{"internal/a/a.go", []string{"net"}},
		{"internal/a/a_test.go", []string{"fyne.io/fyne/v2"}},
	}, got)
}

// topLevel is all that lies at the root beside files whose name starts with a dot.
var topLevel = []string{
	"app", "internal", "assets", "testdata", "packaging",
	"go.mod", "go.sum", "README.md", "DEVELOPERS.md", "LICENSE",
}

func TestNothingElseAtTheTop(t *testing.T) {
	for _, name := range tracked(t, "..") {
		first, _, _ := strings.Cut(name, "/")
		assert.True(t, strings.HasPrefix(first, ".") || slices.Contains(topLevel, first),
			"%s lies at the top of the repository, where nothing but %s belongs", first, strings.Join(topLevel, ", "))
	}
}

// tracked lists what git keeps; outside a checkout, what lies at the top.
func tracked(t *testing.T, root string) []string {
	t.Helper()
	command := exec.CommandContext(t.Context(), "git", "ls-files", "-z")
	command.Dir = root
	if listed, err := command.Output(); err == nil && len(listed) > 0 {
		return strings.Split(strings.TrimRight(string(listed), "\x00"), "\x00")
	}
	entries, err := os.ReadDir(root)
	require.NoError(t, err)
	names := make([]string, len(entries))
	for i, entry := range entries {
		names[i] = entry.Name()
	}
	return names
}
