package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
)

// labels is a truth file, as far as it is handed on: resistors with their rings and
// places. What else lies about is left out.
type labels struct {
	Photos []photo `json:"photos"`
}

type photo struct {
	File      string     `json:"file"`
	Visible   *int       `json:"visible_resistors,omitempty"`
	Resistors []resistor `json:"resistors"`
}

type resistor struct {
	Bands    json.RawMessage `json:"bands"`
	AltBands json.RawMessage `json:"alt_bands,omitempty"`
	Body     body            `json:"body"`
}

type body struct {
	Centre  [2]float64   `json:"center"`
	Length  float64      `json:"length_px"`
	Polygon [][2]float64 `json:"polygon,omitempty"`
}

func readTruth(path string) (labels, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return labels{}, err
	}
	var l labels
	if err := json.Unmarshal(data, &l); err != nil {
		return labels{}, fmt.Errorf("%s is no truth file: %w", path, err)
	}
	return l, nil
}

// smallest is the length of the photo's smallest labelled body, infinite without any.
func (p photo) smallest() float64 {
	least := math.Inf(1)
	for _, r := range p.Resistors {
		least = min(least, r.Body.Length)
	}
	return least
}

// moved is the photo's labels where its parts come to lie.
func (p photo) moved(w way) photo {
	out := photo{Visible: p.Visible, Resistors: make([]resistor, len(p.Resistors))}
	for i, r := range p.Resistors {
		r.Body.Centre = w.to(r.Body.Centre)
		r.Body.Length *= w.scale
		polygon := make([][2]float64, len(r.Body.Polygon))
		for k, corner := range r.Body.Polygon {
			polygon[k] = w.to(corner)
		}
		r.Body.Polygon = polygon
		out.Resistors[i] = r
	}
	return out
}

// A way is how the places of a photo become those of its copy: turned about the middle
// of the one, scaled, and laid about the middle of the other.
type way struct {
	from, about [2]float64 // the two middles, in pixels
	turn        float64    // in radians, from rightwards to downwards
	scale       float64
}

func (w way) to(p [2]float64) [2]float64 {
	sin, cos := math.Sincos(w.turn)
	x, y := p[0]-w.from[0], p[1]-w.from[1]
	return [2]float64{w.about[0] + w.scale*(x*cos-y*sin), w.about[1] + w.scale*(x*sin+y*cos)}
}
