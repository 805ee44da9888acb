package bench

import (
	"context"
	"fmt"
	"net/http"
	"slices"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
	"ringwise/vision"
)

// mostParts is how many parts a photo may have for a person to mark one more.
const mostParts = 400

// mark is told where a body lies that was missed: its ends, as fractions of the
// photo's width and height. It reads it from the photo as shown, which is all
// that the bench keeps, and lays it with the other parts, the last of them. It
// returns the part's number.
func (t *tray) mark(ctx context.Context, id int, ends [2][2]float64) (int, error) {
	shown, err := t.picture(id)
	if err != nil {
		return 0, err
	}
	opened, err := vision.Open(ctx, shown)
	if err != nil {
		return 0, err
	}
	defer opened.Close()
	width, height := float64(opened.Pixels.Cols()), float64(opened.Pixels.Rows())
	found, err := vision.At(ctx, opened, vision.Point{X: ends[0][0] * width, Y: ends[0][1] * height},
		vision.Point{X: ends[1][0] * width, Y: ends[1][1] * height}, t.beside(id))
	if err != nil {
		return 0, err
	}
	strip, err := strip(opened, found)
	if err != nil {
		return 0, err
	}

	t.mu.Lock()
	defer t.mu.Unlock()
	p := t.photo(id)
	switch {
	case p == nil:
		return 0, errGone
	case len(p.parts) >= mostParts:
		return 0, fmt.Errorf("%d parts are on this photo: bring in a photo of fewer", len(p.parts))
	}
	for i := range found.Outline { // from the photo as shown to the photo
		found.Outline[i].X *= float64(p.width) / width
		found.Outline[i].Y *= float64(p.height) / height
	}
	marked := &part{number: len(p.parts) + 1, found: photoread.Part{Part: found, Ranking: decode.Rank(found.Seen)}, strip: strip, said: said{status: open}}
	before := p.parts
	after := append(slices.Clip(before), marked)
	p.parts = after
	t.remember(deed{what: fmt.Sprintf("part %d marked on %s", marked.number, p.name), photo: id, undo: func() error {
		p.parts = before
		return nil
	}, redo: func() error {
		p.parts = after
		return nil
	}})
	t.relight(id)
	t.tell(id)
	return marked.number, nil
}

// beside are the parts of a photo as they were found.
func (t *tray) beside(id int) []vision.Part {
	t.mu.Lock()
	defer t.mu.Unlock()
	var list []vision.Part
	if p := t.photo(id); p != nil {
		for _, q := range p.parts {
			list = append(list, q.found.Part)
		}
	}
	return list
}

// markPart hears from a page where a body lies that was missed.
func (s *Server) markPart(w http.ResponseWriter, r *http.Request) {
	told, ok := take[struct {
		Ends [2][2]float64 `json:"ends"`
	}](w, r)
	if !ok {
		return
	}
	photo := number(r, "photo")
	part, err := s.tray.mark(r.Context(), photo, told.Ends)
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, struct {
		Part  int        `json:"part"`
		Photo *photoView `json:"photo"`
	}{part, s.tray.viewOf(photo)})
}
