package score

import (
	"fmt"
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

func TestByNumberTakesFractions(t *testing.T) {
	names := []string{"2", "1/2", "0.25 to 0.5", "-0.5 to -0.25", "1/8", "below -0.5", "1/4"}
	slices.SortFunc(names, byNumber)
	assert.Equal(t, []string{"below -0.5", "-0.5 to -0.25", "1/8", "0.25 to 0.5", "1/4", "1/2", "2"}, names)
}

func TestGroups(t *testing.T) {
	blur := 1.2
	part := func(set string, scene map[string]any, r Resistor) Labelled {
		return Labelled{Photo: &Photo{set: set, Scene: scene}, Truth: r}
	}
	card := &Card{Labelled: []Labelled{
		part("desk", map[string]any{"ground": "felt", "kind": "photo", "tilt_deg": 7.0, "enlarged": 1.0}, Resistor{BlurPx: &blur, Watt: "1/4"}),
		part("desk", map[string]any{"ground": "felt", "kind": "photo", "tilt_deg": 30.0, "enlarged": 1.6}, Resistor{Watt: "1/8"}),
		part("hall", map[string]any{"ground": "tiles", "kind": "photo"}, Resistor{}),
	}}
	var got []string
	for _, g := range card.Groups() {
		got = append(got, fmt.Sprintf("%s: %s %d", g.By, g.Name, len(g.Parts)))
	}
	// The kind, the rings and what the truth is silent on tell no parts apart.
	assert.Equal(t, []string{
		"set: desk 2", "set: hall 1",
		"ground: felt 2", "ground: tiles 1",
		"blur, px: 1 to 1.5 1",
		"rating, W: 1/8 1", "rating, W: 1/4 1",
		"tilt, degrees: 5 to 15 1", "tilt, degrees: 25 to 40 1",
		"enlarged, times: not 1", "enlarged, times: 1.5 to 2 1",
	}, got)
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
		assert.Equal(t, c.want, l.Clean(), c.name)
	}
}
