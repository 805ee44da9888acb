package network

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// A Need is what a place in a circuit asks for.
type Need struct {
	// Value is the resistance wanted. Its tolerance is what the circuit
	// bears, either side; null for an ordinary place, of which nothing more
	// is known, or for the very value in place of a special kind.
	Value Value `json:"value"`
	// OwnTolerance says that the tolerance of Value is that of the part replaced,
	// and nobody named what the circuit bears. An ordinary place is then taken to
	// bear it; a special kind is replaced by its very value all the same.
	OwnTolerance bool `json:"own_tolerance,omitempty"`
	// RatedWatts is the power rating asked for, such as that of the part
	// replaced; 0 if unknown.
	RatedWatts float64 `json:"rated_watts,omitempty"`
	// Volts is the most that lies across the part; 0 if unknown.
	Volts float64 `json:"volts,omitempty"`
	// Kind is that of the part replaced, decode.KindOrdinary if the person says that
	// it was none of the special kinds; empty if unknown.
	Kind decode.Kind `json:"kind,omitempty"`
	// TempcoPPM is the temperature coefficient asked for; nil for any.
	TempcoPPM *int `json:"tempco_ppm,omitempty"`
}

// Operation is what the place puts on a part, as far as the voltage tells.
func (n Need) Operation() Operation {
	if n.Value.Ohms.IsZero() {
		return Operation{Volts: n.Volts}
	}
	return Operation{Ohms: n.Value.ohms(), Volts: n.Volts, Watts: n.heatIn(n.Value)}
}

// heatIn is the power in watts that the voltage of the place makes in a
// resistance (U²/R); 0 where no voltage is named, and for a link.
func (n Need) heatIn(v Value) float64 {
	if !v.Ohms.IsPositive() {
		return 0
	}
	return n.Volts * n.Volts / v.ohms()
}

// ordinaryServes and ordinaryMay are how far off an ordinary place bears a
// part, in percent: up to the first it serves, up to the second it usually
// does. Common practice, no source.
var ordinaryServes, ordinaryMay = decimal.New(10, 0), decimal.New(20, 0)

// An Answer says whether a part may stand in.
type Answer string

// The answers, best first.
const (
	Yes    Answer = "yes"
	OnlyIf Answer = "only if"
	No     Answer = "no"
)

// rank orders the answers, best first.
func (a Answer) rank() int { return slices.Index([]Answer{Yes, OnlyIf, No}, a) }

// A StandIn is the answer for one part.
type StandIn struct {
	Part   Part   `json:"part"`
	Answer Answer `json:"answer"`
	// ErrorPercent is how far the marked value lies from the one wanted;
	// LowPercent and HighPercent are its farthest ends by its own tolerance.
	ErrorPercent float64 `json:"error_percent"`
	LowPercent   float64 `json:"low_percent"`
	HighPercent  float64 `json:"high_percent"`
	// Conditions must all be met if the answer is OnlyIf; Reasons say why it
	// is No. Arithmetic writes out how the values compare.
	Conditions []string `json:"conditions"`
	Reasons    []string `json:"reasons"`
	Arithmetic []string `json:"arithmetic"`
}

// A verdict gathers what speaks against a part.
type verdict struct{ conditions, reasons []string }

func (v *verdict) onlyIf(format string, args ...any) {
	v.conditions = append(v.conditions, fmt.Sprintf(format, args...))
}

func (v *verdict) no(format string, args ...any) {
	v.reasons = append(v.reasons, fmt.Sprintf(format, args...))
}

// Check refuses a need that makes no sense.
func (n Need) Check() error {
	if n.Value.Ohms.IsNegative() {
		return fmt.Errorf("the value wanted is %s: it must not be below zero", n.Value)
	}
	if !n.Value.Ohms.IsZero() {
		if err := checkValue("the value wanted", n.Value); err != nil {
			return err
		}
	}
	if !isAmountOrNone(n.RatedWatts) {
		return errAboveZero("the power rating asked for")
	}
	if !isAmountOrNone(n.Volts) {
		return errAboveZero("the voltage asked for")
	}
	return nil
}

// MayStandIn says whether a part may stand in for what is needed. The answer
// is Yes only if the value fits at the worst of the part's tolerance, or at all
// that the meter allows for where it was measured; its kind
// and rating are known, and so are those asked for. It returns an error if the
// need makes no sense.
func MayStandIn(need Need, part Part) (StandIn, error) {
	if err := need.Check(); err != nil {
		return StandIn{}, err
	}
	s := StandIn{Part: part}
	v := &verdict{conditions: []string{}, reasons: []string{}}
	if need.Value.Ohms.IsZero() || !part.Value.Ohms.IsPositive() {
		s.linkVerdict(need, v)
	} else {
		s.valueVerdict(need, v)
		s.ratingVerdict(need, v)
	}
	kindVerdict(need.Kind, part.Kind, v)
	tempcoVerdict(need, part, v)
	s.Conditions, s.Reasons, s.Answer = v.conditions, v.reasons, Yes
	switch {
	case len(v.reasons) > 0:
		s.Answer = No
	case len(v.conditions) > 0:
		s.Answer = OnlyIf
	}
	return s, nil
}

// linkVerdict weighs zero-ohm links. Where a link is wanted, a resistor has no
// error in percent.
func (s *StandIn) linkVerdict(need Need, v *verdict) {
	part := s.Part
	switch {
	case need.Value.Ohms.IsZero() && part.Value.Ohms.IsZero():
		v.onlyIf("the link carries the current that flows there")
	case part.Value.Ohms.IsZero():
		s.ErrorPercent, s.LowPercent, s.HighPercent = -100, -100, -100
		v.no("a zero-ohm link is no resistor: it would join what %s keeps apart", need.Value)
	case need.Value.Ohms.IsZero():
		v.no("a link is wanted, and %s is in the way of the current", part.Value)
	default:
		v.no("its value of %s makes no sense", part.Value)
	}
	s.Arithmetic = []string{fmt.Sprintf("wanted: %s; this one: %s", need.Value, part.Value)}
}

// valueVerdict weighs the value at both ends of the part's tolerance.
func (s *StandIn) valueVerdict(need Need, v *verdict) {
	want, have := need.Value, s.Part.Value
	off := func(ohms decimal.Decimal) decimal.Decimal {
		return ohms.Sub(want.Ohms).Shift(2).DivRound(want.Ohms, 12)
	}
	nominal, low, high := off(have.Ohms), off(have.Low().Ohms), off(have.High().Ohms)
	s.ErrorPercent, s.LowPercent, s.HighPercent = nominal.InexactFloat64(), low.InexactFloat64(), high.InexactFloat64()

	limit := want
	switch {
	case need.exact():
		s.Arithmetic = append(s.Arithmetic, fmt.Sprintf("wanted: %s, %s: its very value, since what the circuit bears was not named", want, need.Kind))
	case !want.TolerancePercent.Valid:
		limit.TolerancePercent = decimal.NewNullDecimal(ordinaryMay)
		s.Arithmetic = append(s.Arithmetic, fmt.Sprintf("wanted: %s in an ordinary place, where within 10 to 20 %% usually serves (common practice): ±20 %% is %s to %s",
			want, limit.Low(), limit.High()))
	default:
		s.Arithmetic = append(s.Arithmetic, fmt.Sprintf("wanted: %s, that is %s to %s", want, want.Low(), want.High()))
	}
	if have.TolerancePercent.Valid {
		s.Arithmetic = append(s.Arithmetic, fmt.Sprintf("this one: %s, that is %s to %s", have, have.Low(), have.High()))
	} else {
		s.Arithmetic = append(s.Arithmetic, fmt.Sprintf("this one: %s, tolerance unknown", have))
	}
	bound := limit.TolerancePercent.Decimal
	offText := func(percent float64) string { return FormatOffFrom(percent, bound.InexactFloat64()) }
	s.Arithmetic = append(s.Arithmetic, fmt.Sprintf("marked value: %s", offText(s.ErrorPercent)))
	if need.exact() {
		s.exactVerdict(need, v)
		return
	}
	if s.Part.Measured != nil {
		s.measuredVerdict(off, limit, !want.TolerancePercent.Valid, v)
		return
	}
	if have.TolerancePercent.Valid && !have.TolerancePercent.Decimal.IsZero() {
		s.Arithmetic = append(s.Arithmetic, fmt.Sprintf("ends of its tolerance: %s to %s", offText(s.LowPercent), offText(s.HighPercent)))
	}
	switch {
	case !isWithin(nominal, bound):
		v.no("its value is %s, and the circuit bears %s %%", offText(s.ErrorPercent), bound)
		return
	case !have.TolerancePercent.Valid:
		v.onlyIf("it is measured and lies between %s and %s", limit.Low(), limit.High())
		low, high = bound.Neg(), bound // as far as it may then be off
	case !isWithin(low, bound) || !isWithin(high, bound):
		v.onlyIf("it is measured and lies between %s and %s", limit.Low(), limit.High())
	}
	if !want.TolerancePercent.Valid {
		ordinaryVerdict(low, high, v)
	}
}

// exact reports whether the place takes the very value only: one of a special kind
// of which nobody said how far off it may be.
func (n Need) exact() bool {
	return n.Kind.Special() && (n.OwnTolerance || !n.Value.TolerancePercent.Valid)
}

// exactVerdict weighs the value where only the very value will do.
func (s *StandIn) exactVerdict(need Need, v *verdict) {
	have, own := s.Part.Value.TolerancePercent, need.Value.TolerancePercent
	switch {
	case s.ErrorPercent != 0:
		v.no("its value is %s, and a %s part is replaced by its very value unless a tolerance is named", FormatOff(s.ErrorPercent), need.Kind)
		return
	case own.Valid && !have.Valid:
		v.onlyIf("its tolerance, which is unknown, is ±%s %% or closer", own.Decimal)
	case own.Valid && have.Decimal.GreaterThan(own.Decimal):
		v.no("its tolerance of ±%s %% is wider than the ±%s %% of the part replaced", have.Decimal, own.Decimal)
	case own.Valid:
		// As close as that of the part replaced.
	case have.Valid:
		v.onlyIf("the tolerance of the part replaced is ±%s %% or wider", have.Decimal)
	default:
		v.onlyIf("its tolerance, which is unknown, is no wider than that of the part replaced")
	}
	s.soundVerdict(v)
}

// soundVerdict doubts a part that measures outside what is marked on it.
func (s *StandIn) soundVerdict(v *verdict) {
	m, have := s.Part.Measured, s.Part.Value
	if m != nil && have.TolerancePercent.Valid && (m.Low.Ohms.GreaterThan(have.High().Ohms) || m.High.Ohms.LessThan(have.Low().Ohms)) {
		v.onlyIf("it is sound: it measures outside the tolerance marked on it")
	}
}

// isWithin reports whether something is off by no more than a bound, in percent.
func isWithin(off, bound decimal.Decimal) bool { return off.Abs().LessThanOrEqual(bound) }

// ordinaryVerdict asks for more where a part may be off by more than what serves
// in any ordinary place.
func ordinaryVerdict(low, high decimal.Decimal, v *verdict) {
	if !isWithin(low, ordinaryServes) || !isWithin(high, ordinaryServes) {
		v.onlyIf("the place is not critical: no timing, tuning, feedback, bias or measuring hangs on it")
	}
}

// measuredVerdict weighs a part that was measured: what it has is surer than
// what is marked on it.
func (s *StandIn) measuredVerdict(off func(decimal.Decimal) decimal.Decimal, limit Value, ordinary bool, v *verdict) {
	m, bound := *s.Part.Measured, limit.TolerancePercent.Decimal
	low, high := off(m.Low.Ohms), off(m.High.Ohms)
	s.LowPercent, s.HighPercent = low.InexactFloat64(), high.InexactFloat64()
	offText := func(percent float64) string { return FormatOffFrom(percent, bound.InexactFloat64()) }
	s.Arithmetic = append(s.Arithmetic, fmt.Sprintf("measured: %s to %s, %s to %s", m.Low, m.High, offText(s.LowPercent), offText(s.HighPercent)))
	switch {
	case low.GreaterThan(bound) || high.LessThan(bound.Neg()):
		v.no("it measures %s to %s, and the circuit bears %s %%", m.Low, m.High, bound)
		return
	case !isWithin(low, bound) || !isWithin(high, bound):
		v.onlyIf("a more exact meter shows it between %s and %s", limit.Low(), limit.High())
	}
	s.soundVerdict(v)
	if ordinary {
		ordinaryVerdict(low, high, v)
	}
}

// ratingVerdict weighs power and voltage. A rating is never lowered, and where
// the voltage is known it must bear the heat of it: with the usual margin, but for
// a known rating no less than the one asked for, which says what the place bears.
func (s *StandIn) ratingVerdict(need Need, v *verdict) {
	part, volts := s.Part, FormatQuantity(need.Volts, Volt)
	power := need.heatIn(part.Value)
	usual := UsualMargin * power
	heat := heatText(power, need.Volts)
	if power > 0 {
		s.Arithmetic = append(s.Arithmetic, fmt.Sprintf("with %s across it, it bears %s (U²/R)", volts, FormatQuantity(power, Watt)))
	}
	if part.RatedWatts > 0 && part.RatingEstimated {
		v.onlyIf("its power rating, estimated at %s, holds", FormatRating(part.RatedWatts))
	}
	switch rated := part.RatedWatts; {
	case tooWeak(rated, need.RatedWatts, 1):
		v.no("its power rating of %s is below the %s asked for", FormatRating(rated), FormatRating(need.RatedWatts))
	case tooWeak(rated, usual, 1) && need.RatedWatts == 0:
		v.no("its power rating of %s is below the %s needed (%s)", FormatRating(rated), FormatRating(roundUp(usual)), heat)
	case tooWeak(rated, usual, 1):
		v.onlyIf("its power rating of %s is enough, as that of the part replaced was: %s is usual (%s)", FormatRating(rated), FormatRating(roundUp(usual)), heat)
	case rated > 0 && need.RatedWatts == 0:
		v.onlyIf("the place asks for no more than its power rating of %s", FormatRating(rated))
	case rated > 0:
		// Enough.
	case usual > need.RatedWatts:
		v.onlyIf("its power rating, which is unknown, is %s or more (%s)", FormatRating(roundUp(usual)), heat)
	case need.RatedWatts > 0:
		v.onlyIf("its power rating, which is unknown, is %s or more", FormatRating(need.RatedWatts))
	default:
		v.onlyIf("its power rating, which is unknown, is enough for the place (1/4 or 1/2 W is usual where none is given: common practice)")
	}
	if need.Volts > 0 {
		switch most := part.MostVolts(); {
		case tooHigh(need.Volts, most):
			v.no("it bears %s at most, and %s lie across it", FormatQuantity(most, Volt), volts)
		case part.LimitVolts == 0:
			v.onlyIf("its limiting element voltage, which is unknown, is %s or more", volts)
		}
	}
}

// kindVerdict weighs what the parts are made of and for.
func kindVerdict(need, have decode.Kind, v *verdict) {
	switch {
	case need.Special() && have == decode.KindUnknown:
		v.onlyIf("it is %s too, with the same data: %s", need, need.WhySpecial())
	case need.Special() && have != need:
		v.no("the part replaced is %s, and this one is %s: %s", need, have, need.WhySpecial())
	case need.Special():
		v.onlyIf("its data are those of the part replaced: %s", need.WhySpecial())
	case have.Special():
		v.no("it is no ordinary part: %s", have.WhySpecial())
	default:
		if have == decode.KindUnknown {
			v.onlyIf("it is an ordinary part, not %s", specialNames())
		}
		if need == decode.KindUnknown {
			v.onlyIf("the place calls for an ordinary part, not %s", specialNames())
		}
		if need == decode.KindComposition && have != decode.KindComposition && have != decode.KindUnknown {
			v.onlyIf("the place has no surges, which composition parts bear better than films")
		}
	}
}

func specialNames() string {
	return "wire-wound, fusible, flameproof, high-voltage or a safety part"
}

// tempcoVerdict weighs the temperature coefficients.
func tempcoVerdict(need Need, part Part, v *verdict) {
	switch {
	case need.TempcoPPM == nil:
	case part.TempcoPPM == nil:
		v.onlyIf("its temperature coefficient, which is unknown, is %d ppm/K or less", *need.TempcoPPM)
	case *part.TempcoPPM > *need.TempcoPPM:
		v.no("its temperature coefficient of %d ppm/K is above the %d asked for", *part.TempcoPPM, *need.TempcoPPM)
	}
}

// RankStandIns answers for every part that there is at least one of and sorts:
// yes before only if before no; then by how far the marked value is off, the
// tighter tolerance, the fewer conditions.
func RankStandIns(need Need, parts []Part) ([]StandIn, error) {
	if err := need.Check(); err != nil {
		return nil, err
	}
	var list []StandIn
	for _, part := range parts {
		if !part.enough(1) {
			continue
		}
		s, err := MayStandIn(need, part)
		if err != nil {
			return nil, err
		}
		list = append(list, s)
	}
	slices.SortStableFunc(list, compareStandIns)
	return list, nil
}

func compareStandIns(a, b StandIn) int {
	return cmp.Or(
		cmp.Compare(a.Answer.rank(), b.Answer.rank()),
		cmp.Compare(math.Abs(a.ErrorPercent), math.Abs(b.ErrorPercent)),
		cmp.Compare(tolerance(a.Part), tolerance(b.Part)),
		cmp.Compare(len(a.Conditions), len(b.Conditions)),
	)
}

// FarOff is how far off a part may be, in percent, to be worth showing though it
// may not stand in.
const FarOff = 20

// WorthShowing drops, of ranked parts, those that are far from the value, but for
// the nearest if all are, and all beyond the first so many.
func WorthShowing(need Need, list []StandIn, most int) []StandIn {
	near := slices.DeleteFunc(slices.Clone(list), func(s StandIn) bool {
		return s.Answer == No && (need.Value.Ohms.IsZero() || math.Abs(s.ErrorPercent) > FarOff)
	})
	if len(near) == 0 && !need.Value.Ohms.IsZero() {
		return list[:min(1, len(list))]
	}
	return near[:min(most, len(near))]
}
