package network_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ringwise/decode"
	"ringwise/decode/network"
	"ringwise/decode/series"
)

// known makes a part of which everything is known.
func known(t testing.TB, text string, kind decode.Kind, watts float64) network.Part {
	t.Helper()
	return network.Part{Value: value(t, text), Kind: kind, RatedWatts: watts, Count: 1}
}

// The bounds are worked by hand; what each kind is for is common practice, no
// source.
func TestMayStandIn(t *testing.T) {
	ppm := func(n int) *int { return &n }
	film := decode.KindMetalFilm
	ordinary := func(text string) network.Need {
		return network.Need{Value: value(t, text), RatedWatts: 0.25, Kind: decode.KindOrdinary}
	}
	with := func(n network.Need, change func(*network.Need)) network.Need { change(&n); return n }
	// own is a safety part's place, of which only the part's own tolerance is known.
	own := func(text string) network.Need {
		return network.Need{Value: value(t, text), OwnTolerance: true, RatedWatts: 0.25, Kind: decode.KindSafety}
	}
	for name, tt := range map[string]struct {
		need network.Need
		part network.Part
		want network.Answer
		says string
	}{
		"same":                  {ordinary("5K6J"), known(t, "5K6J", film, 0.25), network.Yes, ""},
		"tighter":               {ordinary("5K6J"), known(t, "5K6F", film, 0.5), network.Yes, ""},
		"looser":                {ordinary("5K6J"), known(t, "5K6K", film, 0.25), network.OnlyIf, "measured and lies between 5.32 kΩ and 5.88 kΩ"},
		"near, tight":           {ordinary("5K6J"), known(t, "5k62 ±1 %", film, 0.25), network.Yes, ""},
		"at the very bound":     {ordinary("10k ±10 %"), known(t, "11k", film, 0.25), network.OnlyIf, "measured"},
		"exactly to the bound":  {ordinary("100 ±10 %"), known(t, "104.5 ±5 %", film, 0.25), network.Yes, ""}, // 109.725 Ω
		"another":               {ordinary("5K6J"), known(t, "5K1J", film, 0.25), network.No, "8.93 % too low, and the circuit bears 5 %"},
		"ordinary near":         {ordinary("5K6"), known(t, "5K6J", film, 0.25), network.Yes, ""},
		"ordinary within 10":    {ordinary("100"), known(t, "104 ±5 %", film, 0.25), network.Yes, ""}, // up to 109.2 Ω
		"ordinary within 20":    {ordinary("5K6"), known(t, "5K1J", film, 0.25), network.OnlyIf, "not critical"},
		"ordinary at the edge":  {ordinary("100"), known(t, "120 ±5 %", film, 0.25), network.OnlyIf, "between 80 Ω and 120 Ω"},
		"just beyond":           {ordinary("1K ±10 %"), known(t, "1K1004 ±1 %", film, 0.25), network.No, "10.04 % too high, and the circuit bears 10 %"},
		"ordinary beyond 20":    {ordinary("100"), known(t, "150 ±5 %", film, 0.25), network.No, "50 % too high, and the circuit bears 20 %"},
		"weaker":                {ordinary("5K6J"), known(t, "5K6J", film, 0.125), network.No, "0.125 W is below the 0.25 W"},
		"rating unknown":        {ordinary("5K6J"), known(t, "5K6J", film, 0), network.OnlyIf, "unknown, is 0.25 W or more"},
		"need's rating unknown": {with(ordinary("5K6J"), func(n *network.Need) { n.RatedWatts = 0 }), known(t, "5K6J", film, 0.25), network.OnlyIf, "no more than its power rating of 0.25 W"},
		"both ratings unknown":  {with(ordinary("5K6J"), func(n *network.Need) { n.RatedWatts = 0 }), known(t, "5K6J", film, 0), network.OnlyIf, "1/4 or 1/2 W is usual"},
		"kind unknown":          {ordinary("5K6J"), known(t, "5K6J", decode.KindUnknown, 0.25), network.OnlyIf, "it is an ordinary part"},
		"need's kind unknown":   {with(ordinary("5K6J"), func(n *network.Need) { n.Kind = "" }), known(t, "5K6J", film, 0.25), network.OnlyIf, "calls for an ordinary part"},
		"tolerance unknown":     {ordinary("5K6J"), known(t, "5K6", film, 0.25), network.OnlyIf, "measured"},
		"wire-wound":            {ordinary("5K6J"), known(t, "5K6J", decode.KindWireWound, 5), network.No, "coil"},
		"fusible":               {ordinary("5K6J"), known(t, "5K6J", decode.KindFusible, 0.5), network.No, "it may open"},
		"flameproof":            {ordinary("5K6J"), known(t, "5K6J", decode.KindFlameproof, 2), network.No, "must not burn"},
		"high-voltage":          {ordinary("5K6J"), known(t, "5K6J", decode.KindHighVoltage, 1), network.No, "holds off"},
		"safety":                {ordinary("5K6J"), known(t, "5K6J", decode.KindSafety, 1), network.No, "shock or fire"},
		"film for fusible":      {with(ordinary("10R"), func(n *network.Need) { n.Kind = decode.KindFusible }), known(t, "10R ±5 %", film, 0.5), network.No, "replaced is fusible"},
		"fusible for fusible":   {with(ordinary("10R"), func(n *network.Need) { n.Kind = decode.KindFusible }), known(t, "10R ±5 %", decode.KindFusible, 0.5), network.OnlyIf, "its data are those"},
		"unknown for fusible":   {with(ordinary("10R"), func(n *network.Need) { n.Kind = decode.KindFusible }), known(t, "10R ±5 %", "", 0.5), network.OnlyIf, "it is fusible too"},
		"film for composition":  {with(ordinary("5K6K"), func(n *network.Need) { n.Kind = decode.KindComposition }), known(t, "5K6J", film, 0.5), network.OnlyIf, "surges"},
		"too high a voltage":    {with(ordinary("1M0"), func(n *network.Need) { n.Volts = 600 }), known(t, "1M0 ±5 %", film, 0.25), network.No, "500 V at most, and 600 V"},                                                 // √(0.25 W · 1 MΩ)
		"just that voltage":     {with(ordinary("5670"), func(n *network.Need) { n.Volts, n.RatedWatts = 63, 0.7 }), known(t, "5670 ±5 %", film, 0.7), network.OnlyIf, "0.7 W is enough, as that of the part replaced was"}, // 63²/5670 W
		"voltage unknown":       {with(ordinary("1M0"), func(n *network.Need) { n.Volts = 300 }), known(t, "1M0 ±5 %", film, 0.25), network.OnlyIf, "limiting element voltage"},
		"special, near":         {with(ordinary("100R"), func(n *network.Need) { n.Kind = decode.KindSafety }), known(t, "120 ±5 %", decode.KindSafety, 0.5), network.No, "20 % too high, and a safety part is replaced by its very value"},
		"special, loose":        {with(ordinary("100R"), func(n *network.Need) { n.Kind = decode.KindSafety }), known(t, "100 ±20 %", decode.KindSafety, 0.5), network.OnlyIf, "tolerance of the part replaced is ±20 % or wider"},
		"special, unknown":      {with(ordinary("100R"), func(n *network.Need) { n.Kind = decode.KindSafety }), known(t, "100", decode.KindSafety, 0.5), network.OnlyIf, "is no wider than that of the part replaced"},
		"special, as said":      {with(ordinary("100 ±20 %"), func(n *network.Need) { n.Kind = decode.KindSafety }), known(t, "110 ±5 %", decode.KindSafety, 0.5), network.OnlyIf, "its data are those"},
		"special, own near":     {own("100RJ"), known(t, "102 ±1 %", decode.KindSafety, 0.5), network.No, "2 % too high, and a safety part is replaced by its very value unless a tolerance is named"},
		"special, own as close": {own("100RJ"), known(t, "100RJ", decode.KindSafety, 0.5), network.OnlyIf, "its data are those"},
		"special, own looser":   {own("100RJ"), known(t, "100RK", decode.KindSafety, 0.5), network.No, "its tolerance of ±10 % is wider than the ±5 % of the part replaced"},
		"special, own, unknown": {own("100RJ"), known(t, "100R", decode.KindSafety, 0.5), network.OnlyIf, "its tolerance, which is unknown, is ±5 % or closer"},
		"ordinary, own":         {with(ordinary("5K6J"), func(n *network.Need) { n.OwnTolerance = true }), known(t, "5k62 ±1 %", film, 0.25), network.Yes, ""},
		"power by voltage":      {with(ordinary("5K6"), func(n *network.Need) { n.Volts, n.RatedWatts = 230, 0 }), known(t, "5K6 ±5 %", film, 0), network.OnlyIf, "unknown, is 18.9 W or more (2 times the 9.446 W that 230 V across it make)"}, // 230²/5600 W
		"too little for that":   {with(ordinary("5K6"), func(n *network.Need) { n.Volts, n.RatedWatts = 30, 0 }), known(t, "5K6 ±5 %", film, 0.25), network.No, "0.25 W is below the 0.322 W needed"},                                           // 30²/5600 W are 0.1607 W
		"as it was":             {with(ordinary("5K6"), func(n *network.Need) { n.Volts = 30 }), known(t, "5K6 ±5 %", film, 0.25), network.OnlyIf, "of 0.25 W is enough, as that of the part replaced was: 0.322 W is usual"},
		"asked for, not enough": {with(ordinary("5K6"), func(n *network.Need) { n.Volts = 230 }), known(t, "5K6 ±5 %", film, 0), network.OnlyIf, "unknown, is 18.9 W or more"},
		"coefficient unknown":   {with(ordinary("5K6"), func(n *network.Need) { n.TempcoPPM = ppm(50) }), known(t, "5K6F", film, 0.25), network.OnlyIf, "50 ppm/K or less"},
		"link for a link":       {network.Need{Value: value(t, "0"), Kind: decode.KindOrdinary}, known(t, "0", film, 0), network.OnlyIf, "carries the current"},
		"link for a resistor":   {ordinary("10R"), known(t, "0", film, 0.25), network.No, "no resistor"},
		"resistor for a link":   {network.Need{Value: value(t, "0")}, known(t, "10R ±5 %", film, 0.25), network.No, "in the way"},
	} {
		got, err := network.MayStandIn(tt.need, tt.part)
		require.NoError(t, err, name)
		assert.Equal(t, tt.want, got.Answer, "%s: %v %v", name, got.Conditions, got.Reasons)
		said := strings.Join(append(got.Conditions, got.Reasons...), "; ")
		assert.Contains(t, said, tt.says, name)
		if tt.want == network.Yes {
			assert.Empty(t, said, name)
		}
	}
}

func TestStandInWritesOutItsArithmetic(t *testing.T) {
	got, err := network.MayStandIn(network.Need{Value: value(t, "5K6J")}, known(t, "5K1J", decode.KindMetalFilm, 0.25))
	require.NoError(t, err)
	// 5100/5600 is 0.91071, 4845/5600 is 0.86518, 5355/5600 is 0.95625.
	assert.Equal(t, []string{
		"wanted: 5.6 kΩ ±5 %, that is 5.32 kΩ to 5.88 kΩ",
		"this one: 5.1 kΩ ±5 %, that is 4.845 kΩ to 5.355 kΩ",
		"marked value: 8.93 % too low",
		"ends of its tolerance: 13.5 % too low to 4.38 % too low",
	}, got.Arithmetic)
}

// Whatever the values, a plain yes needs everything to be known and the whole
// tolerance to be within what is borne.
func TestYesIsNeverSaidLightly(t *testing.T) {
	kinds := append(decode.Kinds, decode.KindUnknown)
	e24 := series.Significands(series.E24)
	draw := func(rt *rapid.T, name string) network.Value {
		v := network.Value{Ohms: decimal.New(int64(rapid.SampledFrom(e24).Draw(rt, name)), rapid.Int32Range(-2, 4).Draw(rt, name+" decade"))}
		if p := rapid.SampledFrom([]int64{0, 1, 5, 10, 20}).Draw(rt, name+" tolerance"); p > 0 {
			v.TolerancePercent = decimal.NewNullDecimal(decimal.New(p, 0))
		}
		return v
	}
	rapid.Check(t, func(rt *rapid.T) {
		watts := rapid.SampledFrom([]float64{0, 0.125, 0.25, 0.5, 1})
		need := network.Need{Value: draw(rt, "need"), Kind: rapid.SampledFrom(kinds).Draw(rt, "need kind"), RatedWatts: watts.Draw(rt, "need watts")}
		part := network.Part{Value: draw(rt, "part"), Kind: rapid.SampledFrom(kinds).Draw(rt, "kind"), RatedWatts: watts.Draw(rt, "watts"), Count: 1}
		if rapid.Bool().Draw(rt, "same value") {
			part.Value.Ohms = need.Value.Ohms
		}
		got, err := network.MayStandIn(need, part)
		require.NoError(rt, err)
		assert.Equal(rt, got.Answer == network.No, len(got.Reasons) > 0)
		assert.Equal(rt, got.Answer == network.Yes, len(got.Reasons)+len(got.Conditions) == 0)
		if got.Answer != network.Yes {
			return
		}
		assert.GreaterOrEqual(rt, part.RatedWatts, need.RatedWatts)
		assert.Greater(rt, need.RatedWatts, 0.0)
		assert.NotEmpty(rt, part.Kind)
		assert.NotEmpty(rt, need.Kind)
		assert.False(rt, part.Kind.Special() || need.Kind.Special())
		bound := need.Value
		if !bound.TolerancePercent.Valid {
			bound.TolerancePercent = decimal.NewNullDecimal(decimal.New(10, 0))
		}
		assert.True(rt, part.Value.TolerancePercent.Valid)
		assert.False(rt, part.Value.Low().Ohms.LessThan(bound.Low().Ohms) || part.Value.High().Ohms.GreaterThan(bound.High().Ohms))
	})
}

func TestRankStandIns(t *testing.T) {
	need := network.Need{Value: value(t, "5K6J"), RatedWatts: 0.25, Kind: decode.KindOrdinary}
	named := func(id, text string, watts float64) network.Part {
		p := known(t, text, decode.KindMetalFilm, watts)
		p.ID = id
		return p
	}
	none := named("none left", "5K6F", 0.25)
	none.Count = 0
	list, err := network.RankStandIns(need, []network.Part{
		named("weak", "5K6F", 0.125), named("far", "8K2J", 0.25), named("loose", "5K6K", 0.25),
		named("near", "5k62 ±1 %", 0.25), named("same", "5K6J", 0.25), named("tight", "5K6F", 0.25), none,
	})
	require.NoError(t, err)
	var ids []string
	for _, s := range list {
		ids = append(ids, s.Part.ID)
	}
	assert.Equal(t, []string{"tight", "same", "near", "loose", "weak", "far"}, ids)
}

// Source: IEC 60063, tables of the series, from memory: near 5.05 kΩ lie
// 4.7 kΩ (E6 and E12), 5.1 kΩ (E24), 5.11 kΩ (E48 and, halfway from 4.99 kΩ, the
// upper of E96) and 5.05 kΩ (E192).
func TestSeriesChoices(t *testing.T) {
	list, err := network.SeriesChoices(network.Need{Value: value(t, "5.05k ±2 %")})
	require.NoError(t, err)
	type row struct {
		series, nearest, below, above string
		fits                          bool
	}
	var got []row
	for _, c := range list {
		got = append(got, row{c.Series, c.Nearest.RKM(), network.Exact(c.Below.Ohms).RKM(), network.Exact(c.Above.Ohms).RKM(), c.Fits})
	}
	assert.Equal(t, []row{
		{"E6", "4K7M", "4K7", "6K8", false}, {"E12", "4K7K", "4K7", "5K6", false}, {"E24", "5K1J", "4K7", "5K1", false},
		{"E48", "5K11G", "4K87", "5K11", false}, {"E96", "5K11F", "4K99", "5K11", false}, {"E192", "5K05D", "5K05", "5K05", true},
	}, got)
	assert.InDelta(t, 0.990099, list[2].ErrorPercent, 1e-6)
}

func TestNeedsThatMakeNoSense(t *testing.T) {
	for says, need := range map[string]network.Need{
		"must not be below zero":                   {Value: network.Exact(decimal.New(-1, 0))},
		"tolerance of 200 %":                       {Value: network.Value{Ohms: decimal.New(1, 3), TolerancePercent: decimal.NewNullDecimal(decimal.New(200, 0))}},
		"the power rating asked for must be above": {Value: value(t, "1k"), RatedWatts: -1},
		"the voltage asked for must be above zero": {Value: value(t, "1k"), Volts: -5},
	} {
		_, err := network.RankStandIns(need, nil)
		assert.ErrorContains(t, err, says)
		_, err = network.SeriesChoices(need)
		assert.ErrorContains(t, err, says)
	}
	list, err := network.SeriesChoices(network.Need{Value: value(t, "10"), Kind: decode.KindFusible})
	assert.Empty(t, list, "of no series: its like only")
	assert.NoError(t, err)
	_, err = network.SeriesChoices(network.Need{Value: value(t, "0")})
	assert.ErrorContains(t, err, "above zero")
}

// Worked by hand: 5K6J bears 5320 to 5880 Ω, an ordinary place ±10 % surely.
func TestMeasuredPartsStandInByTheirReading(t *testing.T) {
	film := decode.KindMetalFilm
	for name, tt := range map[string]struct {
		need, part, low, high string
		want                  network.Answer
		says                  string
	}{
		"loose but measured inside": {"5K6J", "5K6 ±20 %", "5400", "5500", network.Yes, ""},
		"unknown tolerance":         {"5K6J", "5K6", "5400", "5500", network.Yes, ""},
		"measured at the bound":     {"5K6J", "5K6 ±20 %", "5300", "5500", network.OnlyIf, "more exact meter"},
		"measured outside":          {"5K6J", "5K6 ±20 %", "5000", "5100", network.No, "measures 5 kΩ to 5.1 kΩ"},
		"tight but drifted":         {"5K6 ±10 %", "5K6 ±1 %", "5900", "5950", network.OnlyIf, "outside the tolerance marked"},
		"another value, measured":   {"5K6J", "5K1 ±10 %", "5400", "5450", network.Yes, ""},
		"ordinary, measured near":   {"5K6", "4K7 ±20 %", "5200", "5300", network.Yes, ""},
		"ordinary, measured far":    {"5K6", "4K7 ±20 %", "4800", "4900", network.OnlyIf, "not critical"},
	} {
		part := known(t, tt.part, film, 0.25)
		part.Measured = &network.Span{Low: value(t, tt.low), High: value(t, tt.high)}
		got, err := network.MayStandIn(network.Need{Value: value(t, tt.need), RatedWatts: 0.25, Kind: decode.KindOrdinary}, part)
		require.NoError(t, err)
		assert.Equal(t, tt.want, got.Answer, "%s: %v %v", name, got.Conditions, got.Reasons)
		assert.Contains(t, strings.Join(append(got.Conditions, got.Reasons...), "; "), tt.says, name)
	}
}
