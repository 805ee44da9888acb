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
// learning to tell what columns show. It reports false where the outline lies
// beyond the photo.
func (p *Photo) Straighten(outline [4]Point) (*columns.Strip, bool) {
	return straightenWide(picture{p.Pixels}, boxOf(outline))
}

// boxOf is the box of an outline.
func boxOf(o [4]Point) box {
	left := Point{(o[0].X + o[3].X) / 2, (o[0].Y + o[3].Y) / 2}
	right := Point{(o[1].X + o[2].X) / 2, (o[1].Y + o[2].Y) / 2}
	dx, dy := right.X-left.X, right.Y-left.Y
	rise := (math.Hypot(o[0].X-o[3].X, o[0].Y-o[3].Y) + math.Hypot(o[1].X-o[2].X, o[1].Y-o[2].Y)) / 4
	return box{x: (left.X + right.X) / 2, y: (left.Y + right.Y) / 2, half: math.Hypot(dx, dy) / 2, rise: rise, angle: math.Atan2(dy, dx)}
}

// straightenWide samples the surroundings of a box and stands its rings
// upright.
func straightenWide(photo picture, b box) (*columns.Strip, bool) {
	s := &columns.Strip{Detail: columnsApart(b)}
	if !sample(photo, b, columns.Columns, columns.Rows, func(column, row int) *[3]float32 { return &s.Pixels[row][column] }) {
		return nil, false
	}
	var narrow strip
	for r := range narrow.pixels {
		copy(narrow.pixels[r][:], s.Pixels[marginRows+r][marginColumns:])
	}
	bend := narrow.straightenRings()
	for r := range s.Pixels {
		row := &s.Pixels[r]
		if inner := r - marginRows; inner >= 0 && inner < stripRows {
			from := *row
			shift := int(math.Round(bend.shift(inner)))
			for c := range row {
				row[c] = from[min(max(c+shift, 0), columns.Columns-1)]
			}
		}
		for c := range row {
			row[c][0], row[c][2] = row[c][2], row[c][0]
		}
	}
	return s, true
}
