// Package report writes what was read of photos: for people, as JSON Lines
// and as CSV.
package report

import (
	"encoding/json"
	"io"
	"math"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/ruler"
	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

// The shape of one line of JSON. Places are pixels of the photo as displayed.
type (
	jsonPhoto struct {
		Photo       string     `json:"photo"`
		Width       int        `json:"width"`
		Height      int        `json:"height"`
		PixelsPerMM float64    `json:"px_per_mm,omitempty"` // where a scale was given
		Parts       []jsonPart `json:"parts"`
		Error       string     `json:"error"`
	}
	jsonPart struct {
		Outline  [4][2]float64 `json:"outline"`
		Verdict  string        `json:"verdict"`
		Why      string        `json:"why"`
		Body     *jsonBody     `json:"body,omitempty"` // where a scale was given
		Readings []jsonReading `json:"readings"`       // best first
	}
	// A jsonBody is estimated. Size and ratings are empty and 0 where no type
	// size is that small or large.
	jsonBody struct {
		LengthMM    float64    `json:"length_mm"`
		DiameterMM  float64    `json:"diameter_mm"`
		Basis       string     `json:"basis"` // always "estimated"
		Size        string     `json:"size"`
		SoldWatts   [2]float64 `json:"sold_watts"`   // lowest and highest rating of such bodies
		RatingWatts float64    `json:"rating_watts"` // to count on: the lowest
		Note        string     `json:"note"`
	}
	jsonReading struct {
		Bands            []string     `json:"bands"`
		Ohms             json.Number  `json:"ohms"`
		TolerancePercent *json.Number `json:"tolerance_percent"`
		TempcoPPM        *int         `json:"tempco_ppm"`
		FailureRate      *json.Number `json:"failure_rate_percent_per_1000h"`
		RKM              string       `json:"rkm"`
		Confidence       float64      `json:"confidence"`
		Notes            []string     `json:"notes"`
		Cautions         []string     `json:"cautions"`
	}
)

// WriteJSON writes one photo's result as one line of JSON.
func WriteJSON(w io.Writer, result photoread.Result) error {
	out := jsonPhoto{Photo: result.Name, Width: result.Width, Height: result.Height, PixelsPerMM: round(float64(result.Scale), 4), Parts: []jsonPart{}}
	if result.Err != nil {
		out.Error = result.Err.Error()
	}
	for _, part := range result.Parts {
		p := jsonPart{Verdict: part.Verdict.String(), Why: part.Why, Readings: []jsonReading{}, Body: newJSONBody(part.Body)}
		for i, corner := range part.Outline {
			p.Outline[i] = [2]float64{round(corner.X, 1), round(corner.Y, 1)}
		}
		for _, c := range part.Candidates {
			p.Readings = append(p.Readings, newJSONReading(c))
		}
		out.Parts = append(out.Parts, p)
	}
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	return encoder.Encode(out)
}

func newJSONBody(b ruler.Body) *jsonBody {
	if !b.Known() {
		return nil
	}
	size, _ := b.Rating() // the note says it where there is none
	return &jsonBody{LengthMM: b.LengthMM, DiameterMM: b.DiameterMM, Basis: string(stock.Estimated), Size: size.Name,
		SoldWatts: [2]float64{size.LowWatts, size.HighWatts}, RatingWatts: size.LowWatts, Note: b.RatingText()}
}

func newJSONReading(c decode.Candidate) jsonReading {
	bands := make([]string, len(c.Rings))
	for i, ring := range c.Rings {
		bands[i] = ring.String()
	}
	return jsonReading{
		Bands:            bands,
		Ohms:             json.Number(c.Ohms.String()),
		TolerancePercent: number(c.TolerancePercent),
		TempcoPPM:        c.TempcoPPM,
		FailureRate:      number(c.FailureRate),
		RKM:              c.RKM(),
		Confidence:       round(c.Confidence, 4),
		Notes:            append([]string{}, c.Notes...),
		Cautions:         append([]string{}, c.Cautions...),
	}
}

// number is the exact decimal number as JSON, nil if there is none.
func number(d decimal.NullDecimal) *json.Number {
	if !d.Valid {
		return nil
	}
	n := json.Number(d.Decimal.String())
	return &n
}

func round(x float64, places int) float64 {
	scale := math.Pow10(places)
	return math.Round(x*scale) / scale
}
