package main

import (
	"fmt"
	"strings"
)

// manual is the manual page, section 1, in the man macros of roff (man(7),
// groff_man(7)). It is made of the help texts as they are.
func manual(version string) string {
	var b strings.Builder
	fmt.Fprintf(&b, ".TH RINGWISE 1 \"\" %s \"User Commands\"\n", roffArgument("Ringwise "+version))
	b.WriteString(`.SH NAME
ringwise \- read the colour rings of resistors from photos
.SH SYNOPSIS
.B ringwise
.I COMMAND
\&...
.br
.B ringwise help
.RI [ COMMAND ]
.SH DESCRIPTION
Ringwise reads the colour rings of resistors from photos and says of every
reading whether to trust or to check it. A person confirms the readings; confirmed
parts are kept in a stock, and from there they are used.
`)
	b.WriteString(".SH COMMANDS\n")
	for _, c := range commands() {
		fmt.Fprintf(&b, ".TP\n.B %s\n%s\n", roffLine(c.name), roffLine(c.brief))
	}
	for _, c := range commands() {
		fmt.Fprintf(&b, ".SH %s\n.EX\n", roffArgument("RINGWISE "+strings.ToUpper(c.name)))
		for line := range strings.Lines(c.help) {
			b.WriteString(roffLine(strings.TrimSuffix(line, "\n")) + "\n")
		}
		b.WriteString(".EE\n")
	}
	b.WriteString(`.SH EXIT STATUS
0 all went well, 1 something failed, 2 the words of the command line make no
sense, 3 a photo had no part in it, or nothing of that kind is there.
.SH ENVIRONMENT
.TP
.B NO_COLOR
plain text, if set
.TP
.B XDG_DATA_HOME
the folder that holds ringwise/stock.db, the usual stock
`)
	return b.String()
}

// roffLine is a line of text of which roff takes nothing for a request or an
// escape.
func roffLine(text string) string {
	text = strings.NewReplacer(`\`, `\e`, `-`, `\-`, `'`, `\(aq`, "`", `\(ga`, `^`, `\(ha`, `~`, `\(ti`).Replace(text)
	if strings.HasPrefix(text, ".") {
		text = `\&` + text
	}
	return text
}

// roffArgument is a text as one argument of a request.
func roffArgument(text string) string {
	return `"` + strings.ReplaceAll(roffLine(text), `"`, `\(dq`) + `"`
}
