package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"net"
	"strconv"

	"github.com/skip2/go-qrcode"

	"ringwise/cmd/ringwise/internal/bench"
	"ringwise/cmd/ringwise/internal/isolated"
	"ringwise/cmd/ringwise/internal/logbook"
	"ringwise/cmd/ringwise/internal/stock"
)

const benchBrief = "confirm readings on a page in the browser and keep the stock"

const benchHelp = `usage: ringwise bench [--stock FILE] [--port N] [--lan] [--camera N|FILE|URL]
                      [--verbose]

Starts a page for this computer's browser and prints its address. Photos are
dropped, chosen or pasted there; each part is shown large with its rings named,
and one key confirms it into the stock. Everything works by keyboard.

  --stock FILE  the stock to keep confirmed parts in
  --port N      the port to answer on, 7350 if not given, 0 for any free one
  --lan         let phones and other devices of the local network in. A QR code,
                here and on the page, lets in one device each; all are let go
                when the bench stops. Plain HTTP: whoever shares the network can
                overhear
  --camera ...  a fixed camera by its number, from 0, or a video file or stream;
                the scene is read whenever it is still
  --verbose     log every request and photo to standard error, without names,
                values or addresses; without it only what goes wrong

Without --lan the page is for this computer alone. Stop the bench with Ctrl+C;
the stock stays, the photos on the bench do not.

Exit code: 0 stopped, 1 it could not start, 2 wrong use.

Examples:
  ringwise bench
  ringwise bench --stock club.db --port 0
  ringwise bench --lan --camera 0
`

// benchPort is the usual port of the bench: any that no other common service
// has.
const benchPort = 7350

// openBench runs the bench until it is stopped.
func openBench(ctx context.Context, args []string, std streams) (int, error) {
	set := flag.NewFlagSet("bench", flag.ContinueOnError)
	path := set.String("stock", "", "")
	port := set.Uint("port", benchPort, "")
	lan := set.Bool("lan", false, "")
	source := set.String("camera", "", "")
	verbose := set.Bool("verbose", false, "")
	words, err := parse(set, args)
	switch {
	case err != nil:
		return 0, err
	case len(words) > 0:
		return 0, usage("there is nothing to name: photos are brought in on the page, %q is too much", words[0])
	case *port > 65535:
		return 0, usage("there is no port %d: use 0 to 65535", *port)
	}
	if *path == "" {
		if *path, err = stock.DefaultPath(); err != nil {
			return 0, err
		}
	}
	store, err := stock.Open(ctx, *path)
	if err != nil {
		return 0, err
	}
	defer store.Close()

	options := bench.Options{Log: logbook.New(std.err, *verbose)}
	host := "127.0.0.1"
	if *lan {
		host = "" // all addresses
		if options.Addresses, err = bench.LocalAddresses(); err != nil {
			return 0, err
		}
		options.Invited = func(address string) { invite(std.out, address) }
	}
	listener, err := net.Listen("tcp", net.JoinHostPort(host, strconv.FormatUint(uint64(*port), 10)))
	if err != nil {
		return 0, fmt.Errorf("port %d is taken by another program: name another with --port, or --port 0 for any", *port)
	}
	if *source != "" {
		if options.Camera, err = isolated.OpenCamera(ctx, *source); err != nil {
			listener.Close()
			return 0, err
		}
	}
	server, err := bench.New(store, listener, options)
	if err != nil {
		return 0, err
	}
	fmt.Fprintf(std.out, "The bench is at %s\nStock: %s\n", server.Address(), store.Path())
	if *lan {
		invite(std.out, server.Invitation())
	}
	fmt.Fprintln(std.out, "Stop with Ctrl+C.")
	return allWell, server.Serve(ctx)
}

// invite shows how to let one device in.
func invite(w io.Writer, address string) {
	if code, err := qrcode.New(address, qrcode.Medium); err == nil {
		fmt.Fprint(w, code.ToSmallString(false))
	}
	fmt.Fprintf(w, "For one phone or other device: %s\nPlain HTTP: whoever shares the network can overhear.\n", address)
}
