package diagram

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ringwise/decode"
)

// The picture is 400 wide from 34 on, 36 below the rings' letters. L* has 64 for
// 100, a* and b* 64 for 160; all values below are laid out by hand.
func TestStrip(t *testing.T) {
	drawing := Strip{
		Title: `strip of "bench.jpg"`, JPEG: []byte("picture"), Width: 200, Height: 50,
		Rings:   []Ring{{0.25, 0.375, decode.Green}, {0.5, 0.5, decode.Gold}},
		Profile: Profile{L: []float64{0, 100}, A: []float64{-80, 0}, B: []float64{90, 80}},
	}.Draw()
	elements := wellFormed(t, drawing)
	assert.Equal(t, 1, elements["image"])
	for _, want := range []string{
		`aria-label="strip of &#34;bench.jpg&#34;"`,
		`<image x="34" y="36" width="400" height="100.0" href="data:image/jpeg;base64,cGljdHVyZQ=="/>`,
		`<text x="159.0" y="11" text-anchor="middle">GN</text>`,
		`<rect x="134.0" y="15" width="50.0" height="12"`,
		`<rect x="234.0" y="15" width="2.0" height="12"`, // never too thin to see
		`>GD</text>`,
		`d="M134 212.0L334 148.0"`, // L* from 0 to 100, in the frame from 148 to 212
		`d="M134 288.0L334 256.0"`, // a* from -80 to 0, in the frame from 224 to 288
		`d="M134 224.0L334 224.0"`, // b* beyond 80 stays in the frame
		`>a*</text>`, `>b*</text>`, `>L*</text>`,
		`stroke-dasharray="6 3"`, `stroke-dasharray="1.5 2.5"`,
	} {
		assert.Contains(t, drawing, want)
	}
}

func TestApart(t *testing.T) {
	for _, c := range []struct{ a, b, wantA, wantB float64 }{
		{10, 40, 10, 40},
		{10, 21, 10, 21},
		{10, 15, 7, 18},
		{15, 10, 18, 7},
		{10, 10, 4.5, 15.5},
	} {
		a, b := apart(c.a, c.b)
		assert.Equal(t, [2]float64{c.wantA, c.wantB}, [2]float64{a, b}, "%v and %v", c.a, c.b)
	}
}
