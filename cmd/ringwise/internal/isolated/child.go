package isolated

import (
	"context"
	"fmt"
	"io"
	"os"

	"ringwise/vision"
)

// Words that the program is started with as a child. They are not for people:
// ringwise help does not list them.
const (
	decodeWord = "decode-isolated" // to decode one picture from standard input
	watchWord  = "watch-isolated"  // to look through the camera named next
)

// mostMemory is how much memory a child may ask for, in bytes, beyond what it
// shares. The largest picture that vision opens takes 360 MB, and is copied to
// turn it.
const mostMemory = 2 << 30

// mostSeconds is the CPU time that decoding a picture may take, over all cores.
const mostSeconds = 60

// init makes any program that uses this package a child when it is started with
// such a word, before anything else of that program begins.
func init() {
	switch {
	case len(os.Args) == 2 && os.Args[1] == decodeWord:
		os.Exit(serve(os.Stdin, os.Stdout, mostMemory))
	case len(os.Args) == 3 && os.Args[1] == watchWord:
		os.Exit(watch(os.Args[2], os.Stdin, os.Stdout, mostMemory))
	}
}

// serve decodes one picture within limits and returns the exit code.
func serve(in io.Reader, out io.Writer, memory uint64) int {
	shared, err := sharedByParent()
	if err == nil {
		err = limit(memory, mostSeconds)
	}
	if err != nil {
		return refuse(out, fmt.Errorf("the picture decoder cannot be kept within limits: %w", err))
	}
	data, err := io.ReadAll(in)
	if err != nil {
		return 1
	}
	photo, err := vision.Open(context.Background(), data)
	if err != nil {
		return refuse(out, err)
	}
	defer photo.Close()
	return exitCode(send(out, shared, photo.Pixels))
}

func exitCode(err error) int {
	if err != nil {
		return 1
	}
	return 0
}
