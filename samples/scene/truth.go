package main

import (
	"encoding/json"
	"math"
	"os"

	"ringwise/decode"

	"github.com/shopspring/decimal"
)

// truth is what a set of photos shows, the file truth.json.
type truth struct {
	Source string       `json:"source"`
	Photos []photoTruth `json:"photos"`
}

type photoTruth struct {
	File             string            `json:"file"`
	Width            int               `json:"width"`
	Height           int               `json:"height"`
	Scene            sceneTruth        `json:"scene"`
	VisibleResistors int               `json:"visible_resistors"` // those cut by the edge or covered too
	Resistors        []resistorTruth   `json:"resistors"`
	Distractors      []distractorTruth `json:"distractors"`
}

type sceneTruth struct {
	Kind        string  `json:"kind"` // always "render"
	Seed        uint64  `json:"seed"`
	Ground      string  `json:"ground"`
	Kelvin      float64 `json:"illuminant_K"`
	Style       string  `json:"style"`
	Batch       string  `json:"batch,omitempty"` // photos by one lamp share it
	Arrangement string  `json:"arrangement"`
	Light       string  `json:"light"`
	Tilt        float64 `json:"tilt_deg"`
	PxPerMM     float64 `json:"px_per_mm"`
	WB          string  `json:"wb"`
	WBKelvin    float64 `json:"wb_K"`
	EV          float64 `json:"ev"`
	DefocusPx   float64 `json:"defocus_px"`
	MotionPx    float64 `json:"motion_px"`
	Noise       float64 `json:"noise"`
	Enlarged    float64 `json:"enlarged"`
	Quality     int     `json:"jpeg_quality"`
}

type resistorTruth struct {
	Bands       []string     `json:"bands"`
	AltBands    [][]string   `json:"alt_bands,omitempty"`
	Ohms        json.Number  `json:"ohms"`
	Tolerance   *json.Number `json:"tolerance_percent"`
	Tempco      *int         `json:"tempco_ppm"`
	FailureRate *json.Number `json:"failure_rate_percent_per_1000h,omitempty"`
	Body        outline      `json:"body"`
	RingSpans   [][2]float64 `json:"ring_spans"`             // where each ring starts and ends, as shares of the length
	HiddenSpans [][2]float64 `json:"hidden_spans,omitempty"` // where other parts lie over the body, likewise
	BodyColour  string       `json:"body_colour"`
	Watt        string       `json:"watt"`
	Shape       shape        `json:"shape"`
	Spacing     string       `json:"spacing"`
	Oddity      string       `json:"oddity,omitempty"`
	Clean       bool         `json:"clean"`
	BlurPx      float64      `json:"blur_px"`
	Glare       float64      `json:"glare"`
}

type distractorTruth struct {
	Kind        string       `json:"kind"`
	Center      [2]float64   `json:"center"`
	Length      float64      `json:"length_px,omitempty"`
	Body        *outline     `json:"body,omitempty"`   // of what is axial and whole
	Bands       []string     `json:"bands,omitempty"`  // rings it wears, whatever they mean
	Hidden      float64      `json:"hidden,omitempty"` // share of a covered resistor that others hide
	HiddenSpans [][2]float64 `json:"hidden_spans,omitempty"`
}

// outline is where a body shows in the photo, in pixels as displayed.
type outline struct {
	center  [2]float64
	axis    float64 // degrees from x towards y of the way from the first ring to the last
	length  float64
	width   float64
	polygon [4][2]float64 // first end, last end, and back on the other side
}

// MarshalJSON writes the outline to a tenth of a pixel.
func (o outline) MarshalJSON() ([]byte, error) {
	round := func(p [2]float64) [2]float64 { return [2]float64{tenth(p[0]), tenth(p[1])} }
	var polygon [4][2]float64
	for i, p := range o.polygon {
		polygon[i] = round(p)
	}
	return json.Marshal(struct {
		Center  [2]float64    `json:"center"`
		Axis    float64       `json:"axis_deg"`
		Length  float64       `json:"length_px"`
		Width   float64       `json:"width_px"`
		Polygon [4][2]float64 `json:"polygon"`
	}{round(o.center), math.Round(o.axis*100) / 100, tenth(o.length), tenth(o.width), polygon})
}

func tenth(x float64) float64 { return math.Round(x*10) / 10 }

// outlineOf projects a body, without its necks, through the camera: its axis,
// lengthened to what shows of the end faces, and its sides.
func (s *scene) outlineOf(p *part) outline {
	k := s.enlarge()
	point := func(v vec) [2]float64 {
		x, y := s.cam.project(v)
		return [2]float64{x * k, y * k}
	}
	first, last := point(p.end(0)), point(p.end(1))
	dx, dy := last[0]-first[0], last[1]-first[1]
	long := math.Hypot(dx, dy)
	ux, uy := dx/long, dy/long
	low, high := s.reach(p, first, ux, uy, point)
	var ends [2][2][2]float64
	for i := range 2 {
		sight := p.end(i).minus(s.cam.at)
		side := p.along.cross(sight).unit().times(p.radius)
		a, b := point(p.end(i).plus(side)), point(p.end(i).minus(side))
		// The side in the sense of (-dy, dx) comes first.
		if (a[0]-b[0])*-uy+(a[1]-b[1])*ux < 0 {
			a, b = b, a
		}
		shift := low
		if i == 1 {
			shift = high - long
		}
		for j, c := range [][2]float64{a, b} {
			ends[i][j] = [2]float64{c[0] + ux*shift, c[1] + uy*shift}
		}
	}
	o := outline{polygon: [4][2]float64{ends[0][0], ends[1][0], ends[1][1], ends[0][1]}}
	for _, c := range o.polygon {
		o.center[0] += c[0] / 4
		o.center[1] += c[1] / 4
	}
	o.axis = math.Atan2(dy, dx) * 180 / math.Pi
	o.length = high - low
	o.width = (math.Hypot(ends[0][0][0]-ends[0][1][0], ends[0][0][1]-ends[0][1][1]) +
		math.Hypot(ends[1][0][0]-ends[1][1][0], ends[1][0][1]-ends[1][1][1])) / 2
	return o
}

// ringSpans is where the rings show on the side turned to the camera.
func (s *scene) ringSpans(p *part, o outline) [][2]float64 {
	spans := make([][2]float64, len(p.marks))
	for i, m := range p.marks {
		spans[i] = [2]float64{s.shareOf(p, o, m.centre-m.width/2), s.shareOf(p, o, m.centre+m.width/2)}
	}
	return spans
}

// shareOf is where, as a share of the outline's length, a place along the body shows
// on the side turned to the camera.
func (s *scene) shareOf(p *part, o outline, along float64) float64 {
	k := s.enlarge()
	sight := s.cam.at.minus(p.middle)
	side := sight.minus(p.along.times(sight.dot(p.along))).unit().times(p.radius)
	ux, uy := math.Cos(o.axis*math.Pi/180), math.Sin(o.axis*math.Pi/180)
	x, y := s.cam.project(p.end(0).plus(p.along.times(along * p.length)).plus(side))
	t := (x*k-o.center[0])*ux + (y*k-o.center[1])*uy
	return math.Round((t/o.length+0.5)*1e4) / 1e4
}

// reach is how far the body shows along its axis, from the first end's
// middle, in pixels.
func (s *scene) reach(p *part, first [2]float64, ux, uy float64, point func(vec) [2]float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	a := p.along.cross(vec{0, 1, 0}).unit()
	b := a.cross(p.along)
	for _, at := range p.profile {
		if at.along < 0 || at.along > p.length {
			continue
		}
		middle := p.end(0).plus(p.along.times(at.along))
		for step := range 24 {
			angle := float64(step) / 24 * 2 * math.Pi
			q := point(middle.plus(a.times(at.radius * math.Cos(angle))).plus(b.times(at.radius * math.Sin(angle))))
			t := (q[0]-first[0])*ux + (q[1]-first[1])*uy
			low, high = min(low, t), max(high, t)
		}
	}
	return low, high
}

func names(rings []decode.Colour) []string {
	words := make([]string, len(rings))
	for i, r := range rings {
		words[i] = r.String()
	}
	return words
}

// describe gives the truth of a developed photo.
func (s *scene) describe(file string, photo *picture) photoTruth {
	t := photoTruth{File: file, Width: photo.width, Height: photo.height,
		Resistors: []resistorTruth{}, Distractors: []distractorTruth{},
		Scene: sceneTruth{Kind: "render", Seed: s.seed, Ground: s.ground.name, Kelvin: s.light.kelvin, Style: s.style,
			Batch: s.batch, Arrangement: s.arrangement, Light: s.light.kind, Tilt: tenth(s.cam.tilt * 180 / math.Pi),
			PxPerMM: math.Round(s.pxPerMM*s.enlarge()*100) / 100, WB: s.lens.balance, WBKelvin: math.Round(s.lens.balanceKelvin),
			EV: math.Round(s.lens.ev*100) / 100, DefocusPx: tenth(s.lens.defocus * s.enlarge()), MotionPx: tenth(s.lens.motion * s.enlarge()),
			Noise: math.Round(s.lens.noise*1e4) / 1e4, Enlarged: s.enlarge(), Quality: s.lens.quality},
	}
	for _, p := range s.parts {
		o := s.outlineOf(p)
		if p.kind != "resistor" || p.cut || p.covered {
			d := distractorTruth{Kind: p.kind, Center: [2]float64{tenth(o.center[0]), tenth(o.center[1])},
				Length: tenth(o.length), Body: &o, Bands: names(p.Rings)}
			switch {
			case p.cut:
				d.Kind, d.Body = "cut resistor", nil
				t.VisibleResistors++
			case p.covered:
				d.Kind, d.Hidden, d.HiddenSpans = "covered resistor", math.Round(s.hidden(p)*100)/100, s.hiddenSpans(p, o)
				t.VisibleResistors++
			}
			t.Distractors = append(t.Distractors, d)
			continue
		}
		t.VisibleResistors++
		t.Resistors = append(t.Resistors, s.resistor(p, o, photo))
	}
	for _, thing := range s.things {
		x, y := s.cam.project(thing.middle())
		t.Distractors = append(t.Distractors, distractorTruth{Kind: thing.kind,
			Center: [2]float64{tenth(x * s.enlarge()), tenth(y * s.enlarge())}, Length: tenth(s.spanOf(thing))})
	}
	return t
}

// resistor is the truth of one whole resistor. It counts as clean with a body
// of at least 80 px, in focus, without glare across a ring, by a lamp of
// 3500 to 7500 K.
func (s *scene) resistor(p *part, o outline, photo *picture) resistorTruth {
	_, y := s.cam.project(p.middle)
	blur := s.lens.blurAt(y/float64(s.cam.height)) * s.enlarge()
	glare := photo.glareIn(o.polygon)
	clean := o.length >= 80 && blur <= max(0.9, o.length/110) && glare < 0.05 &&
		s.light.kelvin >= 3500 && s.light.kelvin <= 7500 && s.enlarge() == 1
	r := resistorTruth{Bands: names(p.Rings), Ohms: number(p.Ohms), Tolerance: optional(p.TolerancePercent), Tempco: p.TempcoPPM, FailureRate: optional(p.FailureRate),
		Body: o, RingSpans: s.ringSpans(p, o), HiddenSpans: s.hiddenSpans(p, o), BodyColour: p.skin.bodyName, Watt: p.watt, Shape: p.shape, Spacing: p.spacing, Oddity: p.oddity,
		Clean: clean, BlurPx: tenth(blur), Glare: math.Round(glare*1000) / 1000}
	if p.undecided {
		r.AltBands = p.reverse()
	}
	return r
}

// write saves the truth, so that a set can be used while it still grows.
func (t truth) write(path string) error {
	text, err := json.MarshalIndent(t, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(path, append(text, '\n'), 0o644)
}

// number writes a decimal as a plain JSON number.
func number(v decimal.Decimal) json.Number { return json.Number(v.String()) }

func optional(v decimal.NullDecimal) *json.Number {
	if !v.Valid {
		return nil
	}
	n := number(v.Decimal)
	return &n
}
