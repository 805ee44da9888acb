package stock

import (
	"math"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/decode"
)

func TestConfirmKeepsEverything(t *testing.T) {
	s := newStock(t)
	want := fullPart(t)
	kept := confirmed(t, s, want)
	assert.EqualValues(t, 1, kept.ID)
	assert.NotEmpty(t, kept.Key)

	got, err := s.Part(bg, kept.ID)
	require.NoError(t, err)
	crop, err := s.Crop(bg, kept.ID)
	require.NoError(t, err)
	assert.Equal(t, want.Crop, crop)
	want.ID, want.Key, want.Step, want.Crop = kept.ID, kept.Key, kept.Step, nil
	assert.Equal(t, newRecord(want), newRecord(got))
	assert.True(t, sameMeaning(want.Reading, got.Reading))
	sound(t, s.Path())
}

// Notes and cautions are not kept; they come with the rings.
func TestReadingIsExplained(t *testing.T) {
	s := newStock(t)
	kept := confirmed(t, s, fromRings(t, "BN BK GN YE", 1))
	got, err := s.Part(bg, kept.ID)
	require.NoError(t, err)
	assert.Equal(t, []string{decode.CautionHighVoltage}, got.Reading.Cautions)
	assert.Len(t, got.Reading.Notes, 1)
}

// Values stay as they are to the last digit: none of these has an exact
// binary fraction, and the last is beyond what 64 bits of one hold.
func TestValuesStayExact(t *testing.T) {
	s := newStock(t)
	for _, ohms := range []string{"0.1", "0.33", "4.7", "5600.01", "1234567890123.4567890123"} {
		value := decimal.RequireFromString(ohms)
		kept := confirmed(t, s, Part{Count: 1, Origin: ByHand, Reading: decode.Reading{Ohms: value, TolerancePercent: decimal.NewNullDecimal(decimal.RequireFromString("0.005"))}})
		got, err := s.Part(bg, kept.ID)
		require.NoError(t, err)
		assert.Equal(t, ohms, got.Reading.Ohms.String())
		assert.Equal(t, "0.005", got.Reading.TolerancePercent.Decimal.String())
		var text string
		require.NoError(t, s.db.QueryRow("SELECT typeof(ohms) || ' ' || ohms FROM part WHERE id = ?", kept.ID).Scan(&text))
		assert.Equal(t, "text "+ohms, text)
	}
}

func TestConfirmRefuses(t *testing.T) {
	s := newStock(t)
	for want, spoil := range map[string]func(*Part){
		"at least one part":                         func(p *Part) { p.Count = 0 },
		"a count of -1":                             func(p *Part) { p.Count = -1 },
		"do not mean 5.6 kΩ":                        func(p *Part) { p.Reading.Ohms = decimal.New(5600, 0) },
		"do not mean 5.7 kΩ ±1 %":                   func(p *Part) { p.Reading.TolerancePercent = decimal.NewNullDecimal(decimal.New(1, 0)) },
		"2 rings have no meaning":                   func(p *Part) { p.Reading.Rings = p.Reading.Rings[:2] },
		"entered by hand has no rings":              func(p *Part) { p.Origin = ByHand },
		`"guessed" is no origin`:                    func(p *Part) { p.Origin = "guessed" },
		"out of range":                              func(p *Part) { p.Reading.Ohms = decimal.New(1, 500000000) },
		"the tolerance must be":                     func(p *Part) { p.Reading.TolerancePercent = decimal.NewNullDecimal(decimal.New(101, 0)) },
		"is no kind of resistor":                    func(p *Part) { p.Kind = "glass" },
		"the kind needs a basis":                    func(p *Part) { p.KindBasis = Unknown },
		"the power rating needs a basis":            func(p *Part) { p.RatingBasis = "heard" },
		"is no body size":                           func(p *Part) { p.Size = "large" },
		"the power rating must be":                  func(p *Part) { p.RatingWatts = decimal.NewNullDecimal(decimal.New(-1, 0)) },
		"is no verdict":                             func(p *Part) { p.Verdict = "certain" },
		"confidence is out of range":                func(p *Part) { p.Candidates[0].Confidence = math.NaN() },
		"add up to more than 1":                     func(p *Part) { p.Candidates[0].Confidence = 0.9 },
		"too many candidates":                       func(p *Part) { p.Candidates = make([]Candidate, 11) },
		"the note is too long":                      func(p *Part) { p.Note = strings.Repeat("a", 2001) },
		"the photo's name has characters":           func(p *Part) { p.Photo = "a\x1b[31m.jpg" },
		"the note has characters":                   func(p *Part) { p.Note = "\xff" },
		"no PNG":                                    func(p *Part) { p.Crop = []byte("GIF89a") },
		"too large":                                 func(p *Part) { p.Crop = make([]byte, 5<<20) },
		"a value of the meter is out of range":      func(p *Part) { p.Meter.Ohms = decimal.New(-1, 0) },
		"the time of confirming":                    func(p *Part) { p.Confirmed = time.Date(1, 2, 3, 0, 0, 0, 0, time.UTC) },
		"a part of a photo has a number from 1":     func(p *Part) { p.PhotoPart = -1 },
		"the key is too long: use at most 64 chara": func(p *Part) { p.Key = strings.Repeat("k", 65) },
	} {
		p := fullPart(t)
		spoil(&p)
		_, err := s.Confirm(bg, p)
		require.ErrorContains(t, err, want)
		assert.NotContains(t, err.Error(), "\n")
	}
	assert.Empty(t, counts(t, s))
	steps, err := s.Steps(bg, 10)
	require.NoError(t, err)
	assert.Empty(t, steps)
}

// How many are out of an entry follows from the steps that hold: a count that was
// raised and the raising undone does not stay.
func TestOut(t *testing.T) {
	s := newStock(t)
	out := func(id int64) int {
		t.Helper()
		p, err := s.Part(bg, id)
		require.NoError(t, err)
		n, err := s.Out(bg, p)
		require.NoError(t, err)
		return n
	}
	first := confirmed(t, s, fromRings(t, "BN BK RD GD", 3))
	other := confirmed(t, s, fromRings(t, "BN BK RD GD", 9)).ID
	assert.Zero(t, out(first.ID))
	first.Count = 6
	_, err := s.Amend(bg, first)
	require.NoError(t, err)
	_, err = s.Take(bg, first.ID, 5)
	require.NoError(t, err)
	assert.Equal(t, 5, out(first.ID))
	for range 2 {
		_, err = s.Undo(bg)
		require.NoError(t, err)
	}
	assert.Zero(t, out(first.ID), "the entry has three again")

	_, err = s.TakeSeveral(bg, "", []Taking{{first.ID, 1}, {other, 2}})
	require.NoError(t, err)
	_, err = s.PutSeveral(bg, "", []Taking{{first.ID, 1}, {other, 3}})
	assert.ErrorContains(t, err, "3 cannot be put back: entry #2 has 7")
	assert.Equal(t, 1, out(first.ID), "all or none")
	_, err = s.PutSeveral(bg, "", []Taking{{first.ID, 1}, {other, 2}})
	require.NoError(t, err)
	assert.Zero(t, out(first.ID)+out(other))
}

// A request that is repeated adds nothing; one that says something else under
// the same key is refused.
func TestConfirmTwice(t *testing.T) {
	s := newStock(t)
	p := fullPart(t)
	p.Key = "biscuit-tin.jpg 4"
	first := confirmed(t, s, p)
	_, err := s.Take(bg, first.ID, 1)
	require.NoError(t, err)
	p.Confirmed = p.Confirmed.Add(time.Minute)
	again := confirmed(t, s, p)
	assert.Equal(t, first.ID, again.ID)
	assert.Equal(t, 2, again.Count)
	assert.Equal(t, []string{"1: 2 × 5.7 kΩ ±5 %"}, counts(t, s))

	p.Note = "no, from the brown one"
	_, err = s.Confirm(bg, p)
	assert.ErrorContains(t, err, "in the stock already as #1, 2 of 5.7 kΩ ±5 %")
}

func TestTakeAndPut(t *testing.T) {
	s := newStock(t)
	id := confirmed(t, s, fromRings(t, "BN BK RD GD", 3)).ID
	p, err := s.Take(bg, id, 3)
	require.NoError(t, err)
	assert.Zero(t, p.Count)
	parts, err := s.Parts(bg, Filter{})
	require.NoError(t, err)
	assert.Empty(t, parts, "none is left")
	for _, count := range []int{1, 0, -1} {
		_, err = s.Take(bg, id, count)
		assert.ErrorContains(t, err, "cannot be taken: entry #1 has 0 of 1 kΩ ±5 %")
	}
	p, err = s.Put(bg, id, 2)
	require.NoError(t, err)
	assert.Equal(t, 2, p.Count)
	_, err = s.Put(bg, id, 2)
	assert.EqualError(t, err, "2 cannot be put back: entry #1 has 2 of 1 kΩ ±5 % and never had more than 3: confirm new parts, or change the entry's count on the bench")
	_, err = s.Put(bg, id, math.MaxInt)
	assert.ErrorContains(t, err, "cannot be put back")
	_, err = s.Put(bg, id, 0)
	assert.EqualError(t, err, "0 cannot be put back: use 1 or more")
	_, err = s.Take(bg, 7, 1)
	assert.ErrorContains(t, err, "the stock has no entry #7")
	steps, err := s.Steps(bg, 10)
	require.NoError(t, err)
	require.Len(t, steps, 3, "what was refused is no step")
	assert.Equal(t, "put 2 back into #1, 1 kΩ ±5 %; 2 there", steps[0].What)
	assert.Equal(t, "took 3 of #1, 1 kΩ ±5 %; 0 left", steps[1].What)
	assert.Equal(t, "confirmed #1, 3 of 1 kΩ ±5 %", steps[2].What)
	sound(t, s.Path())
}

func TestAmend(t *testing.T) {
	s := newStock(t)
	other := openStock(t, s.Path())
	first := confirmed(t, s, fullPart(t))
	stale, err := other.Part(bg, first.ID)
	require.NoError(t, err)

	p := first
	p.Reading = fromRings(t, "GN GY RD GD", 1).Reading
	p.Kind, p.KindBasis, p.Count = decode.KindFusible, Said, 2
	changed, err := s.Amend(bg, p)
	require.NoError(t, err)
	assert.Equal(t, first.Key, changed.Key)
	assert.Equal(t, []string{"1: 2 × 5.8 kΩ ±5 %"}, counts(t, other))
	assert.Contains(t, changed.Cautions(), decode.CautionSpecialPart)

	stale.Note = "from another window"
	_, err = other.Amend(bg, stale)
	assert.ErrorContains(t, err, "entry #1 has changed since you opened it")
	crop, err := s.Crop(bg, first.ID)
	require.NoError(t, err)
	assert.NotEmpty(t, crop, "the picture stays")
	sound(t, s.Path())
}

// Windows and goroutines that confirm at once lose nothing.
func TestConfirmAtOnce(t *testing.T) {
	s := newStock(t)
	windows := []*Store{s, openPatient(t, s.Path()), openPatient(t, s.Path())}
	var wait sync.WaitGroup
	for i := range 6 {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for range 10 {
				_, err := windows[i%2+1].Confirm(bg, Part{Count: 1, Origin: ByHand, Reading: decode.Reading{Ohms: decimal.New(int64(i+1), 0)}})
				assert.NoError(t, err)
			}
		}()
	}
	wait.Wait()
	bins, err := s.Bins(bg)
	require.NoError(t, err)
	require.Len(t, bins, 6)
	for _, b := range bins {
		assert.Equal(t, 10, b.Count)
	}
	sound(t, s.Path())
}

func openPatient(t *testing.T, path string) *Store {
	t.Helper()
	s, err := Open(bg, path)
	require.NoError(t, err)
	t.Cleanup(func() { s.Close() })
	return s
}

func TestCautionsBeforeUse(t *testing.T) {
	p := fromRings(t, "BN BK GN YE", 1) // yellow for gold: high voltage
	p.Kind, p.KindBasis = decode.KindFlameproof, Said
	list := p.CautionsBeforeUse()
	assert.Contains(t, list, decode.CautionHighVoltage)
	assert.Contains(t, list, decode.CautionSpecialPart)
	text := strings.ToLower(strings.Join(list, " "))
	for _, subject := range []string{"hot", "mains", "local codes", "licensed", "charge", "fusible", "flameproof", "wire-wound"} {
		assert.Contains(t, text, subject)
	}
}

// Kinds that matter in a circuit carry their caution with them.
func TestKindsCarryCautions(t *testing.T) {
	for _, kind := range decode.Kinds {
		p := fromRings(t, "BN BK RD GD", 1)
		p.Kind, p.KindBasis = kind, Said
		kept := confirmed(t, newStock(t), p)
		assert.Equal(t, kind, kept.Kind)
		assert.Equal(t, kind.Special(), len(kept.Cautions()) > 0, kind)
	}
}
