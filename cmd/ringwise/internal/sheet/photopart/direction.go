package photopart

import (
	"bytes"
	"context"
	"image"
	"image/png"
	"math"
	"slices"

	"golang.org/x/image/draw"

	"ringwise/decode"
	"ringwise/vision"
)

// How certain the direction of a crop must be: rings as known must be the
// likeliest reading of it with at least this confidence, and their colours must
// be likelier from that end than from the other by as much, in natural
// logarithms.
const (
	likeliest     = 0.5
	clearlyBetter = 6.0
)

// ringsIn finds known rings in a crop: their places in reading order, as
// fractions of its width. It reports false unless it is certain from which end
// they are read, by all that ranking knows of rows of rings and by the colours
// alone.
func ringsIn(ctx context.Context, crop image.Image, rings []decode.Colour) (at []float64, certain bool) {
	ground := onGround(crop)
	part, ok := bodyIn(ctx, ground)
	if !ok {
		return nil, false
	}
	best, ok := decode.Rank(part.Seen).Best()
	if !ok || !slices.Equal(best.Rings, rings) || best.Confidence < likeliest {
		return nil, false
	}
	seen := slices.Clone(rings) // from the strip's left end
	if best.Order[0] > best.Order[len(best.Order)-1] {
		slices.Reverse(seen)
	}
	other := slices.Clone(seen)
	slices.Reverse(other)
	this, opposite := math.Inf(-1), math.Inf(-1)
	for _, c := range part.Seen.Cuts {
		if len(c.Rings) == len(rings) {
			this, opposite = max(this, likelihood(c, seen)), max(opposite, likelihood(c, other))
		}
	}
	if !slices.Equal(seen, other) && this < opposite+clearlyBetter {
		return nil, false
	}
	width := float64(crop.Bounds().Dx())
	for _, k := range best.Order {
		place := part.At(part.Seen.Cuts[best.Cut].Rings[k].Centre, 0.5)
		at = append(at, (place.X-(float64(ground.Bounds().Dx())-width)/2)/width)
	}
	return at, true
}

// likelihood is how likely a row of colours is for a cut, from left to right:
// a natural logarithm.
func likelihood(c decode.Cut, rings []decode.Colour) float64 {
	sum := c.LogWeight
	for i, r := range c.Rings {
		sum += r.LogLikelihood[rings[i]]
	}
	return sum
}

// bodyIn finds the one body of a picture; false if there is none, or more.
func bodyIn(ctx context.Context, img image.Image) (vision.Part, bool) {
	var data bytes.Buffer
	if err := png.Encode(&data, img); err != nil {
		return vision.Part{}, false
	}
	photo, err := vision.Open(ctx, data.Bytes())
	if err != nil {
		return vision.Part{}, false
	}
	defer photo.Close()
	parts, err := vision.Find(ctx, photo)
	if err != nil || len(parts) != 1 {
		return vision.Part{}, false
	}
	return parts[0], true
}

// onGround lays a crop on a wider ground of its own rim, as a photo would
// show it.
func onGround(crop image.Image) image.Image {
	area := crop.Bounds()
	room := max(area.Dx(), area.Dy()) / 2
	whole := image.NewRGBA(image.Rect(0, 0, area.Dx()+2*room, area.Dy()+2*room))
	draw.Draw(whole, whole.Rect, image.NewUniform(rim(crop)), image.Point{}, draw.Src)
	draw.Draw(whole, area.Sub(area.Min).Add(image.Pt(room, room)), crop, area.Min, draw.Src)
	return whole
}
