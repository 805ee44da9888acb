package score

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
)

func TestConfusion(t *testing.T) {
	photo, result := club(t)
	card := &Card{}
	card.add(&photo, result)
	table := card.Confusion()
	assert.Equal(t, 1, table.Taken[decode.Brown][decode.Red])
	assert.Equal(t, 2, table.Taken[decode.Brown][decode.Orange])
	assert.Equal(t, 1+3, table.Taken[decode.Brown][decode.Brown], "one four-ring part, and the other way of the five-ring part")
	assert.Equal(t, 4, table.Taken[decode.Gold][decode.Gold])
	assert.Equal(t, 5, table.Parts)
}

// aligned is a part whose true rings run rightwards in the photo, with the
// places of the rings read in order along its strip, which runs rightwards too.
func aligned(axis *float64, truth Bands, alt AltBands, read Bands, order ...int) Labelled {
	l := Labelled{Photo: &Photo{}, Found: true, Truth: Resistor{Bands: truth, AltBands: alt, Body: Body{Axis: axis}}}
	l.Reported = photoread.Part{Part: reported(0, 0).Part, Ranking: decode.Ranking{
		Candidates: []decode.Candidate{{Reading: decode.Reading{Rings: read}, Order: order}}}}
	return l
}

// All counts are laid out by hand.
func TestConfusionAligns(t *testing.T) {
	right, left := 10.0, -170.0
	type taken struct{ as, read string }
	for _, c := range []struct {
		name         string
		part         Labelled
		taken        []taken
		turned       int
		missed, none []string
	}{
		{"right", aligned(&right, code(t, "BN", "BK", "RD", "GD"), nil, code(t, "BN", "BK", "RD", "GD"), 0, 1, 2, 3),
			[]taken{{"BN", "BN"}, {"BK", "BK"}, {"RD", "RD"}, {"GD", "GD"}}, 0, nil, nil},
		{"one taken for another", aligned(&right, code(t, "OG", "BK", "RD", "GD"), nil, code(t, "RD", "BK", "RD", "GD"), 0, 1, 2, 3),
			[]taken{{"OG", "RD"}, {"BK", "BK"}, {"RD", "RD"}, {"GD", "GD"}}, 0, nil, nil},
		{"from the wrong end, by the photo", aligned(&left, code(t, "BN", "BK", "BK", "RD", "BN"), nil, code(t, "BN", "RD", "BK", "BK", "OG"), 0, 1, 2, 3, 4),
			[]taken{{"BN", "BN"}, {"RD", "RD"}, {"BK", "BK"}, {"BK", "BK"}, {"BN", "OG"}}, 1, nil, nil},
		{"from the wrong end, read leftwards", aligned(&right, code(t, "BN", "BK", "BK", "RD", "BN"), nil, code(t, "BN", "RD", "BK", "BK", "BN"), 4, 3, 2, 1, 0),
			[]taken{{"BN", "BN"}, {"RD", "RD"}, {"BK", "BK"}, {"BK", "BK"}, {"BN", "BN"}}, 1, nil, nil},
		{"the photo outweighs the likeness", aligned(&right, code(t, "RD", "BK", "BN"), nil, code(t, "BN", "BK", "RD"), 0, 1, 2),
			[]taken{{"RD", "BN"}, {"BK", "BK"}, {"BN", "RD"}}, 0, nil, nil},
		{"from the wrong end, by likeness", aligned(nil, code(t, "BN", "BK", "BK", "RD", "BN"), nil, code(t, "BN", "RD", "BK", "BK", "OG"), 0, 1, 2, 3, 4),
			[]taken{{"BN", "BN"}, {"RD", "RD"}, {"BK", "BK"}, {"BK", "BK"}, {"BN", "OG"}}, 1, nil, nil},
		{"alike from both ends", aligned(&left, code(t, "BN", "BK", "BN"), nil, code(t, "RD", "BK", "BN"), 0, 1, 2),
			[]taken{{"BN", "RD"}, {"BK", "BK"}, {"BN", "BN"}}, 0, nil, nil},
		{"either way is right", aligned(&right, code(t, "RD", "BK", "BN"), AltBands{code(t, "BN", "BK", "RD")}, code(t, "BN", "BK", "RD"), 2, 1, 0),
			[]taken{{"BN", "BN"}, {"BK", "BK"}, {"RD", "RD"}}, 0, nil, nil},
		{"one missed", aligned(&right, code(t, "BN", "BK", "OG", "GD"), nil, code(t, "BN", "BK", "OG"), 0, 1, 2),
			nil, 0, []string{"GD"}, nil},
		{"one missed within", aligned(&right, code(t, "BN", "BK", "BK", "OG", "BN"), nil, code(t, "BN", "BK", "RD", "BN"), 0, 1, 2, 3),
			nil, 0, []string{"OG"}, nil}, // BN BK RD - BN agrees as well as BN BK - RD BN
		{"two missed, from the wrong end", aligned(&left, code(t, "YE", "VT", "BK", "RD", "BN"), nil, code(t, "BN", "VT", "YE"), 0, 1, 2),
			nil, 0, []string{"RD", "BK"}, nil},
		{"one that is none", aligned(nil, code(t, "RD", "RD", "BN", "GD"), nil, code(t, "RD", "RD", "BN", "GD", "GY"), 0, 1, 2, 3, 4),
			nil, 0, nil, []string{"GY"}},
		{"one that is none before", aligned(nil, code(t, "RD", "RD", "BN", "GD"), nil, code(t, "BK", "RD", "RD", "BN", "GD"), 0, 1, 2, 3, 4),
			nil, 0, nil, []string{"BK"}},
	} {
		var want, got Confusion
		for _, k := range c.taken {
			want.Taken[code(t, k.as)[0]][code(t, k.read)[0]]++
		}
		for _, m := range c.missed {
			want.Missed[code(t, m)[0]]++
		}
		for _, n := range c.none {
			want.Spurious[code(t, n)[0]]++
		}
		want.Turned = c.turned
		switch {
		case c.missed != nil:
			want.Fewer = 1
		case c.none != nil:
			want.More = 1
		default:
			want.Parts = 1
		}
		got.add(c.part)
		assert.Equal(t, want, got, c.name)
	}
}

func TestConfusionSums(t *testing.T) {
	var table Confusion
	table.Taken[decode.Brown][decode.Brown] = 7
	table.Taken[decode.Brown][decode.Red] = 2
	table.Taken[decode.Gold][decode.Gold] = 3
	assert.Equal(t, Share{7, 9}, table.Row(decode.Brown))
	assert.Equal(t, Share{10, 12}, table.Rings())
}
