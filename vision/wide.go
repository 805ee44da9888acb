package vision

import (
	"math"

	"ringwise/vision/columns"
)

// Where the strip of the cutter lies in the wide strip.
const (
	marginColumns = (columns.Columns - stripColumns) / 2
	marginRows    = (columns.Rows - stripRows) / 2
)

// Straighten samples the surroundings of an outline from the photo, for
// learning to tell what columns show. It reports false where fewer than four pixels
// of the photo lie there, along or across.
func (p *Photo) Straighten(outline [4]Point) (*columns.Strip, bool) {
	s, ok := straighten(picture{p.Pixels}, boxOf(outline))
	if !ok {
		return nil, false
	}
	return s.wide, true
}

// boxOf is the box of an outline.
func boxOf(o [4]Point) box {
	left := Point{(o[0].X + o[3].X) / 2, (o[0].Y + o[3].Y) / 2}
	right := Point{(o[1].X + o[2].X) / 2, (o[1].Y + o[2].Y) / 2}
	dx, dy := right.X-left.X, right.Y-left.Y
	rise := (math.Hypot(o[0].X-o[3].X, o[0].Y-o[3].Y) + math.Hypot(o[1].X-o[2].X, o[1].Y-o[2].Y)) / 4
	return box{x: (left.X + right.X) / 2, y: (left.Y + right.Y) / 2, half: math.Hypot(dx, dy) / 2, rise: rise, angle: math.Atan2(dy, dx)}
}

// standUpright shifts the rows of the wide strip so that the rings stand upright in
// it, and puts red first.
func (s *strip) standUpright() {
	for r := range s.wide.Pixels {
		row := &s.wide.Pixels[r]
		if inner := r - marginRows; inner >= 0 && inner < stripRows {
			from := *row
			shift := int(math.Round(s.bend.shift(inner)))
			for c := range row {
				row[c] = from[min(max(c+shift, 0), columns.Columns-1)]
			}
		}
		for c := range row {
			row[c][0], row[c][2] = row[c][2], row[c][0]
		}
	}
}
