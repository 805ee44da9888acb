package decode_test

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

// ranking is one of readings with the confidences.
func ranking(t *testing.T, verdict decode.Verdict, candidates map[string]float64, order ...string) decode.Ranking {
	t.Helper()
	r := decode.Ranking{Verdict: verdict}
	for _, rings := range order {
		readings, err := decode.Readings(row(t, rings))
		require.NoError(t, err)
		r.Candidates = append(r.Candidates, decode.Candidate{Reading: readings[0], Confidence: candidates[rings]})
	}
	return r
}

func shown(t *testing.T, text string) decode.Measurement {
	t.Helper()
	m, err := decode.UsualMeter.Shows(text)
	require.NoError(t, err)
	return m
}

// Whether a value fits: the bounds are nominal and tolerance, widened by the
// meter's limit, worked by hand. How far parts drift is common practice, no
// source.
func TestFitOf(t *testing.T) {
	for _, c := range []struct {
		rings, shows string
		kind         decode.Kind
		age          decode.Age
		inCircuit    bool
		want         decode.Fit
	}{
		{"GN BU RD GD", "5.58k", "", 0, false, decode.Within},
		{"GN BU RD GD", "5.32k", "", 0, false, decode.Within},  // the lower bound
		{"GN BU RD GD", "5.95k", "", 0, false, decode.Within},  // 5.88k is the bound, 89.7 Ω the meter's limit
		{"GN BU RD GD", "6.20k", "", 0, false, decode.Drifted}, // beyond it
		{"GN BU RD GD", "7.00k", "", 0, false, decode.Off},
		{"GN BU RD GD", "560", "", 0, false, decode.Off},
		{"GN BU RD GD", "56.0k", "", 0, false, decode.Off},
		// Old composition parts read high, by 20 % and more.
		{"GN BU RD SR", "7.60k", decode.KindComposition, decode.Old, false, decode.Drifted},
		{"GN BU RD SR", "7.60k", decode.KindComposition, decode.New, false, decode.Off},
		{"GN BU RD SR", "7.60k", decode.KindMetalFilm, decode.Old, false, decode.Off},
		{"GN BU RD SR", "7.60k", decode.KindUnknown, decode.Old, false, decode.Drifted},
		{"GN BU RD SR", "3.00k", decode.KindComposition, decode.Old, false, decode.Off},
		// Neighbours in a circuit make a part read low, never high.
		{"GN BU RD GD", "1.20k", "", 0, true, decode.LowInCircuit},
		{"GN BU RD GD", "1.20k", "", 0, false, decode.Off},
		{"GN BU RD GD", "12.0k", "", 0, true, decode.Off},
		{"BK", "0.1", "", 0, false, decode.Within},
		{"BK", "1.20", "", 0, false, decode.Off},
		{"BN BK BK GD", "0", "", 0, false, decode.Off},
	} {
		readings, err := decode.Readings(row(t, c.rings))
		require.NoError(t, err)
		m := shown(t, c.shows)
		m.InCircuit = c.inCircuit
		assert.Equal(t, c.want, decode.FitOf(readings[0], m, decode.Specimen{Kind: c.kind, Age: c.age}), "%+v", c)
	}
}

// The meter lifts the candidate that measures so over one that does not.
func TestHearReranks(t *testing.T) {
	before := ranking(t, decode.Check, map[string]float64{"GN BU RD GD": 0.6, "GN BU BN GD": 0.3, "GN GY RD GD": 0.05},
		"GN BU RD GD", "GN BU BN GD", "GN GY RD GD")
	got := before.Hear(shown(t, "558"), decode.Specimen{})
	assert.Equal(t, row(t, "GN BU BN GD"), got.Candidates[0].Rings)
	assert.Greater(t, got.Candidates[0].Confidence, 0.98)
	assert.Equal(t, []decode.Fit{decode.Within, decode.Off, decode.Off}, got.Fits)
	assert.Empty(t, got.Contradiction)
	assert.Contains(t, got.Why, "another reading than the rings alone")
	assert.InDelta(t, 0.6, before.Candidates[0].Confidence, 1e-12, "the ranking asked is left alone")
	assert.Equal(t, row(t, "GN BU RD GD"), before.Candidates[0].Rings)
}

// A value that only the tighter of two tolerances allows speaks for the
// tighter, by no more than the ratio of their widths.
func TestHearWeighsTolerances(t *testing.T) {
	before := ranking(t, decode.Check, map[string]float64{"BN BK RD SR": 0.45, "BN BK RD GD": 0.45}, "BN BK RD SR", "BN BK RD GD")
	got := before.Hear(shown(t, "1.002k"), decode.Specimen{Kind: decode.KindCarbonFilm})
	assert.Equal(t, row(t, "BN BK RD GD"), got.Candidates[0].Rings)
	ratio := got.Candidates[0].Confidence / got.Candidates[1].Confidence
	assert.Greater(t, ratio, 1.5)
	assert.Less(t, ratio, 2.1)

	got = before.Hear(shown(t, "1.085k"), decode.Specimen{Kind: decode.KindCarbonFilm})
	assert.Equal(t, row(t, "BN BK RD SR"), got.Candidates[0].Rings)
}

func TestContradiction(t *testing.T) {
	for _, c := range []struct {
		rings, shows, want string
		inCircuit          bool
	}{
		{"GN BU RD GD", "560", "rings say 5.6 kΩ ±5 %, the meter says 560 Ω: multiplier ring misread (brown would agree), or another part or a broken one", false},
		{"GN BU RD GD", "6.80k", "rings say 5.6 kΩ ±5 %, the meter says 6.8 kΩ: another part or a broken one", false},
		{"BN RD RD GD", "2.21k", "rings say 1.2 kΩ ±5 %, the meter says 2.21 kΩ: ring 1 misread (red would agree), or another part or a broken one", false},
		{"BN RD BK BN RD", "21.1k", "rings say 1.2 kΩ ±2 %, the meter says 21.1 kΩ: read from the wrong end", false},
		{"GN BU RD GD", "9.90k", "a charged capacitor in the circuit disturbs the meter", true},
		{"BK", "700k", "rings say 0 Ω, the meter says 700 kΩ: a diode or another part with one ring, or another part or a broken one", false},
	} {
		before := ranking(t, decode.Sure, map[string]float64{c.rings: 0.99}, c.rings)
		m := shown(t, c.shows)
		m.InCircuit = c.inCircuit
		got := before.Hear(m, decode.Specimen{Kind: decode.KindMetalFilm})
		assert.Contains(t, got.Contradiction, c.want)
		assert.Equal(t, decode.Check, got.Verdict, "never sure against the meter")
		assert.Equal(t, got.Contradiction, got.Why)
		assert.Less(t, got.Candidates[0].Confidence, 0.5, c.want)
	}
}

// A candidate that the rings all but rule out does not carry the day because
// it happens to fit.
func TestHearUnlikelyFit(t *testing.T) {
	before := ranking(t, decode.Sure, map[string]float64{"GN BU RD GD": 0.999, "GN BU BN GD": 0.00001}, "GN BU RD GD", "GN BU BN GD")
	got := before.Hear(shown(t, "558"), decode.Specimen{})
	assert.Contains(t, got.Contradiction, "rings say 5.6 kΩ ±5 %, the meter says 558 Ω: multiplier ring misread (brown would agree)")
	assert.Equal(t, decode.Check, got.Verdict)
}

func TestHearInCircuit(t *testing.T) {
	before := ranking(t, decode.Check, map[string]float64{"GN BU RD GD": 0.5, "GN BU BN GD": 0.4}, "GN BU RD GD", "GN BU BN GD")
	m := shown(t, "2.20k")
	m.InCircuit = true
	got := before.Hear(m, decode.Specimen{})
	assert.Equal(t, row(t, "GN BU RD GD"), got.Candidates[0].Rings, "560 Ω cannot read 2.2 kΩ there")
	assert.Equal(t, []decode.Fit{decode.LowInCircuit, decode.Off}, got.Fits)
	assert.Empty(t, got.Contradiction)
	assert.Contains(t, got.Notes, decode.NoteInCircuit)
	assert.Contains(t, got.Notes[0], "lift one lead")
}

func TestHearVerdicts(t *testing.T) {
	sure := ranking(t, decode.Sure, map[string]float64{"GN BU RD GD": 0.97, "GN BU OG GD": 0.01}, "GN BU RD GD", "GN BU OG GD")
	got := sure.Hear(shown(t, "5.61k"), decode.Specimen{})
	assert.Equal(t, decode.Sure, got.Verdict)
	assert.Greater(t, got.Candidates[0].Confidence, 0.97)

	got = sure.Hear(shown(t, "56.1k"), decode.Specimen{})
	assert.Equal(t, decode.Check, got.Verdict, "the meter speaks for another")
	assert.NotEmpty(t, got.Why)

	check := ranking(t, decode.Check, map[string]float64{"GN BU RD GD": 0.9}, "GN BU RD GD")
	assert.Equal(t, decode.Check, check.Hear(shown(t, "5.60k"), decode.Specimen{}).Verdict, "a meter makes nothing sure")

	none := decode.Ranking{Verdict: decode.Unreadable, Why: "blurred"}
	got = none.Hear(shown(t, "5.60k"), decode.Specimen{})
	assert.Equal(t, none, got.Ranking)
	assert.Empty(t, got.Contradiction)

	drifted := ranking(t, decode.Check, map[string]float64{"GN BU RD SR": 0.9}, "GN BU RD SR").
		Hear(shown(t, "7.20k"), decode.Specimen{Kind: decode.KindComposition, Age: decode.Old})
	assert.Equal(t, []decode.Fit{decode.Drifted}, drifted.Fits)
	assert.Contains(t, drifted.Notes[0], "It measures 7.2 kΩ, beyond the tolerance of 5.6 kΩ: it has drifted")
}

// For any measured value the confidences stay within 0 to 1 and add up to at
// most 1, best first, and there is a
// contradiction just where what agrees is outweighed by what does not.
func TestHearProperties(t *testing.T) {
	before := ranking(t, decode.Sure, map[string]float64{"GN BU RD GD": 0.9, "GN BU BN GD": 0.06, "BK": 0.04}, "GN BU RD GD", "GN BU BN GD", "BK")
	for exponent := -6; exponent <= 12; exponent++ {
		for digits := int64(10); digits < 100; digits += 3 {
			for _, inCircuit := range []bool{false, true} {
				m := decode.Measurement{Ohms: decimal.New(digits, int32(exponent)), AccuracyPercent: decimal.New(5, -1), InCircuit: inCircuit}
				for _, s := range []decode.Specimen{{}, {Kind: decode.KindComposition, Age: decode.Old}, {Kind: decode.KindMetalFilm, Age: decode.New}} {
					got := before.Hear(m, s)
					sum, last, agreeing := 0.0, 1.0, 0.0
					for i, c := range got.Candidates {
						require.False(t, math.IsNaN(c.Confidence) || c.Confidence < 0 || c.Confidence > last, "%v %+v", m.Ohms, got)
						sum, last = sum+c.Confidence, c.Confidence
						if got.Fits[i] != decode.Off {
							agreeing += c.Confidence
						}
					}
					require.LessOrEqual(t, sum, 1+1e-9)
					require.Equal(t, agreeing < 0.5, got.Contradiction != "", "%v", m.Ohms)
					if got.Contradiction != "" {
						require.NotEqual(t, decode.Sure, got.Verdict)
					}
				}
			}
		}
	}
}
