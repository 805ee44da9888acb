package doctor

import (
	"bytes"
	"context"
	_ "embed"
	"fmt"
	"strconv"
	"strings"

	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/isolated"
	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
)

// madeFor is the OpenCV that gocv 0.31.0 is made for, by its release notes.
const madeFor = "4.6"

// library compares OpenCV with what the bindings are made for.
func library() Finding { return compare(gocv.OpenCVVersion()) }

func compare(version string) Finding {
	f := Finding{Of: "OpenCV", State: Well}
	f.Found = fmt.Sprintf("version %s; gocv %s is made for %s", version, gocv.Version(), madeFor)
	if !strings.HasPrefix(version+".", madeFor+".") {
		f.State, f.Do = Wrong, "install OpenCV "+madeFor+" and build Ringwise again, or use Debian's package; readings may be off"
	}
	return f
}

// sample is a cut-out of a rendered photo of an invented club's clean-out, with
// one part on it: yellow brown red brown brown, 4.12 kΩ ±1 % by IEC 60062.
//
//go:embed sample.jpg
var sample []byte

const sampleRings, sampleOhms = "YE BN RD BN BN", "4120"

// reading reads the sample.
func reading(ctx context.Context) Finding {
	return judge(photoread.Read(ctx, photoread.Stream("sample", bytes.NewReader(sample)), nil))
}

func judge(result photoread.Result) Finding {
	f := Finding{Of: "reading", State: Wrong, Do: "install Ringwise again; if it stays, do not trust its readings"}
	switch {
	case result.Err != nil:
		f.Found = "the built-in photo cannot be read: " + result.Err.Error()
	case len(result.Parts) != 1:
		f.Found = "the built-in photo of one part is read as " + strconv.Itoa(len(result.Parts)) + " parts"
	case len(result.Parts[0].Candidates) == 0:
		f.Found = "the rings of the built-in photo are not read"
	default:
		first := result.Parts[0].Candidates[0].Reading
		if first.Ohms.String() == sampleOhms && letters(first.Rings) == sampleRings {
			return Finding{Of: "reading", State: Well, Found: "the built-in photo is read right, " + sampleRings}
		}
		f.Found = "the built-in photo of " + sampleRings + " is read as " + letters(first.Rings)
	}
	return f
}

// letters writes rings by their letters (IEC 60757).
func letters(rings []decode.Colour) string {
	words := make([]string, len(rings))
	for i, r := range rings {
		words[i] = r.Letters()
	}
	return strings.Join(words, " ")
}

// decoder opens the sample in a process of its own, as the bench does.
func decoder(ctx context.Context) Finding {
	f := Finding{Of: "isolated decoder", State: Well, Found: "photos can be decoded in a process of their own"}
	photo, err := isolated.Open(ctx, sample)
	if err != nil {
		f.State, f.Found = Wrong, err.Error()
		f.Do = "let this user start processes and map 2 GB of memory each; the bench reads no photos without"
		return f
	}
	photo.Close()
	return f
}

// look opens a camera and takes one frame, as the bench does.
func look(ctx context.Context, camera string) Finding {
	f := Finding{Of: "camera " + camera, State: Wrong, Do: "check its number or address, that it is plugged in, that this user may use it, and that no other program does"}
	open, err := isolated.OpenCamera(ctx, camera)
	if err != nil {
		f.Found = "it cannot be opened"
		return f
	}
	defer open.Close()
	frame, err := open.Frame(ctx)
	if err != nil {
		f.Found = "it opens but gives no picture"
		return f
	}
	defer frame.Close()
	return Finding{Of: f.Of, State: Well, Found: fmt.Sprintf("it gives pictures of %d × %d pixels", frame.Pixels.Cols(), frame.Pixels.Rows())}
}
