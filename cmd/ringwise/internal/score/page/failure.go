package page

import (
	"fmt"
	"html/template"
	"strings"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/score"
	"ringwise/cmd/ringwise/internal/score/diagram"
	"ringwise/decode"
	"ringwise/vision"
)

// A failure is one thing that went wrong, as the page shows it.
type failure struct {
	Place      string // photo and place in it
	Facts      string // what is known of the part
	Verdict    string // with what it says, empty if nothing was reported
	True       string // the true rings, or what it is instead
	Candidates []candidate
	Strips     []strip
	Trouble    string // why there is no picture, empty if there is one

	photo *score.Photo
	draw  func(*failure, *vision.Photo) error // fills Strips
}

type candidate struct {
	Letters, Meaning, Confidence string
	Right                        bool
}

type strip struct {
	Caption string
	Drawing template.HTML
}

// ofPart is a labelled part that was read wrongly or not found.
func ofPart(l score.Labelled) failure {
	f := failure{
		Place: place(l.Photo, l.Truth.Body.Centre[0], l.Truth.Body.Centre[1]),
		Facts: facts(l),
		True:  rings(l.Truth.Bands),
		photo: l.Photo,
		draw:  func(f *failure, photo *vision.Photo) error { return f.drawPart(photo, l) },
	}
	for _, alt := range l.Truth.AltBands {
		f.True += " or " + rings(alt)
	}
	if l.Found {
		f.report(l.Reported, func(c decode.Candidate) bool { return l.Truth.Accepts(c.Rings) })
	}
	return f
}

// ofFalseBody is a body that was reported where no resistor is.
func ofFalseBody(b score.FalseBody) failure {
	c := b.Reported.At(0.5, 0.5)
	f := failure{
		Place: place(b.Photo, c.X, c.Y),
		True:  "no resistor is known here",
		photo: b.Photo,
		draw: func(f *failure, photo *vision.Photo) error {
			return f.add(photo, b.Reported.Part, "as found", "As found, with the rings read", seenRings(b.Reported, false))
		},
	}
	if kind := b.Kind(); kind != "" {
		f.True = kind
	}
	f.report(b.Reported, func(decode.Candidate) bool { return false })
	return f
}

// report says what was read.
func (f *failure) report(part photoread.Part, right func(decode.Candidate) bool) {
	f.Verdict = part.Verdict.String()
	if part.Why != "" {
		f.Verdict += ": " + part.Why
	}
	for _, c := range part.Candidates {
		f.Candidates = append(f.Candidates, candidate{decode.RowLetters(c.Rings), c.Meaning(), confidence(c), right(c)})
	}
}

// confidence gives a candidate's confidence in percent, never as none or all.
func confidence(c decode.Candidate) string {
	switch {
	case c.Confidence < 0.0005:
		return "under 0.1 %"
	case c.Confidence >= 0.9995:
		return "over 99.9 %"
	}
	return fmt.Sprintf("%.1f %%", 100*c.Confidence)
}

func (f *failure) drawPart(photo *vision.Photo, l score.Labelled) error {
	body, outlined := trueBody(l.Truth.Body)
	if outlined {
		if err := f.add(photo, body, "true outline", "True outline"+withRings(l), trueRings(l)); err != nil {
			return err
		}
	}
	switch {
	case l.Found:
		found, back := l.Reported.Part, runsBackwards(l.Reported, l.Truth.Body)
		if back {
			found = turned(found)
		}
		return f.add(photo, found, "as found", "As found, with the rings read", seenRings(l.Reported, back))
	case !outlined:
		return f.addSurroundings(photo, l.Truth.Body)
	}
	return nil
}

// add draws a body as one more strip.
func (f *failure) add(photo *vision.Photo, body vision.Part, what, caption string, rings []diagram.Ring) error {
	drawing, err := draw(photo, body, fmt.Sprintf("Strip and profile of %s, %s", f.Place, what), rings)
	if err != nil {
		return err
	}
	f.Strips = append(f.Strips, strip{caption, template.HTML(drawing)})
	return nil
}

// addSurroundings shows where a part lies whose outline is not known.
func (f *failure) addSurroundings(photo *vision.Photo, body score.Body) error {
	crop, err := surroundings(body).Crop(photo, surroundHeight, surroundHeight)
	if err != nil {
		return err
	}
	data, err := asJPEG(crop)
	if err != nil {
		return err
	}
	f.Strips = append(f.Strips, strip{"Where it lies", picture(data, surroundHeight, "Surroundings of "+f.Place)})
	return nil
}

func withRings(l score.Labelled) string {
	if len(trueRings(l)) == 0 {
		return ""
	}
	return ", with the true rings"
}

// trueRings are where the true rings lie, none if the truth does not say.
func trueRings(l score.Labelled) []diagram.Ring {
	if l.Truth.Body.Axis == nil || len(l.Truth.RingSpans) != len(l.Truth.Bands) {
		return nil
	}
	var all []diagram.Ring
	for i, s := range l.Truth.RingSpans {
		all = append(all, diagram.Ring{From: s[0], To: s[1], Colour: l.Truth.Bands[i]})
	}
	return all
}

// seenRings are where the rings of the first candidate were seen, from the
// other end if back.
func seenRings(part photoread.Part, back bool) []diagram.Ring {
	if len(part.Candidates) == 0 {
		return nil
	}
	best := part.Candidates[0]
	if best.Cut >= len(part.Seen.Cuts) || len(best.Order) != len(best.Rings) {
		return nil
	}
	seen := part.Seen.Cuts[best.Cut].Rings
	var all []diagram.Ring
	for i, k := range best.Order {
		centre, half := seen[k].Centre, seen[k].Width/2
		if back {
			centre = 1 - centre
		}
		all = append(all, diagram.Ring{From: centre - half, To: centre + half, Colour: best.Rings[i]})
	}
	return all
}

func place(photo *score.Photo, x, y float64) string {
	return fmt.Sprintf("%s at %.0f, %.0f", photo.File, x, y)
}

// facts tells what is known of a part, in a few words.
func facts(l score.Labelled) string {
	words := []string{fmt.Sprintf("%.0f px long", l.Truth.Body.Length)}
	if l.Truth.BodyColour != "" {
		words = append(words, l.Truth.BodyColour+" body")
	}
	if ground, ok := l.Photo.Scene["ground"].(string); ok {
		words = append(words, "on "+ground)
	}
	if kelvin, ok := l.Photo.Scene["illuminant_K"].(float64); ok {
		words = append(words, fmt.Sprintf("lamp of %.0f K", kelvin))
	}
	if !l.Clean() {
		words = append(words, "not clean")
	}
	return strings.Join(words, ", ")
}

// rings gives a row of rings by letters and names.
func rings(row []decode.Colour) string {
	names := make([]string, len(row))
	for i, c := range row {
		names[i] = c.String()
	}
	return decode.RowLetters(row) + " (" + strings.Join(names, " ") + ")"
}
