package ruler

import (
	"fmt"
	"math"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode/network"
	"ringwise/vision"
)

// A Body is how large a body is in millimetres, without its leads, as estimated
// from a photo; zero if unknown. On rendered photos nine lengths of ten are
// within 5 % and nine diameters of ten within 12 % of the truth; the type sizes
// lie farther apart.
type Body struct {
	LengthMM, DiameterMM float64
}

// Of measures a body by its outline. With an unknown scale it is unknown.
func (s Scale) Of(p vision.Part) Body {
	if s == 0 {
		return Body{}
	}
	apart := func(i, j int) float64 {
		return math.Hypot(p.Outline[i].X-p.Outline[j].X, p.Outline[i].Y-p.Outline[j].Y)
	}
	tenths := func(a, b float64) float64 { return math.Round(10*(a+b)/2/float64(s)) / 10 }
	return Body{LengthMM: tenths(apart(0, 1), apart(3, 2)), DiameterMM: tenths(apart(0, 3), apart(1, 2))}
}

// Known tells whether the body was measured.
func (b Body) Known() bool { return b.LengthMM > 0 && b.DiameterMM > 0 }

// Size is the body as the stock keeps it, empty if it was not measured or is
// larger than the stock can tell.
func (b Body) Size() stock.Size {
	if !b.Known() {
		return ""
	}
	size, err := stock.ParseSize(fmt.Sprintf("%.1f x %.1f", b.LengthMM, b.DiameterMM))
	if err != nil {
		return ""
	}
	return size
}

// String is length and diameter, such as "6.3 × 2.3 mm".
func (b Body) String() string { return fmt.Sprintf("%g × %g mm", b.LengthMM, b.DiameterMM) }

// Rating is the type size of the body and with it at what ratings such bodies
// are sold; the lowest is the one to count on. It returns an error that says what
// is known if there is no such type size.
func (b Body) Rating() (network.BodySize, error) {
	return network.SizeOfBody(b.LengthMM, b.DiameterMM)
}

// RatingText says in a clause at what ratings such bodies are sold and which to
// count on.
func (b Body) RatingText() string {
	size, err := b.Rating()
	if err != nil {
		return err.Error()
	}
	return fmt.Sprintf("such bodies (size %s) are sold at %s to %s: count on %s", size.Name,
		network.FormatRating(size.LowWatts), network.FormatRating(size.HighWatts), network.FormatRating(size.LowWatts))
}
