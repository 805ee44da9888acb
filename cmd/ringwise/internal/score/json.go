package score

import (
	"encoding/json"
	"io"
	"math"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
)

// The shape of the score as JSON.
type (
	jsonCard struct {
		Photos           int            `json:"photos"`
		Unopened         []jsonUnopened `json:"unopened"`
		Found            jsonShare      `json:"found"`
		First            jsonShare      `json:"first_right"`
		FirstThree       jsonShare      `json:"first_three"`
		Sure             jsonShare      `json:"sure"`
		WrongSure        jsonShare      `json:"wrong_among_sure"`
		SureOfThings     jsonShare      `json:"sure_of_other_things"`
		CalibrationError float64        `json:"calibration_error"`
		SureOfFalse      int            `json:"sure_of_false_bodies"`
		Effort           *jsonEffort    `json:"effort"`
		Parts            []jsonPart     `json:"parts"`
		FalseBodies      []jsonFalse    `json:"false_bodies"`
	}
	jsonUnopened struct {
		Photo string `json:"photo"`
		Error string `json:"error"`
	}
	jsonShare struct {
		Share
		Interval [2]float64 `json:"interval_95"`
	}
	jsonEffort struct {
		Read      float64 `json:"read_cpu_seconds"`
		Floor     float64 `json:"floor_cpu_seconds"`
		Ratio     float64 `json:"ratio"`
		PeakAbove int64   `json:"peak_memory_above_floor_bytes"`
	}
	jsonPart struct {
		Photo      string         `json:"photo"`
		Centre     [2]float64     `json:"centre"`
		Length     float64        `json:"length_px"`
		BodyColour string         `json:"body_colour"`
		Clean      bool           `json:"clean"`
		Scene      map[string]any `json:"scene"`
		Bands      []string       `json:"true_bands"`
		AltBands   [][]string     `json:"alt_bands"`
		Result     string         `json:"result"`
		Reported   *jsonReported  `json:"reported"`
	}
	jsonFalse struct {
		Photo      string         `json:"photo"`
		Distractor string         `json:"distractor"`
		Scene      map[string]any `json:"scene"`
		Reported   *jsonReported  `json:"reported"`
	}
	jsonReported struct {
		Centre     [2]float64      `json:"centre"`
		Length     float64         `json:"length_px"`
		Verdict    string          `json:"verdict"`
		Why        string          `json:"why"`
		Candidates []jsonCandidate `json:"candidates"`
	}
	jsonCandidate struct {
		Bands      []string `json:"bands"`
		Confidence float64  `json:"confidence"`
	}
)

// WriteJSON writes the score and every part as one JSON object.
func (c *Card) WriteJSON(w io.Writer) error {
	t := tally(c.Labelled)
	out := jsonCard{
		Photos:           c.Photos,
		Unopened:         []jsonUnopened{},
		Found:            newJSONShare(t.Found),
		First:            newJSONShare(t.First),
		FirstThree:       newJSONShare(t.FirstThree),
		Sure:             newJSONShare(t.Sure),
		WrongSure:        newJSONShare(t.WrongSure),
		SureOfThings:     newJSONShare(c.sureOfThings()),
		CalibrationError: t.ECE,
		SureOfFalse:      len(c.falselySure()),
		Parts:            []jsonPart{},
		FalseBodies:      []jsonFalse{},
	}
	for _, u := range c.Unopened {
		out.Unopened = append(out.Unopened, jsonUnopened{u.Photo, u.Err.Error()})
	}
	if e := c.Effort; e != nil {
		out.Effort = &jsonEffort{e.Read.Seconds(), e.Floor.Seconds(), e.Ratio(), e.PeakAbove}
	}
	for _, l := range c.Labelled {
		part := jsonPart{
			Photo:      l.Photo.File,
			Centre:     *l.Truth.Body.Centre,
			Length:     l.Truth.Body.Length,
			BodyColour: l.Truth.BodyColour,
			Clean:      l.clean(),
			Scene:      l.Photo.Scene,
			Bands:      names(l.Truth.Bands),
			AltBands:   [][]string{},
			Result:     l.outcome(),
		}
		for _, alt := range l.Truth.AltBands {
			part.AltBands = append(part.AltBands, names(alt))
		}
		if l.Found {
			part.Reported = newJSONReported(l.Reported)
		}
		out.Parts = append(out.Parts, part)
	}
	for _, f := range c.False {
		out.FalseBodies = append(out.FalseBodies, jsonFalse{f.Photo.File, f.kind(), f.Photo.Scene, newJSONReported(f.Reported)})
	}
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", " ")
	return encoder.Encode(out)
}

func newJSONShare(s Share) jsonShare {
	low, high := s.Wilson()
	return jsonShare{s, [2]float64{low, high}}
}

func newJSONReported(part photoread.Part) *jsonReported {
	c := part.At(0.5, 0.5)
	out := &jsonReported{
		Centre:     [2]float64{tenth(c.X), tenth(c.Y)},
		Length:     tenth(length(part.Part)),
		Verdict:    part.Verdict.String(),
		Why:        part.Why,
		Candidates: []jsonCandidate{},
	}
	for _, candidate := range part.Candidates {
		out.Candidates = append(out.Candidates, jsonCandidate{names(candidate.Rings), candidate.Confidence})
	}
	return out
}

func names(rings []decode.Colour) []string {
	out := []string{}
	for _, r := range rings {
		out = append(out, r.String())
	}
	return out
}

func tenth(x float64) float64 { return math.Round(10*x) / 10 }
