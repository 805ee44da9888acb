package sheet_test

import (
	"encoding/csv"
	"math/big"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/decode"
	"ringwise/decode/series"
)

// The answers of random sheets are worked out again here with exact fractions
// and the ring table of testdata/iec60062_rings.csv (IEC 60062:2016, from
// memory of the published table), by nothing that made them.

// A paintCode is one row of the ring table; digit is -1 for none.
type paintCode struct {
	digit, exponent int
	tolerance       *big.Rat // percent, nil for none
	tempco          string
	failure         bool
}

// table reads the ring table, by letters.
func table(t testing.TB) map[string]paintCode {
	t.Helper()
	f, err := os.Open("../../../../testdata/iec60062_rings.csv")
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	codes := map[string]paintCode{}
	for _, row := range rows[1:] {
		p := paintCode{digit: -1, tempco: row[6], failure: row[8] != ""}
		if row[2] != "" {
			p.digit, err = strconv.Atoi(row[2])
			require.NoError(t, err)
		}
		p.exponent, err = strconv.Atoi(row[3])
		require.NoError(t, err)
		if row[4] != "" {
			p.tolerance = rat(t, row[4])
		}
		codes[row[1]] = p
	}
	require.Len(t, codes, 13)
	return codes
}

func rat(t testing.TB, text string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(strings.ReplaceAll(text, "\u00a0", ""))
	require.True(t, ok, "%q is no number", text)
	return r
}

// A span is a value with its bounds.
type span struct{ nominal, low, high *big.Rat }

func spanOf(nominal, percent *big.Rat) span {
	off := new(big.Rat).Mul(nominal, new(big.Rat).Quo(percent, big.NewRat(100, 1)))
	return span{nominal, new(big.Rat).Sub(nominal, off), new(big.Rat).Add(nominal, off)}
}

// A solver works out answers.
type solver struct {
	t     *testing.T
	codes map[string]paintCode
}

// part is what rings mean: three digits from five rings on.
func (s solver) part(rings []string) (value span, percent *big.Rat, tempco string) {
	n := 2
	if len(rings) > 4 {
		n = 3
	}
	number := 0
	for _, r := range rings[:n] {
		require.GreaterOrEqual(s.t, s.codes[r].digit, 0, "%q", rings)
		number = 10*number + s.codes[r].digit
	}
	nominal := new(big.Rat).Mul(big.NewRat(int64(number), 1), tenTo(s.codes[rings[n]].exponent))
	percent = big.NewRat(20, 1)
	if len(rings) > 3 {
		percent = s.codes[rings[n+1]].tolerance
		require.NotNil(s.t, percent, "%q", rings)
	}
	if len(rings) == 6 {
		tempco = s.codes[rings[5]].tempco
	}
	return spanOf(nominal, percent), percent, tempco
}

func tenTo(exponent int) *big.Rat {
	r := big.NewRat(1, 1)
	for range max(exponent, -exponent) {
		r.Mul(r, big.NewRat(10, 1))
	}
	if exponent < 0 {
		r.Inv(r)
	}
	return r
}

// fits reports whether rings have roles that all of them can stand in:
// D for the first digit, d for others, m multiplier, t tolerance, e tolerance
// before a failure rate (1, 2, 5, 10 %), f failure rate, c coefficient.
func (s solver) fits(rings []string, roles string) bool {
	for i, role := range roles {
		c := s.codes[rings[i]]
		ok := true
		switch role {
		case 'D':
			ok = c.digit > 0
		case 'd':
			ok = c.digit >= 0
		case 't':
			ok = c.tolerance != nil
		case 'e':
			ok = slices.Contains([]string{"BN", "RD", "GD", "SR"}, rings[i])
		case 'f':
			ok = c.failure
		case 'c':
			ok = c.tempco != ""
		}
		if !ok {
			return false
		}
	}
	return true
}

func (s solver) meaningful(rings []string) bool {
	for _, roles := range map[int][]string{3: {"Ddm"}, 4: {"Ddmt"}, 5: {"Dddmt", "Ddmef"}, 6: {"Dddmtc"}}[len(rings)] {
		if s.fits(rings, roles) {
			return true
		}
	}
	return false
}

// lettersOf are the rings of a figure.
func lettersOf(f sheet.Figure) []string {
	var list []string
	for _, c := range f.Part.Reading.Rings {
		list = append(list, c.Letters())
	}
	return list
}

var shownNumber = regexp.MustCompile(`^(≈ )?±?([0-9.\x{a0}]+) ?([µmkMG]?)(Ω|V|W|%|ppm/K)$`)

// shown is the number that people read in a box.
func (s solver) shown(text string) *big.Rat {
	part := shownNumber.FindStringSubmatch(text)
	require.NotNil(s.t, part, "%q", text)
	scale := map[string]int{"µ": -6, "m": -3, "": 0, "k": 3, "M": 6, "G": 9}[part[3]]
	return new(big.Rat).Mul(rat(s.t, part[2]), tenTo(scale))
}

// number checks a box for a number: the key's answer is the right one to
// twelve figures, and what is shown to the figures that the box asks for.
func (s solver) number(b sheet.Box, right *big.Rat) {
	s.t.Helper()
	near := func(got *big.Rat, off *big.Rat) bool {
		d := new(big.Rat).Sub(got, right)
		return d.Abs(d).Cmp(off) <= 0
	}
	tiny := new(big.Rat).Mul(right, big.NewRat(1, 1e12))
	assert.True(s.t, near(rat(s.t, b.Want), tiny), "%s: %s is not %s", b.Label, b.Want, right.FloatString(6))
	half := new(big.Rat) // half a unit of the last figure that is asked for
	if b.Figures > 0 {
		first := 0
		for right.Cmp(tenTo(first)) < 0 {
			first--
		}
		for right.Cmp(tenTo(first+1)) >= 0 {
			first++
		}
		half = new(big.Rat).Mul(big.NewRat(5, 1), tenTo(first-b.Figures))
	}
	assert.True(s.t, near(s.shown(b.Shown), half), "%s: %s is not %s", b.Label, b.Shown, right.FloatString(6))
	for _, slip := range b.Slips {
		assert.False(s.t, near(rat(s.t, slip.Answer), half), "%s: the slip %s gives a right answer", b.Label, slip.Name)
	}
}

var (
	wantedRings = regexp.MustCompile(`is to be ([0-9.]+ [mkMG]?Ω) ±([0-9.]+) %(?:, ([0-9]+) ppm/K)? with ([0-9]) rings`)
	wantedPart  = regexp.MustCompile(`asks for ([0-9.]+ [mkMG]?Ω) ±([0-9.]+) %`)
	supplied    = regexp.MustCompile(`between ([0-9.]+ V) and the tap`)
	loaded      = regexp.MustCompile(`is rated ([0-9.]+ m?W) and has ([0-9.]+ V) across`)
)

// question works a question out again.
func (s solver) question(q sheet.Question) {
	t := s.t
	switch q.Kind {
	case sheet.ToValue:
		rings := lettersOf(q.Figures[0])
		value, percent, tempco := s.part(rings)
		assert.Equal(t, strings.Join(rings, " "), q.Boxes[0].Want)
		for i, right := range []*big.Rat{value.nominal, percent, value.low, value.high} {
			if i+1 < len(q.Boxes) {
				s.number(q.Boxes[i+1], right)
			}
			if i >= 2 && i+1 < len(q.Boxes) { // a bound for which the nominal value does not do
				b := q.Boxes[i+1]
				want, nominal := decimal.RequireFromString(b.Want), decimal.RequireFromString(value.nominal.FloatString(6))
				assert.False(t, sheet.Agrees(nominal, want, b.Figures), "%s: %s", b.Label, b.Want)
				assert.Equal(t, b.Figures > 3, strings.Contains(b.Label, "("+strconv.Itoa(b.Figures)+" figures)"), b.Label)
			}
		}
		if len(q.Boxes) > 5 {
			assert.Zero(t, marked(t, q.Boxes[5].Want).Cmp(value.nominal), q.Boxes[5].Want)
			assert.Equal(t, tempco != "", len(q.Boxes) > 6)
		}
		if len(q.Boxes) > 6 {
			assert.Equal(t, tempco, q.Boxes[6].Want)
		}
	case sheet.ToRings:
		part := wantedRings.FindStringSubmatch(q.Ask)
		require.NotNil(t, part, q.Ask)
		count, _ := strconv.Atoi(part[4])
		rows := s.rows(s.shown(part[1]), rat(t, part[2]), part[3], count)
		require.Len(t, rows, 1, "%s has one answer", q.Ask)
		assert.Equal(t, rows[0], q.Boxes[0].Want)
		assert.NotContains(t, slipAnswers(q.Boxes[0]), q.Boxes[0].Want)
	case sheet.StandIn:
		part := wantedPart.FindStringSubmatch(q.Ask)
		require.NotNil(t, part, q.Ask)
		wanted := spanOf(s.shown(part[1]), rat(t, part[2]))
		var right []string
		for _, f := range q.Figures {
			p, _, _ := s.part(lettersOf(f))
			if p.low.Cmp(wanted.low) >= 0 && p.high.Cmp(wanted.high) <= 0 {
				right = append(right, f.Label)
			}
		}
		require.NotEmpty(t, right)
		assert.Equal(t, strings.Join(right, " "), q.Boxes[0].Want)
		assert.Equal(t, strings.Join(right, ", "), q.Boxes[0].Shown)
		assert.Contains(t, q.Ask, "more than one", "several answers are said to be possible")
	case sheet.Pair, sheet.Divider:
		s.two(q)
	case sheet.Power:
		p, _, _ := s.part(lettersOf(q.Figures[0]))
		part := loaded.FindStringSubmatch(q.Ask)
		require.NotNil(t, part, q.Ask)
		rating, volts := s.shown(part[1]), s.shown(part[2])
		watts := new(big.Rat).Quo(new(big.Rat).Mul(volts, volts), p.nominal)
		s.number(q.Boxes[0], watts)
		share, _ := new(big.Rat).Quo(watts, rating).Float64()
		right := "overloaded"
		for _, bound := range []struct {
			most float64
			word string
		}{{1, "hot"}, {0.5, "warm"}, {0.1, "cool"}} {
			if share <= bound.most {
				right = bound.word
			}
			assert.Greater(t, max(share/bound.most, bound.most/share), 1.04, "too near to call")
		}
		assert.Equal(t, right, q.Boxes[1].Want)
		assert.Equal(t, part[2] == "230 V", strings.Contains(strings.Join(q.Cautions, " "), "Mains voltage kills"))
		assert.Contains(t, strings.Join(q.Cautions, " "), "burn fingers")
	case sheet.Impossible:
		s.impossible(q)
	default:
		t.Fatalf("no check for %s", q.Kind)
	}
}

var markedForm = regexp.MustCompile(`^([0-9]*)([RKMGT])([0-9]*)$`)

// marked is the value of a marking in letters and digits (IEC 60062: R is the
// point of ohms, K of kilo-ohms, M of megohms, G of gigohms).
func marked(t *testing.T, text string) *big.Rat {
	part := markedForm.FindStringSubmatch(text)
	require.NotNil(t, part, "%q", text)
	scale := map[string]int{"R": 0, "K": 3, "M": 6, "G": 9, "T": 12}[part[2]]
	return new(big.Rat).Mul(rat(t, "0"+part[1]+"."+part[3]+"0"), tenTo(scale))
}

func slipAnswers(b sheet.Box) []string {
	var list []string
	for _, s := range b.Slips {
		list = append(list, s.Answer)
	}
	return list
}

// rows are all rows of so many rings with a value, tolerance and coefficient.
func (s solver) rows(ohms, percent *big.Rat, tempco string, count int) []string {
	digits := 2
	if count > 4 {
		digits = 3
	}
	var heads []string
	for letters, c := range s.codes {
		number := new(big.Rat).Quo(ohms, tenTo(c.exponent))
		if !number.IsInt() || len(number.Num().String()) != digits {
			continue
		}
		row := ""
		for _, d := range number.Num().String() {
			for digit, code := range s.codes {
				if code.digit == int(d-'0') {
					row += digit + " "
				}
			}
		}
		heads = append(heads, row+letters)
	}
	if count == 3 {
		return heads
	}
	var rows []string
	for _, head := range heads {
		for letters, c := range s.codes {
			if c.tolerance == nil || c.tolerance.Cmp(percent) != 0 {
				continue
			}
			if count < 6 {
				rows = append(rows, head+" "+letters)
				continue
			}
			for last, c := range s.codes {
				if c.tempco == tempco && tempco != "" {
					rows = append(rows, head+" "+letters+" "+last)
				}
			}
		}
	}
	return rows
}

// two works out what two parts make.
func (s solver) two(q sheet.Question) {
	a, _, _ := s.part(lettersOf(q.Figures[0]))
	b, _, _ := s.part(lettersOf(q.Figures[1]))
	add := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Add(x, y) }
	if q.Kind == sheet.Pair {
		side := func(x, y *big.Rat) *big.Rat { // one over the sum of the conductances
			return new(big.Rat).Inv(add(new(big.Rat).Inv(x), new(big.Rat).Inv(y)))
		}
		for i, right := range []*big.Rat{add(a.nominal, b.nominal), side(a.nominal, b.nominal),
			add(a.low, b.low), add(a.high, b.high), side(a.low, b.low), side(a.high, b.high)} {
			if i < len(q.Boxes) {
				s.number(q.Boxes[i], right)
			}
		}
		return
	}
	part := supplied.FindStringSubmatch(q.Ask)
	require.NotNil(s.t, part, q.Ask)
	supply := s.shown(part[1])
	tap := func(upper, lower *big.Rat) *big.Rat { // the current times the lower part
		current := new(big.Rat).Quo(supply, add(upper, lower))
		return current.Mul(current, lower)
	}
	for i, right := range []*big.Rat{tap(a.nominal, b.nominal), tap(a.high, b.low), tap(a.low, b.high)} {
		if i < len(q.Boxes) {
			s.number(q.Boxes[i], right)
		}
	}
}

// impossible checks that one row alone has no meaning from either end, and
// that a change of one ring alone, the one named, gives it one.
func (s solver) impossible(q sheet.Question) {
	t := s.t
	var wrong []string
	for _, f := range q.Figures {
		rings := lettersOf(f)
		if s.meaningful(rings) {
			continue
		}
		wrong = append(wrong, f.Label)
		back := slices.Clone(rings)
		slices.Reverse(back)
		assert.False(t, s.meaningful(back), "%q has a meaning from its other end", rings)
		var places []string
		for i := range rings {
			mended := slices.Clone(rings)
			for letters := range s.codes {
				mended[i] = letters
				if s.meaningful(mended) {
					places = append(places, strconv.Itoa(i+1))
					break
				}
			}
		}
		assert.Equal(t, places, []string{q.Boxes[1].Want}, "%q", rings)
	}
	assert.Equal(t, []string{q.Boxes[0].Want}, wrong)
}

// randomParts makes parts of random values, tolerances and counts of rings.
func randomParts(t testing.TB, dice *rand.Rand, count int) []sheet.Part {
	t.Helper()
	ppm := []int{15, 25, 50, 100}
	var parts []sheet.Part
	for len(parts) < count {
		e := series.All[1+dice.IntN(5)]
		values := series.Values(e)
		ohms := values[dice.IntN(len(values))].Shift(int32(dice.IntN(8) - 1))
		percent := decimal.RequireFromString([]string{"1", "2", "5", "10", "20", "0.5", "0.1"}[dice.IntN(7)])
		var options decode.RingOptions
		if dice.IntN(6) == 0 {
			options.TempcoPPM = &ppm[dice.IntN(len(ppm))]
		}
		rows, err := decode.Rings(ohms, percent, options)
		if err != nil {
			continue
		}
		row := rows[dice.IntN(len(rows))]
		parts = append(parts, sheet.Part{Reading: decode.Reading{Rings: row, Ohms: ohms,
			TolerancePercent: decimal.NewNullDecimal(percent), TempcoPPM: options.TempcoPPM}})
	}
	return parts
}

// randomSheets makes sheets of random parts, levels and kinds.
func randomSheets(t testing.TB, seed uint64) []sheet.Sheet {
	t.Helper()
	dice := rand.New(rand.NewPCG(seed, 99))
	o := sheet.Order{Title: "Club evening", Note: "Invented values for a radio-repair club's spring clean-out.",
		Level: 1 + dice.IntN(3), Count: 4 + dice.IntN(16), Variants: 1 + dice.IntN(2), Seed: seed, Language: "en"}
	for _, k := range sheet.Kinds {
		if dice.IntN(3) > 0 {
			o.Kinds = append(o.Kinds, k)
		}
	}
	if len(o.Kinds) == 0 {
		o.Kinds = sheet.Kinds
	}
	parts, _ := sheet.Usable(randomParts(t, dice, 60), o.Level)
	sheets, err := sheet.Compose(parts, o)
	require.NoError(t, err, "seed %d", seed)
	return sheets
}

func TestEveryAnswerIsRight(t *testing.T) {
	codes := table(t)
	asked := map[sheet.Kind]int{}
	for seed := range uint64(200) {
		for _, s := range randomSheets(t, seed) {
			for _, q := range s.Questions {
				solver{t, codes}.question(q)
				asked[q.Kind]++
				if t.Failed() {
					t.Fatalf("seed %d, sheet %s: %s", seed, s.Code, q.Ask)
				}
			}
		}
	}
	for _, k := range sheet.Kinds {
		assert.Greater(t, asked[k], 100, k)
	}
}
