package main

import (
	"math"
	"math/rand/v2"
	"testing"

	"ringwise/decode"
	"ringwise/vision"
	"ringwise/vision/columns"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// drawn is a grey body with one red ring on white ground, and its label.
func drawn() *example {
	e := &example{detail: 1, thick: 0.5}
	for c := range e.target.shares {
		e.target.edges[c] = [columns.Sides]float32{-0.4, 0.5}
		class := columns.Outside
		colour := [3]uint8{250, 250, 250}
		switch {
		case c >= 60 && c < 70:
			class, colour = columns.Ring+int(decode.Red), [3]uint8{170, 40, 40}
		case c >= 30 && c < 130:
			class, colour = columns.Body, [3]uint8{150, 150, 150}
		}
		e.target.shares[c][class] = 1
		for r := range e.pixels {
			e.pixels[r][c] = [3]uint8{250, 250, 250}
			if r >= 12 && r < 32 {
				e.pixels[r][c] = colour
			}
		}
	}
	return e
}

// TestVaryKeepsLabels checks that whatever is done to an example, each column is
// still labelled once, and what is labelled as ring still looks unlike the body.
func TestVaryKeepsLabels(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 1))
	e := drawn()
	swapped, mirrored := 0, 0
	for range 200 {
		s, target := e.vary(chance, 0.2)
		rings, middle := 0, 0
		for c := range target.shares {
			assert.InDelta(t, 0.9, target.edges[c][1]-target.edges[c][0], 1e-5)
			if target.edges[c][1] < 0.45 {
				mirrored++
			}
			sum := float32(0)
			for _, share := range target.shares[c] {
				sum += share
			}
			require.InDelta(t, 1, sum, 1e-5)
			if ringClass(&target.shares[c]) != 0 {
				rings++
				middle += c
			}
			for r := range s.Pixels {
				for _, v := range s.Pixels[r][c] {
					require.True(t, v >= 0 && v <= 255)
				}
			}
		}
		require.Greater(t, rings, 2)
		if middle/rings > columns.Columns/2 {
			swapped++
		}
	}
	assert.Greater(t, swapped, 50, "both directions are shown")
	assert.Less(t, swapped, 150)
	assert.InDelta(t, 0.5, float64(mirrored)/200/columns.Columns, 0.25, "and either side up")
	assert.Equal(t, drawn(), e, "the example itself stays as it was")
}

// TestVaryMovesWhatLiesOver checks that what lies over a ring still does, whichever way
// round the strip is shown.
func TestVaryMovesWhatLiesOver(t *testing.T) {
	chance := rand.New(rand.NewPCG(2, 2))
	e := drawn()
	for c := 60; c < 70; c++ {
		e.target.over[c] = 1
	}
	for range 50 {
		_, target := e.vary(chance, 0)
		for c := range target.shares {
			if ringClass(&target.shares[c]) != 0 {
				assert.Equal(t, float32(1), target.over[c])
			}
			if target.shares[c][columns.Outside] > 0 {
				assert.Zero(t, target.over[c])
			}
		}
	}
}

// TestThinRingsShowTheBody checks that half thin paint looks half like the body beside
// it, in each row, and that what is not thin stays as it is.
func TestThinRingsShowTheBody(t *testing.T) {
	e := drawn()
	rings := e.target.rings()
	require.Equal(t, []stretch{{columns.Ring + int(decode.Red), 60, 70}}, rings)
	var thin [columns.Columns]float32
	var shown [columns.Columns]*[columns.Rows][3]uint8
	e.bare(rings[0], &thin, &shown)
	assert.Nil(t, shown[64])
	for c := 60; c < 70; c++ {
		thin[c] = 0.5
	}
	e.bare(rings[0], &thin, &shown)
	assert.Equal(t, [3]uint8{160, 95, 95}, shown[64][20])
	assert.Equal(t, [3]uint8{250, 250, 250}, shown[64][5], "ground beside the body")
	assert.Nil(t, shown[59])
}

// TestThinIsSeldomAndMostlyMetal checks which rings are drawn thin.
func TestThinIsSeldomAndMostlyMetal(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 4))
	thin := map[decode.Colour]int{}
	for _, colour := range []decode.Colour{decode.Red, decode.Gold} {
		e := drawn()
		for c := 60; c < 70; c++ {
			e.target.shares[c] = [columns.Classes]float32{}
			e.target.shares[c][columns.Ring+int(colour)] = 1
		}
		for range 400 {
			if e.thin(chance)[65] > 0 {
				thin[colour]++
			}
		}
	}
	assert.InDelta(t, 120, thin[decode.Gold], 40)
	assert.InDelta(t, 20, thin[decode.Red], 15)
}

// TestNarrowRingsAreBodyBeside checks that what is cut off a ring looks like the body
// and is labelled as body, and that its middle stays.
func TestNarrowRingsAreBodyBeside(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 6))
	narrowed := 0
	for range 400 {
		e := drawn()
		thin := e.thin(chance)
		if thin[60] < 1 {
			continue
		}
		narrowed++
		truth := e.target
		coat := e.repaint(chance, thin, &truth)
		shown := e.finish(chance, thin, &truth)
		for _, c := range []int{59, 60, 69, 70} {
			assert.Equal(t, float32(1), truth.shares[c][columns.Body], "column %d", c)
			assert.Equal(t, coat[40], coat[c])
			assert.Equal(t, [3]uint8{150, 150, 150}, shown[c][20])
		}
		assert.NotZero(t, ringClass(&truth.shares[64]))
		assert.Less(t, thin[64], float32(1))
	}
	assert.InDelta(t, 80, narrowed, 30)
}

// TestTurnedPaint checks that white, which can be brought to any tone, is turned into
// each of the other paints now and then and seldom into metal, that it is brought near
// the usual tone of what it is turned into, and that metal is not turned.
func TestTurnedPaint(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 7))
	const draws = 20000
	turned := map[decode.Colour]int{}
	off := map[decode.Colour]float64{}
	red := columns.Ring + int(decode.Red)
	for range draws {
		p := newPot(columns.Ring+int(decode.White), true, chance)
		c := decode.Colour(p.class - columns.Ring)
		turned[c]++
		for k, v := range tones[decode.White][0] {
			off[c] += math.Abs(math.Log(float64(p.factor[k]) * v / tones[c][0][k]))
		}
	}
	for c := decode.Black; c <= decode.White; c++ {
		assert.Greater(t, turned[c], draws/30, "%v", c)
		assert.Less(t, off[c]/3/float64(turned[c]), 0.25, "%v", c)
	}
	assert.InDelta(t, 0.02*0.7*draws, turned[decode.Gold], 120)
	assert.InDelta(t, 0.01*0.7*draws, turned[decode.Silver], 80)
	for range 100 {
		assert.Equal(t, columns.Ring+int(decode.Gold), newPot(columns.Ring+int(decode.Gold), true, chance).class)
		assert.Equal(t, red, newPot(red, false, chance).class)
	}
}

// TestGlitterIsOnPaintAlone checks that flakes make some of a ring brighter and some
// darker, and leave the ground beside the body.
func TestGlitterIsOnPaintAlone(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 8))
	e := drawn()
	brighter, darker := 0, 0
	for range 20 {
		var shown [columns.Columns]*[columns.Rows][3]uint8
		e.glitter(stretch{columns.Ring + int(decode.Gold), 60, 70}, chance, &shown)
		assert.Nil(t, shown[59])
		assert.Nil(t, shown[70])
		for r, p := range shown[64] {
			switch was := e.pixels[r][64][0]; {
			case e.inside(r, 64) == 0:
				assert.Equal(t, was, p[0])
			case p[0] > was:
				brighter++
			case p[0] < was:
				darker++
			}
		}
	}
	assert.Positive(t, brighter)
	assert.Greater(t, darker, brighter)
}

// TestOnePotForOnePaint checks that two rings of one paint are turned into the same
// class and get nearly the same coat, and two of different paints mostly do not.
func TestOnePotForOnePaint(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 5))
	e := drawn()
	for c := 80; c < 90; c++ {
		e.target.shares[c] = [columns.Classes]float32{columns.Ring + int(decode.Red): 1}
	}
	for c := 100; c < 110; c++ {
		e.target.shares[c] = [columns.Classes]float32{columns.Ring + int(decode.Blue): 1}
	}
	same, apart := 0.0, 0.0
	for range 300 {
		truth := e.target
		coat := e.repaint(chance, new([columns.Columns]float32), &truth)
		assert.Equal(t, truth.shares[65], truth.shares[85])
		for k := range 3 {
			same += math.Abs(math.Log(float64(coat[65][k] / coat[85][k])))
			apart += math.Abs(math.Log(float64(coat[65][k] / coat[105][k])))
		}
	}
	assert.Less(t, same, apart/3)
}

func TestClass(t *testing.T) {
	b := &body{spans: [][2]float64{{0.2, 0.3}, {0.5, 0.6}}, colours: []decode.Colour{decode.Brown, decode.Gold}}
	for _, c := range []struct {
		at   float64
		want columns.Class
	}{
		{-0.1, columns.Outside},
		{0.1, columns.Body},
		{0.25, columns.Ring + int(decode.Brown)},
		{0.4, columns.Body},
		{0.55, columns.Ring + int(decode.Gold)},
		{1.01, columns.Outside},
	} {
		assert.Equal(t, c.want, b.class(c.at), "at %v", c.at)
	}
}

// TestEdgesOfATurnedBody checks where a body's edges are said to lie in a box that
// is turned against it, by the corners of the body: its upper edge goes through the
// two upper ones.
func TestEdgesOfATurnedBody(t *testing.T) {
	b := body{x: 100, y: 50, ux: 1, half: 40, rise: 15}
	box := b.turned(0.1)
	box.x, box.y = 103, 52
	outline := b.outline()
	for side, corners := range [columns.Sides][2]vision.Point{{outline[0], outline[1]}, {outline[3], outline[2]}} {
		for _, p := range corners {
			x, y := p.X-box.x, p.Y-box.y
			along, across := x*box.ux+y*box.uy, y*box.ux-x*box.uy
			middle, half := box.edges(&b, along)
			assert.InDelta(t, across, [columns.Sides]float64{middle - half, middle + half}[side], 1e-9)
		}
	}
}

// TestLabelsTurnWithTheBox checks that a box laid the other way round is labelled
// the other way round.
func TestLabelsTurnWithTheBox(t *testing.T) {
	b := body{x: 100, y: 50, ux: 1, half: 40, rise: 15, spans: [][2]float64{{0.1, 0.2}}, colours: []decode.Colour{decode.Red},
		hidden: [][2]float64{{0.7, 0.8}}}
	there := newExample(&columns.Strip{}, b, &b)
	back := b
	back.ux = -1
	around := newExample(&columns.Strip{}, back, &b)
	for c := range there.target.shares {
		assert.Equal(t, there.target.shares[c], around.target.shares[columns.Columns-1-c])
		assert.Equal(t, there.target.edges[c], around.target.edges[c])
		assert.Equal(t, there.target.over[c], around.target.over[columns.Columns-1-c])
		if share := (columns.Along(float64(c)+0.5) + 1) / 2; share > 0.71 && share < 0.79 {
			assert.Equal(t, float32(1), there.target.over[c])
		} else if share < 0.69 || share > 0.81 {
			assert.Zero(t, there.target.over[c])
		}
	}
	outline := b.outline()
	assert.Equal(t, vision.Point{X: 60, Y: 35}, outline[0])
	assert.Equal(t, vision.Point{X: 140, Y: 65}, outline[2])
}
