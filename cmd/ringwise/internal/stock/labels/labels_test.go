package labels

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

func bin(t *testing.T, rings ...decode.Colour) stock.Bin {
	t.Helper()
	readings, err := decode.Readings(rings)
	require.NoError(t, err)
	return stock.Bin{Reading: readings[0], Count: 1, Entries: []stock.Part{{Reading: readings[0]}}}
}

func TestLabels(t *testing.T) {
	special := bin(t, decode.Orange, decode.Orange, decode.Silver, decode.Gold)
	special.Entries[0].Kind = decode.KindWireWound
	byHand := stock.Bin{Reading: decode.Reading{Ohms: decimal.New(47, 2), TolerancePercent: decimal.NewNullDecimal(decimal.New(1, 0))}}
	odd := stock.Bin{Reading: decode.Reading{Ohms: decimal.New(12345, 0)}}
	var b bytes.Buffer
	require.NoError(t, Write(&b, []stock.Bin{bin(t, decode.Green, decode.Blue, decode.Red, decode.Gold), special, byHand, odd}))
	texts := labelTexts(t, b.String())
	require.Len(t, texts, 4)
	assert.Equal(t, []string{"5.6 kΩ ±5 %", "5K6J", "five point six kilo-ohm, plus or minus five percent", "GN", "BU", "RD", "GD", "green, blue, red, gold"}, texts[0])
	assert.Equal(t, []string{"0.33 Ω ±5 %", "R33J", "zero point three three ohm, plus or minus five percent", "OG", "OG", "SR", "GD", "orange, orange, silver, gold", "has wire-wound parts: keep apart"}, texts[1])
	assert.Equal(t, []string{"4.7 kΩ ±1 %", "4K7F", "four point seven kilo-ohm, plus or minus one percent", "YE", "VT", "BK", "BN", "BN", "usual rings: yellow, violet, black, brown, brown"}, texts[2])
	assert.Equal(t, []string{"12.345 kΩ", "12K345", "twelve point three four five kilo-ohm"}, texts[3], "no row of rings writes it")
}

// labelTexts are the texts of each label.
func labelTexts(t *testing.T, page string) [][]string {
	t.Helper()
	decoder := xml.NewDecoder(strings.NewReader(page))
	decoder.Strict = false
	decoder.AutoClose = []string{"meta"}
	var labels [][]string
	inside := false
	for {
		token, err := decoder.Token()
		if err == io.EOF {
			return labels
		}
		require.NoError(t, err)
		switch token := token.(type) {
		case xml.StartElement:
			if token.Name.Local == "li" {
				inside, labels = true, append(labels, nil)
			}
		case xml.EndElement:
			inside = inside && token.Name.Local != "li"
		case xml.CharData:
			if text := strings.TrimSpace(string(token)); inside && text != "" {
				labels[len(labels)-1] = append(labels[len(labels)-1], text)
			}
		}
	}
}

// The sheet must print from a file, without a network.
func TestSheetNeedsNothingElse(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Write(&b, []stock.Bin{bin(t, decode.Black)}))
	for _, word := range []string{"http:", "https:", "src=", "<link", "<script", "url(", "@import"} {
		assert.NotContains(t, b.String(), word)
	}
	assert.Contains(t, b.String(), `<html lang="en">`)
	assert.Contains(t, b.String(), "background: #1b1b1d")
}
