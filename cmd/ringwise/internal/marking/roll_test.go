package marking

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestReadRoll(t *testing.T) {
	for _, c := range []struct {
		text  string
		table bool
		want  []string
	}{
		{"Ada\nBela\n", false, []string{"Ada", "Bela"}},
		{"\ufeffname\r\nAda\r\n\r\n  Bela  \r\nCora", false, []string{"Ada", "Bela", "Cora"}},
		{"Lovelace, Ada\nBartók, Béla\n", false, []string{"Lovelace, Ada", "Bartók, Béla"}},
		{"Ada,7b\nBela,7b\n", true, []string{"Ada", "Bela"}},
		{"Ada\nBela,7b\n", true, []string{"Ada", "Bela"}},
		{"Number;Name;Form\n1;Ada;7b\n2;Bela;7b\n", true, []string{"Ada", "Bela"}},
		{"form, name\n7b, \"Lovelace, Ada\"\n7b, Bela\n", true, []string{"Lovelace, Ada", "Bela"}},
		{"form\tname\n\tAda\n7b\tBela\n", true, []string{"Ada", "Bela"}},
		{"name,sheet,1a\n\"Lovelace, Ada\",,\n,,\nBela,,\n", true, []string{"Lovelace, Ada", "Bela"}},
	} {
		got, err := ReadRoll(strings.NewReader(c.text), c.table)
		require.NoError(t, err, "%q", c.text)
		assert.Equal(t, c.want, got, "%q", c.text)
	}
	for _, c := range []struct {
		text  string
		table bool
		want  string
	}{
		{"", false, "the list has no names"},
		{"name\n", true, "the list has no names"},
		{"Ada\n\nBela\nADA\n", false, `line 4: "ADA" stands there twice, first in line 1`},
		{"name;form\nAda;7b\nAda;7c\n", true, `line 3: "Ada" stands there twice, first in line 2`},
		{"Ada\nZo\xeb\n", false, "line 2: this is no text in UTF-8"},
		{"Ada,\"7b\n", true, "quotation marks do not match"},
		{strings.Repeat("x", 9<<20), false, "larger than 8 MB"},
	} {
		_, err := ReadRoll(strings.NewReader(c.text), c.table)
		assert.ErrorContains(t, err, c.want, "%.40q", c.text)
	}
}

func TestAttend(t *testing.T) {
	row := func(name, answer string) Learner {
		return Learner{Name: name, Answers: map[string]string{"1a": "", "1b": answer}}
	}
	roll := []string{"Ada  Lovelace", "Bela", "Cora", "Dora"}
	assert.Equal(t, Attendance{Absent: []string{"Dora"}, Empty: []string{"Bela"}, Strangers: []string{"Emil"}},
		Attend(roll, []Learner{row("ada lovelace", "5"), row("Emil", "5"), row("Bela", ""), row("emil", ""), row("Cora", ""), row("Cora", "5")}))
	assert.Equal(t, Attendance{Absent: roll}, Attend(roll, nil))
}
