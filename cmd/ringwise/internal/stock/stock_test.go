package stock

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/png"
	"path/filepath"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

var bg = context.Background()

// newStock opens a new stock in a folder of its own.
func newStock(t *testing.T) *Store {
	t.Helper()
	return openStock(t, filepath.Join(t.TempDir(), "stock.db"))
}

func openStock(t *testing.T, path string) *Store {
	t.Helper()
	s, err := open(bg, path, 200*time.Millisecond, migrations)
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	return s
}

// fromRings is a part confirmed by its rings, given in letters.
func fromRings(t *testing.T, rings string, count int) Part {
	t.Helper()
	colours, err := parseLetters(rings)
	require.NoError(t, err)
	readings, err := decode.Readings(colours)
	require.NoError(t, err)
	return Part{Count: count, Origin: FromRings, Reading: readings[0]}
}

// fullPart is a part with something in every field: invented data of a radio
// club's clean-out.
func fullPart(t *testing.T) Part {
	t.Helper()
	p := fromRings(t, "GN VT RD GD", 3)
	p.Kind, p.KindBasis = decode.KindCarbonFilm, Said
	p.Size, p.SizeBasis = "0207", Estimated
	p.RatingWatts, p.RatingBasis = decimal.NewNullDecimal(decimal.RequireFromString("0.25")), Said
	p.Photo, p.PhotoPart, p.Verdict = "biscuit-tin.jpg", 4, "check"
	p.Candidates = []Candidate{
		{Rings: []decode.Colour{decode.Green, decode.Blue, decode.Red, decode.Gold}, Ohms: decimal.New(5600, 0),
			Tolerance: decimal.NewNullDecimal(decimal.New(5, 0)), Confidence: 0.61},
		{Rings: p.Reading.Rings, Ohms: p.Reading.Ohms, Tolerance: p.Reading.TolerancePercent, Confidence: 0.3},
	}
	p.Changes = []Change{{What: "ring 2", From: "blue", To: "violet"}}
	p.Meter = &decode.Measurement{Ohms: decimal.New(568, 1), AccuracyPercent: decimal.New(8, -1), AccuracyOhms: decimal.New(12, 0)}
	p.Note = "from the green set\nsecond drawer, \"left\""
	p.Confirmed = time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC)
	p.Crop = picture(t, 40, 12)
	return p
}

func picture(t *testing.T, width, height int) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, image.NewGray(image.Rect(0, 0, width, height))))
	return b.Bytes()
}

// confirmed is the part once it is in the stock.
func confirmed(t *testing.T, s *Store, p Part) Part {
	t.Helper()
	kept, err := s.Confirm(bg, p)
	require.NoError(t, err)
	return kept
}

// counts are the entries in a line each: number, count, value.
func counts(t *testing.T, s *Store) []string {
	t.Helper()
	parts, err := s.Parts(bg, Filter{Empty: true})
	require.NoError(t, err)
	list := []string{}
	for _, p := range parts {
		list = append(list, fmt.Sprintf("%d: %d × %s", p.ID, p.Count, Meaning(p.Reading)))
	}
	return list
}

// sound checks that the file has no fault.
func sound(t *testing.T, path string) Inspection {
	t.Helper()
	found, err := Verify(bg, path)
	require.NoError(t, err)
	require.Empty(t, found.Faults)
	return found
}

// handReading is a value given by hand, another for each number.
func handReading(n int) decode.Reading {
	return decode.Reading{Ohms: decimal.New(int64(100+n), -2), TolerancePercent: decimal.NewNullDecimal(decimal.New(5, 0))}
}
