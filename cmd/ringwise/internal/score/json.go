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
		jsonFigures
		Sets        []jsonFigures  `json:"sets"`
		Reliability []jsonBin      `json:"reliability"`
		Confusion   jsonConfusion  `json:"confusion"`
		Groups      []jsonGroup    `json:"groups"`
		Unopened    []jsonUnopened `json:"unopened"`
		Effort      *jsonEffort    `json:"effort"`
		Parts       []jsonPart     `json:"parts"`
		FalseBodies []jsonFalse    `json:"false_bodies"`
	}
	jsonFigures struct {
		Name   string `json:"set,omitempty"`
		Photos int    `json:"photos"`
		jsonTally
		SureOfThings   jsonShare `json:"sure_of_other_things"`
		FalseBodyCount int       `json:"false_body_count"`
		SureOfFalse    int       `json:"sure_of_false_bodies"`
	}
	jsonTally struct {
		Found            jsonShare `json:"found"`
		First            jsonShare `json:"first_right"`
		FirstThree       jsonShare `json:"first_three"`
		Sure             jsonShare `json:"sure"`
		WrongSure        jsonShare `json:"wrong_among_sure"`
		CalibrationError float64   `json:"calibration_error"`
	}
	jsonBin struct {
		From  float64   `json:"from"`
		To    float64   `json:"to"`
		Mean  float64   `json:"mean_confidence"`
		Right jsonShare `json:"right"`
	}
	// jsonConfusion has the colours of its rows and columns by their letters;
	// a row of taken is one true colour.
	jsonConfusion struct {
		Colours  []string `json:"colours"`
		Taken    [][]int  `json:"taken"`
		Missed   []int    `json:"missed"`
		Spurious []int    `json:"spurious"`
		Parts    int      `json:"parts"`
		Turned   int      `json:"parts_read_from_the_wrong_end"`
		Fewer    int      `json:"parts_with_rings_missed"`
		More     int      `json:"parts_with_spurious_rings"`
	}
	jsonGroup struct {
		By   string `json:"by"`
		Name string `json:"name"`
		jsonTally
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
		PeakRatio float64 `json:"peak_memory_ratio"`
	}
	jsonPart struct {
		Set        string         `json:"set"`
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
		Set        string         `json:"set"`
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
	out := jsonCard{
		jsonFigures: c.figures(),
		Sets:        []jsonFigures{},
		Reliability: []jsonBin{},
		Confusion:   newJSONConfusion(c.Confusion()),
		Groups:      []jsonGroup{},
		Unopened:    []jsonUnopened{},
		Parts:       []jsonPart{},
		FalseBodies: []jsonFalse{},
	}
	for _, set := range c.Sets {
		out.Sets = append(out.Sets, set.figures())
	}
	for _, b := range c.Tally().Reliability {
		out.Reliability = append(out.Reliability, jsonBin{b.Low, b.High, b.Mean, newJSONShare(b.Right)})
	}
	for _, g := range c.Groups() {
		out.Groups = append(out.Groups, jsonGroup{g.By, g.Name, newJSONTally(g.Tally())})
	}
	for _, u := range c.Unopened {
		out.Unopened = append(out.Unopened, jsonUnopened{u.Photo, u.Err.Error()})
	}
	if e := c.Effort; e != nil {
		out.Effort = &jsonEffort{e.Read.Seconds(), e.Floor.Seconds(), e.Ratio(), e.PeakAbove(), e.PeakRatio()}
	}
	for _, l := range c.Labelled {
		part := jsonPart{
			Set:        l.Photo.set,
			Photo:      l.Photo.File,
			Centre:     *l.Truth.Body.Centre,
			Length:     l.Truth.Body.Length,
			BodyColour: l.Truth.BodyColour,
			Clean:      l.Clean(),
			Scene:      l.Photo.Scene,
			Bands:      names(l.Truth.Bands),
			AltBands:   [][]string{},
			Result:     l.Outcome(),
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
		out.FalseBodies = append(out.FalseBodies, jsonFalse{f.Photo.set, f.Photo.File, f.Kind(), f.Photo.Scene, newJSONReported(f.Reported)})
	}
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", " ")
	return encoder.Encode(out)
}

func (c *Card) figures() jsonFigures {
	return jsonFigures{c.Name, c.Photos, newJSONTally(c.Tally()),
		newJSONShare(c.SureOfThings()), len(c.False), len(c.FalselySure())}
}

func newJSONTally(t Tally) jsonTally {
	return jsonTally{newJSONShare(t.Found), newJSONShare(t.First), newJSONShare(t.FirstThree),
		newJSONShare(t.Sure), newJSONShare(t.WrongSure), t.ECE}
}

func newJSONConfusion(t Confusion) jsonConfusion {
	out := jsonConfusion{Missed: t.Missed[:], Spurious: t.Spurious[:], Parts: t.Parts, Turned: t.Turned, Fewer: t.Fewer, More: t.More}
	for colour := range decode.Colour(decode.ColourCount) {
		out.Colours = append(out.Colours, colour.Letters())
		out.Taken = append(out.Taken, t.Taken[colour][:])
	}
	return out
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
