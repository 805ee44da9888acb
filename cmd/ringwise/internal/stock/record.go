package stock

import (
	"encoding/json"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// A record is an entry as JSON: in the journal, and in exports. Numbers are
// written out exactly.
type record struct {
	Number      int64           `json:"number"`
	Key         string          `json:"key"`
	Step        int64           `json:"step,omitempty"` // in the journal
	Count       int             `json:"count"`
	Origin      Origin          `json:"origin"`
	Bands       []string        `json:"bands"`
	Ohms        json.Number     `json:"ohms"`
	Tolerance   *json.Number    `json:"tolerance_percent"`
	TempcoPPM   *int            `json:"tempco_ppm"`
	FailureRate *json.Number    `json:"failure_rate_percent_per_1000h"`
	RKM         string          `json:"rkm,omitempty"` // for the reader; not read back
	Kind        string          `json:"kind"`
	KindBasis   Basis           `json:"kind_basis"`
	Size        Size            `json:"size"`
	SizeBasis   Basis           `json:"size_basis"`
	Rating      *json.Number    `json:"rating_watts"`
	RatingBasis Basis           `json:"rating_basis"`
	Meter       *meterRecord    `json:"meter"`
	Photo       string          `json:"photo"`
	PhotoPart   int             `json:"photo_part"`
	Verdict     string          `json:"verdict"`
	Candidates  []offeredRecord `json:"candidates"`
	Changes     []Change        `json:"changes"`
	Note        string          `json:"note"`
	Confirmed   time.Time       `json:"confirmed"`
	CropPNG     []byte          `json:"crop_png,omitempty"` // base64; in exports
}

type meterRecord struct {
	Ohms            json.Number `json:"ohms"`
	AccuracyPercent json.Number `json:"accuracy_percent"`
	AccuracyOhms    json.Number `json:"accuracy_ohms"`
	InCircuit       bool        `json:"in_circuit"`
}

type offeredRecord struct {
	Bands      []string     `json:"bands"`
	Ohms       json.Number  `json:"ohms"`
	Tolerance  *json.Number `json:"tolerance_percent"`
	Confidence float64      `json:"confidence"`
}

// newRecord is the entry as JSON, without its crop.
func newRecord(p Part) record {
	r := record{
		Number: p.ID, Key: p.Key, Step: p.Step, Count: p.Count, Origin: p.Origin,
		Bands: names(p.Reading.Rings), Ohms: exact(p.Reading.Ohms), Tolerance: maybeExact(p.Reading.TolerancePercent),
		TempcoPPM: p.Reading.TempcoPPM, FailureRate: maybeExact(p.Reading.FailureRate),
		Kind: p.Kind.String(), KindBasis: p.KindBasis, Size: p.Size, SizeBasis: p.SizeBasis,
		Rating: maybeExact(p.RatingWatts), RatingBasis: p.RatingBasis,
		Photo: p.Photo, PhotoPart: p.PhotoPart, Verdict: p.Verdict,
		Candidates: offeredRecords(p.Candidates), Changes: append([]Change{}, p.Changes...),
		Note: p.Note, Confirmed: p.Confirmed,
	}
	if m := p.Meter; m != nil {
		r.Meter = &meterRecord{exact(m.Ohms), exact(m.AccuracyPercent), exact(m.AccuracyOhms), m.InCircuit}
	}
	return r
}

func offeredRecords(list []Candidate) []offeredRecord {
	records := []offeredRecord{}
	for _, c := range list {
		records = append(records, offeredRecord{names(c.Rings), exact(c.Ohms), maybeExact(c.Tolerance), c.Confidence})
	}
	return records
}

func parseOffered(records []offeredRecord) ([]Candidate, error) {
	var list []Candidate
	for _, r := range records {
		var f fields
		c := Candidate{Rings: f.rings(strings.Join(r.Bands, " ")), Ohms: f.number(r.Ohms.String()),
			Tolerance: f.maybe(r.Tolerance), Confidence: r.Confidence}
		if f.err != nil {
			return nil, f.err
		}
		list = append(list, c)
	}
	return list, nil
}

// part is the entry that the record holds, not yet settled.
func (r record) part() (Part, error) {
	var f fields
	p := Part{
		ID: r.Number, Key: r.Key, Step: r.Step, Count: r.Count, Origin: r.Origin,
		Reading: decode.Reading{Rings: f.rings(strings.Join(r.Bands, " ")), Ohms: f.number(r.Ohms.String()),
			TolerancePercent: f.maybe(r.Tolerance), TempcoPPM: r.TempcoPPM, FailureRate: f.maybe(r.FailureRate)},
		Kind: f.kind(r.Kind), KindBasis: r.KindBasis, Size: r.Size, SizeBasis: r.SizeBasis,
		RatingWatts: f.maybe(r.Rating), RatingBasis: r.RatingBasis,
		Photo: r.Photo, PhotoPart: r.PhotoPart, Verdict: r.Verdict, Changes: r.Changes,
		Note: r.Note, Confirmed: r.Confirmed, Crop: r.CropPNG,
	}
	if m := r.Meter; m != nil {
		p.Meter = &decode.Measurement{Ohms: f.number(m.Ohms.String()), AccuracyPercent: f.number(m.AccuracyPercent.String()),
			AccuracyOhms: f.number(m.AccuracyOhms.String()), InCircuit: m.InCircuit}
	}
	if f.err != nil {
		return Part{}, f.err
	}
	var err error
	p.Candidates, err = parseOffered(r.Candidates)
	return p, err
}

// fields reads texts into values and keeps the first error.
type fields struct{ err error }

func (f *fields) fail(err error) {
	if f.err == nil {
		f.err = err
	}
}

// number reads an exact number of 0 or more.
func (f *fields) number(text string) decimal.Decimal {
	d, err := decimal.NewFromString(text)
	if err != nil || len(text) > 60 || !reasonable(d) {
		f.fail(tell("%q is no number that can be kept: use plain digits with a decimal point", shorten(text)))
		return decimal.Decimal{}
	}
	return d
}

func (f *fields) maybe(text *json.Number) decimal.NullDecimal {
	if text == nil || *text == "" {
		return decimal.NullDecimal{}
	}
	return decimal.NewNullDecimal(f.number(text.String()))
}

func (f *fields) rings(text string) []decode.Colour {
	rings, err := parseLetters(text)
	if err != nil {
		f.fail(err)
	}
	return rings
}

func (f *fields) kind(text string) decode.Kind {
	kind, err := decode.ParseKind(text)
	if err != nil {
		f.fail(told{err})
	}
	return kind
}

func exact(d decimal.Decimal) json.Number { return json.Number(d.String()) }

func maybeExact(d decimal.NullDecimal) *json.Number {
	if !d.Valid {
		return nil
	}
	n := exact(d.Decimal)
	return &n
}

func names(rings []decode.Colour) []string {
	words := make([]string, len(rings))
	for i, c := range rings {
		words[i] = c.String()
	}
	return words
}
