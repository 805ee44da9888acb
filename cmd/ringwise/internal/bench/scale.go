package bench

import (
	"errors"
	"fmt"
	"net/http"

	"ringwise/cmd/ringwise/internal/ruler"
	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode/network"
	"ringwise/vision"
)

// A told scale is how far apart two spots of a photo are, as a person said.
type toldScale struct {
	from, to [2]float64 // as fractions of the photo's width and height
	mm       float64
	scale    ruler.Scale
}

// The shape of what the page is told of sizes.
type (
	scaleView struct {
		From [2]float64 `json:"from"`
		To   [2]float64 `json:"to"`
		MM   float64    `json:"mm"`
	}
	bodyView struct {
		Size   string `json:"size"` // such as "6.3 × 2.3 mm"
		Rating string `json:"rating"`
		Caveat string `json:"caveat"`
	}
)

func (p *photo) viewScale() *scaleView {
	if p.scale.scale == 0 {
		return nil
	}
	return &scaleView{p.scale.from, p.scale.to, p.scale.mm}
}

// body is how large a part is by the scale of its photo.
func (p *photo) body(q *part) ruler.Body { return p.scale.scale.Of(q.found.Part) }

// viewBody is what the page says of a body's size, nil if the photo has no scale.
func (p *photo) viewBody(q *part) *bodyView {
	body := p.body(q)
	if !body.Known() {
		return nil
	}
	return &bodyView{body.String(), body.RatingText(), ruler.Caveat}
}

// sized puts the size of a body by the scale of its photo on an entry of which
// nobody said the size.
func (p *photo) sized(q *part, entry *stock.Part) {
	if size := p.body(q).Size(); size != "" && entry.Size == "" {
		entry.Size, entry.SizeBasis = size, stock.Estimated
	}
}

// sizeText says in words what the size of a part is and on what it rests, empty if
// it is unknown.
func sizeText(p stock.Part, size network.BodySize, known bool) string {
	switch {
	case p.Size == "":
		return ""
	case !known:
		return fmt.Sprintf("%s (%s); no type size is like it", p.Size, p.SizeBasis)
	}
	return fmt.Sprintf("%s (%s); such bodies are sold at %s to %s", p.Size, p.SizeBasis, network.FormatRating(size.LowWatts), network.FormatRating(size.HighWatts))
}

// setScale is told how far apart two spots of a photo are; nothing for no scale.
func (t *tray) setScale(id int, to toldScale) (what string, err error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	p := t.photo(id)
	if p == nil {
		return "", errGone
	}
	what = "no scale for " + p.name
	if to != (toldScale{}) {
		at := func(spot [2]float64) vision.Point {
			return vision.Point{X: spot[0] * float64(p.width), Y: spot[1] * float64(p.height)}
		}
		if to.scale, err = ruler.Between(at(to.from), at(to.to), to.mm); err != nil {
			return "", err
		}
		what = fmt.Sprintf("scale of %s: %.3g pixels in a millimetre", p.name, float64(to.scale))
	}
	before := p.scale
	p.rescale(to)
	t.remember(deed{what: what, photo: id, undo: func() error {
		p.rescale(before)
		return nil
	}})
	t.tell(id)
	return what, nil
}

// rescale changes the scale, and with it every part.
func (p *photo) rescale(to toldScale) {
	p.scale = to
	for _, q := range p.parts {
		q.version++
	}
}

// tellScale hears from a page how large things are in a photo.
func (s *Server) tellScale(w http.ResponseWriter, r *http.Request) {
	told, ok := take[struct {
		From   *[2]float64 `json:"from"`
		To     *[2]float64 `json:"to"`
		Length string      `json:"length"` // with or without its unit; mm
		None   bool        `json:"none"`   // no scale any more
	}](w, r)
	if !ok {
		return
	}
	photo := number(r, "photo")
	var to toldScale
	if !told.None {
		if told.From == nil || told.To == nil || !onPhoto(*told.From) || !onPhoto(*told.To) {
			fail(w, errors.New("point at two spots of the photo first"))
			return
		}
		mm, err := ruler.ParseLength(told.Length)
		if err != nil {
			refuseField(w, "length", err.Error())
			return
		}
		to = toldScale{from: *told.From, to: *told.To, mm: mm}
	}
	what, err := s.tray.setScale(photo, to)
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, done{What: what, Photo: s.tray.viewOf(photo)})
}

// onPhoto tells whether a spot lies on the photo.
func onPhoto(spot [2]float64) bool {
	return spot[0] >= 0 && spot[0] <= 1 && spot[1] >= 0 && spot[1] <= 1
}
