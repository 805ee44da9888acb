package bench

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

// facts are what rings do not tell of a part. Each comes with the basis on
// which it stands.
type facts struct {
	kind        decode.Kind
	kindBasis   stock.Basis
	size        stock.Size
	sizeBasis   stock.Basis
	watts       decimal.NullDecimal
	ratingBasis stock.Basis
	count       int // how many just like it; 0 stands for 1
	note        string
}

// factsText is the page's form for facts.
type factsText struct {
	Kind        string `json:"kind"`
	KindBasis   string `json:"kindBasis"`
	Size        string `json:"size"`
	SizeBasis   string `json:"sizeBasis"`
	Rating      string `json:"rating"`
	RatingBasis string `json:"ratingBasis"`
	Count       int    `json:"count"`
	Note        string `json:"note"`
}

// Bounds of facts.
const (
	mostCount = 10_000
	mostNote  = 2000
	mostWatts = 1000
)

// parse reads the form. What is empty is unknown, whatever its basis says; what
// is filled in was said by the person, unless they call it an estimate.
func (t factsText) parse() (facts, error) {
	var f facts
	var err error
	if f.kind, err = decode.ParseKind(t.Kind); err != nil {
		return facts{}, err
	}
	if f.size, err = stock.ParseSize(t.Size); err != nil {
		return facts{}, err
	}
	if f.watts, err = parseWatts(t.Rating); err != nil {
		return facts{}, err
	}
	if t.Count < 0 || t.Count > mostCount {
		return facts{}, fmt.Errorf("%d is no number of parts: use 1 to %d", t.Count, mostCount)
	}
	if utf8.RuneCountInString(t.Note) > mostNote {
		return facts{}, fmt.Errorf("the remark is too long: use at most %d characters", mostNote)
	}
	f.count, f.note = t.Count, strings.TrimSpace(t.Note)
	f.kindBasis = basis(f.kind != decode.KindUnknown, t.KindBasis)
	f.sizeBasis = basis(f.size != "", t.SizeBasis)
	f.ratingBasis = basis(f.watts.Valid, t.RatingBasis)
	return f, nil
}

// on puts the facts on an entry of the stock.
func (f facts) on(p *stock.Part) {
	known := func(b stock.Basis) stock.Basis {
		if b == "" {
			return stock.Unknown
		}
		return b
	}
	p.Count, p.Note = max(1, f.count), f.note
	p.Kind, p.KindBasis = f.kind, known(f.kindBasis)
	p.Size, p.SizeBasis = f.size, known(f.sizeBasis)
	p.RatingWatts, p.RatingBasis = f.watts, known(f.ratingBasis)
}

// factsOf are the facts on an entry.
func factsOf(p stock.Part) facts {
	return facts{p.Kind, p.KindBasis, p.Size, p.SizeBasis, p.RatingWatts, p.RatingBasis, p.Count, p.Note}
}

func basis(known bool, text string) stock.Basis {
	switch {
	case !known:
		return stock.Unknown
	case text == string(stock.Estimated):
		return stock.Estimated
	}
	return stock.Said
}

// parseWatts reads a power rating such as "0.25", "1/4 W" or "0,5 W".
func parseWatts(text string) (decimal.NullDecimal, error) {
	plain := strings.TrimSpace(strings.TrimSuffix(strings.ToUpper(strings.TrimSpace(text)), "W"))
	if plain == "" {
		return decimal.NullDecimal{}, nil
	}
	wrong := errors.New("the rating is in watts, such as 0.25 or 1/4")
	over, under, fraction := strings.Cut(plain, "/")
	if !fraction {
		under = "1"
	}
	if len(over) > 8 || len(under) > 8 || strings.ContainsAny(plain, "Ee") {
		return decimal.NullDecimal{}, wrong
	}
	a, err1 := decimal.NewFromString(strings.TrimSpace(strings.Replace(over, ",", ".", 1)))
	b, err2 := decimal.NewFromString(strings.TrimSpace(strings.Replace(under, ",", ".", 1)))
	if err1 != nil || err2 != nil || !a.IsPositive() || !b.IsPositive() {
		return decimal.NullDecimal{}, wrong
	}
	watts := a.DivRound(b, 4)
	if !watts.IsPositive() || watts.GreaterThan(decimal.New(mostWatts, 0)) {
		return decimal.NullDecimal{}, wrong
	}
	return decimal.NewNullDecimal(watts), nil
}

// view is the form for these facts.
func (f facts) view() factsText {
	t := factsText{Size: string(f.size), KindBasis: string(f.kindBasis), SizeBasis: string(f.sizeBasis), RatingBasis: string(f.ratingBasis), Count: max(1, f.count), Note: f.note}
	if f.kind != decode.KindUnknown {
		t.Kind = f.kind.String()
	}
	if f.watts.Valid {
		t.Rating = f.watts.Decimal.String()
	}
	return t
}
