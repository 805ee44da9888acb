package vision

import (
	"context"
	"errors"
	"image"
	"math"
)

// pointedAspects are the shapes, as length over width, in which a body that a
// person pointed at is looked for.
var pointedAspects = [...]float64{1.8, 2.5, 3.4}

// leastPointed is how far apart the ends of a body must be, in pixels of the
// photo.
const leastPointed = 16

// At looks at a body of whose ends a person points at one and the other, in
// pixels of the photo as displayed, and returns it like Find. Such a body is
// never to be sure of. Where no rings are seen there the part has a fault and
// lies where the person pointed. beside are the other parts of the photo, which
// help to tell its light. It returns an error that says what to do if an end
// lies outside the photo or the ends are too close together, or the context's
// error.
func At(ctx context.Context, photo *Photo, left, right Point, beside []Part) (Part, error) {
	frame := image.Rect(0, 0, photo.Pixels.Cols(), photo.Pixels.Rows())
	for _, end := range [2]Point{left, right} {
		if !image.Pt(int(math.Floor(end.X)), int(math.Floor(end.Y))).In(frame) {
			return Part{}, errors.New("an end lies outside the photo: point at both ends of the body within it")
		}
	}
	if !(span(left, right) >= leastPointed) {
		return Part{}, errors.New("the two ends are too close together: point at the one and the other end of the body")
	}
	if err := ctx.Err(); err != nil {
		return Part{}, err
	}
	picture := pictureOf(photo.Pixels)
	defer picture.close()
	view := newView(picture)
	g := seeGround(view)
	stand := g.stand(view)
	defer stand.Close()
	mask := plane{view.width, view.height, stand.ToBytes()}

	pointed := box{
		x: (left.X + right.X) / 2, y: (left.Y + right.Y) / 2,
		half: span(left, right) / 2, angle: math.Atan2(right.Y-left.Y, right.X-left.X),
	}.scaled(view.scale)
	pointed.rise = pointed.half / 2.5
	best := look{rings: -1}
	for _, f := range pointedFits(mask, pointed) {
		strip, ground, f, ok := lit(picture, view, mask, g, f, nil)
		if !ok {
			continue
		}
		l := look{fit: f, fitted: f.box, strip: strip, ground: ground}.again(picture, view)
		if l.overlaps(pointed) && l.half > 0.6*pointed.half && l.half < 1.6*pointed.half && (best.rings < 0 || l.gain > best.gain) {
			best = l
		}
	}
	if best.rings < 2 {
		part := Part{Outline: pointed.scaled(1 / view.scale).outline()}
		part.Seen.Fault = "no rings are seen here: set them by hand"
		return part, nil
	}
	best.regard(view, mask)
	var traces []*trace
	for _, p := range beside {
		if p.trace != nil {
			traces = append(traces, p.trace)
		}
	}
	t := best.trace()
	t.plain.Handicap = append(t.plain.Handicap, "found only where you pointed: compare its rings with the part")
	seen := sightings(append(traces, t), unknown)
	return Part{Outline: best.scaled(1 / view.scale).outline(), Seen: seen[len(traces)], trace: t}, nil
}

// pointedFits are the fits to look at where a person pointed: one for each
// shape, and what the outline there says, if there is one.
func pointedFits(mask plane, pointed box) []fit {
	var fits []fit
	for _, aspect := range pointedAspects {
		b := pointed
		b.rise = b.half / aspect
		fits = append(fits, fit{box: b})
	}
	if f, ok := refine(mask, pointed); ok && f.overlaps(pointed) {
		fits = append(fits, f)
	}
	return fits
}
