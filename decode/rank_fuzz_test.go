package decode_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// randomSighting is a sighting such as a reader may give: several cuts of one
// body, most of them of the same rings under other guesses at the light.
func randomSighting(dice *rand.Rand) decode.Sighting {
	s := decode.Sighting{Body: decode.BodyHue(dice.IntN(7))}
	if dice.IntN(4) == 0 {
		s.Doubt = dice.Float64()
	}
	sharpness := math.Exp(4 * dice.Float64()) // from nearly blind to clear
	for range dice.IntN(12) {
		c := decode.Cut{LogWeight: 6 * dice.NormFloat64()}
		n := dice.IntN(8)
		places := make([]float64, n)
		for i := range places {
			places[i] = dice.Float64()
		}
		slices.Sort(places)
		for _, p := range places {
			r := decode.SeenRing{Centre: p, Width: 0.01 + 0.1*dice.Float64()}
			for i := range r.LogLikelihood {
				r.LogLikelihood[i] = -sharpness * dice.ExpFloat64()
			}
			c.Rings = append(c.Rings, r)
		}
		if dice.IntN(2) == 0 {
			c.Alike = make([][]float64, n)
			for i := range c.Alike {
				c.Alike[i] = make([]float64, n)
				for j := range i {
					c.Alike[i][j] = 2 * dice.NormFloat64()
					c.Alike[j][i] = c.Alike[i][j]
				}
			}
		}
		s.Cuts = append(s.Cuts, c)
	}
	return s
}

func TestRankOfRandomSightings(t *testing.T) {
	dice := rand.New(rand.NewPCG(5600, 5))
	read := 0
	for i := range 50 {
		s := randomSighting(dice)
		r := rank(t, s)
		require.False(t, t.Failed(), "sighting %d: %+v", i, s)
		if r.Verdict != decode.Unreadable {
			read++
		}
		require.Equal(t, r, decode.Rank(s), "the same sighting ranks the same")
	}
	require.Positive(t, read)
}

// The worst that can be seen: every ring could be anything, in many
// accounts. It must come to an end, and to no reading.
func TestRankOfABlur(t *testing.T) {
	var s decode.Sighting
	for i := range 40 {
		n := 3 + i%4
		c := decode.Cut{}
		for _, p := range placesOf[n] {
			c.Rings = append(c.Rings, decode.SeenRing{Centre: p, Width: 0.06})
		}
		s.Cuts = append(s.Cuts, c)
	}
	r := rank(t, s)
	require.Equal(t, decode.Unreadable, r.Verdict)
	require.Less(t, r.Candidates[0].Confidence, 0.2)
}

// FuzzRank makes sightings of bytes: a head, then for each ring its place, its
// width and a likelihood for each colour, among them some that are no numbers.
func FuzzRank(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{4, 1, 0})
	clearly := func(cuts ...string) []byte {
		data := []byte{byte(decode.BodyTan), 0}
		for _, colours := range cuts {
			rings := row(f, colours)
			data = append(data, byte(len(rings)), 100)
			for i, c := range rings {
				data = append(data, byte(250*placesOf[len(rings)][i]), 15)
				paints := make([]byte, decode.ColourCount)
				for k := range paints {
					paints[k] = 100
				}
				paints[c] = 200
				data = append(data, paints...)
			}
		}
		return data
	}
	f.Add(clearly("GN BU RD GD"))
	f.Add(clearly("BK"))
	f.Add(clearly("YE VT RD", "BN BK BK RD BN"))
	f.Add(clearly("YE WH WH BN BN RD"))

	f.Fuzz(func(t *testing.T, data []byte) {
		next := func() byte {
			if len(data) == 0 {
				return 0
			}
			b := data[0]
			data = data[1:]
			return b
		}
		number := func() float64 {
			switch b := next(); b {
			case 255:
				return math.NaN()
			case 254:
				return math.Inf(1)
			case 253:
				return math.Inf(-1)
			case 252:
				return 1e300
			case 251:
				return -1e300
			default:
				return float64(b)/8 - 12
			}
		}
		s := decode.Sighting{Body: decode.BodyHue(next()), Doubt: float64(next()) / 255}
		for len(data) > 0 && len(s.Cuts) < 4 {
			c := decode.Cut{Rings: make([]decode.SeenRing, next()%10), LogWeight: number()}
			for i := range c.Rings {
				c.Rings[i].Centre, c.Rings[i].Width = float64(next())/250, float64(next())/250
				for k := range c.Rings[i].LogLikelihood {
					c.Rings[i].LogLikelihood[k] = number()
				}
			}
			s.Cuts = append(s.Cuts, c)
		}
		sound(t, s, decode.Rank(s))
	})
}
