package score

import (
	"bytes"
	"encoding/json"
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
)

// code parses ring letters.
func code(t *testing.T, letters ...string) Bands {
	t.Helper()
	var b Bands
	for _, l := range letters {
		c, err := decode.ParseColour(l)
		require.NoError(t, err)
		b = append(b, c)
	}
	return b
}

// saying gives a reported part a verdict and candidates.
func saying(p photoread.Part, verdict decode.Verdict, confidence float64, codes ...Bands) photoread.Part {
	p.Verdict = verdict
	for _, rings := range codes {
		p.Candidates = append(p.Candidates, decode.Candidate{
			Reading: decode.Reading{Rings: rings}, Confidence: confidence})
		confidence /= 2
	}
	return p
}

// club is a made-up photo from a radio-repair club's clean-out: six labelled
// parts, one of which can be read either way, and a diode.
func club(t *testing.T) (Photo, photoread.Result) {
	right := code(t, "BN", "BK", "RD", "GD")
	red := code(t, "RD", "BK", "RD", "GD")
	other := code(t, "OG", "OG", "RD", "GD")
	third := code(t, "YE", "VT", "RD", "GD")
	either, way := code(t, "BN", "BK", "BK", "BN", "BN"), code(t, "BN", "BN", "BK", "BK", "BN")

	photo := Photo{File: "bench.jpg", set: "desk", Scene: map[string]any{"ground": "felt", "illuminant_K": 3100.0}}
	for i := range 6 {
		photo.Resistors = append(photo.Resistors, labelled(200*float64(i), 100))
	}
	photo.Resistors[4].Bands, photo.Resistors[4].AltBands = either, AltBands{way}
	photo.Distractors = []Distractor{{Kind: "diode", Centre: &[2]float64{200, 400}}}
	return photo, photoread.Result{Parts: []photoread.Part{
		saying(reported(0, 100), decode.Sure, 0.95, right, red),                  // right and sure
		saying(reported(200, 100), decode.Sure, 0.95, red, right),                // wrong though sure
		saying(reported(400, 100), decode.Check, 0.45, other, red, right),        // third
		saying(reported(600, 100), decode.Check, 0.45, other, red, third),        // wrong
		saying(reported(800, 100), decode.Sure, 0.55, way),                       // sure of either
		saying(reported(200, 400), decode.Sure, 0.95, code(t, "BN", "BN", "BK")), // the diode
		saying(reported(600, 400), decode.Unreadable, 0),                         // nothing there
	}}
}

func TestCard(t *testing.T) {
	photo, result := club(t)
	card := &Card{}
	card.add(&photo, result)
	card.add(&Photo{File: "gone.jpg", path: "club/gone.jpg", Resistors: []Resistor{labelled(0, 0)}},
		photoread.Result{Err: errors.New("no such file")})

	got := tally(card.Labelled)
	assert.Equal(t, Share{5, 7}, got.Found)
	assert.Equal(t, Share{2, 7}, got.First)
	assert.Equal(t, Share{4, 7}, got.FirstThree)
	assert.Equal(t, Share{3, 7}, got.Sure)
	assert.Equal(t, Share{2, 3}, got.WrongSure)
	// 2/5 · |1/2 - 0.95| + 2/5 · |0 - 0.45| + 1/5 · |1 - 0.55|
	assert.InDelta(t, 0.45, got.ECE, 1e-12)

	require.Len(t, card.False, 2)
	assert.Equal(t, "diode", card.False[0].Kind())
	assert.Empty(t, card.False[1].Kind())
	assert.Len(t, card.FalselySure(), 1)
	assert.Equal(t, Share{1, 1}, card.SureOfThings())

	var outcomes []string
	for _, l := range card.Labelled {
		outcomes = append(outcomes, l.Outcome())
	}
	assert.Equal(t, []string{"ok", "SURE BUT WRONG", "wrong, among three", "wrong", "SURE OF EITHER", "miss", "miss"}, outcomes)
}

// Resistors of which not all is seen are no other things, but to be sure of a wrong
// code of one is false.
func TestCardOfHalfSeenResistors(t *testing.T) {
	for _, kind := range []string{cutResistor, coveredResistor} {
		photo, result := club(t)
		photo.Distractors[0].Kind = kind
		card := &Card{}
		card.add(&photo, result)
		assert.Equal(t, Share{0, 0}, card.SureOfThings(), kind)
		assert.Len(t, card.FalselySure(), 1, kind)
	}
}

func TestCardPrinted(t *testing.T) {
	photo, result := club(t)
	card := &Card{}
	card.add(&photo, result)
	card.add(&Photo{File: "hall.jpg", set: "hall", Scene: map[string]any{"ground": "tiles"}, Resistors: []Resistor{labelled(0, 0)}}, photoread.Result{})

	var out bytes.Buffer
	card.PrintEach(&out)
	card.PrintSummary(&out)
	card.PrintGroups(&out)
	text := out.String()
	for _, want := range []string{
		"bench.jpg  200,100   100        BN BK RD GD     RD BK RD GD     0.950       sure     SURE BUT WRONG",
		"bench.jpg  1000,100  100        BN BK RD GD     -               -           -        miss",
		"false: bench.jpg at 200,400, 100 px long, read BN BN BK 0.950, sure, on diode",
		"found                 5/7  71.43 %   [35.89, 91.78]", // Wilson by hand
		"missed                2/7",
		"false bodies          2 in 2 photos",
		"!!! SURE OF WHAT IS NO RESISTOR: 1",
		"2500 to 3500  6",
		"felt    6",
		"hall  1       1      0.0      0.0      0.0      0.0     0/0         0.000  0             0/0",
		"desk  1       6      83.3     33.3     66.7     50.0    2/3         0.450  2             1/1",
		"90 to 100      95.0  1/2    50.00 %   [9.45, 90.55]", // Wilson by hand
		" BN  ·  4  1  2  ·",
	} {
		assert.Contains(t, text, want)
	}
}

func TestCardAsJSON(t *testing.T) {
	photo, result := club(t)
	card := &Card{}
	card.add(&photo, result)
	var out bytes.Buffer
	require.NoError(t, card.WriteJSON(&out))

	var got struct {
		First struct {
			Count, Total int
			Interval     [2]float64 `json:"interval_95"`
		} `json:"first_right"`
		SureOfFalse int `json:"sure_of_false_bodies"`
		Sets        []struct {
			Set    string
			Photos int
			Found  struct{ Count, Total int }
		}
		Reliability []struct {
			From, To float64
			Mean     float64 `json:"mean_confidence"`
			Right    struct{ Count, Total int }
		}
		Confusion struct {
			Colours []string
			Taken   [][]int
			Missed  []int
			Parts   int
		}
		Groups []struct{ By, Name string }
		Parts  []struct {
			Photo    string
			Scene    map[string]any
			Bands    []string   `json:"true_bands"`
			AltBands [][]string `json:"alt_bands"`
			Length   float64    `json:"length_px"`
			Reported *struct {
				Verdict    string
				Candidates []struct {
					Bands      []string
					Confidence float64
				}
			}
		}
		FalseBodies []struct{ Distractor string } `json:"false_bodies"`
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &got))
	assert.Equal(t, 2, got.First.Count)
	assert.Equal(t, 6, got.First.Total)
	assert.Less(t, got.First.Interval[0], 2.0/6)
	assert.Equal(t, 1, got.SureOfFalse)
	require.Len(t, got.Sets, 1)
	assert.Equal(t, "desk", got.Sets[0].Set)
	assert.Equal(t, 5, got.Sets[0].Found.Count)
	require.Len(t, got.Reliability, 10)
	assert.Equal(t, 2, got.Reliability[9].Right.Total)
	assert.InDelta(t, 0.95, got.Reliability[9].Mean, 1e-12)
	assert.Equal(t, []string{"BK", "BN", "RD"}, got.Confusion.Colours[:3])
	assert.Equal(t, 1, got.Confusion.Taken[1][2], "brown taken for red")
	assert.Len(t, got.Confusion.Missed, 13)
	assert.Contains(t, got.Groups, struct{ By, Name string }{"rings", "5"})
	require.Len(t, got.Parts, 6)
	assert.Equal(t, []string{"brown", "black", "red", "gold"}, got.Parts[0].Bands)
	assert.Equal(t, "felt", got.Parts[0].Scene["ground"])
	assert.Equal(t, 100.0, got.Parts[0].Length)
	require.NotNil(t, got.Parts[1].Reported)
	assert.Equal(t, "red", got.Parts[1].Reported.Candidates[0].Bands[0])
	assert.Equal(t, 0.95, got.Parts[1].Reported.Candidates[0].Confidence)
	assert.Nil(t, got.Parts[5].Reported)
	assert.Len(t, got.Parts[4].AltBands, 1)
	assert.Len(t, got.FalseBodies, 2)
}
