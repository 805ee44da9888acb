package diagram

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/score"
)

// wellFormed reads a drawing to its end as XML and returns how many elements
// of each name it has.
func wellFormed(t *testing.T, drawing string) map[string]int {
	t.Helper()
	elements := map[string]int{}
	decoder := xml.NewDecoder(strings.NewReader(drawing))
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			return elements
		}
		require.NoError(t, err)
		if start, ok := token.(xml.StartElement); ok {
			elements[start.Name.Local]++
		}
	}
}

// steps are ten empty steps of confidence but for some.
func steps(some map[int]score.Bin) []score.Bin {
	bins := make([]score.Bin, 10)
	for i := range bins {
		bins[i] = some[i]
		bins[i].Low, bins[i].High = float64(i)/10, float64(i+1)/10
	}
	return bins
}

// The square runs from 70 to 470 rightwards and from 420 up to 20. The bounds
// of 15/148 are 0.0624 and 0.1605, from table I, method 3, in R. G. Newcombe,
// Statistics in Medicine 17 (1998), 857-872 (from memory of the published
// table): 420 - 400 · 0.0624 = 395.0 and 420 - 400 · 0.1605 = 355.8.
func TestReliability(t *testing.T) {
	drawing := Reliability("lamp & phone", steps(map[int]score.Bin{
		0: {Mean: 0.05, Right: score.Share{Count: 15, Total: 148}},
		5: {Mean: 0.5, Right: score.Share{Count: 4, Total: 8}},
	}))
	elements := wellFormed(t, drawing)
	assert.Equal(t, 2, elements["circle"], "one dot for each step that has readings")
	for _, want := range []string{
		`<title id="reliability-title">lamp &amp; phone</title>`,
		`d="M90.0 395.0L90.0 355.8"`,
		`<circle class="dot" cx="270.0" cy="220.0"`, // half right at one half: on the dashed line
		`class="even" d="M70.0 420.0L470.0 20.0"`,
		`>148</text>`,
		"Confidence 0 to 10 %: 15 of 148 right. Confidence 10 to 20 %: no readings.",
	} {
		assert.Contains(t, drawing, want)
	}
}
