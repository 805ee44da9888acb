package sheet

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Every language has words for everything.
func TestWordsAreComplete(t *testing.T) {
	slips := []SlipName{SlipReversed, SlipMultiplier, SlipBrownRed, SlipTolerance, SlipOtherBound,
		SlipPrefix, SlipExchanged, SlipTurned, SlipNominal, SlipOtherEnd}
	for tag, w := range languages {
		v := reflect.ValueOf(w)
		for i := range v.NumField() {
			assert.False(t, v.Field(i).IsZero(), "%s: %s has no words", tag, v.Type().Field(i).Name)
		}
		for _, c := range w.Colours {
			assert.NotEmpty(t, c, tag)
		}
		for _, k := range Kinds {
			assert.NotEmpty(t, w.Kinds[k], "%s: %s", tag, k)
		}
		for _, s := range slips {
			assert.NotEmpty(t, w.SlipNames[s], "%s: %s", tag, s)
		}
		assert.Len(t, w.SlipNames, len(slips))
	}
}

// A decimal comma goes into every number.
func TestDecimalComma(t *testing.T) {
	w := english
	w.Point = ","
	parts, err := ParseValues("5K6; 4K7", 3)
	assert.NoError(t, err)
	q := w.askPair(parts[0], parts[1], 3)
	assert.Equal(t, "10,3 kΩ", q.Boxes[0].Shown)
	assert.Equal(t, "≈ 2,56 kΩ", q.Boxes[1].Shown)
	for _, text := range append(q.Steps, w.askValue(parts[0], 3).Steps...) {
		assert.NotRegexp(t, `[0-9]\.[0-9]`, text)
	}
}
