package photopart

import (
	"bytes"
	"context"
	"encoding/json"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/vision"
)

const samples = "../../../../../samples"

// truth is what the demo photos are known to show (rendered scenes, of
// samples/truth.json).
type truth struct {
	Photos []struct {
		File      string
		Resistors []struct {
			Bands []string
			Body  struct{ Center [2]float64 }
		}
	}
}

func readTruth(t *testing.T) truth {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(samples, "truth.json"))
	require.NoError(t, err)
	var known truth
	require.NoError(t, json.Unmarshal(data, &known))
	return known
}

// A crop is a part of a demo photo, cut as the stock keeps it, with the rings
// it is known to have and their places.
type crop struct {
	image image.Image
	rings []decode.Colour
	at    []float64
}

// crops cuts the parts out of the demo photos whose rings the photo reader
// finds as they are known to be; what it saw tells their places.
func crops(t *testing.T) []crop {
	t.Helper()
	var list []crop
	for _, known := range readTruth(t).Photos {
		result := photoread.Read(context.Background(), photoread.File(filepath.Join(samples, known.File)), func(photo *vision.Photo, parts []photoread.Part) error {
			for _, p := range parts {
				best, ok := p.Best()
				middle := p.At(0.5, 0.5)
				for _, r := range known.Resistors {
					if !ok || math.Hypot(middle.X-r.Body.Center[0], middle.Y-r.Body.Center[1]) > 20 {
						continue
					}
					rings := make([]decode.Colour, len(r.Bands))
					for i, name := range r.Bands {
						c, err := decode.ParseColour(name)
						require.NoError(t, err)
						rings[i] = c
					}
					if !slices.Equal(rings, best.Rings) || len(best.Order) < 2 {
						continue
					}
					image, err := p.Crop(photo, 400, int(400/p.CropAspect()))
					require.NoError(t, err)
					list = append(list, crop{image, rings, places(p.Seen.Cuts[best.Cut], best.Order)})
				}
			}
			return nil
		})
		require.NoError(t, result.Err, known.File)
	}
	require.Greater(t, len(list), 15)
	return list
}

// The direction of a crop is never told wrong; where it is not certain, the
// part is drawn.
func TestRingsInCrops(t *testing.T) {
	certain, apart, ways := 0, 0, map[bool]int{}
	all := crops(t)
	for _, c := range all {
		at, sure := ringsIn(context.Background(), c.image, c.rings)
		if !sure {
			continue
		}
		certain++
		back := slices.Clone(c.rings)
		slices.Reverse(back)
		if !slices.Equal(back, c.rings) {
			ways[fall(c.at)]++
			assert.Equal(t, fall(c.at), fall(at), "%v", c.rings)
		}
		require.Len(t, at, len(c.at))
		for i := range at {
			if fall(at) == fall(c.at) && math.Abs(at[i]-c.at[i]) > 0.05 {
				apart++
			}
		}
	}
	t.Logf("certain of %d of %d crops; %d rings at other places than in the photo", certain, len(all), apart)
	assert.LessOrEqual(t, apart, certain/10, "some rings hardly differ from their body")
	assert.Greater(t, certain, len(all)/3)
	assert.NotZero(t, ways[true])
	assert.NotZero(t, ways[false])
}

// A crop that shows no body is never certain.
func TestRingsInNothing(t *testing.T) {
	blank := image.NewRGBA(image.Rect(0, 0, 300, 100))
	_, sure := ringsIn(context.Background(), blank, []decode.Colour{decode.Brown, decode.Black, decode.Red})
	assert.False(t, sure)
}

// A picture has the common size; where its rings run from right to left it is
// turned, and the places with it.
func TestPicture(t *testing.T) {
	for _, size := range []image.Point{{600, 100}, {90, 60}, {100, 300}} {
		img := image.NewRGBA(image.Rectangle{Max: size})
		for y := range size.Y {
			for x := range size.X {
				c := color.RGBA{200, 30, 30, 255}
				if x > size.X/2 {
					c = color.RGBA{30, 30, 200, 255}
				}
				img.Set(x, y, c)
			}
		}
		for turned, at := range map[bool][]float64{false: {0.25, 0.75}, true: {0.75, 0.25}} {
			p, err := picture(img, at)
			require.NoError(t, err)
			shown, err := jpeg.Decode(bytes.NewReader(p.JPEG))
			require.NoError(t, err)
			assert.Equal(t, image.Rect(0, 0, p.Width, p.Height), shown.Bounds())
			assert.Equal(t, image.Rect(0, 0, width, height), shown.Bounds())
			for i, x := range p.Rings {
				r, _, b, _ := shown.At(int(x*width), height/2).RGBA()
				assert.Equal(t, at[i] > 0.5, b > r, "%v, turned %v: the ring at %v", size, turned, x)
			}
			assert.Less(t, p.Rings[0], p.Rings[1])
		}
	}
}

// Only sure readings are taken, each marked as not checked by a person.
func TestFromPhoto(t *testing.T) {
	r := FromPhoto(context.Background(), photoread.File(filepath.Join(samples, "cleanout-01-biscuit-tin.jpg")))
	require.NoError(t, r.Err)
	require.NotEmpty(t, r.Parts)
	assert.NotZero(t, r.Left)
	for _, p := range r.Parts {
		assert.True(t, p.Unchecked)
		require.NotNil(t, p.Picture)
	}
	r = FromPhoto(context.Background(), photoread.File("missing.jpg"))
	assert.ErrorContains(t, r.Err, "missing.jpg: no such file")
}

// From the stock each row of rings comes once, and nothing without rings.
func TestFromStock(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "club.db")
	store, err := stock.Open(ctx, path)
	require.NoError(t, err)
	c := crops(t)[0]
	var data bytes.Buffer
	require.NoError(t, png.Encode(&data, c.image))
	found, err := decode.Readings(c.rings)
	require.NoError(t, err)
	for range 2 {
		_, err = store.Confirm(ctx, stock.Part{Count: 1, Origin: stock.FromRings, Reading: found[0],
			Photo: "tin.jpg", PhotoPart: 1, Crop: data.Bytes()})
		require.NoError(t, err)
	}
	drawn, err := decode.Readings([]decode.Colour{decode.Green, decode.Blue, decode.Red, decode.Gold})
	require.NoError(t, err)
	_, err = store.Confirm(ctx, stock.Part{Count: 1, Origin: stock.FromRings, Reading: drawn[0]})
	require.NoError(t, err)
	require.NoError(t, store.Close())

	parts, err := FromStock(ctx, path)
	require.NoError(t, err)
	require.Len(t, parts, 2)
	pictures := 0
	for _, p := range parts {
		assert.False(t, p.Unchecked)
		if p.Picture != nil {
			pictures++
		}
	}
	_, sure := ringsIn(ctx, c.image, c.rings)
	if sure {
		assert.Equal(t, 1, pictures)
	} else {
		assert.Zero(t, pictures)
	}
}
