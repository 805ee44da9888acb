package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode/network"
)

// What may stand in comes from the stock, best first, and from each series; what
// may not says why. 5.1 kΩ is of E24 and 4.7 kΩ of E6 and E12 (IEC 60063).
func TestFindReplace(t *testing.T) {
	s := newServer(t, Options{})
	s.confirmAll(t)
	stock := choiceForm{From: "stock"}
	got, _ := s.asks(t, "/find/replace", replaceForm{Choice: stock, Value: "5K1"})
	require.Len(t, got.Groups, 2)
	best := got.Groups[0].Blocks[0]
	assert.Equal(t, network.OnlyIf, best.Answer, "its rating and kind are not known")
	assert.Contains(t, best.Title, "5.6 kΩ ±5 % (5K6J) from #1, 9.8 % too high")
	assert.Len(t, best.Takes, 1)
	assert.NotEmpty(t, best.OnlyIf)
	assert.Contains(t, got.rows(), "E24: 5.1 kΩ ±5 %, exact; fits")
	assert.Contains(t, got.rows(), "E12: 4.7 kΩ ±10 %")
	assert.Contains(t, got.Says, "Only if")

	got, _ = s.asks(t, "/find/replace", replaceForm{Choice: stock, Value: "5K1", Tolerance: "1"})
	assert.Contains(t, got.Says, "No part of the stock may stand in for 5.1 kΩ ±1 %")
	assert.NotEmpty(t, got.Groups[0].Blocks[0].Because)
	assert.Nil(t, got.Groups[0].Blocks[0].Takes)

	got, _ = s.asks(t, "/find/replace", replaceForm{Choice: choiceForm{From: "E96"}, Value: "5K1", Tolerance: "2"})
	assert.Contains(t, got.Groups[0].Blocks[0].Title, "5.11 kΩ ±1 % (5K11F)")
	got, _ = newServer(t, Options{}).asks(t, "/find/replace", replaceForm{Choice: stock, Value: "5K1"})
	assert.Contains(t, got.Says, "No part of the stock")
	assert.Contains(t, got.rows(), "E24: 5.1 kΩ", "and still what to buy")
	_, raw := s.asks(t, "/find/replace", replaceForm{Choice: stock, Value: "five"})
	assert.Equal(t, 422, raw.Code)
	assert.Contains(t, raw.Body.String(), `"field":"value"`)
}

// The meter's own accuracy, and a derating of one's own, change the answer.
// Worked by hand: 0.5 % of 5.33 kΩ and one count of 10 Ω and 0.2 Ω are 36.85 Ω;
// half way from 40 to 120 °C half of the rating is left.
func TestUseTakesTheMetersAccuracyAndTheDerating(t *testing.T) {
	s := newServer(t, Options{})
	s.confirmAll(t)
	of := subject{Entry: 1}
	got, _ := s.asks(t, "/use/spread", spreadForm{Of: of, Measured: "5.33k", Accuracy: "0,5 %", Counts: "1"})
	assert.Contains(t, got.rows(), "so really 5.293 kΩ to 5.367 kΩ")
	got, _ = s.asks(t, "/use/power", powerForm{Of: of, At: "0.1 W", Ambient: "80", Start: "40", Zero: "120", Rated: "1/2 W"})
	assert.Contains(t, got.rows(), "At 80 °C: a part bears 50 % of its rating")
	assert.Contains(t, got.rows(), "(as given)")
	assert.Contains(t, got.rows(), "Heat: 100 mW")
	got, _ = s.asks(t, "/use/power", powerForm{Of: of, At: "0.1 W", Ambient: "80", Zero: "300", Rated: "1/2 W"})
	assert.Contains(t, got.rows(), "(the end as given, the start as usual: ")
	for _, c := range []struct {
		path  string
		body  any
		field string
	}{
		{"/use/spread", spreadForm{Of: of, Measured: "5k", Accuracy: "-1"}, "accuracy"},
		{"/use/spread", spreadForm{Of: of, Measured: "5k", Counts: "few"}, "counts"},
		{"/use/power", powerForm{Of: of, At: "1 V", Start: "warm"}, "start"},
		{"/use/power", powerForm{Of: of, At: "1 V", Start: "100", Zero: "50"}, "zero"},
	} {
		_, raw := s.asks(t, c.path, c.body)
		assert.Equal(t, 422, raw.Code, raw.Body)
		assert.Contains(t, raw.Body.String(), `"field":"`+c.field+`"`)
	}
}
