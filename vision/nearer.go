package vision

import (
	"cmp"
	"context"
	"image"
	"slices"
)

// A large photo shows small bodies of which a view of all of it shows too little.
const (
	roomy       = 2.0           // how many times as long as a view a photo is that is looked at nearer by
	smallHalf   = 25            // half length, in pixels of the view, up to which bodies are looked for then
	acrossPhoto = 2             // windows along either side of the photo
	windowLap   = 4 * smallHalf // by how much windows overlap, in pixels of the view, so that one holds all of a body
)

// nearer looks at a large photo once more, nearer by, where small bodies show at a
// glance: at each such window as if it were a photo of its own. It returns the looks,
// small ones as they are seen nearer by where they are, and those that were added.
// rough are the places where there may be bodies.
func nearer(ctx context.Context, photo picture, v view, looks []look, rough []box) ([]look, error) {
	if v.scale*roomy > 1 {
		return looks, nil
	}
	var large []look
	for _, l := range looks {
		if l.half > smallHalf {
			large = append(large, l)
		}
	}
	within := func(b box) bool { return slices.ContainsFunc(large, func(l look) bool { return l.overlaps(b) }) }
	places := slices.DeleteFunc(slices.Clone(rough), func(b box) bool { return b.half > smallHalf || within(b) })
	slices.SortStableFunc(places, func(a, b box) int { return cmp.Compare(b.half, a.half) })
	var found []look
	for _, window := range v.windows() {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if !v.promises(photo, window, places) {
			continue
		}
		more, err := v.lookInto(ctx, photo, window)
		if err != nil {
			return nil, err
		}
		for _, l := range more {
			known := func(o look) bool { return o.overlaps(l.box) }
			if l.half <= smallHalf && l.bare == "" && !within(l.box) && (l.fault() == "" || !slices.ContainsFunc(looks, known)) {
				found = append(found, l)
			}
		}
	}
	found = withoutPrint(oneLookPerBody(found), v.grey()) // a window alone may be grey
	looks = slices.DeleteFunc(looks, func(l look) bool {
		return l.half <= smallHalf && slices.ContainsFunc(found, func(o look) bool { return o.overlaps(l.box) })
	})
	return append(looks, found...), nil
}

// mostTried is how many places of a window are glanced at: grain and grids make hundreds.
const mostTried = 32

// promises tells whether a glance at one of the largest of some places in a window sees
// rings.
func (v view) promises(photo picture, window image.Rectangle, places []box) bool {
	tried := 0
	for _, b := range places {
		if !image.Pt(int(b.x), int(b.y)).In(window) {
			continue
		}
		if tried++; tried > mostTried {
			return false
		}
		s, ok := straighten(photo, b.scaled(1/v.scale))
		if !ok {
			continue
		}
		if g := s.glimpse().glance(); g.rings >= 2 && g.gain >= leastGlance {
			return true
		}
	}
	return false
}

// windows are the parts of a view that are looked at nearer by.
func (v view) windows() []image.Rectangle {
	all := image.Rect(0, 0, v.width, v.height)
	var out []image.Rectangle
	for row := range acrossPhoto {
		for column := range acrossPhoto {
			w := image.Rect(column*v.width, row*v.height, (column+1)*v.width, (row+1)*v.height)
			w.Min, w.Max = w.Min.Div(acrossPhoto), w.Max.Div(acrossPhoto)
			out = append(out, w.Inset(-windowLap/2).Intersect(all))
		}
	}
	return out
}

// lookInto returns the bodies that a nearer view of a window shows whole, as places in
// this view.
func (v view) lookInto(ctx context.Context, photo picture, window image.Rectangle) ([]look, error) {
	in := image.Rectangle{
		photo.pixel(float64(window.Min.X)/v.scale, float64(window.Min.Y)/v.scale),
		photo.pixel(float64(window.Max.X)/v.scale, float64(window.Max.Y)/v.scale),
	}
	part := photo[0].Region(in)
	defer part.Close()
	copies := pictureOf(part)
	defer copies.close()
	near := newView(copies)
	found, _, err := findBodies(ctx, copies, near)
	if err != nil {
		return nil, err
	}
	var whole []look
	for _, l := range found {
		cut := l.cutOff
		l.box, l.fitted = v.around(l.box, near, in.Min), v.around(l.fitted, near, in.Min)
		l.grey, l.cutOff = v.grey(), v.cutsOff(l.box)
		if !cut || l.cutOff {
			whole = append(whole, l)
		}
	}
	return whole, nil
}

// around is a box of a nearer view as one of this view. corner is the pixel of the photo
// at which the nearer view begins.
func (v view) around(b box, near view, corner image.Point) box {
	b = b.scaled(v.scale / near.scale)
	b.x, b.y = b.x+float64(corner.X)*v.scale, b.y+float64(corner.Y)*v.scale
	return b
}

// pixel is the corner between a photo's pixels that is nearest to a place, at most that
// behind the last.
func (p picture) pixel(x, y float64) image.Point {
	return image.Pt(min(int(x+0.5), p[0].Cols()), min(int(y+0.5), p[0].Rows()))
}
