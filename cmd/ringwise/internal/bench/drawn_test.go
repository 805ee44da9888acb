package bench

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/isolated"
	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
	"ringwise/vision"
)

// A drawnPart is a part drawn by the test, with what the reader would have seen
// of it. What it means is known by IEC 60062.
type drawnPart struct {
	rings  string // letters of IEC 60757
	doubts map[int]decode.Colour
	body   decode.BodyHue
	fault  string
	even   bool // the places of the rings do not tell which end comes first
}

// drawnParts lie on the drawn photo from top to bottom.
var drawnParts = []drawnPart{
	{rings: "GN BU RD GD", body: decode.BodyTan},                                                  // 5.6 kΩ ±5 %
	{rings: "YE VT OG GD", body: decode.BodyTan, doubts: map[int]decode.Colour{1: decode.Orange}}, // 47 kΩ ±5 %
	{rings: "BN BK BK RD BN", body: decode.BodyBlue},                                              // 10 kΩ ±1 %
	{rings: "BN BK RD BN", body: decode.BodyTan, even: true},                                      // 1 kΩ ±1 %, or 12 Ω ±1 % from the other end
	{rings: "RD RD BN GD", body: decode.BodyTan, fault: "too small: take the photo closer"},       // 220 Ω ±5 %, not read
}

// places are those of the rings on a body, by how many there are.
var places = map[int][]float64{4: {0.14, 0.29, 0.44, 0.8}, 5: {0.12, 0.25, 0.38, 0.51, 0.82}}

var evenPlaces = []float64{0.2, 0.4, 0.6, 0.8}

const (
	drawnWide, drawnHigh = 640, 480
	bodyLong, bodyBroad  = 150, 50
)

// drawnPhoto is a photo with drawn parts, as if it had been read.
func drawnPhoto(t testing.TB, name string) *photo {
	t.Helper()
	sheet := image.NewRGBA(image.Rect(0, 0, drawnWide, drawnHigh))
	draw.Draw(sheet, sheet.Bounds(), image.NewUniform(color.RGBA{0xe8, 0xe4, 0xda, 255}), image.Point{}, draw.Src)
	p := &photo{name: name, width: drawnWide, height: drawnHigh}
	for i, d := range drawnParts {
		at := image.Pt(80+(i%3)*170, 30+i*88)
		body := image.Rectangle{at, at.Add(image.Pt(bodyLong, bodyBroad))}
		tone := color.RGBA{0xd8, 0xb8, 0x8a, 255}
		if d.body == decode.BodyBlue {
			tone = color.RGBA{0x8c, 0xbc, 0xdc, 255}
		}
		draw.Draw(sheet, body, image.NewUniform(tone), image.Point{}, draw.Src)
		rings := colours(t, d.rings)
		places := places[len(rings)]
		if d.even {
			places = evenPlaces
		}
		cut := decode.Cut{}
		for k, c := range rings {
			x := at.X + int(places[k]*bodyLong)
			draw.Draw(sheet, image.Rect(x-5, at.Y, x+5, at.Y+bodyBroad), image.NewUniform(paint.Of(c)), image.Point{}, draw.Src)
			seen := decode.SeenRing{Centre: places[k], Width: 0.066}
			for other := range seen.LogLikelihood {
				seen.LogLikelihood[other] = -14
			}
			seen.LogLikelihood[c] = 0
			if rival, doubted := d.doubts[k]; doubted {
				seen.LogLikelihood[rival] = -0.5
			}
			cut.Rings = append(cut.Rings, seen)
		}
		outline := [4]vision.Point{}
		for k, corner := range [4]image.Point{body.Min, {body.Max.X, body.Min.Y}, body.Max, {body.Min.X, body.Max.Y}} {
			outline[k] = vision.Point{X: float64(corner.X), Y: float64(corner.Y)}
		}
		sighting := decode.Sighting{Cuts: []decode.Cut{cut}, Body: d.body, Fault: d.fault}
		margin := image.Pt(int(vision.CropMargin*bodyLong), int(vision.CropMargin*bodyBroad))
		strip := asPNG(t, sheet.SubImage(image.Rectangle{body.Min.Sub(margin), body.Max.Add(margin)}))
		p.parts = append(p.parts, &part{
			number: i + 1, said: said{status: open},
			strip: func() []byte { return strip },
			found: photoread.Part{Part: vision.Part{Outline: outline, Seen: sighting}, Ranking: decode.Rank(sighting)},
		})
	}
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, sheet, nil))
	p.shown = out.Bytes()
	return p
}

// colours reads letters of IEC 60757.
func colours(t testing.TB, letters string) []decode.Colour {
	t.Helper()
	var rings []decode.Colour
	for _, word := range bytes.Fields([]byte(letters)) {
		c, err := decode.ParseColour(string(word))
		require.NoError(t, err)
		rings = append(rings, c)
	}
	return rings
}

func asPNG(t testing.TB, picture image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, picture))
	return out.Bytes()
}

func asJPEG(t testing.TB, picture image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, picture, nil))
	return out.Bytes()
}

// blank is a picture without a part.
func blank() image.Image {
	p := image.NewRGBA(image.Rect(0, 0, 160, 120))
	draw.Draw(p, p.Bounds(), image.NewUniform(color.RGBA{0xe8, 0xe4, 0xda, 255}), image.Point{}, draw.Src)
	return p
}

// file is a photo file as it is read without a server.
func file(name string, data []byte) photoread.Source {
	source := photoread.Stream(name, bytes.NewReader(data))
	source.Open = isolated.Open
	return source
}
