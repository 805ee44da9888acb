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
	"slices"
	"syscall"
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
	if len(args) == 0 {
		fmt.Fprint(errs, overview())
		return wrongUse
	}
	said := &output{w: out}
	std := streams{in, said, errs}
	name, rest := args[0], args[1:]
	switch name {
	case "help", "--help", "-help", "-h":
		return ended("help", help(rest, std), nil, said, errs)
	case "--version", "-version":
		name = "version"
	}
	c, known := find(name)
	if !known {
		mend := "see ringwise help"
		if slices.Contains(stockActionNames(), name) {
			mend = "it is an action of ringwise stock: write ringwise stock " + name
		}
		fmt.Fprintf(errs, "ringwise: there is no command %q: %s\n", name, mend)
		return wrongUse
	}
	code, err := c.run(ctx, rest, std)
	if errors.Is(err, flag.ErrHelp) {
		fmt.Fprint(said, c.help)
		code, err = allWell, nil
	}
	return ended(c.name, code, err, said, errs)
}

// ended tells why a command failed, if it did, and returns the exit code. A
// command whose output was lost has failed, whatever it made of that; where the
// output went into a pipe that nobody reads any more there is nobody to tell.
func ended(name string, code int, err error, said *output, errs io.Writer) int {
	lost := said.failure()
	switch {
	case errors.As(err, new(usageError)):
		fmt.Fprintf(errs, "ringwise %s: %v; see ringwise help %s\n", name, err, name)
		return wrongUse
	case errors.Is(err, context.Canceled):
		fmt.Fprintf(errs, "ringwise %s: stopped\n", name)
		return failed
	case err != nil && (lost == nil || !errors.Is(err, lost)):
		fmt.Fprintf(errs, "ringwise %s: %v\n", name, err)
		return failed
	case errors.Is(lost, syscall.EPIPE):
		return failed
	case lost != nil:
		fmt.Fprintf(errs, "ringwise %s: the output could not be written (%v): write it elsewhere, or make room; what the command did stays done\n", name, lost)
		return failed
	}
	return code
}
