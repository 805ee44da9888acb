package bench

import (
	"context"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode/network"
)

// sizeOf is the body of a part as the page is told it, nil if it is unknown.
func (s *Server) sizeOf(part int) *bodyView { return s.tray.viewOf(1).Parts[part-1].Body }

// Two spots of known distance give every part of the photo a size, as an estimate
// that goes into the stock and that the questions about use rest on; undo takes
// it back.
func TestScaleOfAPhoto(t *testing.T) {
	s := newServer(t, Options{})
	s.confirmFirst(t)
	assert.Nil(t, s.sizeOf(2))
	// The drawn photo's bodies are measured so that the second one comes to a
	// length of 6.3 mm.
	p := s.tray.photo(1)
	corner := p.parts[1].found.Outline
	at := func(i int) [2]float64 {
		return [2]float64{corner[i].X / float64(p.width), corner[i].Y / float64(p.height)}
	}
	tell := func(body any, code int) string {
		data, err := json.Marshal(body)
		require.NoError(t, err)
		got := s.answers(own("POST", "/photos/1/scale", string(data)))
		require.Equal(t, code, got.Code, got.Body)
		return got.Body.String()
	}
	assert.Contains(t, tell(map[string]any{"from": at(0), "to": at(1), "length": "0,63 cm"}, 200), "pixels in a millimetre")
	size := s.sizeOf(2)
	require.NotNil(t, size)
	assert.Regexp(t, `^6\.[234] × \d\.?\d? mm$`, size.Size)
	assert.Contains(t, size.Rating, "count on")
	assert.NotNil(t, s.tray.viewOf(1).Scale)

	// It rests on the estimate: never a plain yes.
	got, _ := s.asks(t, "/use/power", powerForm{Of: subject{Photo: 1, Part: 2, Version: p.parts[1].version}, At: "1 mA"})
	assert.Contains(t, got.rows(), "Body: "+size.Size+" (estimated); such bodies are sold at")
	assert.NotEqual(t, network.Yes, got.Answer)

	entry, err := s.tray.confirm(context.Background(), 1, 2, p.parts[1].version)
	require.NoError(t, err)
	assert.Equal(t, []any{stock.Size(size.Size), stock.Estimated}, []any{entry.Size, entry.SizeBasis})
	first, err := s.store.Part(context.Background(), 1)
	require.NoError(t, err)
	assert.Empty(t, first.Size, "what was confirmed before stays as it is")

	// What the person says of the size goes before it.
	_, _, err = s.tray.change(1, 3, p.parts[2].version, change{Do: "facts", Facts: factsText{Size: "0411"}})
	require.NoError(t, err)
	entry, err = s.tray.confirm(context.Background(), 1, 3, p.parts[2].version)
	require.NoError(t, err)
	assert.Equal(t, []any{stock.Size("0411"), stock.Said}, []any{entry.Size, entry.SizeBasis})

	tell(map[string]any{"none": true}, 200)
	assert.Nil(t, s.sizeOf(2))
	s.tray.undoLast(t)
	assert.NotNil(t, s.sizeOf(2))

	for _, c := range []struct {
		body any
		says string
	}{
		{map[string]any{"from": at(0), "to": at(0), "length": "10"}, "pixels apart"},
		{map[string]any{"from": at(0), "to": at(1), "length": ""}, "is no length"},
		{map[string]any{"from": at(0), "to": at(1), "length": "-3"}, "is no length"},
		{map[string]any{"from": at(0), "to": at(1), "length": "0"}, "out of range"},
		{map[string]any{"from": at(0), "to": at(1), "length": "99999"}, "out of range"},
		{map[string]any{"from": []float64{-1, 0}, "to": at(1), "length": "10"}, "point at two spots"},
		{map[string]any{"length": "10"}, "point at two spots"},
	} {
		assert.Contains(t, tell(c.body, 422), c.says)
	}
	assert.Equal(t, 404, s.answers(own("POST", "/photos/9/scale", `{"none":true}`)).Code)
}

// confirmFirst confirms the first part.
func (s *Server) confirmFirst(t *testing.T) {
	t.Helper()
	_, err := s.tray.confirm(context.Background(), 1, 1, 0)
	require.NoError(t, err)
}
