package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
)

// A command is one of the words that follow ringwise.
type command struct {
	name  string
	brief string // what it does, in one line
	help  string // how to use it, with examples
	// run carries the command out. The code counts only without an error; a
	// usageError makes it wrongUse, any other error failed.
	run func(ctx context.Context, args []string, std streams) (code int, err error)
}

// commands lists the commands in the order in which help shows them.
func commands() []command {
	return []command{
		{"read", readBrief, readHelp, read},
		{"bench", benchBrief, benchHelp, openBench},
		{"stock", stockBrief, stockHelp, keepStock},
		{"decode", decodeBrief, decodeHelp, decodeRings},
		{"code", codeBrief, codeHelp, code},
		{"spread", spreadBrief, spreadHelp, spread},
		{"replace", replaceBrief, replaceHelp, replace},
		{"combine", combineBrief, combineHelp, combine},
		{"divider", dividerBrief, dividerHelp, divider},
		{"power", powerBrief, powerHelp, power},
		{"project", projectBrief, projectHelp, project},
		{"sheet", sheetBrief, sheetHelp, makeSheets},
		{"mark", markBrief, markHelp, markAnswers},
		{"score", scoreBrief, scoreHelp, measure},
		{"doctor", doctorBrief, doctorHelp, examine},
		{"complete", completeBrief, completeHelp, complete},
		{"version", versionBrief, versionHelp, tellVersion},
	}
}

// find returns the command of that name.
func find(name string) (command, bool) {
	all := commands()
	i := slices.IndexFunc(all, func(c command) bool { return c.name == name })
	if i < 0 {
		return command{}, false
	}
	return all[i], true
}

// overview lists the commands.
func overview() string {
	var b strings.Builder
	b.WriteString("Ringwise reads the colour rings of resistors.\n\nusage: ringwise COMMAND …\n\n")
	for _, c := range commands() {
		fmt.Fprintf(&b, "  %-9s%s\n", c.name, c.brief)
	}
	b.WriteString("\nringwise help COMMAND tells more about each, with examples.\n")
	return b.String()
}

// help shows the overview or the help of one command.
func help(args []string, std streams) int {
	if len(args) == 0 {
		fmt.Fprint(std.out, overview())
		return allWell
	}
	c, known := find(args[0])
	if !known || len(args) > 1 {
		fmt.Fprintf(std.err, "ringwise help: there is no command %q: see ringwise help\n", strings.Join(args, " "))
		return wrongUse
	}
	fmt.Fprint(std.out, c.help)
	return allWell
}

// A usageError is a command line that makes no sense.
type usageError struct{ error }

func usage(format string, args ...any) error {
	return usageError{fmt.Errorf(format, args...)}
}

// flagWords turns the words of the flag package's errors into this program's.
var flagWords = strings.NewReplacer(
	"flag provided but not defined: -", "there is no option --",
	"flag needs an argument: -", "no value after --",
	" for flag -", " for --",
	" for -", " for --",
)

var (
	// badNumber is what the flag package says of a number that it cannot read.
	badNumber = regexp.MustCompile(`^invalid value (".*") for flag -(\S+): (?:parse error|value out of range)$`)
	// negative is a number below zero, which no command takes as a word.
	negative = regexp.MustCompile(`^-[0-9.]`)
)

// given tells whether an option stands on the command line.
func given(set *flag.FlagSet, name string) (found bool) {
	set.Visit(func(f *flag.Flag) { found = found || f.Name == name })
	return found
}

// needs refuses options that say nothing without another one.
func needs(set *flag.FlagSet, other string, names ...string) error {
	for _, name := range names {
		if given(set, name) && !given(set, other) {
			return usage("--%s says nothing without --%s", name, other)
		}
	}
	return nil
}

// placing are options that name a file or a camera, and without which a command
// goes elsewhere or does less. One that is given and empty, as a shell makes of a
// name that is not set, must not pass for one that is left out: parts would go
// into another stock.
var placing = []string{"stock", "page", "pick-sheet", "camera", "class"}

// parse reads the options of set from args, wherever they stand, and returns
// the other words. What follows "--" is never an option.
func parse(set *flag.FlagSet, args []string) ([]string, error) {
	set.SetOutput(io.Discard)
	var tail []string
	if i := slices.Index(args, "--"); i >= 0 {
		args, tail = args[:i], args[i+1:]
	}
	var words []string
	for len(args) > 0 {
		if negative.MatchString(args[0]) {
			return nil, usage("%q is below zero: leave the sign out", args[0])
		}
		switch err := set.Parse(args); {
		case err == flag.ErrHelp:
			return nil, err
		case err != nil:
			if bad := badNumber.FindStringSubmatch(err.Error()); bad != nil {
				return nil, usage("%s for --%s is no number that it takes", bad[1], bad[2])
			}
			return nil, usage("%s", flagWords.Replace(err.Error()))
		}
		if args = set.Args(); len(args) > 0 {
			words, args = append(words, args[0]), args[1:]
		}
	}
	for _, name := range placing {
		if given(set, name) && set.Lookup(name).Value.String() == "" {
			return nil, usage("--%s is empty: name one, or leave the option out", name)
		}
	}
	return append(words, tail...), nil
}
