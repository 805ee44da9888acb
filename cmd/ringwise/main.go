// Ringwise reads the colour rings of resistors from photos.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
)

// The exit codes.
const (
	allWell   = 0
	failed    = 1 // something could not be opened, decoded or written
	wrongUse  = 2 // the words of the command line make no sense
	nothingIn = 3 // a photo had no part in it
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}

// streams are what a command reads and writes besides files.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// run carries out one command line, without the program's name, and returns
// its exit code.
func run(ctx context.Context, args []string, in io.Reader, out, errs io.Writer) int {
	std := streams{in, out, errs}
	if len(args) == 0 {
		fmt.Fprint(errs, overview())
		return wrongUse
	}
	name, rest := args[0], args[1:]
	switch name {
	case "help", "--help", "-help", "-h":
		return help(rest, std)
	}
	c, known := find(name)
	if !known {
		fmt.Fprintf(errs, "ringwise: there is no command %q: see ringwise help\n", name)
		return wrongUse
	}
	code, err := c.run(ctx, rest, std)
	switch {
	case errors.Is(err, flag.ErrHelp):
		fmt.Fprint(out, c.help)
		return allWell
	case errors.As(err, new(usageError)):
		fmt.Fprintf(errs, "ringwise %s: %v; see ringwise help %s\n", c.name, err, c.name)
		return wrongUse
	case errors.Is(err, context.Canceled):
		fmt.Fprintf(errs, "ringwise %s: stopped\n", c.name)
		return failed
	case err != nil:
		fmt.Fprintf(errs, "ringwise %s: %v\n", c.name, err)
		return failed
	}
	return code
}
