package confirm

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/network"
)

// A verb is what an answer asks for.
type verb int

const (
	saying verb = iota // it says something of the part
	confirming
	noResistor
	skipping
	unknowable
	undoing
	repeating
	listing
	helping
	quitting
	passing // no answer: the part was in the stock already
)

// words are the answers of one word, with their short forms.
var words = map[string]verb{
	"": confirming, "not": noResistor, "x": noResistor, "skip": skipping, "s": skipping, "unclear": unknowable,
	"undo": undoing, "u": undoing, "list": listing, "l": listing, "again": repeating, "a": repeating, "help": helping, "?": helping, "h": helping, "quit": quitting, "q": quitting,
}

// agreeing are words that a person may mean for Enter. They confirm nothing: Enter
// alone does.
var agreeing = []string{"y", "yes", "ok", "okay", "confirm", "right", "enter"}

// A sayer makes of what was said before, and of the rest of an answer, what is
// said now.
type sayer func(p Part, before said, rest string) (said, error)

// sayers are the first words of answers that say something.
var sayers = map[string]sayer{
	"flip": flip, "f": flip, "rings": nameRings, "r": nameRings, "add": addRing, "drop": dropRing,
	"value": giveValue, "v": giveValue, "m": measure, "meter": measure,
	"accuracy": giveAccuracy, "kind": giveKind, "size": giveSize, "rating": giveRating, "count": giveCount, "n": giveCount, "note": giveNote, "age": giveAge,
}

// measures tells whether an answer is of a meter, understood or not.
func measures(line string) bool {
	first, _, _ := strings.Cut(strings.ToLower(strings.TrimSpace(line)), " ")
	return first == "m" || first == "meter"
}

// understand reads an answer. next is what is then said of the part.
func (p Part) understand(before said, line string) (what verb, next said, err error) {
	line = strings.TrimSpace(line)
	if v, ok := words[strings.ToLower(line)]; ok {
		return v, before, nil
	}
	first, rest, _ := strings.Cut(line, " ")
	if say, ok := sayers[strings.ToLower(first)]; ok {
		next, err = say(p, before, strings.TrimSpace(rest))
		return saying, next, err
	}
	if _, e := strconv.Atoi(first); e == nil {
		next, err = p.number(before, strings.Fields(line))
		return saying, next, err
	}
	switch _, err := network.ParseValue(line); {
	case slices.Contains(agreeing, strings.ToLower(line)):
		return saying, before, fmt.Errorf("%q is no answer: Enter alone confirms; type ? for the others", shorten(line))
	case err == nil:
		return saying, before, fmt.Errorf("%q is no answer: value %s enters it by hand, m %[2]s is what a meter shows; type ? for the others", shorten(line), shorten(line))
	}
	return saying, before, fmt.Errorf("%q is no answer: type ? for those there are", shorten(line))
}

// number reads "3", a candidate, and "2 VT", a ring's colour.
func (p Part) number(before said, fields []string) (said, error) {
	if len(fields) == 1 {
		return p.take(before, fields[0])
	}
	if len(fields)%2 != 0 {
		return before, errors.New("name a ring's number and its colour, such as 2 VT")
	}
	next := before
	for i := 0; i < len(fields); i += 2 {
		colour, err := decode.ParseColour(fields[i+1])
		if err != nil {
			return before, err
		}
		if next, err = p.colour(next, fields[i], colour); err != nil {
			return before, err
		}
	}
	return next, nil
}

// take chooses a candidate by its number.
func (p Part) take(before said, text string) (said, error) {
	j := p.judge(before)
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > len(j.Candidates) {
		return before, fmt.Errorf("there is no candidate %s: there are %d", text, len(j.Candidates))
	}
	next := before
	next.taken = &j.Candidates[n-1].Reading
	return next, nil
}

// colour says the colour of a ring, counted in reading order.
func (p Part) colour(before said, place string, colour decode.Colour) (said, error) {
	next := before
	if before.row != nil {
		i, err := ringAt(place, len(before.row))
		if err != nil {
			return before, err
		}
		next.row = slices.Clone(before.row)
		next.row[i] = colour
		return next, nil
	}
	k, ok := p.pinned(before, p.judge(before))
	if !ok {
		return before, errNoRings
	}
	i, err := ringAt(place, len(k.Rings))
	if err != nil {
		return before, err
	}
	ring := &k.Rings[stripIndex(k, i)]
	ring.Colour, ring.Sure = colour, true
	next.known, next.taken = k, nil
	return next, nil
}

// errNoRings is the answer where there is no row of rings to change.
var errNoRings = errors.New("there are no rings to change: choose a candidate by its number, or name all rings, such as rings GN BU RD GD")

// ringAt reads a ring's number, from 1.
func ringAt(text string, count int) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > count {
		return 0, fmt.Errorf("there is no ring %s: there are %d", shorten(text), count)
	}
	return n - 1, nil
}

// stripIndex is the place along the strip of a ring counted in reading order.
func stripIndex(k decode.Known, i int) int {
	if k.From == decode.RightEnd {
		return len(k.Rings) - 1 - i
	}
	return i
}

// flip reads from the other end.
func flip(p Part, before said, rest string) (said, error) {
	if rest != "" {
		return before, errors.New("flip stands alone")
	}
	next := before
	if before.row != nil {
		next.row, next.turned = reversed(before.row), !before.turned
		return next, nil
	}
	j := p.judge(before)
	k, ok := p.pinned(before, j)
	if !ok {
		return before, errNoRings
	}
	next.known = before.known // rings that were not touched stay as they were seen
	next.known.From = decode.LeftEnd
	if k.From == decode.LeftEnd {
		next.known.From = decode.RightEnd
	}
	next.taken = nil
	return next, nil
}

// nameRings takes all rings as the person names them, from the other end where
// they have a meaning from there alone.
func nameRings(_ Part, before said, rest string) (said, error) {
	if rest == "" {
		return before, errors.New("name all rings, in reading order, such as rings GN BU RD GD")
	}
	var row []decode.Colour
	for _, word := range strings.FieldsFunc(rest, func(r rune) bool { return strings.ContainsRune(" ,;-/", r) }) {
		colour, err := decode.ParseColour(word)
		if err != nil {
			return before, err
		}
		row = append(row, colour)
	}
	_, err := decode.Readings(row)
	turned := err != nil && meansSomething(reversed(row))
	switch {
	case turned:
		row = reversed(row)
	case err != nil:
		return before, err
	}
	next := before
	next.row, next.turned, next.hand, next.taken, next.known = row, turned, nil, nil, decode.Known{}
	return next, nil
}

func reversed(row []decode.Colour) []decode.Colour {
	back := slices.Clone(row)
	slices.Reverse(back)
	return back
}

// meansSomething tells whether the rings have a meaning in the order given.
func meansSomething(row []decode.Colour) bool {
	_, err := decode.Readings(row)
	return err == nil
}

// mostRings is the most rings a person can put on a part: one more than any
// code has, for one may have to go.
const mostRings = 7

// addRing puts a ring after another.
func addRing(p Part, before said, rest string) (said, error) {
	place, name, _ := strings.Cut(rest, " ")
	after, err := strconv.Atoi(place)
	if err != nil {
		return before, errors.New("name the ring before the new one, and its colour, such as add 2 RD")
	}
	colour, err := decode.ParseColour(name)
	if err != nil {
		return before, err
	}
	next := before
	if before.row != nil {
		if after < 0 || after > len(before.row) || len(before.row) >= mostRings {
			return before, fmt.Errorf("no ring can be added after ring %d: there are %d", after, len(before.row))
		}
		next.row = slices.Insert(slices.Clone(before.row), after, colour)
		return next, nil
	}
	k, ok := p.pinned(before, p.judge(before))
	if !ok {
		return before, errNoRings
	}
	if after < 0 || after > len(k.Rings) || len(k.Rings) >= mostRings {
		return before, fmt.Errorf("no ring can be added after ring %d: there are %d", after, len(k.Rings))
	}
	if k.From == decode.RightEnd {
		after = len(k.Rings) - after
	}
	low, high, width := 0.0, 1.0, 0.05
	if after > 0 {
		low, width = k.Rings[after-1].Centre, k.Rings[after-1].Width
	}
	if after < len(k.Rings) {
		high, width = k.Rings[after].Centre, k.Rings[after].Width
	}
	k.Rings = slices.Insert(k.Rings, after, decode.KnownRing{Centre: (low + high) / 2, Width: width, Colour: colour, Sure: true})
	next.known, next.taken = k, nil
	return next, nil
}

// dropRing takes a ring away.
func dropRing(p Part, before said, rest string) (said, error) {
	if rest == "" {
		return before, errors.New("name the number of the ring that is none, such as drop 2")
	}
	next := before
	if before.row != nil {
		i, err := ringAt(rest, len(before.row))
		if err != nil {
			return before, err
		}
		next.row = slices.Delete(slices.Clone(before.row), i, i+1)
		return next, nil
	}
	k, ok := p.pinned(before, p.judge(before))
	if !ok {
		return before, errNoRings
	}
	i, err := ringAt(rest, len(k.Rings))
	if err != nil {
		return before, err
	}
	i = stripIndex(k, i)
	k.Rings = slices.Delete(k.Rings, i, i+1)
	next.known, next.taken = k, nil
	return next, nil
}

// giveValue enters a value by hand, with or without a tolerance in percent or
// as a letter.
func giveValue(_ Part, before said, rest string) (said, error) {
	fields := strings.Fields(rest)
	if len(fields) == 0 {
		return before, errors.New("name a value, and its tolerance in percent if it is known, such as value 5k6 5")
	}
	reading, err := parseHand(fields)
	if err != nil {
		return before, err
	}
	next := before
	next.hand, next.row, next.taken, next.known = &reading, nil, nil, decode.Known{}
	return next, nil
}

// parseHand reads "5k6", "GN BU RD GD", "5k6 5", "5.6 kΩ 5 %" or "5K6J".
func parseHand(fields []string) (decode.Reading, error) {
	text := strings.Join(fields, " ")
	v, whole := network.ParseValue(text)
	if whole == nil {
		return v.Reading(), nil
	}
	text = strings.TrimSpace(strings.TrimSuffix(text, "%"))
	at := strings.LastIndexAny(text, " ±")
	if at < 0 {
		return decode.Reading{}, whole
	}
	ohms, err := decode.ParseOhms(strings.TrimSuffix(text[:at], "±"))
	if err != nil {
		return decode.Reading{}, whole
	}
	last := strings.TrimPrefix(strings.TrimSpace(text[at:]), "±")
	percent, err := decode.ToleranceOfLetter(last)
	if err != nil {
		percent, err = decimal.NewFromString(strings.Replace(last, ",", ".", 1))
	}
	if err != nil || !percent.IsPositive() || percent.GreaterThan(decimal.New(100, 0)) {
		return decode.Reading{}, fmt.Errorf("%q is no tolerance: use percent above 0, or a letter", shorten(last))
	}
	return decode.Reading{Ohms: ohms, TolerancePercent: decimal.NewNullDecimal(percent)}, nil
}

// measure takes what the meter shows.
func measure(_ Part, before said, rest string) (said, error) {
	next := before
	switch strings.ToLower(rest) {
	case "":
		return before, errors.New("name what the meter shows, such as m 5.58k")
	case "off":
		next.shown = ""
		return next, nil
	case "ol", "open":
		return before, errors.New("an open reading: the part is broken, the leads do not touch, or the range is too small; measure again, or answer not or skip")
	}
	next.shown, next.inCircuit = strings.CutSuffix(rest, " in")
	_, err := next.meter.Shows(next.shown)
	return next, err
}

// giveAccuracy takes the meter's accuracy, in percent and counts.
func giveAccuracy(_ Part, before said, rest string) (said, error) {
	wrong := errors.New("name the meter's accuracy in percent and counts, such as accuracy 0.8 5")
	fields := strings.Fields(rest)
	if len(fields) != 2 {
		return before, wrong
	}
	percent, err := decimal.NewFromString(strings.TrimSuffix(strings.Replace(fields[0], ",", ".", 1), "%"))
	counts, e := strconv.ParseInt(fields[1], 10, 64)
	if err != nil || e != nil || percent.IsNegative() || percent.GreaterThan(decimal.New(100, 0)) || counts < 0 || counts > 10_000 {
		return before, wrong
	}
	next := before
	next.meter, next.accuracy = decode.Meter{Percent: percent, Counts: counts, Ohms: before.meter.Ohms}, true
	return next, nil
}

func giveKind(_ Part, before said, rest string) (said, error) {
	if rest == "" {
		return before, errors.New("name the kind, such as kind metal film, or kind unknown to take it back")
	}
	kind, err := decode.ParseKind(rest)
	next := before
	next.facts.Kind, next.facts.KindBasis = kind, basis(kind != decode.KindUnknown)
	return next, err
}

func giveSize(_ Part, before said, rest string) (said, error) {
	switch strings.ToLower(rest) {
	case "":
		return before, errors.New("name the size, such as size 0207 or size 6.3 x 2.3, or size unknown to take it back")
	case "unknown":
		rest = ""
	}
	size, err := stock.ParseSize(rest)
	next := before
	next.facts.Size, next.facts.SizeBasis = size, basis(size != "")
	return next, err
}

func giveRating(_ Part, before said, rest string) (said, error) {
	text := strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(strings.ToLower(rest), "watts"), "w"))
	watts, err := decimal.NewFromString(strings.Replace(text, ",", ".", 1))
	if above, below, ok := strings.Cut(text, "/"); ok {
		watts, err = fraction(above, below)
	}
	if err != nil || !watts.IsPositive() {
		return before, fmt.Errorf("%q is no power rating: use watts, such as 0.25 or 1/4", shorten(rest))
	}
	next := before
	next.facts.RatingWatts, next.facts.RatingBasis = decimal.NewNullDecimal(watts), stock.Said
	return next, nil
}

// fraction reads "1/4" and the like, as ratings are printed.
func fraction(above, below string) (decimal.Decimal, error) {
	a, err := strconv.Atoi(above)
	if err != nil {
		return decimal.Decimal{}, err
	}
	b, err := strconv.Atoi(below)
	if err != nil || !slices.Contains([]int{2, 4, 8, 16}, b) {
		return decimal.Decimal{}, errors.New("no such fraction")
	}
	return decimal.New(int64(a), 0).Div(decimal.New(int64(b), 0)), nil
}

func giveCount(_ Part, before said, rest string) (said, error) {
	n, err := strconv.Atoi(rest)
	if err != nil || n < 1 {
		return before, fmt.Errorf("%q is no count: use 1 or more", shorten(rest))
	}
	next := before
	next.facts.Count = n
	return next, nil
}

func giveNote(_ Part, before said, rest string) (said, error) {
	if rest == "" {
		return before, errors.New("write the note behind it, such as note from the green set, or note off to take it back")
	}
	next := before
	next.facts.Note = rest
	if strings.EqualFold(rest, "off") {
		next.facts.Note = ""
	}
	return next, nil
}

func giveAge(_ Part, before said, rest string) (said, error) {
	next := before
	switch strings.ToLower(rest) {
	case "old":
		next.age = decode.Old
	case "new":
		next.age = decode.New
	case "unknown":
		next.age = decode.AgeUnknown
	default:
		return before, errors.New("the age is old, new or unknown")
	}
	return next, nil
}

func basis(known bool) stock.Basis {
	if known {
		return stock.Said
	}
	return stock.Unknown
}

// shorten cuts text that goes into a message.
func shorten(text string) string {
	const most = 40
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}
