// Package score measures reading against photos of known parts.
package score

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"ringwise/decode"
)

// A Truth is what is known of a set of photos.
type Truth struct {
	// Name tells the set from others; it stands in no file.
	Name   string  `json:"-"`
	Photos []Photo `json:"photos"`
}

// A Photo is what is known of one photo.
type Photo struct {
	// File is the photo's file, relative to the truth file.
	File string `json:"file"`
	// Scene holds the circumstances under which the photo was taken. Any
	// field may be missing.
	Scene map[string]any `json:"scene"`
	// Visible is the number of resistors to be seen, nil if all of them are
	// labelled.
	Visible *int `json:"visible_resistors"`
	// Resistors are the labelled parts.
	Resistors []Resistor `json:"resistors"`
	// Distractors are things that carry no resistor code.
	Distractors []Distractor `json:"distractors"`

	path string // where the photo is
	set  string // the name of its truth
}

// Path is where the photo's file is.
func (p Photo) Path() string { return p.path }

// A Resistor is one labelled part.
type Resistor struct {
	Bands Bands `json:"bands"`
	// AltBands are other codes that the part may as well carry, where the
	// rings alone cannot tell.
	AltBands   AltBands `json:"alt_bands"`
	Body       Body     `json:"body"`
	BodyColour string   `json:"body_colour"`
	Shape      string   `json:"shape"`
	Spacing    string   `json:"spacing"`
	Oddity     string   `json:"oddity"`
	Watt       string   `json:"watt"`
	// RingSpans are where each ring starts and ends along the outline, as
	// shares of its length; empty if the truth does not say.
	RingSpans [][2]float64 `json:"ring_spans"`
	// Clean tells whether the part was photographed under fair conditions,
	// nil if the truth does not say.
	Clean *bool `json:"clean"`
	// BlurPx is the blur over the body in pixels, Glare the share of it that
	// is glare, nil if the truth does not say.
	BlurPx *float64 `json:"blur_px"`
	Glare  *float64 `json:"glare"`
}

// A Body is where a part lies in the photo as displayed, in pixels.
type Body struct {
	Centre  *[2]float64  `json:"center"`
	Length  float64      `json:"length_px"`
	Polygon [][2]float64 `json:"polygon"`
	// Axis is the way from the first ring to the last, in degrees from
	// rightwards to downwards, nil if the truth does not say.
	Axis *float64 `json:"axis_deg"`
}

// The kinds of distractors that are resistors cut by the photo's edge, or with rings
// or an end hidden by other parts: visible, but not to be measured by.
const (
	cutResistor     = "cut resistor"
	coveredResistor = "covered resistor"
)

// A Distractor is a thing that carries no resistor code, or a resistor of which
// not all is seen. Its place may be unknown.
type Distractor struct {
	Kind    string       `json:"kind"`
	Centre  *[2]float64  `json:"center"`
	Length  float64      `json:"length_px"`
	Polygon [][2]float64 `json:"polygon"`
	Body    *Body        `json:"body"`
	// Bands are the rings it wears, whatever they mean.
	Bands Bands `json:"bands"`
}

// isResistor tells whether the distractor is a resistor of which not all is seen.
func (d Distractor) isResistor() bool { return d.Kind == cutResistor || d.Kind == coveredResistor }

// body returns the distractor's place, in whichever way it is given.
func (d Distractor) body() Body {
	if d.Body != nil {
		return *d.Body
	}
	return Body{Centre: d.Centre, Length: d.Length, Polygon: d.Polygon}
}

// Bands are ring colours in reading order.
type Bands []decode.Colour

// UnmarshalJSON reads colour names or IEC 60757 letters.
func (b *Bands) UnmarshalJSON(data []byte) error {
	var words []string
	if err := json.Unmarshal(data, &words); err != nil {
		return err
	}
	*b = make(Bands, len(words))
	for i, word := range words {
		colour, err := decode.ParseColour(word)
		if err != nil {
			return err
		}
		(*b)[i] = colour
	}
	return nil
}

// AltBands is a list of codes.
type AltBands []Bands

// UnmarshalJSON reads a list of codes, a single code, or null.
func (a *AltBands) UnmarshalJSON(data []byte) error {
	var list []Bands
	if json.Unmarshal(data, &list) == nil {
		*a = list
		return nil
	}
	var single Bands
	if err := json.Unmarshal(data, &single); err != nil {
		return err
	}
	*a = AltBands{single}
	return nil
}

// LoadTruth reads a truth file. Its photos lie beside it.
func LoadTruth(path string) (Truth, error) {
	data, err := os.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return Truth{}, fmt.Errorf("%s: no such file: check the name", path)
	case err != nil:
		if info, e := os.Stat(path); e == nil && info.IsDir() {
			return Truth{}, fmt.Errorf("%s: this is a folder: name the truth file in it", path)
		}
		return Truth{}, err
	}
	return parseTruth(data, path)
}

// parseTruth reads what stands in the truth file at path.
func parseTruth(data []byte, path string) (Truth, error) {
	var truth Truth
	if err := json.Unmarshal(data, &truth); err != nil {
		return Truth{}, fmt.Errorf("%s is no truth file: %w", path, err)
	}
	if len(truth.Photos) == 0 {
		return Truth{}, fmt.Errorf("%s lists no photos: it needs a list named \"photos\"", path)
	}
	for i := range truth.Photos {
		photo := &truth.Photos[i]
		photo.path = filepath.Join(filepath.Dir(path), photo.File)
		if err := photo.check(); err != nil {
			return Truth{}, fmt.Errorf("%s, photo %d (%s): %w", path, i+1, photo.File, err)
		}
	}
	return truth, nil
}

// check tells whether the photo's labels can be measured against.
func (p Photo) check() error {
	if p.File == "" {
		return errors.New("has no \"file\"")
	}
	for i, r := range p.Resistors {
		switch {
		case len(r.Bands) == 0:
			return fmt.Errorf("resistor %d has no \"bands\"", i+1)
		case r.Body.Centre == nil:
			return fmt.Errorf("resistor %d has no body \"center\"", i+1)
		case r.Body.Length <= 0:
			return fmt.Errorf("resistor %d has no body \"length_px\"", i+1)
		}
	}
	if p.Visible != nil && *p.Visible < len(p.Resistors) {
		return fmt.Errorf("has %d resistors labelled but %d visible", len(p.Resistors), *p.Visible)
	}
	return nil
}

// Accepts tells whether a reading of these rings is right.
func (r Resistor) Accepts(rings []decode.Colour) bool {
	if slices.Equal(r.Bands, rings) {
		return true
	}
	for _, alt := range r.AltBands {
		if slices.Equal(alt, rings) {
			return true
		}
	}
	return false
}
