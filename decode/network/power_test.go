package network_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ringwise/decode"
	"ringwise/decode/network"
)

func TestSolve(t *testing.T) {
	for _, tt := range []struct{ known, want network.Operation }{
		// P. Horowitz and W. Hill, The Art of Electronics, exercise on 1 Ω
		// across a 12 V battery: 144 W; from memory.
		{network.Operation{Ohms: 1, Volts: 12}, network.Operation{Ohms: 1, Volts: 12, Amps: 12, Watts: 144}},
		// T. Kuphaldt, Lessons in Electric Circuits, volume I, chapter 2: a
		// battery of 18 V and a lamp of 3 Ω, 6 A and 108 W; from memory.
		{network.Operation{Volts: 18, Ohms: 3}, network.Operation{Ohms: 3, Volts: 18, Amps: 6, Watts: 108}},
		// The same the other ways round.
		{network.Operation{Ohms: 3, Amps: 6}, network.Operation{Ohms: 3, Volts: 18, Amps: 6, Watts: 108}},
		{network.Operation{Ohms: 3, Watts: 108}, network.Operation{Ohms: 3, Volts: 18, Amps: 6, Watts: 108}},
		{network.Operation{Volts: 18, Amps: 6}, network.Operation{Ohms: 3, Volts: 18, Amps: 6, Watts: 108}},
		{network.Operation{Volts: 18, Watts: 108}, network.Operation{Ohms: 3, Volts: 18, Amps: 6, Watts: 108}},
		{network.Operation{Amps: 6, Watts: 108}, network.Operation{Ohms: 3, Volts: 18, Amps: 6, Watts: 108}},
		{network.Operation{Ohms: 3, Volts: 18, Watts: 108}, network.Operation{Ohms: 3, Volts: 18, Amps: 6, Watts: 108}},
	} {
		got, err := network.Solve(tt.known)
		require.NoError(t, err)
		assert.InDelta(t, tt.want.Ohms, got.Ohms, 1e-9)
		assert.InDelta(t, tt.want.Volts, got.Volts, 1e-9)
		assert.InDelta(t, tt.want.Amps, got.Amps, 1e-9)
		assert.InDelta(t, tt.want.Watts, got.Watts, 1e-9)
	}
	for says, known := range map[string]network.Operation{
		"and 1 came":                   {Ohms: 5},
		"and 0 came":                   {},
		"contradict each other":        {Ohms: 3, Volts: 18, Amps: 5},
		"a power of 108 W, not 50 W":   {Ohms: 3, Volts: 18, Watts: 50},
		"the voltage must be above":    {Ohms: 5, Volts: -1},
		"the current must be above":    {Ohms: 5, Amps: math.Inf(1)},
		"the power must be above zero": {Ohms: 5, Watts: math.NaN()},
		"too far apart":                {Ohms: 1e15, Volts: 1e-300},
	} {
		_, err := network.Solve(known)
		assert.ErrorContains(t, err, says)
	}
}

// Any two quantities give the same other two.
func TestSolveAgreesWithItself(t *testing.T) {
	amount := rapid.Float64Range(1e-4, 1e4)
	rapid.Check(t, func(rt *rapid.T) {
		whole, err := network.Solve(network.Operation{Ohms: amount.Draw(rt, "ohms"), Amps: amount.Draw(rt, "amps")})
		require.NoError(rt, err)
		for _, two := range []network.Operation{
			{Ohms: whole.Ohms, Volts: whole.Volts}, {Ohms: whole.Ohms, Watts: whole.Watts}, {Volts: whole.Volts, Amps: whole.Amps},
			{Volts: whole.Volts, Watts: whole.Watts}, {Amps: whole.Amps, Watts: whole.Watts},
		} {
			again, err := network.Solve(two)
			require.NoError(rt, err)
			assert.InEpsilon(rt, whole.Ohms, again.Ohms, 1e-9)
			assert.InEpsilon(rt, whole.Watts, again.Watts, 1e-9)
		}
	})
}

// Source: IEC 60115-1, derating curve: full rating up to 70 °C, then a straight
// line to zero; 155 °C from memory of data sheets.
func TestDerating(t *testing.T) {
	d := network.DeratingOf(decode.KindMetalFilm)
	for ambient, want := range map[float64]float64{-55: 1, 20: 1, 70: 1, 112.5: 0.5, 155: 0, 200: 0} {
		assert.InDelta(t, want, d.Share(ambient), 1e-12, "%g °C", ambient)
	}
	for _, kind := range append(decode.Kinds, decode.KindUnknown) {
		d := network.DeratingOf(kind)
		require.NoError(t, d.Check())
		assert.NotEmpty(t, d.Source, kind)
	}
	assert.ErrorContains(t, network.Derating{StartC: 70, ZeroC: 70}.Check(), "must be the hotter")
	assert.ErrorContains(t, network.Derating{StartC: 70, ZeroC: math.NaN()}.Check(), "out of range")
}

func power(t testing.TB, q network.PowerQuestion) network.Power {
	t.Helper()
	p, err := network.PowerOf(q)
	require.NoError(t, err)
	return p
}

// Worked by hand.
func TestPowerOf(t *testing.T) {
	film := decode.KindMetalFilm
	at := network.Operation{Ohms: 1000, Volts: 10} // 0.1 W
	size, err := network.SizeNamed("0207")
	require.NoError(t, err)
	for name, tt := range map[string]struct {
		q            network.PowerQuestion
		needed, sold float64
		want         network.Answer
		says         string
	}{
		"twice":              {network.PowerQuestion{Operation: at, Kind: film, RatedWatts: 0.25, AmbientC: 25}, 0.2, 0.25, network.Yes, ""},
		"too weak":           {network.PowerQuestion{Operation: at, Kind: film, RatedWatts: 0.125, AmbientC: 25}, 0.2, 0.25, network.No, "0.125 W is below the 0.2 W needed"},
		"hot":                {network.PowerQuestion{Operation: at, Kind: film, RatedWatts: 0.25, AmbientC: 112.5}, 0.4, 0.5, network.No, "at 50 % of the rating"},
		"far too hot":        {network.PowerQuestion{Operation: at, Kind: film, RatedWatts: 5, AmbientC: 160}, 0, 0, network.No, "no rating will do"},
		"own margin":         {network.PowerQuestion{Operation: at, Kind: film, RatedWatts: 0.125, Margin: 1}, 0.1, 0.125, network.Yes, ""},
		"own derating":       {network.PowerQuestion{Operation: at, RatedWatts: 0.25, AmbientC: 100, Derating: &network.Derating{StartC: 100, ZeroC: 200}}, 0.2, 0.25, network.Yes, ""},
		"rating unknown":     {network.PowerQuestion{Operation: at, Kind: film}, 0.2, 0.25, network.OnlyIf, "unknown, is 0.2 W or more"},
		"rating by body":     {network.PowerQuestion{Operation: at, Kind: film, Size: &size}, 0.2, 0.25, network.OnlyIf, "estimated from its body"},
		"kind unknown":       {network.PowerQuestion{Operation: at, RatedWatts: 0.25}, 0.2, 0.25, network.OnlyIf, "which is unknown"},
		"kind without curve": {network.PowerQuestion{Operation: at, Kind: decode.KindSafety, RatedWatts: 1}, 0.2, 0.25, network.OnlyIf, "no curve for its kind, which is safety"},
		"voltage too high":   {network.PowerQuestion{Operation: network.Operation{Ohms: 1e6, Volts: 300}, Kind: film, RatedWatts: 0.25, Size: &size}, 0.18, 0.25, network.No, "0207 bear 250 V"},
		"voltage not known":  {network.PowerQuestion{Operation: network.Operation{Ohms: 1e6, Volts: 300}, Kind: film, RatedWatts: 0.25}, 0.18, 0.25, network.OnlyIf, "limiting element voltage"},
		"nothing sold":       {network.PowerQuestion{Operation: network.Operation{Ohms: 1, Volts: 10}, Kind: film}, 200, 0, network.OnlyIf, "200 W or more"},
	} {
		p := power(t, tt.q)
		assert.InDelta(t, tt.needed, p.NeededWatts, 1e-9, name)
		assert.InDelta(t, tt.sold, p.SoldWatts, 1e-12, name)
		assert.Equal(t, tt.want, p.Answer, "%s: %v", name, p.Because)
		if tt.says != "" {
			require.NotEmpty(t, p.Because, name)
			assert.Contains(t, p.Because[0], tt.says, name)
		}
		assert.Contains(t, p.Cautions, network.CautionMeasure)
	}
	// 0.25 W at 1 kΩ is √250 V, about 15.8 V.
	assert.InDelta(t, 15.811, power(t, network.PowerQuestion{Operation: at, Kind: film, RatedWatts: 0.25}).BearsVolts, 1e-3)
	// √(0.25 W · 1 MΩ) is 500 V, which the smallest bodies do not bear; those of 0207 bear 250 V.
	tenth := network.Operation{Volts: 10, Ohms: 1e6}
	for _, tt := range []struct {
		q     network.PowerQuestion
		volts float64
		says  string
	}{
		{network.PowerQuestion{Operation: tenth, Kind: film, RatedWatts: 0.25}, 500, "by its power alone: its limiting element voltage, which is unknown, may be less"},
		{network.PowerQuestion{Operation: tenth, Kind: film, Size: &network.BodySizes()[1]}, 250, "the limiting element voltage of size 0207"},
		{network.PowerQuestion{Operation: at, Kind: film, RatedWatts: 0.25}, 15.811, "by its power"},
		{network.PowerQuestion{Operation: at, Kind: film}, 0, ""},
	} {
		p := power(t, tt.q)
		assert.InDelta(t, tt.volts, p.BearsVolts, 1e-3)
		assert.Equal(t, tt.says, p.VoltsFrom)
	}
}

// An end that is not given is the usual one of the kind, and where there is no curve
// for the kind it stays a guess, and the answer depends on it.
func TestHalfADerating(t *testing.T) {
	start, zero := 60.0, 300.0
	for name, tt := range map[string]struct {
		kind        decode.Kind
		start, zero *float64
		want        network.Answer
		ends        [2]float64
		source      string
	}{
		"start only":             {decode.KindUnknown, &start, nil, network.OnlyIf, [2]float64{60, 130}, "the start as given, the end as usual: no curve for its kind"},
		"end only":               {decode.KindUnknown, nil, &zero, network.OnlyIf, [2]float64{70, 300}, "the end as given, the start as usual: no curve for its kind"},
		"end only, kind known":   {decode.KindMetalFilm, nil, &zero, network.Yes, [2]float64{70, 300}, "the end as given, the start as usual: IEC 60115"},
		"start only, kind known": {decode.KindMetalFilm, &start, nil, network.Yes, [2]float64{60, 155}, "the start as given"},
		"both":                   {decode.KindUnknown, &start, &zero, network.Yes, [2]float64{60, 300}, "as given"},
		"none":                   {decode.KindUnknown, nil, nil, network.OnlyIf, [2]float64{70, 130}, "no curve for its kind"},
	} {
		d := network.GivenDerating(tt.kind, tt.start, tt.zero)
		p := power(t, network.PowerQuestion{Operation: network.Operation{Ohms: 470, Volts: 12}, Kind: tt.kind, RatedWatts: 1, AmbientC: 25, Derating: &d})
		assert.Equal(t, tt.want, p.Answer, "%s: %v", name, p.Because)
		assert.Equal(t, tt.ends, [2]float64{p.Derating.StartC, p.Derating.ZeroC}, name)
		assert.True(t, strings.HasPrefix(p.Derating.Source, tt.source), "%s: %s", name, p.Derating.Source)
	}
}

func TestPowerCautions(t *testing.T) {
	p := power(t, network.PowerQuestion{Operation: network.Operation{Ohms: 1e5, Volts: 230}, Kind: decode.KindFusible})
	for _, caution := range []string{network.CautionHeat, network.CautionMains, network.CautionCharge, network.CautionSpecial} {
		assert.Contains(t, p.Cautions, caution)
	}
	p = power(t, network.PowerQuestion{Operation: network.Operation{Ohms: 1e5, Volts: 5}})
	assert.Equal(t, []string{network.CautionSpecial, network.CautionMeasure}, p.Cautions, "the kind is unknown")
}

func TestPowerRefuses(t *testing.T) {
	at := network.Operation{Ohms: 1000, Volts: 10}
	for says, q := range map[string]network.PowerQuestion{
		"margin of 0.5 times":         {Operation: at, Margin: 0.5},
		"rating must be above zero":   {Operation: at, RatedWatts: -1},
		"5000 °C is out of range":     {Operation: at, AmbientC: 5000},
		"end must be the hotter":      {Operation: at, Derating: &network.Derating{StartC: 100, ZeroC: 50}},
		"two of resistance, voltage,": {},
	} {
		_, err := network.PowerOf(q)
		assert.ErrorContains(t, err, says)
	}
}

// Bodies as data sheets give them, length × diameter in mm: 3.4 × 1.8, 6.3 ×
// 2.5, 10 × 3.6, 12 × 4, 15.5 × 5.5; from memory.
func TestSizeOfBody(t *testing.T) {
	for _, tt := range []struct {
		length, diameter float64
		want             string
	}{
		{3.4, 1.8, "0204"}, {6.3, 2.5, "0207"}, {10, 3.6, "0411"}, {12, 4, "0414"}, {15.5, 5.5, "0617"},
		{6.3, 0, "0207"}, {0, 2.5, "0207"},
		{6.3, 1.7, "0204"}, // between two sizes: the smaller
	} {
		size, err := network.SizeOfBody(tt.length, tt.diameter)
		require.NoError(t, err)
		assert.Equal(t, tt.want, size.Name, "%g × %g", tt.length, tt.diameter)
	}
	for says, body := range map[string][2]float64{
		"give its length":     {0, 0},
		"above zero":          {-3, 2},
		"smaller than":        {1.6, 0.8},
		"larger than":         {50, 9},
		"50 mm length is":     {50, 0},
		"9000 mm diameter is": {0, 9000},
	} {
		_, err := network.SizeOfBody(body[0], body[1])
		assert.ErrorContains(t, err, says)
	}
	_, err := network.SizeNamed("0805")
	assert.ErrorContains(t, err, "use one of 0204")
	sizes := network.BodySizes()
	for i := 1; i < len(sizes); i++ {
		assert.GreaterOrEqual(t, sizes[i].LowWatts, sizes[i-1].LowWatts)
		assert.GreaterOrEqual(t, sizes[i].LimitVolts, sizes[i-1].LimitVolts)
	}
}
