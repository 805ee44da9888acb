package main

import (
	"bytes"
	"image/jpeg"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func evenPicture(c rgb, width, height int) *picture {
	p := newPicture(width, height)
	for i := range p.planes[0] {
		for k := range 3 {
			p.planes[k][i] = float32(c[k])
		}
	}
	return p
}

// A grey card by lamplight is grey again where the camera takes that lamp for
// white, and yellowish where it expects daylight.
func TestBalanceTakesTheLampOut(t *testing.T) {
	lit := lampColour(3000).times(0.2)
	right, wrong := evenPicture(lit, 4, 4), evenPicture(lit, 4, 4)
	right.balance(lampColour(3000), 0)
	wrong.balance(lampColour(6000), 0)
	assert.InDelta(t, right.planes[0][5], right.planes[1][5], 1e-6)
	assert.InDelta(t, right.planes[1][5], right.planes[2][5], 1e-6)
	assert.Greater(t, wrong.planes[0][5], wrong.planes[1][5])
	assert.Greater(t, wrong.planes[1][5], wrong.planes[2][5])
}

// A blur spreads light and loses none.
func TestBlurKeepsLight(t *testing.T) {
	p := newPicture(41, 41)
	p.planes[1][20*41+20] = 1
	b := p.blurred(2.5)
	sum := float32(0)
	for _, v := range b.planes[1] {
		sum += v
	}
	assert.InDelta(t, 1, sum, 1e-4)
	assert.Less(t, b.planes[1][20*41+20], float32(0.1))
}

// The curve of sRGB gives linear 0.2140 the code 0.5 (IEC 61966-2-1, worked
// from its formula).
func TestToneCurveIsThatOfSRGB(t *testing.T) {
	assert.InDelta(t, 0.5, toneCurve(0.21404, lens{}), 1e-4)
	assert.Zero(t, toneCurve(-0.1, lens{}))
	assert.LessOrEqual(t, toneCurve(50, lens{}), 1.0)
}

// The saved photo is as large as the truth says, enlarged pictures too, and
// falls the same for the same seed.
func TestDevelopedSize(t *testing.T) {
	s := compose(3, "product", 0.5)
	s.lens.enlarged = 1.5
	s.cam.width, s.cam.height = 80, 60
	var saved [2][]byte
	for i := range saved {
		data, photo, err := s.develop(newDice(3, 2), evenPicture(rgb{0.4, 0.4, 0.4}, 80, 60))
		require.NoError(t, err)
		head, err := jpeg.DecodeConfig(bytes.NewReader(data))
		require.NoError(t, err)
		assert.Equal(t, []int{120, 90, 120, 90}, []int{head.Width, head.Height, photo.width, photo.height})
		saved[i] = data
	}
	assert.Equal(t, saved[0], saved[1])
}

func TestReadPPM(t *testing.T) {
	const pixel = "\xff\xff\x80\x00\x00\x00"
	for _, c := range []struct{ name, text, fault string }{
		{"with a comment", "P6\n# Software: any\n2 1\n65535\n" + pixel + pixel, ""},
		{"eight bits", "P6 2 1 255\nabcdef", "255"},
		{"another format", "P5 2 1 255\nab", "P6"},
		{"cut short", "P6 2 1 65535\n" + pixel, "EOF"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := readPPM(strings.NewReader(c.text))
			if c.fault != "" {
				require.ErrorContains(t, err, c.fault)
				return
			}
			require.NoError(t, err)
			assert.InDelta(t, headroom, p.planes[0][1], 1e-6)
			assert.InDelta(t, headroom/2.0, p.planes[1][1], 1e-3)
		})
	}
}
