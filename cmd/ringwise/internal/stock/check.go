package stock

import (
	"bytes"
	"crypto/rand"
	"image/png"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// Bounds of an entry.
const (
	mostCount      = 100_000
	mostKey        = 64      // characters
	mostName       = 500     // characters of a photo's name
	mostNote       = 2000    // characters
	mostCrop       = 4 << 20 // bytes
	mostCropSide   = 8192    // pixels
	mostCandidates = 10
	mostChanges    = 50
	mostWatts      = 10_000
)

// settle checks an entry that is to be kept and puts it into the one form in
// which entries are kept. Errors are for the person.
func (p *Part) settle() error {
	if p.Key == "" {
		p.Key = rand.Text()
	}
	if p.Confirmed.IsZero() {
		p.Confirmed = time.Now()
	}
	p.Confirmed = p.Confirmed.UTC().Truncate(time.Second)
	if year := p.Confirmed.Year(); year < 1970 || year > 9999 {
		return tell("the time of confirming, %s, makes no sense: set the clock", p.Confirmed.Format(time.RFC3339))
	}
	if p.Count < 0 || p.Count > mostCount {
		return tell("a count of %d cannot be kept: use 0 to %d", p.Count, mostCount)
	}
	for _, c := range []func() error{p.settleReading, p.settleFacts, p.settleHistory, p.checkTexts, p.checkCrop} {
		if err := c(); err != nil {
			return err
		}
	}
	return nil
}

// settleReading checks that value, tolerance and rings belong together.
func (p *Part) settleReading() error {
	r := &p.Reading
	if !reasonable(r.Ohms) || r.Ohms.GreaterThanOrEqual(decimal.New(1, 15)) || r.Ohms.IsPositive() && r.Ohms.LessThan(decimal.New(1, -12)) {
		return tell("the value is out of range: use 0, or 1 pΩ to below 1000 TΩ")
	}
	if t := r.TolerancePercent; t.Valid && (!reasonable(t.Decimal) || !t.Decimal.IsPositive() || t.Decimal.GreaterThan(decimal.New(100, 0))) {
		return tell("the tolerance must be above 0 and at most 100 %%")
	}
	switch p.Origin {
	case ByHand:
		if len(r.Rings) > 0 {
			return tell("a part entered by hand has no rings: confirm it by its rings, or leave them out")
		}
		r.Notes, r.Cautions = nil, nil
		if r.IsLink() {
			r.TolerancePercent = decimal.NullDecimal{}
		}
		if c := r.TempcoPPM; c != nil && (*c <= 0 || *c > 100_000) {
			return tell("a temperature coefficient of %d ppm/K makes no sense: use one above 0", *c)
		}
		if f := r.FailureRate; f.Valid && (!reasonable(f.Decimal) || !f.Decimal.IsPositive() || f.Decimal.GreaterThan(decimal.New(100, 0))) {
			return tell("the failure rate must be above 0 and at most 100 %% per 1000 h")
		}
	case FromRings:
		meanings, err := decode.Readings(r.Rings)
		if err != nil {
			return told{err}
		}
		i := slices.IndexFunc(meanings, func(m decode.Reading) bool { return sameMeaning(m, *r) })
		if i < 0 {
			return tell("the rings %s do not mean %s: correct the rings, or enter the value by hand", decode.RowLetters(r.Rings), Meaning(*r))
		}
		p.Reading = meanings[i]
	default:
		return tell("%q is no origin of a value: use %q or %q", shorten(string(p.Origin)), FromRings, ByHand)
	}
	return nil
}

// sameMeaning tells whether two readings say the same of a part.
func sameMeaning(a, b decode.Reading) bool {
	same := func(a, b decimal.NullDecimal) bool {
		return a.Valid == b.Valid && (!a.Valid || a.Decimal.Equal(b.Decimal))
	}
	coefficient := a.TempcoPPM == nil && b.TempcoPPM == nil ||
		a.TempcoPPM != nil && b.TempcoPPM != nil && *a.TempcoPPM == *b.TempcoPPM
	return a.Ohms.Equal(b.Ohms) && same(a.TolerancePercent, b.TolerancePercent) &&
		same(a.FailureRate, b.FailureRate) && coefficient
}

// settleFacts checks what rings do not carry, and the meter's value.
func (p *Part) settleFacts() error {
	kind, err := decode.ParseKind(string(p.Kind))
	if err != nil {
		return told{err}
	}
	size, err := ParseSize(string(p.Size))
	if err != nil {
		return told{err}
	}
	p.Kind, p.Size = kind, size
	if w := p.RatingWatts; w.Valid && (!reasonable(w.Decimal) || !w.Decimal.IsPositive() || w.Decimal.GreaterThan(decimal.New(mostWatts, 0))) {
		return tell("the power rating must be above 0 and at most %d W", mostWatts)
	}
	for _, fact := range []struct {
		name  string
		known bool
		basis *Basis
	}{
		{"kind", kind != decode.KindUnknown, &p.KindBasis},
		{"body size", size != "", &p.SizeBasis},
		{"power rating", p.RatingWatts.Valid, &p.RatingBasis},
	} {
		switch {
		case !fact.known:
			*fact.basis = Unknown
		case *fact.basis != Said && *fact.basis != Estimated:
			return tell("the %s needs a basis: %q or %q", fact.name, Said, Estimated)
		}
	}
	if m := p.Meter; m != nil {
		for _, d := range []decimal.Decimal{m.Ohms, m.AccuracyPercent, m.AccuracyOhms} {
			if !reasonable(d) || d.IsNegative() {
				return tell("a value of the meter is out of range: use 0 or more")
			}
		}
	}
	return nil
}

// settleHistory checks what was offered and what the person changed.
func (p *Part) settleHistory() error {
	if !slices.Contains([]string{"", decode.Sure.String(), decode.Check.String(), decode.Unreadable.String()}, p.Verdict) {
		return tell("%q is no verdict: use sure, check or unreadable", shorten(p.Verdict))
	}
	if len(p.Candidates) > mostCandidates || len(p.Changes) > mostChanges {
		return tell("the entry has too many candidates or changes: at most %d and %d are kept", mostCandidates, mostChanges)
	}
	sum := 0.0
	for _, c := range p.Candidates {
		sum += c.Confidence
		if !(c.Confidence >= 0 && c.Confidence <= 1) || !reasonable(c.Ohms) || !reasonable(c.Tolerance.Decimal) {
			return tell("a candidate's value or confidence is out of range")
		}
	}
	if sum > 1.001 || math.IsNaN(sum) {
		return tell("the candidates' confidences add up to more than 1")
	}
	if p.PhotoPart < 0 {
		return tell("a part of a photo has a number from 1")
	}
	return nil
}

// checkTexts refuses texts that are too long or cannot be shown.
func (p *Part) checkTexts() error {
	if err := checkText("key", p.Key, mostKey); err != nil {
		return err
	}
	if err := checkText("photo's name", p.Photo, mostName); err != nil {
		return err
	}
	if err := checkText("note", strings.ReplaceAll(p.Note, "\n", " "), mostNote); err != nil {
		return err
	}
	for _, c := range p.Changes {
		for _, text := range []string{c.What, c.From, c.To} {
			if err := checkText("change", text, mostName); err != nil {
				return err
			}
		}
	}
	return nil
}

func checkText(name, text string, most int) error {
	switch {
	case !utf8.ValidString(text) || strings.ContainsFunc(text, unicode.IsControl):
		return tell("the %s has characters that cannot be shown: leave them out", name)
	case utf8.RuneCountInString(text) > most:
		return tell("the %s is too long: use at most %d characters", name, most)
	}
	return nil
}

func (p *Part) checkCrop() error {
	if len(p.Crop) == 0 {
		p.Crop = nil
		return nil
	}
	if len(p.Crop) > mostCrop {
		return tell("the picture of the part is too large: at most %d MB are kept", mostCrop>>20)
	}
	config, err := png.DecodeConfig(bytes.NewReader(p.Crop))
	if err != nil || config.Width > mostCropSide || config.Height > mostCropSide {
		return tell("the picture of the part is no PNG of at most %d pixels a side", mostCropSide)
	}
	return nil
}

// reasonable tells whether a number can be kept: decimal numbers may carry
// exponents that would fill the memory.
func reasonable(d decimal.Decimal) bool {
	return d.Exponent() >= -40 && d.Exponent() <= 40 && d.Coefficient().BitLen() <= 128 && !d.IsNegative()
}
