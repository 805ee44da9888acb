package bench

import (
	"strings"

	"ringwise/decode"
)

// A meter is what a person's meter showed of a part.
type meter struct {
	text  string // as typed; empty if nothing was measured
	shown *decode.Measurement
}

// meterView is what the page shows of it.
type meterView struct {
	Text      string   `json:"text"`
	InCircuit bool     `json:"inCircuit"`
	Fit       string   `json:"fit"` // how the candidate taken goes with it
	Agrees    bool     `json:"agrees"`
	Notes     []string `json:"notes"`
}

// newMeter reads a meter's reading such as "5.58k" or "330 Ω". Nothing at all
// takes it back. Nothing is known of the person's meter, so the usual is taken.
func newMeter(text string, inCircuit bool) (meter, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return meter{}, nil
	}
	shown, err := decode.UsualMeter.Shows(text)
	if err != nil {
		return meter{}, err
	}
	shown.InCircuit = inCircuit
	return meter{text, &shown}, nil
}

// viewMeter says how the meter and the judgement go together.
func (p *part) viewMeter(j judgement) meterView {
	m := p.said.meter
	v := meterView{Text: m.text, Notes: []string{}}
	if m.shown == nil {
		return v
	}
	v.InCircuit = m.shown.InCircuit
	if j.heard.Contradiction != "" {
		v.Notes = append(v.Notes, sentence(j.heard.Contradiction))
	}
	v.Notes = append(v.Notes, j.heard.Notes...)
	if c, ok := j.reading(); ok {
		fit := decode.FitOf(c.Reading, *m.shown, p.specimen())
		v.Fit, v.Agrees = fitWords(fit, m.shown.InCircuit), fit == decode.Within && !m.shown.InCircuit
	}
	return v
}

// fitWords says how a measured value and a reading go together. In its circuit
// a part may have more than is read, so that no reading there proves it.
func fitWords(f decode.Fit, inCircuit bool) string {
	switch {
	case f == decode.Off:
		return "they do not agree"
	case f == decode.Within && inCircuit:
		return "not contradicted, but no proof in its circuit, where the part may have more than is read"
	}
	return f.String()
}

// sentence starts a text with a capital and ends it with a full stop.
func sentence(text string) string {
	if text == "" || strings.HasSuffix(text, ".") {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

// meterText writes a measurement for a person.
func meterText(m decode.Measurement) string {
	text := decode.FormatOhms(m.Ohms)
	if m.InCircuit {
		text += " in circuit"
	}
	return text
}
