package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"

	"ringwise/decode"

	"github.com/lucasb-eyer/go-colorful"
)

// look is what the parts of one photo have in common.
type look struct {
	drawn bool    // pure colours, as a drawing program gives
	age   float64 // 0 new to 1 very old: fading, yellowed varnish, chips
}

// skin is the paintwork of a body.
type skin struct {
	bodyName string
	body     rgb
	rings    []ringCoat
	gloss    float64 // 0 matt cement to 1 wet varnish
	seed     uint64
	edge     float64 // raggedness of ring edges, fraction of the length
	soft     float64 // width over which an edge fades, fraction of the length
	chips    float64 // share of ring area flaked off
	mottle   float64 // unevenness of the body lacquer
	specks   float64 // density of dark and light specks
	groove   float64 // depth at which a spiral trim groove shows, 0 without
	pitch    float64 // of the groove, mm
	moulding bool    // a line along the body from the mould
	halo     float64 // pale rim round the rings
	print    string  // text printed on the body, empty for none
	printInk rgb
	sleeve   *rgb // colour of a shrunk sleeve's stripe, nil for none
	dot      *dot // on the side, nil for none
}

// ringCoat is the paint of one ring.
type ringCoat struct {
	paint   rgb
	metal   bool    // bronze or aluminium paint that reflects
	glitter float64 // unevenness of the metal flakes
	opacity float64 // 1 hides the body fully
	lean    float64 // the ring leans by this fraction of the length
	leanAt  float64 // angle at which it leans forward
	seam    float64 // angle at which the stroke starts
	step    float64 // its ends miss each other by this fraction of the length
	open    float64 // angle left bare at the seam
}

// drawSkin draws the paintwork of a part whose rings are placed, on one of the
// given bodies, so that every ring stands out from it.
func drawSkin(d dice, p *part, l look, bodies []weighted[bodyPaint]) skin {
	s := skin{
		seed: d.Uint64(), edge: d.logBetween(0.001, 0.008), soft: d.logBetween(0.002, 0.014),
		mottle: d.logBetween(0.01, 0.07), gloss: d.between(0.55, 1),
	}
	age := l.age * d.between(0.4, 1.2)
	if d.chance(0.5) {
		s.gloss = d.between(0, 0.6)
	}
	if d.chance(0.025) {
		s.chips = d.between(0.01, 0.07) + 0.1*age
	}
	if d.chance(0.3) {
		s.specks = d.logBetween(0.002, 0.02)
	}
	if d.chance(0.12) && p.shape != cylinder {
		s.groove, s.pitch = d.between(0.03, 0.1), p.length*d.between(0.06, 0.12)
	}
	s.moulding = p.shape == cylinder && d.chance(0.4)
	if d.chance(0.08) {
		s.halo = d.between(0.1, 0.5)
	}
	for {
		s.drawBody(d, bodies, age)
		s.drawRings(d, p.Rings, l, age)
		if !l.drawn {
			s.damage(d)
		}
		if s.standOut(p.Rings) {
			return s
		}
	}
}

// resistorBodies are the body paints for a resistor with so many rings.
func resistorBodies(rings int) []weighted[bodyPaint] {
	var choices []weighted[bodyPaint]
	for _, b := range bodyPaints {
		share := b.two
		if rings >= 5 {
			share = b.three
		}
		choices = append(choices, weighted[bodyPaint]{b, share + 0.5})
	}
	return choices
}

// damage leaves a ring thin or open at its seam, on few parts.
func (s *skin) damage(d dice) {
	if len(s.rings) == 0 {
		return
	}
	ring := &s.rings[d.IntN(len(s.rings))]
	switch {
	case d.chance(0.02):
		ring.opacity = d.between(0.78, 0.9)
	case d.chance(0.025):
		ring.open = d.between(0.05, 0.5)
	}
}

func (s *skin) drawBody(d dice, bodies []weighted[bodyPaint], age float64) {
	chosen := pickWeighted(d, bodies)
	s.bodyName = chosen.name
	s.body = fromHex(pick(d, chosen.tones)).varied(d, 4, 0.1, 3)
	s.body = aged(s.body, age*0.6)
}

func (s *skin) drawRings(d dice, colours []decode.Colour, l look, age float64) {
	s.rings = nil
	batch := map[decode.Colour]rgb{} // one pot of each colour a part
	for _, c := range colours {
		pot, ok := batch[c]
		if !ok {
			pot = fromHex(pick(d, ringPaints[c])).varied(d, 4, 0.1, 3.5)
			if l.drawn {
				pot = fromHex(drawnPaints[c])
			}
			batch[c] = pot
		}
		coat := ringCoat{
			paint: aged(pot.varied(d, 1, 0.03, 0.8), age), opacity: 1,
			seam: d.between(0, 2*math.Pi), leanAt: d.between(0, 2*math.Pi),
			lean: math.Abs(d.near(0, 0.005)), step: d.near(0, 0.004),
		}
		if d.chance(0.3) {
			coat.opacity = d.between(0.94, 1)
		}
		if (c == decode.Gold || c == decode.Silver) && !l.drawn {
			coat.metal = d.chance(0.8)
			coat.glitter = d.between(0.05, 0.6)
			if d.chance(0.05) {
				coat.opacity = d.between(0.6, 0.9)
			}
		}
		if l.drawn {
			coat.opacity, coat.lean = 1, 0
		}
		s.rings = append(s.rings, coat)
	}
	if l.drawn {
		s.edge, s.soft, s.chips, s.mottle, s.specks = 0, 0.002, 0, 0, 0
	}
}

// aged fades a colour and lays yellowed varnish over it.
func aged(c rgb, age float64) rgb {
	grey := rgb{0.3, 0.28, 0.25}
	c = c.towards(grey, 0.18*age)
	return c.through(rgb{1, 1 - 0.06*age, 1 - 0.2*age})
}

// Colour differences from the body that every ring of a part has: parts with
// rings hard to tell from the body are not sold.
const (
	leastContrast = 12
	metalOnTan    = 10 // gold or silver on tan or beige
)

// standOut says whether all rings of the given colours are far enough from
// the body's paint.
func (s *skin) standOut(colours []decode.Colour) bool {
	for i, r := range s.rings {
		least := float64(leastContrast)
		if (colours[i] == decode.Gold || colours[i] == decode.Silver) && (s.bodyName == "tan" || s.bodyName == "beige") {
			least = metalOnTan
		}
		if s.body.difference(s.body.towards(r.paint, r.opacity)) < least {
			return false
		}
	}
	return true
}

// painted is a body's skin as picture files: colour, and where it is metal.
type painted struct {
	colour, metal []byte // PNG; metal is nil without metal rings
}

// paint paints the skin, unrolled: across is the angle round the body, and
// upwards the way along the axis from neck end to neck end.
func (s *skin) paint(p *part, pxPerMM float64) painted {
	whole := p.length + 2*p.neck
	rows := int(max(48, min(900, 1.7*pxPerMM*whole)))
	columns := int(max(48, min(640, 2.0*pxPerMM*2*math.Pi*p.radius)))
	colour := image.NewNRGBA(image.Rect(0, 0, columns, rows))
	metal := image.NewGray(image.Rect(0, 0, columns, rows))
	b := brush{skin: s, part: p, long: noise{s.seed, 7}, fine: noise{s.seed + 10, 61}, flakes: noise{s.seed + 20, 113}}
	for row := range rows {
		along := whole*(1-(float64(row)+0.5)/float64(rows)) - p.neck
		for column := range columns {
			turn := (float64(column) + 0.5) / float64(columns)
			c, m := b.at(along/p.length, turn)
			colour.SetNRGBA(column, row, encode(c))
			metal.SetGray(column, row, color.Gray{uint8(math.Round(255 * m))})
		}
	}
	files := painted{colour: encodePNG(colour)}
	for _, r := range s.rings {
		if r.metal {
			files.metal = encodePNG(metal)
		}
	}
	return files
}

// brush gives the colour of single points of a skin.
type brush struct {
	skin               *skin
	part               *part
	long, fine, flakes noise
}

// at gives colour and metal share at t, the fraction of the length, and
// turn, the fraction of the way round.
func (b *brush) at(t, turn float64) (rgb, float64) {
	s := b.skin
	c := s.body.times(1 + s.mottle*2*(b.long.rough(t*9, turn*7)-0.5))
	if s.specks > 0 {
		v := b.fine.at(t*90, turn*61)
		if v < s.specks*2 {
			c = c.times(0.55)
		} else if v > 1-s.specks {
			c = c.towards(rgb{0.8, 0.8, 0.78}, 0.4)
		}
	}
	if s.groove > 0 {
		phase := math.Mod(t*b.part.length/s.pitch+turn+10, 1)
		if phase < 0.16 && t > 0.12 && t < 0.88 {
			c = c.times(1 - s.groove)
		}
	}
	if s.moulding && math.Abs(turn-0.5) < 0.012 {
		c = c.times(0.8)
	}
	if s.sleeve != nil && math.Abs(turn-0.3) < 0.06 {
		c = *s.sleeve
	}
	metal := 0.0
	for i, r := range s.rings {
		cover := b.cover(i, t, turn)
		if s.halo > 0 {
			rim := b.coverWidened(i, t, turn, 0.012)
			c = c.towards(rgb{0.75, 0.75, 0.73}, s.halo*max(0, rim-cover))
		}
		if cover <= 0 {
			continue
		}
		paint := r.paint.times(1 + 0.06*(b.fine.at(t*40, turn*6)-0.5) + 0.05*(b.long.rough(t*60, turn*7)-0.5))
		if r.glitter > 0 {
			flake := b.flakes.at(t*230, turn*113)
			paint = paint.times(1 + r.glitter*(2.4*flake*flake*flake-0.6))
		}
		c = c.towards(paint, cover*r.opacity)
		if r.metal {
			metal = max(metal, cover*r.opacity)
		}
	}
	if s.dot != nil {
		c = c.towards(s.dot.paint, b.dotCover(t, turn))
	}
	if s.print != "" && inked(s.print, t, turn, b.part.length/(2*math.Pi*b.part.radius)) {
		c = s.printInk
	}
	return c, metal
}

// cover is the share of ring i's paint at a point, 0 to 1.
func (b *brush) cover(i int, t, turn float64) float64 { return b.coverWidened(i, t, turn, 0) }

func (b *brush) coverWidened(i int, t, turn, extra float64) float64 {
	s, r, m := b.skin, b.skin.rings[i], b.part.marks[i]
	angle := turn * 2 * math.Pi
	fromSeam := math.Mod(angle-r.seam+4*math.Pi, 2*math.Pi)
	if fromSeam < r.open {
		return 0
	}
	centre := m.centre + r.lean*math.Cos(angle-r.leanAt) + r.step*(fromSeam/(2*math.Pi)-0.5)
	half := m.width/2 + extra
	if math.Abs(t-centre) > half+0.05 {
		return 0
	}
	low := centre - half + s.edge*2*(b.long.rough(float64(i)*17+3, turn*7)-0.5)
	high := centre + half + s.edge*2*(b.long.rough(float64(i)*17+9, turn*7)-0.5)
	cover := smoothstep(low-s.soft/2, low+s.soft/2, t) * (1 - smoothstep(high-s.soft/2, high+s.soft/2, t))
	if s.chips > 0 {
		cover *= smoothstep(s.chips, s.chips+0.06, b.long.rough(t*38+float64(i)*9, turn*21)-0.16)
	}
	return cover
}

func encode(c rgb) color.NRGBA {
	r, g, b := colorful.LinearRgb(c[0], c[1], c[2]).Clamped().RGB255()
	return color.NRGBA{r, g, b, 255}
}

func encodePNG(m image.Image) []byte {
	var b bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := encoder.Encode(&b, m); err != nil {
		panic(err) // a buffer takes every write
	}
	return b.Bytes()
}
