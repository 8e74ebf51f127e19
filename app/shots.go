package main

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/driver/software"

	"fillwright/app/shell"
	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// shot says how the window is drawn without a display.
type shot struct {
	look          shell.Appearance
	pane          bench.Pane      // the only one to draw; all when empty
	blend         project.BlendID // the one at work; the usual one when empty
	scale         float32
	width, height int
	folder        string // of the project's file
	drawn         bool   // intervals are those of the Monte Carlo method
}

// shots draws the window with each pane to a PNG.
func shots(words *wording.Words, args []string) int {
	set := flags("shots")
	theme := set.String("theme", "light", "")
	scale := set.Int("scale", 1, "")
	size := set.String("size", "1280x800", "")
	text := set.Int("text", 100, "")
	pane := set.String("pane", "", "")
	blend := set.String("blend", "", "")
	drawn := set.Bool("drawn", false, "")
	if set.Parse(args) != nil || set.NArg() != 2 {
		return misuse(words, "cli.shots_usage")
	}
	s, able := readShot(*theme, *size, *scale, *text)
	s.pane, s.blend, s.folder = bench.Pane(*pane), project.BlendID(*blend), filepath.Dir(set.Arg(0))
	if !able || s.pane != "" && !slices.Contains(bench.Panes(), s.pane) {
		return misuse(words, "cli.shots_usage")
	}
	s.drawn = *drawn
	p, _, err := project.Load(set.Arg(0))
	if err != nil {
		return refuse(words, err)
	}
	if s.blend != "" && p.BlendByID(s.blend) < 0 {
		return misuse(words, "cli.shots_blend")
	}
	if err := s.draw(words, p, set.Arg(1)); err != nil {
		return refuse(words, err)
	}
	return fine
}

// readShot reads the flags of the verb.
func readShot(theme, size string, scale, text int) (shot, bool) {
	s := shot{scale: float32(scale)}
	variant, known := shell.ParseVariant(theme)
	s.look = shell.Appearance{Variant: variant, Text: float32(text) / 100}
	width, height, pair := strings.Cut(size, "x")
	var errWidth, errHeight error
	s.width, errWidth = strconv.Atoi(width)
	s.height, errHeight = strconv.Atoi(height)
	within := func(n, low, high int) bool { return n >= low && n <= high }
	return s, known && pair && errWidth == nil && errHeight == nil && within(scale, 1, 2) &&
		within(s.width, 320, 8192) && within(s.height, 240, 8192) && within(text, 100, 200)
}

// draw writes a PNG for each pane into a folder.
func (s shot) draw(words *wording.Words, p project.Project, dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	a := app.NewWithID(appID + ".shots")
	a.Settings().SetTheme(s.look.Theme())
	workbench := shell.New(p, "", shell.Options{Words: words, Appearance: s.look, Folder: s.folder, Immediate: true, Draw: s.drawn})
	if s.blend != "" {
		workbench.Choose(s.blend)
	}
	canvas := software.NewCanvas()
	canvas.SetPadded(false)
	canvas.SetScale(s.scale)
	canvas.SetContent(workbench.Content())
	canvas.Resize(fyne.NewSize(float32(s.width), float32(s.height)))
	take := func(name string) error {
		path := filepath.Join(dir, name+".png")
		if err := writePNG(path, software.RenderCanvas(canvas, s.look.Theme())); err != nil {
			return err
		}
		fmt.Println(path)
		return nil
	}
	for _, id := range bench.Panes() {
		if s.pane != "" && id != s.pane {
			continue
		}
		workbench.Show(id)
		if err := take(string(id)); err != nil {
			return err
		}
		for _, section := range workbench.Sections() {
			if !workbench.OpenSection(section) {
				continue // it is the one that was just taken
			}
			if err := take(string(id) + "-" + section); err != nil {
				return err
			}
		}
	}
	return nil
}

func writePNG(path string, picture image.Image) error {
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	if err := png.Encode(file, picture); err != nil {
		_ = file.Close() // the first error counts
		return err
	}
	return file.Close()
}
