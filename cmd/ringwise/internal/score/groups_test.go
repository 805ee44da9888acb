package score

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestStep(t *testing.T) {
	assert.Equal(t, "below 40", step(39.9, 40, 80))
	assert.Equal(t, "40 to 80", step(40, 40, 80))
	assert.Equal(t, "80 and up", step(80, 40, 80))
}

func TestByNumber(t *testing.T) {
	names := []string{"800 and up", "80 to 120", "below 40", "120 to 160", "40 to 60"}
	slices.SortFunc(names, byNumber)
	assert.Equal(t, []string{"below 40", "40 to 60", "80 to 120", "120 to 160", "800 and up"}, names)

	names = []string{"light wood", "cutting mat"}
	slices.SortFunc(names, byNumber)
	assert.Equal(t, []string{"cutting mat", "light wood"}, names)
}

func TestClean(t *testing.T) {
	yes, no := true, false
	for _, c := range []struct {
		name   string
		length float64
		said   *bool
		scene  map[string]any
		want   bool
	}{
		{"nothing said", 80, nil, nil, true},
		{"small", 79.9, nil, nil, false},
		{"daylight", 200, nil, map[string]any{"illuminant_K": 5500.0}, true},
		{"candle", 200, nil, map[string]any{"illuminant_K": 1900.0}, false},
		{"blue sky", 200, nil, map[string]any{"illuminant_K": 12000.0}, false},
		{"said not to be", 200, &no, nil, false},
		{"said to be", 60, &yes, nil, true},
	} {
		l := Labelled{Photo: &Photo{Scene: c.scene}, Truth: Resistor{Clean: c.said, Body: Body{Length: c.length}}}
		assert.Equal(t, c.want, l.clean(), c.name)
	}
}
