// Package printed puts a sheet's document on paper and on the screen, with the
// same words and pictures: as PDF and as HTML.
package printed

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"

	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/cmd/ringwise/internal/sheet/strip"
)

// A Look says how a sheet is printed. It changes nothing of what is asked.
type Look struct {
	Large   bool // large print
	Letters bool // letters below the rings of photos
	Grey    bool // for printers without colour; implies Letters
}

// Suffix tells the files of one look from those of another; it is empty for
// the usual one.
func (l Look) Suffix() string {
	suffix := ""
	for _, s := range []struct {
		set  bool
		name string
	}{{l.Large, "-large"}, {l.Letters && !l.Grey, "-letters"}, {l.Grey, "-grey"}} {
		if s.set {
			suffix += s.name
		}
	}
	return suffix
}

// tabs are the letters below the rings of a photo, or none.
func (l Look) tabs(f sheet.Figure) []strip.Shape {
	if f.Part.Picture == nil || !l.Letters && !l.Grey {
		return nil
	}
	return strip.Tabs(f.Part.Reading.Rings, f.Part.Picture.Rings)
}

// picture is the JPEG to show for a figure, without colour if the look has
// none.
func (l Look) picture(p sheet.Picture) ([]byte, error) {
	if !l.Grey {
		return p.JPEG, nil
	}
	photo, err := jpeg.Decode(bytes.NewReader(p.JPEG))
	if err != nil {
		return nil, fmt.Errorf("a part's picture is damaged (%w): confirm the part again", err)
	}
	grey := image.NewGray(photo.Bounds())
	draw.Draw(grey, grey.Rect, photo, photo.Bounds().Min, draw.Src)
	var b bytes.Buffer
	err = jpeg.Encode(&b, grey, &jpeg.Options{Quality: 88})
	return b.Bytes(), err
}

// none is the fill of what has none.
var none = color.RGBA{}
