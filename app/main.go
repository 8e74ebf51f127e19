// Fillwright is a desktop workbench for people who make their own filled
// printing filament.
package main

import (
	"fmt"
	"os"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"
	"fyne.io/fyne/v2/lang"

	"fillwright/app/shell"
	"fillwright/assets"
	"fillwright/internal/project"
	"fillwright/internal/wording"
)

// appID names the program to the desktop; settings are kept under it.
const appID = "org.fillwright.Fillwright"

// Exit statuses.
const (
	fine    = 0
	refused = 1
	misused = 2
)

func main() { os.Exit(run(os.Args[1:])) }

// run takes the arguments of the command line and returns the exit status.
func run(args []string) int {
	words := wording.New(locale())
	if len(args) > 0 {
		if verb, known := verbs[args[0]]; known {
			return verb(words, args[1:])
		}
	}
	if len(args) > 1 || len(args) == 1 && len(args[0]) > 1 && args[0][0] == '-' {
		return misuse(words, "cli.usage")
	}
	if len(args) == 1 {
		return openWindow(words, args[0])
	}
	return openWindow(words, "")
}

// locale is the one that numbers are written in: POSIX asks in this order, and
// where nothing is set the system is asked.
func locale() string {
	for _, name := range []string{"LC_ALL", "LC_NUMERIC", "LANG"} {
		if value := os.Getenv(name); value != "" {
			return value
		}
	}
	return lang.SystemLocale().String()
}

// misuse says how the program is called.
func misuse(words *wording.Words, id string) int {
	fmt.Fprintln(os.Stderr, words.Text(id))
	return misused
}

// refuse says in one line why the input was refused.
func refuse(words *wording.Words, err error) int {
	fmt.Fprintln(os.Stderr, words.Error(err))
	return refused
}

// openWindow opens the window on a file or, without one, on the sample.
func openWindow(words *wording.Words, path string) int {
	var p project.Project
	var unknown []project.Unknown
	var err error
	if path == "" {
		p, err = shell.Sample(shell.SampleNames()[0])
	} else {
		p, unknown, err = project.Load(path)
	}
	if err != nil {
		return refuse(words, err)
	}
	a := app.NewWithID(appID)
	shell.ProtectFiles()
	look := shell.RememberedAppearance(a.Preferences())
	a.Settings().SetTheme(look.Theme())
	bench := shell.New(p, path, shell.Options{Words: words, Preferences: a.Preferences(), Appearance: look, Later: true, Draw: true})
	w := a.NewWindow("Fillwright")
	w.SetMaster()
	bench.Attach(w)
	a.Lifecycle().SetOnStarted(func() {
		bench.Started(unknown)
		w.SetIcon(fyne.NewStaticResource("icon.svg", assets.Icon)) // drawing it takes longer than the window
	})
	w.ShowAndRun()
	return fine
}
