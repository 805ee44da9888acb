package bench

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// inline is code or style in a page itself, in each of the ways that HTML has, and
// what turns text into either. The policy would block it; that it is not there shows
// that the policy need not be loosened.
var inline = regexp.MustCompile(`(?i)<script(?:\s+type="?\w+"?)?\s*>|<style|\sstyle\s*=|\son[a-z]+\s*=\s*["']|javascript:|\beval\(|new Function\(|\.innerHTML|\.outerHTML|insertAdjacentHTML|document\.write|setAttribute\('(?:on|style)`)

func TestNoInlineCode(t *testing.T) {
	for _, attack := range []string{"<script>", `<script type="module">`, `<b onclick="x()">`, `<p style="a">`, `<a href="javascript:x">`, "e.innerHTML = name"} {
		assert.Regexp(t, inline, attack)
	}
	names, err := filepath.Glob(filepath.Join("page", "*"))
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for _, name := range names {
		data, err := files.ReadFile(filepath.ToSlash(name))
		require.NoError(t, err)
		assert.Empty(t, inline.FindString(string(data)), name)
	}
}

// secretive are the names of what an attacker would like to guess letter by letter.
var secretive = regexp.MustCompile(`(?i)^(secrets?|tokens?|given|want|cookie)$`)

// careless finds comparisons of secrets that end at the first letter that differs.
func careless(t *testing.T, name string, source any) (found []string) {
	t.Helper()
	set := token.NewFileSet()
	file, err := parser.ParseFile(set, name, source, parser.SkipObjectResolution)
	require.NoError(t, err)
	secret := func(e ast.Expr) bool {
		is := false
		ast.Inspect(e, func(n ast.Node) bool {
			if _, ok := n.(*ast.StructType); ok {
				return false // a field's name
			}
			if id, ok := n.(*ast.Ident); ok && secretive.MatchString(id.Name) {
				is = true
			}
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			chosen, _ := call.Fun.(*ast.SelectorExpr)
			length, _ := call.Fun.(*ast.Ident)
			return !(chosen != nil && chosen.Sel.Name == "ConstantTimeCompare" || length != nil && length.Name == "len")
		})
		return is
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BinaryExpr:
			if (n.Op == token.EQL || n.Op == token.NEQ) && (secret(n.X) || secret(n.Y)) {
				found = append(found, set.Position(n.Pos()).String())
			}
		case *ast.IndexExpr:
			if secret(n.Index) {
				found = append(found, set.Position(n.Pos()).String())
			}
		case *ast.CallExpr:
			called, ok := n.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			switch called.Sel.Name {
			case "Contains", "Equal", "EqualFold", "Compare", "HasPrefix", "Index":
				for _, given := range n.Args {
					if secret(given) {
						found = append(found, set.Position(n.Pos()).String())
					}
				}
			}
		}
		return true
	})
	return found
}

// Time tells nothing of a secret: no comparison in the door ends early. Timing itself
// would not show it on a busy machine, so the code is read.
func TestSecretsAreComparedInConstantTime(t *testing.T) {
	for _, attack := range []string{"secret == d.secret", "slices.Contains(tokens, x)", "known[token]", "strings.EqualFold(a, secret)"} {
		assert.NotEmpty(t, careless(t, "attack.go", "package bench\nvar a = "+attack), attack)
	}
	assert.Empty(t, careless(t, "door.go", nil))
}
