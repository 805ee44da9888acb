package decode_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// clear is the margin, in natural logarithms, by which a drawn ring looks like
// its own paint rather than any other: beyond reasonable doubt.
const clear = 14

// The places of rings on a body, as fractions of its length: the first ring is
// the nearer to its end and the gap before the tolerance ring is the wider
// (IEC 60062 asks for the first; the second is common practice, no source).
var (
	threePlaces = []float64{0.12, 0.26, 0.4}
	fourPlaces  = []float64{0.14, 0.29, 0.44, 0.8}
	fivePlaces  = []float64{0.12, 0.25, 0.38, 0.51, 0.82}
	sixPlaces   = []float64{0.1, 0.22, 0.34, 0.46, 0.64, 0.8}
)

var placesOf = map[int][]float64{1: {0.5}, 3: threePlaces, 4: fourPlaces, 5: fivePlaces, 6: sixPlaces}

// ring is a ring seen at a place, that looks like one paint, and like each of
// the rivals as much as the number beside it says.
func ring(c decode.Colour, centre float64, rivals map[decode.Colour]float64) decode.SeenRing {
	r := decode.SeenRing{Centre: centre, Width: 0.06}
	for i := range r.LogLikelihood {
		r.LogLikelihood[i] = -clear
	}
	r.LogLikelihood[c] = 0
	for rival, l := range rivals {
		r.LogLikelihood[rival] = l
	}
	return r
}

// cut draws a row of rings in reading order, the first at the left.
func cut(t testing.TB, colours string, places []float64) decode.Cut {
	t.Helper()
	rings := row(t, colours)
	require.Len(t, places, len(rings))
	var c decode.Cut
	for i, colour := range rings {
		c.Rings = append(c.Rings, ring(colour, places[i], nil))
	}
	return c
}

// turned is the same body with its ends swapped.
func turned(c decode.Cut) decode.Cut {
	out := c
	out.Rings = slices.Clone(c.Rings)
	slices.Reverse(out.Rings)
	for i := range out.Rings {
		out.Rings[i].Centre = 1 - out.Rings[i].Centre
	}
	return out
}

// usualBody is a body on which that many rings are nothing out of the way.
func usualBody(rings int) decode.BodyHue {
	if rings >= 5 {
		return decode.BodyBlue
	}
	return decode.BodyTan
}

func seen(cuts ...decode.Cut) decode.Sighting {
	return decode.Sighting{Cuts: cuts, Body: usualBody(len(cuts[0].Rings))}
}

// sound holds what must be so of any ranking, whatever was seen.
func sound(t testing.TB, s decode.Sighting, r decode.Ranking) {
	t.Helper()
	assert.LessOrEqual(t, len(r.Candidates), 5)
	sum := 0.0
	for i, c := range r.Candidates {
		sum += c.Confidence
		assert.False(t, math.IsNaN(c.Confidence))
		assert.GreaterOrEqual(t, c.Confidence, 0.0)
		if i > 0 {
			assert.LessOrEqual(t, c.Confidence, r.Candidates[i-1].Confidence, "best first")
			assert.NotEqual(t, r.Candidates[i-1].Rings, c.Rings, "no code twice")
		}
		readings, err := decode.Readings(c.Rings)
		require.NoError(t, err, "a candidate is a legal code")
		assert.Equal(t, brief(readings[0]), brief(c.Reading))
		require.Less(t, c.Cut, len(s.Cuts))
		assert.Len(t, c.Order, len(c.Rings))
		assert.Len(t, s.Cuts[c.Cut].Rings, len(c.Rings), "the cut that it names has as many rings")
	}
	assert.LessOrEqual(t, sum, 1+1e-9)
	if len(r.Candidates) == 0 || r.Candidates[0].Confidence < 0.1 {
		assert.Equal(t, decode.Unreadable, r.Verdict)
	}
	assert.Equal(t, r.Verdict == decode.Sure, r.Why == "", "every doubt is named")
}

// rank ranks a sighting and checks what must always be so.
func rank(t testing.TB, s decode.Sighting) decode.Ranking {
	t.Helper()
	r := decode.Rank(s)
	sound(t, s, r)
	return r
}

// best ranks a sighting and returns the rings of the likeliest reading.
func best(t testing.TB, s decode.Sighting) []decode.Colour {
	t.Helper()
	r := rank(t, s)
	require.NotEmpty(t, r.Candidates, r.Why)
	return r.Candidates[0].Rings
}

// The codes are worked examples of IEC 60062 (testdata/ring_examples.csv names
// the source of each), drawn without doubt.
func TestRankReadsWhatIsDrawn(t *testing.T) {
	for _, example := range published(t, "ring_examples.csv") {
		want := row(t, example["rings"])
		if len(want) == 1 {
			continue // a ring of its own: see below
		}
		t.Run(example["rings"], func(t *testing.T) {
			drawn := cut(t, example["rings"], placesOf[len(want)])
			r := rank(t, seen(drawn))
			require.NotEmpty(t, r.Candidates, r.Why)
			first := r.Candidates[0]
			assert.Equal(t, want, first.Rings)
			for i, ring := range first.Order {
				assert.Equal(t, i, ring, "read from left to right")
			}

			r = rank(t, seen(turned(drawn)))
			require.NotEmpty(t, r.Candidates, r.Why)
			first = r.Candidates[0]
			assert.Equal(t, want, first.Rings)
			for i, ring := range first.Order {
				assert.Equal(t, len(want)-1-i, ring, "read from right to left")
			}
		})
	}
}

func TestRankIsSureOfAPlainPart(t *testing.T) {
	for _, colours := range []string{"GN BU RD GD", "YE VT OG SR", "BN BK BK RD BN", "RD RD BK BK BN", "YE WH WH BN BN RD"} {
		drawn := cut(t, colours, placesOf[len(row(t, colours))])
		for _, c := range []decode.Cut{drawn, turned(drawn)} {
			r := rank(t, seen(c))
			assert.Equal(t, decode.Sure, r.Verdict, "%s: %s", colours, r.Why)
			assert.Greater(t, r.Candidates[0].Confidence, 0.95)
		}
	}
}

// Both rows are legal and made of preferred numbers from either end (IEC 60063,
// E24), so only the places can tell.
func TestRankTellsDirectionByPlace(t *testing.T) {
	const (
		five = "BN BK BK RD BN" // 10 kΩ ±1 %
		back = "BN RD BK BK BN" // 120 Ω ±1 %
	)
	even := []float64{0.18, 0.34, 0.5, 0.66, 0.82}
	shifted := func(by float64) []float64 {
		out := slices.Clone(even)
		for i := range out {
			out[i] += by
		}
		return out
	}
	for _, c := range []struct {
		name   string
		places []float64
		want   string
	}{
		{"the wider gap is at the right", []float64{0.18, 0.31, 0.44, 0.57, 0.82}, five},
		{"the wider gap is at the left", []float64{0.18, 0.43, 0.56, 0.69, 0.82}, back},
		{"even gaps, nearer to the left end", shifted(-0.1), five},
		{"even gaps, nearer to the right end", shifted(0.1), back},
	} {
		assert.Equal(t, row(t, c.want), best(t, seen(cut(t, five, c.places))), c.name)
	}

	// Evenly spaced in the very middle nothing tells: both are offered, and
	// neither is sure.
	r := rank(t, seen(cut(t, five, even)))
	require.GreaterOrEqual(t, len(r.Candidates), 2)
	assert.ElementsMatch(t, [][]decode.Colour{row(t, five), row(t, back)},
		[][]decode.Colour{r.Candidates[0].Rings, r.Candidates[1].Rings})
	assert.Equal(t, decode.Check, r.Verdict)
}

// Gold and silver are no digits (IEC 60062), so they tell the direction even
// where the places speak against it.
func TestRankKnowsWhatCannotComeFirst(t *testing.T) {
	drawn := cut(t, "GN BU RD GD", []float64{0.3, 0.5, 0.7, 0.88})
	assert.Equal(t, row(t, "GN BU RD GD"), best(t, seen(drawn)))
	assert.Equal(t, row(t, "GN BU RD GD"), best(t, seen(turned(drawn))))
}

// Of two paints that a ring looks like as much, the one that makes a preferred
// number of the tolerance's series is likelier (IEC 60063: E6, E12, E24).
func TestRankPrefersPreferredNumbers(t *testing.T) {
	for _, c := range []struct {
		name, rings string
		place       int
		rivals      string
		want        string
	}{
		{"47 over 46 and 48", "YE VT RD GD", 1, "BU GY", "YE VT RD GD"},
		{"47 although it looks a little more like 46", "YE BU RD GD", 1, "VT", "YE VT RD GD"},
		{"56 over 57", "GN VT RD GD", 1, "BU", "GN BU RD GD"},
		{"33 over 23", "RD OG OG SR", 0, "OG", "OG OG OG SR"},
		{"499 over 498 and 489", "YE WH WH BN BN", 2, "GY", "YE WH WH BN BN"},
		{"22 with three rings over 21", "RD BN RD", 1, "RD", "RD RD RD"},
		{"33 with three rings over 36", "OG BU RD", 1, "OG", "OG OG RD"},
	} {
		drawn := cut(t, c.rings, placesOf[len(row(t, c.rings))])
		for _, rival := range row(t, c.rivals) {
			drawn.Rings[c.place].LogLikelihood[rival] = -0.2
		}
		assert.Equal(t, row(t, c.want), best(t, seen(drawn)), c.name)
	}
}

// Odd parts exist: what is seen without doubt is read though it is no
// preferred number.
func TestRankReadsOddPartsToo(t *testing.T) {
	assert.Equal(t, row(t, "YE BU RD GD"), best(t, seen(cut(t, "YE BU RD GD", fourPlaces))))
	assert.Equal(t, row(t, "RD WH GY BK BN"), best(t, seen(cut(t, "RD WH GY BK BN", fivePlaces))))
}

// Five rings that only make sense as a four-ring code with a failure-rate ring
// (MIL practice, from memory): the third is no digit.
func TestRankReadsFailureRates(t *testing.T) {
	for _, colours := range []string{"YE VT GD SR OG", "BN BK GD BN BN", "WH BN SR GD YE", "RD RD GD RD RD"} {
		drawn := cut(t, colours, fivePlaces)
		assert.Equal(t, row(t, colours), best(t, seen(drawn)))
		assert.Equal(t, row(t, colours), best(t, seen(turned(drawn))))
	}
}

// The third ring of YE VT GD GD OG cannot be a digit, so 4.7 Ω with a failure rate is
// all that it can mean (military practice, from memory). Where the third ring is
// nearly as much like orange, what is no doubt the commoner part, 47 kΩ, must not
// hide it.
func TestRankKeepsFailureRatesInView(t *testing.T) {
	c := cut(t, "YE VT GD GD OG", fivePlaces)
	c.Rings[2] = ring(decode.Gold, fivePlaces[2], map[decode.Colour]float64{decode.Orange: -2})
	r := rank(t, seen(c))
	var found []string
	for _, c := range r.Candidates {
		found = append(found, c.Ohms.String())
	}
	assert.Contains(t, found, "4.7")
	assert.NotEqual(t, decode.Sure, r.Verdict)
}

// Rings that mean one value as three digits, of no series of IEC 60063, and another
// with a failure rate are for a person to decide, however plainly they are seen.
func TestRankIsNotSureOfRowsOfTwoValues(t *testing.T) {
	for _, row := range []string{"RD RD GY RD BN", "YE VT RD BN BN"} {
		r := rank(t, seen(cut(t, row, fivePlaces)))
		assert.Equal(t, decode.Check, r.Verdict, row)
		assert.Contains(t, r.Why, "failure rate", row)
	}
}

// A ring that looks like two paints as much, both of preferred numbers, leaves
// two candidates: 2.2 kΩ and 22 kΩ.
func TestRankOffersBothOfTwo(t *testing.T) {
	drawn := cut(t, "RD RD RD GD", fourPlaces)
	drawn.Rings[2].LogLikelihood[decode.Orange] = 0
	r := rank(t, seen(drawn))
	require.GreaterOrEqual(t, len(r.Candidates), 2)
	assert.Equal(t, decode.Check, r.Verdict)
	assert.Contains(t, r.Why, "another reading")
	assert.Equal(t, row(t, "RD RD RD GD"), r.Candidates[0].Rings)
	assert.Equal(t, row(t, "RD RD OG GD"), r.Candidates[1].Rings)
	assert.Greater(t, r.Candidates[1].Confidence, 0.2)
	assert.Greater(t, r.Candidates[0].Confidence+r.Candidates[1].Confidence, 0.9)
}

// Cuts are rival accounts: a groove may have been taken for a ring, or a ring
// for a shade of the body.
func TestRankWeighsRivalCuts(t *testing.T) {
	four := cut(t, "BN BK RD BN", fourPlaces)                                                            // 1 kΩ
	five := decode.Cut{Rings: slices.Insert(slices.Clone(four.Rings), 3, ring(decode.Brown, 0.59, nil))} // 1.02 kΩ, of E96
	for _, c := range []struct {
		name      string
		four, all float64 // weights of the two accounts
		want      string
	}{
		{"the fifth is a groove", 0, -8, "BN BK RD BN"},
		{"the fifth is a ring", -8, 0, "BN BK RD BN BN"},
	} {
		four.LogWeight, five.LogWeight = c.four, c.all
		for _, cuts := range [][]decode.Cut{{four, five}, {five, four}} {
			s := decode.Sighting{Cuts: cuts, Body: decode.BodyTan}
			r := rank(t, s)
			require.NotEmpty(t, r.Candidates, c.name)
			assert.Equal(t, row(t, c.want), r.Candidates[0].Rings, c.name)
		}
	}

	// An account that is no code from either end does no harm.
	illegal := cut(t, "GD RD WH BU GD", fivePlaces)
	require.Equal(t, row(t, "GN BU RD GD"), best(t, decode.Sighting{Cuts: []decode.Cut{illegal, cut(t, "GN BU RD GD", fourPlaces)}}))
}

// The same code under several guesses at the light adds up.
func TestRankAddsUpAgreeingCuts(t *testing.T) {
	alone := cut(t, "RD RD RD GD", fourPlaces)
	rival := cut(t, "RD RD OG GD", fourPlaces)
	rival.LogWeight = 0.3
	first := func(cuts ...decode.Cut) []decode.Colour { return rank(t, seen(cuts...)).Candidates[0].Rings }
	assert.Equal(t, row(t, "RD RD OG GD"), first(alone, rival))
	assert.Equal(t, row(t, "RD RD RD GD"), first(alone, alone, alone, rival))
}

// Rings of one paint look alike, whatever paint it is.
func TestRankHeedsAlikeness(t *testing.T) {
	drawn := cut(t, "OG OG RD GD", fourPlaces)
	for i := range 2 {
		drawn.Rings[i].LogLikelihood[decode.Red] = 0
	}
	same := seen(drawn)
	pair := func(bonus float64) [][]float64 {
		all := make([][]float64, 4)
		for i := range all {
			all[i] = make([]float64, 4)
		}
		all[0][1], all[1][0] = bonus, bonus
		return all
	}
	share := func(s decode.Sighting) (equal, unequal float64) {
		for _, c := range rank(t, s).Candidates {
			if c.Rings[0] == c.Rings[1] {
				equal += c.Confidence
			} else {
				unequal += c.Confidence
			}
		}
		return equal, unequal
	}
	same.Cuts[0].Alike = pair(3)
	equal, unequal := share(same)
	assert.Greater(t, equal, 5*unequal)
	same.Cuts[0].Alike = pair(-6)
	equal, unequal = share(same)
	assert.Greater(t, unequal, equal, "27 and 23 look less alike than 22 and 33 do, but these rings differ")
}

// Of three rings of one paint two links speak for it, not all three pairs.
func TestRankCountsLikenessOnceARing(t *testing.T) {
	const link = 3.0
	s := seen(cut(t, "OG OG RD GD", fourPlaces))
	s.Cuts[0].Alike = make([][]float64, 4)
	for i := range s.Cuts[0].Alike {
		s.Cuts[0].Alike[i] = []float64{link, link, link, -link}
	}
	first := func(redder float64) []decode.Colour {
		for i := range 2 {
			s.Cuts[0].Rings[i].LogLikelihood[decode.Red] = -redder
		}
		return rank(t, s).Candidates[0].Rings
	}
	assert.Equal(t, row(t, "RD RD RD GD"), first(0.9*link/2), "a link more outweighs this")
	assert.Equal(t, row(t, "OG OG RD GD"), first(1.3*link/2), "a link more does not, two would")
}

// Three rings are a code only where the place of the fourth is bare, and even
// then the fourth may be hidden.
func TestRankTakesThreeRingsOnlyWithABareEnd(t *testing.T) {
	r := rank(t, seen(cut(t, "YE VT RD", threePlaces)))
	assert.Equal(t, row(t, "YE VT RD"), r.Candidates[0].Rings)
	assert.Equal(t, decode.Check, r.Verdict)
	assert.Contains(t, r.Why, "three rings")

	// As an account of a body whose rings reach its end, three rings lose
	// against four of which one is faint; with a bare end they win.
	four := func(places []float64) decode.Cut {
		c := cut(t, "YE VT RD GD", places)
		c.LogWeight = -5
		return c
	}
	bare := decode.Sighting{Cuts: []decode.Cut{cut(t, "YE VT RD", []float64{0.12, 0.26, 0.4}), four([]float64{0.12, 0.26, 0.4, 0.8})}}
	full := decode.Sighting{Cuts: []decode.Cut{cut(t, "YE VT RD", []float64{0.2, 0.5, 0.8}), four([]float64{0.15, 0.36, 0.57, 0.92})}}
	assert.Equal(t, row(t, "YE VT RD"), best(t, bare))
	assert.Equal(t, row(t, "YE VT RD GD"), best(t, full))
}

// IEC 60062: a single black ring marks a zero-ohm link. A diode wears one dark
// ring too, so it is never sure.
func TestRankReadsALinkButIsNeverSure(t *testing.T) {
	for _, hue := range []decode.BodyHue{decode.BodyTan, decode.BodyBlue, decode.BodyGreen, decode.BodyUnknown} {
		r := rank(t, decode.Sighting{Cuts: []decode.Cut{cut(t, "BK", placesOf[1])}, Body: hue})
		require.NotEmpty(t, r.Candidates)
		assert.True(t, r.Candidates[0].IsLink())
		assert.Equal(t, decode.Check, r.Verdict)
		assert.Contains(t, r.Why, "link")
	}
	r := rank(t, decode.Sighting{Cuts: []decode.Cut{cut(t, "RD", placesOf[1])}})
	require.Len(t, r.Candidates, 1, "a dark red ring may be black")
	assert.True(t, r.Candidates[0].IsLink())
}

func TestRankPassesAFaultOn(t *testing.T) {
	s := seen(cut(t, "GN BU RD GD", fourPlaces))
	s.Fault = "too small: go closer"
	r := rank(t, s)
	assert.Equal(t, decode.Unreadable, r.Verdict)
	assert.Equal(t, "too small: go closer", r.Why)
	assert.Empty(t, r.Candidates)
}

// What made the rings hard to see is told where little can be read, and changes
// nothing else.
func TestRankTellsAHindrance(t *testing.T) {
	const blur = "the rings are blurred: hold the camera still"
	for _, c := range []struct {
		name     string
		sighting decode.Sighting
		verdict  decode.Verdict
		plain    string // without a hindrance
		hindered string
	}{
		{"no code", decode.Sighting{Cuts: []decode.Cut{{}}}, decode.Unreadable,
			"no legal ring code fits what was seen: turn the part or take the photo closer",
			"no legal ring code fits what was seen; the rings are blurred: hold the camera still"},
		{"hardly anything", doubted(t, 0.95), decode.Unreadable,
			"too many readings are as likely: take the photo closer, in soft light, with the part turned",
			"too many readings are as likely; the rings are blurred: hold the camera still"},
		{"not certain", doubted(t, 0.3), decode.Check,
			"not certain enough: compare the rings with the part",
			"not certain enough; the rings are blurred: hold the camera still"},
		{"sure", doubted(t, 0), decode.Sure, "", ""},
	} {
		plain := rank(t, c.sighting)
		assert.Equal(t, c.verdict, plain.Verdict, c.name)
		assert.Equal(t, c.plain, plain.Why, c.name)
		c.sighting.Hindrance = blur
		hindered := rank(t, c.sighting)
		assert.Equal(t, c.hindered, hindered.Why, c.name)
		assert.Equal(t, c.verdict, hindered.Verdict, c.name)
		assert.Equal(t, plain.Candidates, hindered.Candidates, c.name)
	}
}

// doubted is a plain part with some doubt that it is one.
func doubted(t *testing.T, doubt float64) decode.Sighting {
	t.Helper()
	s := seen(cut(t, "GN BU RD GD", fourPlaces))
	s.Doubt = doubt
	return s
}

func TestRankHeedsAHandicap(t *testing.T) {
	s := seen(cut(t, "GN BU RD GD", fourPlaces))
	require.Equal(t, decode.Sure, rank(t, s).Verdict)
	s.Handicap = []string{"glare on a ring", "few pixels"}
	r := rank(t, s)
	assert.Equal(t, decode.Check, r.Verdict)
	assert.Equal(t, "glare on a ring", r.Why)
	assert.Equal(t, row(t, "GN BU RD GD"), r.Candidates[0].Rings)
}

// Parts made to 20 % have no fourth ring and values of E6 (IEC 60063). Which bodies
// hide a gold or silver one, and what chokes and diodes look like: common practice, no source.
func TestRankIsSureOfThreeRingsOnlyWhereAFourthWouldShow(t *testing.T) {
	for _, c := range []struct {
		name, rings string
		hue         decode.BodyHue
		slender     float64
		broad       float64 // times as broad as the others, of the first ring
		want        decode.Verdict
	}{
		{"gold would show", "YE VT RD", decode.BodyDark, 3, 1, decode.Sure},
		{"gold would show", "BN BK RD", decode.BodyPink, 3, 1, decode.Sure},
		{"gold would hardly show", "YE VT RD", decode.BodyTan, 3, 1, decode.Check},
		{"silver would hardly show", "YE VT RD", decode.BodyGrey, 3, 1, decode.Check},
		{"who knows", "YE VT RD", decode.BodyUnknown, 3, 1, decode.Check},
		{"39 is made to 10 %", "OG WH RD", decode.BodyDark, 3, 1, decode.Check},
		{"40 is no preferred number", "YE BK RD", decode.BodyDark, 3, 1, decode.Check},
		{"a choke of 4.7 mH", "YE VT RD", decode.BodyDark, 2.1, 1, decode.Check},
		{"a choke would have 470 mH", "YE VT YE", decode.BodyDark, 2.1, 1, decode.Sure},
		{"a diode", "YE VT RD", decode.BodyDark, 3, 1.8, decode.Check},
	} {
		s := seen(cut(t, c.rings, threePlaces))
		s.Body, s.Slenderness = c.hue, c.slender
		s.Cuts[0].Rings[0].Width *= c.broad
		r := rank(t, s)
		assert.Equal(t, c.want, r.Verdict, "%s, as %s: %s", c.rings, c.name, r.Why)
		if c.want == decode.Check {
			assert.Contains(t, r.Why, "three rings")
		}
	}
}

// In the middle of a body three rings do not tell which end comes first, whatever
// value is the more usual.
func TestRankIsNotSureOfThreeRingsInTheMiddle(t *testing.T) {
	for _, c := range []struct {
		rings string
		why   string // empty where sure
	}{
		{"OG OG YE", "from the other end"}, // 43, of E24, from there
		{"RD RD RD", ""},
		{"BN BK BK", ""}, // no code begins with black
	} {
		s := seen(cut(t, c.rings, []float64{0.23, 0.5, 0.77}))
		s.Body, s.Slenderness = decode.BodyDark, 3
		r := rank(t, s)
		assert.Equal(t, row(t, c.rings), r.Candidates[0].Rings)
		assert.Contains(t, r.Why, c.why, c.rings)
		assert.Equal(t, c.why == "", r.Verdict == decode.Sure, "%s: %s", c.rings, r.Why)
	}
}

// Moulded chokes, ringed diodes and tubular capacitors wear rings that are
// legal here. Which bodies are usual for how many rings: common practice, no
// source.
func TestRankIsNeverSureOfALookAlike(t *testing.T) {
	const four, five, six = "GN BU RD GD", "BN BK BK RD BN", "YE WH WH BN BN RD"
	const coarse = "BN BK BK RD GD"                                        // five rings, ±5 %
	const fine, large, small = "GN BU RD BN", "GN BU YE GD", "GN BU GD GD" // ±1 %; as a choke of 560 mH, and of 5.6 µH
	for _, c := range []struct {
		rings   string
		hue     decode.BodyHue
		slender float64
		want    decode.Verdict
	}{
		{four, decode.BodyTan, 0, decode.Sure},
		{four, decode.BodyTan, 2.2, decode.Check},
		{four, decode.BodyTan, 2.4, decode.Sure},
		{four, decode.BodyDark, 0, decode.Sure},
		{four, decode.BodyBlue, 0, decode.Check},
		{four, decode.BodyBlue, 2.4, decode.Check},
		{four, decode.BodyBlue, 2.6, decode.Sure},
		{four, decode.BodyGreen, 0, decode.Check},
		{four, decode.BodyGreen, 2.4, decode.Check},
		{four, decode.BodyGreen, 2.6, decode.Sure},
		{four, decode.BodyGrey, 2.4, decode.Check},
		{four, decode.BodyGrey, 2.6, decode.Sure},
		{four, decode.BodyPink, 2.4, decode.Check},
		{four, decode.BodyPink, 2.6, decode.Sure},
		{four, decode.BodyUnknown, 0, decode.Check},
		{four, decode.BodyUnknown, 2.6, decode.Sure},
		{fine, decode.BodyGreen, 2, decode.Sure},
		{large, decode.BodyGreen, 2, decode.Sure},
		{small, decode.BodyGreen, 2, decode.Check},
		{large, decode.BodyTan, 2, decode.Sure},
		{five, decode.BodyBlue, 0, decode.Sure},
		{five, decode.BodyBlue, 2, decode.Sure},
		{coarse, decode.BodyBlue, 2, decode.Check},
		{five, decode.BodyGreen, 0, decode.Sure},
		{five, decode.BodyGrey, 0, decode.Sure},
		{five, decode.BodyTan, 0, decode.Sure},
		{coarse, decode.BodyTan, 3.2, decode.Check},
		{coarse, decode.BodyDark, 0, decode.Check},
		{coarse, decode.BodyPink, 3.2, decode.Check},
		{five, decode.BodyUnknown, 0, decode.Sure},
		{six, decode.BodyBlue, 2, decode.Sure},
		{six, decode.BodyUnknown, 0, decode.Sure},
		{six, decode.BodyTan, 2, decode.Sure},
	} {
		s := seen(cut(t, c.rings, placesOf[len(row(t, c.rings))]))
		s.Body, s.Slenderness = c.hue, c.slender
		r := rank(t, s)
		assert.Equal(t, c.want, r.Verdict, "%s on hue %d, slenderness %g: %s", c.rings, c.hue, c.slender, r.Why)
		assert.Equal(t, row(t, c.rings), r.Candidates[0].Rings, "the body takes nothing from the reading")
		if c.want == decode.Check {
			assert.Equal(t, decode.NoteLookAlike, r.Why)
			assert.Contains(t, r.Candidates[0].Notes, decode.NoteLookAlike)
		} else {
			assert.NotContains(t, r.Candidates[0].Notes, decode.NoteLookAlike)
		}
	}

	// With something else to say first, the note is still there.
	s := seen(cut(t, four, fourPlaces))
	s.Body, s.Handicap = decode.BodyGreen, []string{"blurred"}
	assert.Contains(t, rank(t, s).Candidates[0].Notes, decode.NoteLookAlike)
}

// Parts coded by body, tip and dot are painted all over, and the track of a
// photoresistor looks like many rings of one colour. Common practice, no source.
func TestRankIsNotSureOfTipsAndTracks(t *testing.T) {
	ends := []float64{0.1, 0.37, 0.63, 0.9}
	for _, c := range []struct {
		name, rings string
		places      []float64
		width       float64
		want        decode.Verdict
	}{
		{"rings up to the ends", "GN BU RD GD", ends, 0.12, decode.Sure},
		{"painted all over", "GN BU RD GD", ends, 0.18, decode.Check},
		{"broad rings amid the body", "GN BU RD GD", fourPlaces, 0.12, decode.Sure},
		{"a track", "BN BN BN BN BN", fivePlaces, 0.06, decode.Check},
		{"1.1 kΩ", "BN BN BK BN BN", fivePlaces, 0.06, decode.Sure},
		{"four of a colour", "RD RD RD RD", fourPlaces, 0.06, decode.Sure},
	} {
		s := seen(cut(t, c.rings, c.places))
		s.Body = decode.BodyTan
		if len(c.places) > 4 {
			s.Body = decode.BodyBlue
		}
		for i := range s.Cuts[0].Rings {
			s.Cuts[0].Rings[i].Width = c.width
		}
		r := rank(t, s)
		assert.Equal(t, c.want, r.Verdict, "%s, %s: %s", c.rings, c.name, r.Why)
	}
}

// Tubular capacitors wear a broad ring at one end, for the temperature coefficient;
// on diodes and wire-wound resistors the first ring is broad. The last may be so on
// any resistor. Common practice, no source.
func TestRankIsNotSureWithABroadRingAtAnEnd(t *testing.T) {
	const four, five = "GN BU RD GD", "BN BK BK RD BN"
	for _, c := range []struct {
		rings string
		hue   decode.BodyHue
		ring  int
		broad float64 // times as broad as the others
		want  decode.Verdict
	}{
		{five, decode.BodyPink, 0, 1.1, decode.Sure},
		{five, decode.BodyPink, 0, 1.5, decode.Check},
		{five, decode.BodyPink, 0, 1.8, decode.Check},
		{five, decode.BodyPink, 4, 1.8, decode.Check},
		{five, decode.BodyBlue, 0, 1.8, decode.Check},
		{five, decode.BodyBlue, 4, 1.8, decode.Sure},
		{four, decode.BodyTan, 0, 1.1, decode.Sure},
		{four, decode.BodyTan, 0, 1.8, decode.Check},
		{four, decode.BodyTan, 3, 1.8, decode.Sure},
	} {
		s := seen(cut(t, c.rings, placesOf[len(row(t, c.rings))]))
		s.Body = c.hue
		s.Cuts[0].Rings[c.ring].Width *= c.broad
		r := rank(t, s)
		assert.Equal(t, c.want, r.Verdict, "%s on hue %d, ring %d %g times as broad: %s", c.rings, c.hue, c.ring, c.broad, r.Why)
	}
}

func TestRankTakesDoubtOffConfidence(t *testing.T) {
	s := seen(cut(t, "GN BU RD GD", fourPlaces))
	plain := rank(t, s).Candidates[0].Confidence
	s.Doubt = 0.25
	r := rank(t, s)
	c := decode.CurrentCalibration()
	assert.InDelta(t, 0.75*c.Share(plain), c.Share(r.Candidates[0].Confidence), 1e-9)
	assert.Equal(t, decode.Check, r.Verdict)
	assert.Contains(t, r.Why, "not certain", "there is no rival to compare with")
	s.Doubt = 1
	r = rank(t, s)
	assert.Zero(t, r.Candidates[0].Confidence)
	assert.Equal(t, decode.Unreadable, r.Verdict)
}

func TestRankOfNothing(t *testing.T) {
	two := decode.Cut{Rings: []decode.SeenRing{ring(decode.Red, 0.2, nil), ring(decode.Red, 0.4, nil)}}
	nine := decode.Cut{}
	for i := range 9 {
		nine.Rings = append(nine.Rings, ring(decode.Red, float64(i+1)/10, nil))
	}
	for name, s := range map[string]decode.Sighting{
		"no cut":             {},
		"a cut with no ring": {Cuts: []decode.Cut{{}}},
		"two rings":          {Cuts: []decode.Cut{two}},
		"seven rings":        {Cuts: []decode.Cut{{Rings: nine.Rings[:7]}}},
		"nine rings":         {Cuts: []decode.Cut{nine}},
	} {
		r := rank(t, s)
		assert.Equal(t, decode.Unreadable, r.Verdict, name)
		assert.NotEmpty(t, r.Why, name)
	}
}

// Numbers that are none, from a reader gone wrong, must neither break the
// ranking nor make it sure of anything.
func TestRankOutlivesBadNumbers(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for name, spoil := range map[string]func(*decode.Cut){
		"a likelihood that is no number": func(c *decode.Cut) { c.Rings[1].LogLikelihood[decode.Blue] = nan },
		"a ring of no likelihood": func(c *decode.Cut) {
			for i := range c.Rings[1].LogLikelihood {
				c.Rings[1].LogLikelihood[i] = -inf
			}
		},
		"an endless likelihood":       func(c *decode.Cut) { c.Rings[1].LogLikelihood[decode.Red] = inf },
		"two endless likelihoods":     func(c *decode.Cut) { c.Rings[0].LogLikelihood[5], c.Rings[1].LogLikelihood[2] = inf, inf },
		"a weight that is no number":  func(c *decode.Cut) { c.LogWeight = nan },
		"a weight of nothing":         func(c *decode.Cut) { c.LogWeight = -inf },
		"an endless weight":           func(c *decode.Cut) { c.LogWeight = inf },
		"a ring without width":        func(c *decode.Cut) { c.Rings[2].Width = 0 },
		"a ring with negative width":  func(c *decode.Cut) { c.Rings[2].Width = -0.1 },
		"a place that is no number":   func(c *decode.Cut) { c.Rings[0].Centre = nan },
		"a place far off":             func(c *decode.Cut) { c.Rings[3].Centre = inf },
		"rings all at the same place": func(c *decode.Cut) { c.Rings[1].Centre, c.Rings[2].Centre = 0.14, 0.14 },
	} {
		t.Run(name, func(t *testing.T) {
			spoilt := cut(t, "GN BU RD GD", fourPlaces)
			spoil(&spoilt)
			r := rank(t, seen(spoilt))
			if name != "rings all at the same place" {
				assert.NotEqual(t, decode.Sure, r.Verdict)
			}

			// A good account beside it is still read.
			s := seen(cut(t, "YE VT OG SR", fourPlaces), spoilt)
			r = rank(t, s)
			require.NotEmpty(t, r.Candidates, r.Why)
		})
	}

	// One colour that can't be leaves the others.
	c := cut(t, "GN BU RD GD", fourPlaces)
	for i := range c.Rings {
		c.Rings[i].LogLikelihood[decode.Pink] = -inf
	}
	assert.Equal(t, row(t, "GN BU RD GD"), best(t, seen(c)))
}

// VT GN BK BN BN is 7.5 kΩ ±1 % and, from the other end, 11 MΩ ±0.1 %: both
// preferred numbers. Only the places of the rings can tell. RD VT BK BN BN is 2.7 kΩ
// and, from the other end, 1.1 GΩ, which hardly anyone has; common practice, no source.
func TestRankIsNotSureOfARowThatReadsBothWays(t *testing.T) {
	even := []float64{0.2, 0.35, 0.5, 0.65, 0.8}
	for _, c := range []struct {
		rings  string
		places []float64
		want   decode.Verdict
	}{
		{"VT GN BK BN BN", even, decode.Check},
		{"VT GN BK BN BN", fivePlaces, decode.Sure},
		{"YE VT GN RD BN", even, decode.Sure}, // 125 is no preferred number
		{"RD VT BK BN BN", even, decode.Sure},
		{"RD VT BK BN BN", []float64{0.2, 0.39, 0.53, 0.67, 0.81}, decode.Check}, // the places speak for the rare one
	} {
		s := seen(cut(t, c.rings, c.places))
		s.Body = decode.BodyBlue
		r := rank(t, s)
		assert.Equal(t, c.want, r.Verdict, "%s %v: %s", c.rings, c.places, r.Why)
		if c.want == decode.Check {
			assert.Contains(t, r.Why, "from the other end")
		}
	}
}

// A dark ring on a dark body leaves a gap behind: of RD YE BK OG BN what is seen
// is a row that is legal as well.
func TestRankIsNotSureWhereARingMayBeHidden(t *testing.T) {
	for _, c := range []struct {
		name, rings string
		places      []float64
		want        decode.Verdict
	}{
		{"even digits", "RD YE OG BN", fourPlaces, decode.Sure},
		{"black hidden third", "RD YE OG BN", []float64{0.12, 0.24, 0.48, 0.78}, decode.Check},
		{"turned", "RD YE OG BN", []float64{0.22, 0.52, 0.76, 0.88}, decode.Check},
		{"even digits of five", "RD YE VT OG BN", fivePlaces, decode.Sure},
		{"wide gap before the tolerance alone", "RD YE OG BN", []float64{0.12, 0.25, 0.38, 0.85}, decode.Sure},
	} {
		drawn := cut(t, c.rings, c.places)
		if c.name == "turned" {
			slices.Reverse(drawn.Rings)
			for i := range drawn.Rings {
				drawn.Rings[i].Centre = c.places[i]
			}
		}
		s := seen(drawn)
		s.Body = decode.BodyTan
		if len(c.places) == 5 {
			s.Body = decode.BodyBlue
		}
		r := rank(t, s)
		assert.Equal(t, c.want, r.Verdict, "%s: %s", c.name, r.Why)
		if c.want == decode.Check {
			assert.Contains(t, r.Why, "hidden", c.name)
		}
	}
}

// Of BN GN RD GD with its red ring hidden there remain three rings that are a code,
// gold being a multiplier as well.
func TestRankIsNotSureWhereOneOfFourRingsMayBeHidden(t *testing.T) {
	for _, c := range []struct {
		name   string
		places []float64
		want   decode.Verdict
	}{
		{"as three rings lie", threePlaces, decode.Sure},
		{"third of four hidden", []float64{0.12, 0.27, 0.7}, decode.Check},
		{"second of four hidden", []float64{0.1, 0.5, 0.72}, decode.Check},
	} {
		s := seen(cut(t, "BN GN GD", c.places))
		s.Body, s.Slenderness = decode.BodyGreen, 3
		r := rank(t, s)
		assert.Equal(t, row(t, "BN GN GD"), r.Candidates[0].Rings, c.name)
		assert.Equal(t, c.want, r.Verdict, "%s: %s", c.name, r.Why)
		if c.want == decode.Check {
			assert.Contains(t, r.Why, "hidden in it", c.name)
		}
	}
}

// An unreadable part shows no value, though candidates may be kept.
func TestBest(t *testing.T) {
	s := seen(cut(t, "GN BU RD GD", fourPlaces))
	best, ok := rank(t, s).Best()
	require.True(t, ok)
	assert.Equal(t, "5K6", best.RKM())
	s.Doubt = 1
	r := rank(t, s)
	assert.NotEmpty(t, r.Candidates)
	_, ok = r.Best()
	assert.False(t, ok)
	_, ok = decode.Ranking{}.Best()
	assert.False(t, ok)
}
