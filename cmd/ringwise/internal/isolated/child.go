package isolated

import (
	"bufio"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"os"

	"ringwise/vision"
)

// word is what the program is started with to decode one picture from standard
// input. It is not for people: ringwise help does not list it.
const word = "decode-isolated"

// mostMemory is how much memory decoding may ask for, in bytes. The largest
// picture that vision opens takes 360 MB, and is copied to turn it.
const mostMemory = 2 << 30

// init makes any program that uses this package the decoder when it is started
// with the word alone, before anything else of that program begins.
func init() {
	if len(os.Args) == 2 && os.Args[1] == word {
		os.Exit(serve(os.Stdin, os.Stdout, mostMemory))
	}
}

// serve decodes one picture within limits and returns the exit code.
func serve(in io.Reader, out io.Writer, memory uint64) int {
	if err := limit(memory); err != nil {
		fmt.Fprintf(out, "%cthe picture decoder cannot be kept within limits: %v", withRefusal, err)
		return 0
	}
	data, err := io.ReadAll(in)
	if err != nil {
		return 1
	}
	photo, err := vision.Open(context.Background(), data)
	if err != nil {
		fmt.Fprintf(out, "%c%v", withRefusal, err)
		return 0
	}
	defer photo.Close()
	if err := send(out, photo); err != nil {
		return 1
	}
	return 0
}

// send writes the pixels of a photo.
func send(out io.Writer, photo *vision.Photo) error {
	pixels := photo.Pixels
	if !pixels.IsContinuous() {
		pixels = pixels.Clone()
		defer pixels.Close()
	}
	data, err := pixels.DataPtrUint8()
	if err != nil {
		return err
	}
	w := bufio.NewWriter(out) // passes what is larger than itself straight on
	w.WriteByte(withPixels)
	if err := binary.Write(w, binary.LittleEndian, size{uint32(pixels.Cols()), uint32(pixels.Rows())}); err != nil {
		return err
	}
	if _, err := w.Write(data); err != nil {
		return err
	}
	return w.Flush()
}
