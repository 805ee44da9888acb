package main

import (
	"context"
	"flag"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

const completeBrief = "write shell completions or the manual page"

const completeHelp = `usage: ringwise complete bash|zsh|fish|man

Writes what a shell needs to complete Ringwise's commands and options, or the
manual page. Debian's package has all of them in place.

  bash   for a file in ~/.local/share/bash-completion/completions
  zsh    for a file _ringwise in a folder of $fpath
  fish   for a file in ~/.config/fish/completions
  man    the manual page, in roff

Exit code: 0 written, 2 wrong use.

Examples:
  ringwise complete bash > ~/.local/share/bash-completion/completions/ringwise
  ringwise complete zsh > ~/.zfunc/_ringwise
  ringwise complete fish > ~/.config/fish/completions/ringwise.fish
  ringwise complete man | man -l -
`

// complete carries out ringwise complete.
func complete(_ context.Context, args []string, std streams) (int, error) {
	words, err := parse(flag.NewFlagSet("complete", flag.ContinueOnError), args)
	if err != nil {
		return 0, err
	}
	if len(words) != 1 {
		return 0, usage("name one of bash, zsh, fish and man")
	}
	var text string
	switch words[0] {
	case "bash":
		text = bashCompletion(offers())
	case "zsh":
		text = zshCompletion(offers())
	case "fish":
		text = fishCompletion(offers())
	case "man":
		text = manual(thisBuild().Version)
	default:
		return 0, usage("there is nothing for %q: name one of bash, zsh, fish and man", words[0])
	}
	_, err = fmt.Fprint(std.out, text)
	return allWell, err
}

// An offer is what can follow one command.
type offer struct {
	name, brief string
	words       []string // actions, or what else is one of a few
	options     []string // with their dashes
}

var (
	optionIn = regexp.MustCompile(`(?:^|[^a-z-])(--[a-z][a-z-]*[a-z])`)
	// actionIn is a line that explains an action, such as "  take VALUE  …",
	// "  undo, redo  …" or "  bash   …".
	actionIn = regexp.MustCompile(`(?m)^  ([a-z]+(?:, [a-z]+)*)(?: \[?[A-Z]+\]?)? {2,}\S`)
)

// takingAction are the commands whose first word is one of a few, each
// explained on a line of the help.
var takingAction = []string{"stock", "complete"}

// offers gathers what can follow each command, from its help.
func offers() []offer {
	var all []offer
	names := []string{}
	for _, c := range commands() {
		names = append(names, c.name)
		o := offer{name: c.name, brief: c.brief}
		for _, found := range optionIn.FindAllStringSubmatch(ofThis(c), -1) {
			o.options = append(o.options, found[1])
		}
		if slices.Contains(takingAction, c.name) {
			for _, found := range actionIn.FindAllStringSubmatch(c.help, -1) {
				o.words = append(o.words, strings.Split(found[1], ", ")...)
			}
		}
		o.options = append(o.options, "--help")
		slices.Sort(o.options)
		o.options = slices.Compact(o.options)
		all = append(all, o)
	}
	return append(all, offer{name: "help", brief: "tell how to use a command", words: names})
}

// ofThis is the help of a command without what it says of other commands'
// options.
func ofThis(c command) string {
	var lines []string
	other := regexp.MustCompile(`ringwise ([a-z]+)`)
	for line := range strings.Lines(c.help) {
		if found := other.FindStringSubmatch(line); found != nil && found[1] != c.name {
			continue
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "")
}

// bashCompletion completes the command, then its actions and options, and files
// by bash's own means.
func bashCompletion(all []offer) string {
	var b strings.Builder
	b.WriteString("# Completes ringwise in bash; written by ringwise complete bash.\n_ringwise() {\n\tlocal word=${COMP_WORDS[COMP_CWORD]} offered=\n\tCOMPREPLY=()\n\tif [ \"$COMP_CWORD\" -eq 1 ]; then\n\t\toffered='")
	for i, o := range all {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(o.name)
	}
	b.WriteString("'\n\telse\n\t\tcase ${COMP_WORDS[1]} in\n")
	for _, o := range all {
		fmt.Fprintf(&b, "\t\t%s)\n", o.name)
		if len(o.words) > 0 {
			fmt.Fprintf(&b, "\t\t\t[ \"$COMP_CWORD\" -ne 2 ] || offered='%s'\n", strings.Join(o.words, " "))
		}
		if len(o.options) > 0 {
			fmt.Fprintf(&b, "\t\t\tcase $word in -*) offered='%s' ;; esac\n", strings.Join(o.options, " "))
		}
		b.WriteString("\t\t\t;;\n")
	}
	b.WriteString("\t\tesac\n\tfi\n\tmapfile -t COMPREPLY < <(compgen -W \"$offered\" -- \"$word\")\n}\ncomplete -o bashdefault -o default -F _ringwise ringwise\n")
	return b.String()
}

// zshCompletion is bashCompletion for zsh, with what each command does.
func zshCompletion(all []offer) string {
	var b strings.Builder
	b.WriteString("#compdef ringwise\n# Completes ringwise in zsh; written by ringwise complete zsh.\n_ringwise() {\n\tif (( CURRENT == 2 )); then\n\t\tlocal -a known=(\n")
	for _, o := range all {
		fmt.Fprintf(&b, "\t\t\t%s\n", quoted(o.name+":"+o.brief))
	}
	b.WriteString("\t\t)\n\t\t_describe command known\n\t\treturn\n\tfi\n\tcase $words[2] in\n")
	for _, o := range all {
		fmt.Fprintf(&b, "\t%s)\n", o.name)
		if len(o.words) > 0 {
			fmt.Fprintf(&b, "\t\t(( CURRENT == 3 )) && compadd -- %s\n", strings.Join(o.words, " "))
		}
		if len(o.options) > 0 {
			fmt.Fprintf(&b, "\t\t[[ $words[CURRENT] == -* ]] && compadd -- %s\n", strings.Join(o.options, " "))
		}
		b.WriteString("\t\t;;\n")
	}
	b.WriteString("\tesac\n\t_files\n}\nif [ \"$funcstack[1]\" = _ringwise ]; then _ringwise \"$@\"; else compdef _ringwise ringwise; fi\n")
	return b.String()
}

// fishCompletion is bashCompletion for fish, with what each command does.
func fishCompletion(all []offer) string {
	var b strings.Builder
	b.WriteString("# Completes ringwise in fish; written by ringwise complete fish.\n")
	for _, o := range all {
		fmt.Fprintf(&b, "complete -c ringwise -n __fish_use_subcommand -f -a %s -d %s\n", o.name, quoted(o.brief))
	}
	for _, o := range all {
		when := quoted("__fish_seen_subcommand_from " + o.name)
		if len(o.words) > 0 {
			fmt.Fprintf(&b, "complete -c ringwise -n %s -a %s\n", when, quoted(strings.Join(o.words, " ")))
		}
		for _, option := range o.options {
			fmt.Fprintf(&b, "complete -c ringwise -n %s -l %s\n", when, strings.TrimPrefix(option, "--"))
		}
	}
	return b.String()
}

// quoted is a text in single quotes, as shells read it.
func quoted(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }
