package main

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"io"
	"os"

	"fillwright/internal/bench"
	"fillwright/internal/project"
	"fillwright/internal/report"
	"fillwright/internal/wording"
)

// verbs are what the program does without a window. Each takes the arguments
// after its name and returns the exit status.
var verbs = map[string]func(*wording.Words, []string) int{
	"calc":  calc,
	"shots": shots,
	"trace": traceLog,
	"help":  help, "-h": help, "-help": help, "--help": help,
}

// help prints how the program is called.
func help(words *wording.Words, _ []string) int {
	fmt.Printf("%s\n", words.Text("cli.about"))
	for _, v := range []struct{ call, text string }{
		{"[FILE]", "cli.window"},
		{"calc [-json] [-draws N] [-seed S] FILE", "cli.calc"},
		{"shots [-theme light|dark] [-scale 1|2] [-size 1280x800] [-text 100] [-pane NAME] [-blend ID] [-drawn] FILE DIR", "cli.shots"},
		{"trace [-json] [-quick] [-target 1.75mm] [-tolerance 0.05mm] [more flags] FILE", "cli.trace"},
		{"help", "cli.help"},
	} {
		fmt.Printf("\nfillwright %s\n    %s\n", v.call, words.Text(v.text))
		if v.text == "cli.trace" {
			fmt.Printf("    %s\n", words.Say("cli.trace_flags", map[string]any{"Roles": roleNames()}))
		}
	}
	fmt.Printf("\n%s\n", words.Text("cli.status"))
	return fine
}

// flags is a set of flags that keeps quiet: misuse is said by the verb.
func flags(name string) *flag.FlagSet {
	set := flag.NewFlagSet(name, flag.ContinueOnError)
	set.SetOutput(io.Discard)
	return set
}

// calc prints the sheet of a project.
func calc(words *wording.Words, args []string) int {
	set := flags("calc")
	asJSON := set.Bool("json", false, "")
	draws, seed := set.Int("draws", 0, ""), set.Uint64("seed", 0, "")
	if set.Parse(args) != nil || set.NArg() != 1 {
		return misuse(words, "cli.calc_usage")
	}
	if *draws != 0 && (*draws < bench.LeastDraws || *draws > bench.MostDraws) {
		return misuse(words, "cli.calc_draws")
	}
	p, unknown, err := project.Load(set.Arg(0))
	if err != nil {
		return refuse(words, err)
	}
	for _, u := range unknown {
		fmt.Fprintln(os.Stderr, words.Say("cli.unknown", map[string]any{"File": set.Arg(0), "Place": u.Pointer}))
	}
	sheet := bench.Evaluate(&p)
	var shares map[int][]bench.Shares
	if *draws > 0 {
		if sheet, shares, err = sheet.WithAllDraws(context.Background(), bench.Drawing{Draws: *draws, Seed: cmp.Or(*seed, bench.SeedOf(&p))}); err != nil {
			return refuse(words, err)
		}
	}
	if *asJSON {
		err = report.CalcJSON(os.Stdout, sheet, shares, words)
	} else {
		err = report.CalcTable(os.Stdout, p.Title, sheet, words)
	}
	if err != nil {
		return refuse(words, err)
	}
	return fine
}
