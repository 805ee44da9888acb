package marked

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
	"ringwise/vision"
)

func TestCommon(t *testing.T) {
	a := plate{vector{0, 0}, vector{10, 4}}
	assert.Equal(t, 40.0, a.common(a))
	assert.Equal(t, 10.0, a.common(plate{vector{5, 2}, vector{10, 10}}))
	assert.Zero(t, a.common(plate{vector{10, 0}, vector{10, 4}}))
}

// Of two bodies one above the other, the labels of neither may cover the
// other, and no label another.
func TestLabelsKeepApart(t *testing.T) {
	s := &sheet{mat: gocv.NewMatWithSize(900, 1200, gocv.MatTypeCV8UC3), scale: 1, pen: 1.3}
	defer s.mat.Close()
	var parts []photoread.Part
	for _, y := range []float64{300, 380} {
		rings := []decode.SeenRing{{Centre: 0.2}, {Centre: 0.3}, {Centre: 0.4}, {Centre: 0.8}}
		part := photoread.Part{
			Part: vision.Part{
				Outline: [4]vision.Point{{X: 500, Y: y}, {X: 620, Y: y}, {X: 620, Y: y + 40}, {X: 500, Y: y + 40}},
				Seen:    decode.Sighting{Cuts: []decode.Cut{{Rings: rings}}},
			},
			Ranking: decode.Ranking{Verdict: decode.Sure, Candidates: []decode.Candidate{{
				Reading: decode.Reading{Rings: []decode.Colour{decode.Green, decode.Blue, decode.Red, decode.Gold}},
				Order:   []int{0, 1, 2, 3}}}},
		}
		s.occupy(part.Part)
		parts = append(parts, part)
	}
	for _, part := range parts {
		s.rings(part)
	}
	for i, part := range parts {
		s.name(i+1, part)
	}
	labels := s.taken[2*pieces:]
	assert.Len(t, labels, 2*(4+1))
	for i, label := range labels {
		for _, other := range s.taken[:2*pieces+i] {
			assert.LessOrEqual(t, label.common(other), 1.0, "label %d", i)
		}
	}
}
