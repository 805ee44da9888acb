package main

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
)

// recompressed is a picture saved as JPEG and opened again.
func recompressed(m *image.RGBA, quality int) (*image.RGBA, error) {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: quality}); err != nil {
		return nil, err
	}
	back, err := jpeg.Decode(&b)
	if err != nil {
		return nil, err
	}
	out := image.NewRGBA(m.Rect)
	for y := range m.Rect.Dy() {
		for x := range m.Rect.Dx() {
			out.Set(x, y, back.At(x, y))
		}
	}
	return out, nil
}

// enlarge scales a picture up, in blocks or smoothly.
func enlarge(m *image.RGBA, k float64, blocky bool) *image.RGBA {
	width, height := int(math.Round(float64(m.Rect.Dx())*k)), int(math.Round(float64(m.Rect.Dy())*k))
	out := image.NewRGBA(image.Rect(0, 0, width, height))
	at := func(x, y int) color.RGBA {
		return m.RGBAAt(max(0, min(m.Rect.Dx()-1, x)), max(0, min(m.Rect.Dy()-1, y)))
	}
	for y := range height {
		for x := range width {
			fx, fy := (float64(x)+0.5)/k, (float64(y)+0.5)/k
			if blocky {
				out.SetRGBA(x, y, at(int(fx), int(fy)))
				continue
			}
			x0, y0 := math.Floor(fx-0.5), math.Floor(fy-0.5)
			tx, ty := fx-0.5-x0, fy-0.5-y0
			a, b := at(int(x0), int(y0)), at(int(x0)+1, int(y0))
			c, e := at(int(x0), int(y0)+1), at(int(x0)+1, int(y0)+1)
			mix := func(a, b, c, e uint8) uint8 {
				return uint8((float64(a)*(1-tx)+float64(b)*tx)*(1-ty) + (float64(c)*(1-tx)+float64(e)*tx)*ty + 0.5)
			}
			out.SetRGBA(x, y, color.RGBA{mix(a.R, b.R, c.R, e.R), mix(a.G, b.G, c.G, e.G), mix(a.B, b.B, c.B, e.B), 255})
		}
	}
	return out
}
