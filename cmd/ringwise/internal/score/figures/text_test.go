package main

import (
	"bytes"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/score"
	"ringwise/decode"
)

// club is a made-up score: one part right and sure, one wrong, one missed.
func club() *score.Card {
	rings := score.Bands{decode.Brown, decode.Black, decode.Red, decode.Gold}
	part := func(ground string, read ...decode.Colour) score.Labelled {
		l := score.Labelled{Photo: &score.Photo{File: "bench.jpg", Scene: map[string]any{"ground": ground}},
			Truth: score.Resistor{Bands: rings, Body: score.Body{Centre: &[2]float64{200, 100}, Length: 90}}, Found: read != nil}
		if l.Found {
			l.Reported = photoread.Part{Ranking: decode.Ranking{Verdict: decode.Check,
				Candidates: []decode.Candidate{{Reading: decode.Reading{Rings: read}, Confidence: 0.75}}}}
		}
		return l
	}
	right := part("felt", rings...)
	right.Reported.Verdict = decode.Sure
	return &score.Card{Photos: 2, Labelled: []score.Labelled{
		right, part("felt", decode.Red, decode.Black, decode.Red, decode.Gold), part("tiles")}}
}

// The Wilson interval of 1 of 3 is 6.15 to 79.23 %, of 2 of 3 and 1 of 2
// likewise by hand. ECE: |1/2 - 0.75|.
func TestText(t *testing.T) {
	var b bytes.Buffer
	card := club()
	writeShares(&b, "lamps", card)
	writeGroups(&b, card)
	writeReliability(&b, card.Tally().Reliability[7:8])
	writeParts(&b, card)
	assert.Equal(t, `
== lamps
photos                     2
found                      2/3       66.67 %  [ 20.77,  93.85]
missed                     1/3       33.33 %  [  6.15,  79.23]
first right                1/3       33.33 %  [  6.15,  79.23]
first three                1/3       33.33 %  [  6.15,  79.23]
sure                       1/3       33.33 %  [  6.15,  79.23]
wrong among sure           0/1        0.00 %  [  0.00,  79.35]
calibration error             0.2500
false bodies               0
sure of false bodies       0

ground                               parts  found %  first %  three %   sure %  wrong sure     ECE
  felt                                   2    100.0     50.0     50.0     50.0      0/1      0.250
  tiles                                  1      0.0      0.0      0.0      0.0      0/0      0.000

confidence, %    mean         right
   70 to  80      75.0     1/2       50.00 %  [  9.45,  90.55]

photo and place                               true               read               verdict     result
bench.jpg                           200   100  BN BK RD GD        BN BK RD GD        sure        ok
bench.jpg                           200   100  BN BK RD GD        RD BK RD GD        check       wrong
bench.jpg                           200   100  BN BK RD GD        -                  -           miss
`, b.String())
}

func TestConfusionText(t *testing.T) {
	var b bytes.Buffer
	writeConfusion(&b, club().Confusion())
	for _, want := range []string{
		"parts                              2\n",
		"         BK   BN   RD   OG   YE   GN   BU   VT   GY   WH   GD   SR   PK  right %  missed\n",
		"  BN      ·    1    1    ·    ·    ·    ·    ·    ·    ·    ·    ·    ·     50.0       0\n",
		"  none    ·    ·",
	} {
		assert.Contains(t, b.String(), want)
	}
}

func TestSpeedText(t *testing.T) {
	truth := score.Truth{Photos: []score.Photo{{Resistors: make([]score.Resistor, 12)}, {Resistors: make([]score.Resistor, 11)}}}
	var b bytes.Buffer
	writeSpeed(&b, truth, &score.Effort{Read: 27 * time.Second, Floor: 10 * time.Second, Peak: 300, FloorPeak: 250})
	assert.Contains(t, b.String(), "parts in them             23\n")
	assert.Contains(t, b.String(), "CPU time                   2.7\npeak memory                1.2\n")
	assert.NotContains(t, b.String(), " s\n", "no times of this machine")

	b.Reset()
	writeSpeed(&b, truth, nil)
	assert.Contains(t, b.String(), "not measured")
}
