package score

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
)

func TestWorst(t *testing.T) {
	right, wrong := code(t, "BN", "BK", "RD", "GD"), code(t, "RD", "BK", "RD", "GD")
	part := func(name string, length, confidence float64, verdict decode.Verdict, read ...Bands) Labelled {
		l := Labelled{Photo: &Photo{File: name}, Truth: labelled(0, 0), Found: confidence >= 0}
		l.Truth.Body.Length = length
		if l.Found {
			l.Reported = saying(photoread.Part{}, verdict, confidence, read...)
		}
		return l
	}
	card := &Card{Labelled: []Labelled{
		part("right", 100, 0.99, decode.Sure, right),
		part("missed, short", 60, -1, 0),
		part("wrong", 100, 0.4, decode.Check, wrong),
		part("sure, first", 100, 0.96, decode.Sure, wrong),
		part("no reading", 100, 0, decode.Unreadable),
		part("surer", 100, 0.99, decode.Sure, wrong),
		part("sure, second", 100, 0.96, decode.Sure, wrong),
		part("wrong, confident", 100, 0.9, decode.Check, wrong, right),
		part("missed, long", 160, -1, 0),
		part("right, unsure", 100, 0.3, decode.Check, right),
	}}
	names := func(parts []Labelled) (names []string) {
		for _, l := range parts {
			names = append(names, l.Photo.File)
		}
		return names
	}
	assert.Equal(t, []string{"surer", "sure, first", "sure, second"}, names(card.WronglySure()))
	assert.Equal(t, []string{"wrong, confident", "wrong", "no reading"}, names(card.Wrong()))
	assert.Equal(t, []string{"missed, long", "missed, short"}, names(card.Missed()))
}

func TestFalseBodiesAreOrdered(t *testing.T) {
	rings := code(t, "BN", "BK", "RD", "GD")
	body := func(name string, confidence float64, verdict decode.Verdict) FalseBody {
		return FalseBody{Photo: &Photo{File: name}, Reported: saying(photoread.Part{}, verdict, confidence, rings)}
	}
	card := &Card{False: []FalseBody{
		body("unreadable", 0.9, decode.Unreadable), // shows no reading
		body("unlikely", 0.2, decode.Check),
		body("likely", 0.99, decode.Check),
		body("sure", 0.96, decode.Sure),
	}}
	var names []string
	for _, f := range card.FalseBodies() {
		names = append(names, f.Photo.File)
	}
	assert.Equal(t, []string{"sure", "likely", "unlikely"}, names)
}
