package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// definedOptions reads from the sources of the commands which options their
// flag sets define, whatever the help says.
func definedOptions(t *testing.T) []string {
	t.Helper()
	paths, err := filepath.Glob("*.go")
	require.NoError(t, err)
	var all []string
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			at := 0
			switch called := call.Fun.(type) {
			case *ast.SelectorExpr: // such as set.Bool("json", …) and set.StringVar(&path, "stock", …)
				if of, ok := called.X.(*ast.Ident); !ok || of.Name != "set" {
					return true
				}
				if strings.HasSuffix(called.Sel.Name, "Var") {
					at = 1
				}
			case *ast.Ident: // such as quantityOption(set, "in", …)
				if len(call.Args) == 0 {
					return true
				}
				if of, ok := call.Args[0].(*ast.Ident); !ok || of.Name != "set" {
					return true
				}
				at = 1
			default:
				return true
			}
			if len(call.Args) <= at {
				return true
			}
			if name, ok := call.Args[at].(*ast.BasicLit); ok && name.Kind == token.STRING {
				text, err := strconv.Unquote(name.Value)
				require.NoError(t, err)
				all = append(all, text)
			}
			return true
		})
	}
	require.Greater(t, len(all), 40, "the options were not found in the sources")
	slices.Sort(all)
	return slices.Compact(all)
}

// takes tells whether a command's own flag set has an option.
func takes(command, option string) bool {
	// The first --help may be the option's value; the second ends the command
	// before it does anything.
	_, _, errs := ringwise(command, option, "--help", "--help")
	return !strings.Contains(errs, "there is no option")
}

// Each command offers the options of its own flag set, all of them and no others.
func TestEveryOptionIsOffered(t *testing.T) {
	defined := definedOptions(t)
	for _, o := range offers() {
		if o.name == "help" {
			continue
		}
		taken := []string{"--help"}
		for _, name := range defined {
			if takes(o.name, "--"+name) {
				taken = append(taken, "--"+name)
			}
		}
		slices.Sort(taken)
		assert.Equal(t, slices.Compact(taken), o.options, "ringwise %s: does its help name them all?", o.name)
	}
}

// What is offered stands in every shell's script and in the manual page, with the
// command that it belongs to.
func TestEveryOptionIsWritten(t *testing.T) {
	_, bash, _ := ringwise("complete", "bash")
	_, zsh, _ := ringwise("complete", "zsh")
	_, fish, _ := ringwise("complete", "fish")
	_, man, _ := ringwise("complete", "man")
	plain := strings.ReplaceAll(man, `\-`, "-")
	between := func(text, from, to string) string {
		_, text, found := strings.Cut(text, from)
		assert.True(t, found, from)
		text, _, _ = strings.Cut(text, to)
		return text
	}
	for _, o := range offers() {
		inBash := between(bash, "\t\t"+o.name+")\n", "\n\t\t\t;;\n")
		inZsh := between(zsh, "\t"+o.name+")\n", "\n\t\t;;\n")
		for _, word := range append(slices.Clone(o.words), o.options...) {
			whole := regexp.MustCompile(`(^|[ ',])` + regexp.QuoteMeta(word) + `([ ',]|$)`)
			assert.Regexp(t, whole, strings.ReplaceAll(inBash, "\n", " "), "bash: %s %s", o.name, word)
			assert.Regexp(t, whole, strings.ReplaceAll(inZsh, "\n", " "), "zsh: %s %s", o.name, word)
		}
		for _, option := range o.options {
			assert.Contains(t, fish, "complete -c ringwise -n '__fish_seen_subcommand_from "+o.name+"' -l "+option[2:]+"\n")
		}
		for _, word := range o.words {
			assert.Regexp(t, `(?m)^complete -c ringwise -n '__fish_seen_subcommand_from `+o.name+`' -a '(.* )?`+word+`( .*)?'$`, fish)
		}
		if o.name == "help" {
			continue
		}
		section := between(plain, `.SH "RINGWISE `+strings.ToUpper(o.name)+`"`, ".EE\n")
		for _, word := range append(slices.Clone(o.words), o.options...) {
			if word != "--help" {
				assert.Contains(t, section, word, "man: %s", o.name)
			}
		}
	}
}

func TestEveryCommandIsOffered(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish", "man"} {
		code, out, errs := ringwise("complete", shell)
		require.Equal(t, allWell, code, errs)
		for _, c := range commands() {
			assert.Regexp(t, `\b`+c.name+`\b`, out, shell)
		}
	}
}

// Actions are those that the stock knows.
func TestActionsAreOffered(t *testing.T) {
	for _, o := range offers() {
		switch o.name {
		case "stock":
			for _, action := range []string{"bins", "find", "take", "put", "remove", "undo", "redo", "journal", "summary", "export", "import", "labels", "backup", "restore", "verify"} {
				assert.Contains(t, o.words, action)
			}
		case "complete":
			assert.Equal(t, []string{"bash", "zsh", "fish", "man"}, o.words)
		}
	}
}

// bash itself completes by what was written.
func TestBashCompletes(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("no bash here")
	}
	_, script, _ := ringwise("complete", "bash")
	path := filepath.Join(t.TempDir(), "ringwise")
	require.NoError(t, os.WriteFile(path, []byte(script), 0o600))
	for line, want := range map[string]string{
		"ringwise ver":            "version",
		"ringwise stock ver":      "verify",
		"ringwise read --mar":     "--marked",
		"ringwise read a --conf":  "--confirm",
		"ringwise help comb":      "combine",
		"ringwise score --each -": "--each --groups --help --json --page --taught --worst",
		"ringwise decode gre":     "",
	} {
		out, err := exec.Command(bash, "-c", `source "$1"; read -ra COMP_WORDS <<<"$2"; COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _ringwise; echo "${COMPREPLY[*]}"`, "bash", path, line).CombinedOutput()
		require.NoError(t, err, string(out))
		assert.Equal(t, want, strings.TrimSpace(string(out)), line)
	}
}

// Shells that are here can read what is for them.
func TestShellsReadTheirs(t *testing.T) {
	for shell, option := range map[string]string{"bash": "-n", "zsh": "-n", "fish": "--no-execute"} {
		if _, err := exec.LookPath(shell); err != nil {
			continue
		}
		_, script, _ := ringwise("complete", shell)
		path := filepath.Join(t.TempDir(), "script")
		require.NoError(t, os.WriteFile(path, []byte(script), 0o600))
		out, err := exec.Command(shell, option, path).CombinedOutput()
		assert.NoError(t, err, "%s: %s", shell, out)
	}
}

// groff finds nothing to warn of in the manual page, and what it sets is the
// help, word for word.
func TestManual(t *testing.T) {
	_, page, _ := ringwise("complete", "man")
	groff, err := exec.LookPath("groff")
	if err != nil {
		t.Skip("no groff here")
	}
	set := exec.Command(groff, "-man", "-ww", "-k", "-Tutf8", "-P-bcou", "-rLL=200n")
	set.Stdin = strings.NewReader(page)
	var out, warnings strings.Builder
	set.Stdout, set.Stderr = &out, &warnings
	require.NoError(t, set.Run())
	assert.Empty(t, warnings.String())
	single := func(text string) string { return regexp.MustCompile(`\s+`).ReplaceAllString(text, " ") }
	text := single(out.String())
	for _, c := range commands() {
		assert.Contains(t, text, single(c.help), c.name)
	}
}

func TestCompleteWrongUse(t *testing.T) {
	for _, args := range [][]string{{"complete"}, {"complete", "tcl"}, {"complete", "bash", "zsh"}} {
		code, out, errs := ringwise(args...)
		assert.Equal(t, wrongUse, code)
		assert.Empty(t, out)
		assert.Contains(t, errs, "bash, zsh, fish and man")
	}
}
