package network

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// A DividerQuestion asks for two parts that divide a voltage: the upper from
// the source to the output, the lower from the output to the common end.
type DividerQuestion struct {
	// InVolts is the voltage of the source without a load, OutVolts the one
	// wanted. Ratio, output to input, may be given in their place: above 0,
	// below 1.
	InVolts  float64 `json:"in_volts,omitempty"`
	OutVolts float64 `json:"out_volts,omitempty"`
	Ratio    float64 `json:"ratio,omitempty"`
	// SourceOhms is the source's own resistance, 0 for none. LoadOhms is
	// that of the load from the output to the common end, 0 for no load.
	SourceOhms float64 `json:"source_ohms,omitempty"`
	LoadOhms   float64 `json:"load_ohms,omitempty"`
	// LeastAmps and MostAmps bound the current from the source, at the worst
	// of the tolerances; 0 for no bound. They need InVolts.
	LeastAmps float64 `json:"least_amps,omitempty"`
	MostAmps  float64 `json:"most_amps,omitempty"`
	// Best is how many pairs to return, up to 50; 0 for 3.
	Best int `json:"best,omitempty"`
	// Margin is how many times a part's power its rating is to be at the least;
	// 0 for UsualMargin.
	Margin float64 `json:"margin,omitempty"`
}

// Where no most current is given, these keep answers sensible. Judged, no
// source.
const (
	// usualDividerWatts is the most power in source, parts and load together.
	usualDividerWatts = 0.125
	// usualDividerOhms is the least resistance of upper and lower together
	// where the voltage is unknown.
	usualDividerOhms = 1e3
)

// Dividers are the pairs nearest to the ratio wanted.
type Dividers struct {
	Ratio   float64   `json:"ratio"` // wanted
	Best    []Divider `json:"best"`  // nearest first
	Notes   []string  `json:"notes"` // what was taken for granted
	LeftOut []LeftOut `json:"left_out"`
}

// A Divider is one pair and what it does.
type Divider struct {
	Upper Arm `json:"upper"`
	Lower Arm `json:"lower"`
	// Ratio is output to input with source and load as asked; ErrorPercent
	// is how far it is off the one wanted, in percent of that.
	Ratio        float64 `json:"ratio"`
	ErrorPercent float64 `json:"error_percent"`
	// LowPercent and HighPercent are the farthest corners of the tolerances
	// off the ratio wanted. Corners holds all four.
	LowPercent  float64  `json:"low_percent"`
	HighPercent float64  `json:"high_percent"`
	Corners     []Corner `json:"corners"`
	// The voltages and currents are 0 if the source's voltage is unknown.
	OutVolts  float64 `json:"out_volts"`
	LowVolts  float64 `json:"low_volts"`
	HighVolts float64 `json:"high_volts"`
	Amps      float64 `json:"amps"`      // from the source
	LoadAmps  float64 `json:"load_amps"` // through the load
	// Output is the resistance that the load sees: upper and source beside
	// lower (Thévenin).
	Output Value `json:"output"`
	// Answer is OnlyIf where the kind or rating of a part is unknown, or its
	// limiting element voltage where that matters, No where a part is overloaded.
	Answer     Answer   `json:"answer"`
	Conditions []string `json:"conditions"`
	Cautions   []string `json:"cautions"`
}

// An Arm is one part of a divider and what it bears.
type Arm struct {
	Part Part `json:"part"`
	// Volts and Watts hold at the marked values, MostVolts and MostWatts at the worst of
	// the tolerances; 0 if the source's voltage is unknown.
	Volts     float64 `json:"volts"`
	Watts     float64 `json:"watts"`
	MostVolts float64 `json:"most_volts"`
	MostWatts float64 `json:"most_watts"`
	Within    Answer  `json:"within,omitempty"` // as in Load
}

// A Corner is a divider with each part at an end of its tolerance.
type Corner struct {
	UpperHigh bool    `json:"upper_high"` // the upper part is at its most, else at its least
	LowerHigh bool    `json:"lower_high"`
	Ratio     float64 `json:"ratio"`
	OutVolts  float64 `json:"out_volts"`
}

// Check refuses a question that makes no sense.
func (q DividerQuestion) Check() error {
	for _, x := range []struct {
		name   string
		amount float64
	}{
		{"the input voltage", q.InVolts}, {"the output voltage", q.OutVolts}, {"the ratio", q.Ratio},
		{"the source resistance", q.SourceOhms}, {"the load resistance", q.LoadOhms},
		{"the least current", q.LeastAmps}, {"the most current", q.MostAmps},
	} {
		if !isAmountOrNone(x.amount) {
			return errAboveZero(x.name)
		}
	}
	switch {
	case q.Ratio > 0 && q.OutVolts > 0:
		return fmt.Errorf("ratio and output voltage are both given: give one")
	case q.Ratio == 0 && (q.InVolts == 0 || q.OutVolts == 0):
		return fmt.Errorf("a divider needs an input and an output voltage, or a ratio")
	case q.Ratio == 0 && q.OutVolts >= q.InVolts:
		return fmt.Errorf("an output of %s from %s is out of reach: a divider only lowers a voltage", FormatQuantity(q.OutVolts, Volt), FormatQuantity(q.InVolts, Volt))
	case q.Ratio >= 1:
		return fmt.Errorf("a ratio of %g is out of reach: a divider only lowers a voltage, so give a ratio below 1", q.Ratio)
	case (q.LeastAmps > 0 || q.MostAmps > 0) && q.InVolts == 0:
		return fmt.Errorf("limits of current need the input voltage")
	case q.MostAmps > 0 && q.LeastAmps > q.MostAmps:
		return fmt.Errorf("the least current of %s is above the most, %s", FormatQuantity(q.LeastAmps, Ampere), FormatQuantity(q.MostAmps, Ampere))
	case q.Best < 0 || q.Best > mostBest:
		return fmt.Errorf("the best %d are out of range: use 1 to %d", q.Best, mostBest)
	}
	_, err := marginOf(q.Margin)
	return err
}

// wanted is the ratio asked for.
func (q DividerQuestion) wanted() float64 {
	if q.Ratio > 0 {
		return q.Ratio
	}
	return q.OutVolts / q.InVolts
}

// loaded is the resistance of the lower part with the load beside it.
func (q DividerQuestion) loaded(lower float64) float64 {
	if q.LoadOhms == 0 {
		return lower
	}
	return side(lower, q.LoadOhms)
}

// ratio is output to input with such parts.
func (q DividerQuestion) ratio(upper, lower float64) float64 {
	below := q.loaded(lower)
	return below / (q.SourceOhms + upper + below)
}

// total is the resistance that the source sees.
func (q DividerQuestion) total(upper, lower float64) float64 {
	return q.SourceOhms + upper + q.loaded(lower)
}

// Divide finds the pairs of parts whose ratio, with source and load, is nearest
// to the one wanted: no pair within the limits of current is nearer than the
// first. Of equally near pairs the one whose current is nearest to 1 mA comes
// first, or whose resistance is nearest to 20 kΩ if the voltage is unknown
// (judged, no source), and pairs that only differ by a power of ten are named
// once. Pairs that overload a part, with the margin, come last. Links and parts of special kinds
// are left out.
//
// It returns an error if the question makes no sense, there are no parts, or no
// pair keeps within the limits.
func Divide(q DividerQuestion, parts []Part) (Dividers, error) {
	if err := q.Check(); err != nil {
		return Dividers{}, err
	}
	q.Best, q.Margin = cmp.Or(q.Best, 3), cmp.Or(q.Margin, UsualMargin)
	use, left := usable(parts)
	out := Dividers{Ratio: q.wanted(), Best: []Divider{}, Notes: []string{}, LeftOut: append([]LeftOut{}, left...)}
	if len(use) == 0 {
		return Dividers{}, errNoParts
	}
	shelf := newShelf(use)
	if len(shelf.values) > MostValues {
		return Dividers{}, fmt.Errorf("%d different values are too many to search: narrow their range to at most %d", len(shelf.values), MostValues)
	}
	least, most := 0.0, math.Inf(1) // of what the source sees, in ohms
	switch {
	case q.MostAmps > 0:
		least = q.InVolts / q.MostAmps
	case q.InVolts > 0:
		least = q.InVolts * q.InVolts / usualDividerWatts
		out.Notes = append(out.Notes, fmt.Sprintf("No most current was given: %s is taken, which is %s from the source.",
			FormatQuantity(q.InVolts/least, Ampere), FormatQuantity(usualDividerWatts, Watt)))
	default:
		least = usualDividerOhms + q.SourceOhms
		out.Notes = append(out.Notes, "No voltage was given: what the source sees is kept at 1 kΩ or more, and no powers are worked out.")
	}
	if q.LeastAmps > 0 {
		most = q.InVolts / q.LeastAmps
	}
	if err := q.reachable(least, most); err != nil {
		return Dividers{}, err
	}

	pairs := q.pairs(shelf, least, most)
	if len(pairs) == 0 {
		return Dividers{}, fmt.Errorf("no pair of the parts keeps within the limits of current, where the source must see %s: allow other currents or other parts", rangeText(least, most))
	}
	for _, p := range pairs {
		chosen := shelf.take([]int{p.upper, p.lower})
		out.Best = append(out.Best, q.divider(chosen[0], chosen[1]))
	}
	slices.SortStableFunc(out.Best, func(a, b Divider) int { return cmp.Compare(overloadsPair(a), overloadsPair(b)) })
	out.Best = oncePerDecade(out.Best)
	out.Best = out.Best[:min(q.Best, len(out.Best))]
	return out, nil
}

// reachable refuses what no pair can do: the source is to see at least and at most
// so many ohms.
func (q DividerQuestion) reachable(least, most float64) error {
	mostAmps := FormatQuantity(q.InVolts/least, Ampere)
	behind := q.SourceOhms / (1 - q.wanted()) // so many ohms at the least, or the source alone lowers too far
	switch needs := q.wanted() * max(least, behind); {
	case most < behind:
		return fmt.Errorf("behind a source of %s no pair gives that ratio at %s or more: allow less current, or take a source of less than %s",
			About(q.SourceOhms), FormatQuantity(q.LeastAmps, Ampere), About(most*(1-q.wanted())).Rounded(4))
	case most < least:
		return fmt.Errorf("the least current of %s is above the %s that are taken as the most: give the most current too", FormatQuantity(q.LeastAmps, Ampere), mostAmps)
	case q.LoadOhms == 0 || q.LoadOhms > needs:
		return nil
	case behind >= least && q.LoadOhms/(q.LoadOhms+q.SourceOhms) > q.wanted()*(1-FarOff/100.0):
		return nil // the nearest is worth showing
	case behind >= least:
		return fmt.Errorf("a source of %s and a load of %s alone give less than that ratio: take a load of more than %s, or a source of less than %s",
			About(q.SourceOhms), About(q.LoadOhms), About(needs).Rounded(4), About(q.LoadOhms*(1/q.wanted()-1)).Rounded(4))
	case q.InVolts == 0:
		return fmt.Errorf("beside a load of %s no pair gives that ratio with the %s or more that the source is to see: give the voltages and the most current, or take a load of more than %s",
			About(q.LoadOhms), About(least), About(needs))
	default:
		return fmt.Errorf("the load alone takes %s at %s, and %s is the most that the source is to give: allow more current, or take a load of more than %s; a divider is no supply",
			FormatQuantity(q.wanted()*q.InVolts/q.LoadOhms, Ampere), FormatQuantity(q.wanted()*q.InVolts, Volt), mostAmps, About(needs).Rounded(4))
	}
}

// upperVolts is what lies across the upper part with such parts.
func (q DividerQuestion) upperVolts(upper, lower float64) float64 {
	return q.InVolts / q.total(upper, lower) * upper
}

// rangeText names a range of resistance whose upper end may be endless.
func rangeText(least, most float64) string {
	if math.IsInf(most, 1) {
		return About(least).String() + " or more"
	}
	return fmt.Sprintf("%s to %s", About(least), About(most))
}

func overloadsPair(d Divider) int {
	if d.Answer == No {
		return 1
	}
	return 0
}

// A pairing is two ranks of values and how well they suit.
type pairing struct {
	off          float64 // how far off the ratio, in steps of 1e-12 of it
	unusual      float64 // how far off the usual size, as a logarithm
	upper, lower int
}

// pairs lists the nearest pairs that keep within the limits, nearest first,
// more than are asked for so that some may be passed over.
func (q DividerQuestion) pairs(s shelf, least, most float64) []pairing {
	wanted := q.wanted()
	usual := 20e3
	if q.InVolts > 0 {
		usual = q.InVolts / 1e-3
	}
	lows, highs := s.extremes()
	keep := 20 * q.Best
	var list []pairing
	better := func(a, b pairing) int {
		return cmp.Or(cmp.Compare(a.off, b.off), cmp.Compare(a.unusual, b.unusual),
			cmp.Compare(a.upper, b.upper), cmp.Compare(a.lower, b.lower))
	}
	for lower, ohms := range s.values {
		for upper, above := range s.values {
			if upper == lower && s.counts[upper] == 1 {
				continue
			}
			if q.total(lows[upper], lows[lower]) < least*(1-1e-12) || q.total(highs[upper], highs[lower]) > most*(1+1e-12) {
				continue
			}
			p := pairing{upper: upper, lower: lower,
				off:     math.Round(math.Abs(q.ratio(above, ohms)-wanted) / wanted * 1e12),
				unusual: math.Round(math.Abs(math.Log(q.total(above, ohms)/usual)) * 1e9)}
			if len(list) == keep && better(p, list[keep-1]) >= 0 {
				continue
			}
			at, _ := slices.BinarySearchFunc(list, p, better)
			list = slices.Insert(list, at, p)
			list = list[:min(keep, len(list))]
		}
	}
	return list
}

// oncePerDecade drops pairs that are an earlier one times a power of ten and no
// nearer.
func oncePerDecade(list []Divider) []Divider {
	var kept []Divider
	for _, d := range list {
		if !slices.ContainsFunc(kept, func(k Divider) bool {
			upper := math.Log10(nominal(d.Upper.Part) / nominal(k.Upper.Part))
			lower := math.Log10(nominal(d.Lower.Part) / nominal(k.Lower.Part))
			return math.Abs(upper-math.Round(upper)) < 1e-9 && math.Abs(upper-lower) < 1e-9 && math.Abs(d.ErrorPercent-k.ErrorPercent) < 1e-9
		}) {
			kept = append(kept, d)
		}
	}
	return kept
}

// extremes are the least and most that any part of each value may have.
func (s shelf) extremes() (lows, highs []float64) {
	lows, highs = make([]float64, len(s.values)), make([]float64, len(s.values))
	for i, parts := range s.parts {
		lows[i], highs[i] = s.values[i], s.values[i]
		for _, p := range parts {
			low, high := withTolerance(p.Value).bounds()
			lows[i], highs[i] = min(lows[i], low), max(highs[i], high)
		}
	}
	return lows, highs
}

// divider works out what a pair does.
func (q DividerQuestion) divider(upper, lower Part) Divider {
	wanted := q.wanted()
	off := func(ratio float64) float64 { return exactly((ratio - wanted) / wanted * 100) }
	u, l := nominal(upper), nominal(lower)
	ratio := q.ratio(u, l)
	d := Divider{Ratio: ratio, ErrorPercent: off(ratio), OutVolts: ratio * q.InVolts,
		Upper: Arm{Part: upper}, Lower: Arm{Part: lower}, Output: About(side(q.SourceOhms+u, l)), Conditions: []string{}}
	d.Amps = q.InVolts / q.total(u, l)
	if q.LoadOhms > 0 {
		d.LoadAmps = d.OutVolts / q.LoadOhms
	}
	d.Upper.Volts, d.Lower.Volts = d.Amps*u, d.OutVolts
	d.Upper.Watts, d.Lower.Watts = d.Upper.Volts*d.Upper.Volts/u, d.Lower.Volts*d.Lower.Volts/l

	uLow, uHigh := withTolerance(upper.Value).bounds()
	lLow, lHigh := withTolerance(lower.Value).bounds()
	low, high := math.Inf(1), math.Inf(-1)
	for _, corner := range []Corner{{false, false, 0, 0}, {false, true, 0, 0}, {true, false, 0, 0}, {true, true, 0, 0}} {
		u, l := uLow, lLow
		if corner.UpperHigh {
			u = uHigh
		}
		if corner.LowerHigh {
			l = lHigh
		}
		if u == 0 || l == 0 {
			continue // a tolerance of 100 % allows for anything
		}
		corner.Ratio = q.ratio(u, l)
		corner.OutVolts = corner.Ratio * q.InVolts
		low, high = min(low, corner.Ratio), max(high, corner.Ratio)
		d.Corners = append(d.Corners, corner)
		d.Upper.MostVolts = max(d.Upper.MostVolts, q.upperVolts(u, l))
		d.Lower.MostVolts = max(d.Lower.MostVolts, corner.OutVolts)
	}
	// A part bears most with the other at its least, and maybe not at an end of its
	// own tolerance.
	if uLow <= 0 {
		uLow = u
	}
	if lLow <= 0 {
		lLow = l
	}
	d.Upper.MostWatts = peak(uLow, uHigh, func(u float64) float64 { return math.Pow(q.upperVolts(u, lLow), 2) / u })
	d.Lower.MostWatts = peak(lLow, lHigh, func(l float64) float64 { return math.Pow(q.ratio(uLow, l)*q.InVolts, 2) / l })
	d.LowPercent, d.HighPercent = off(low), off(high)
	d.LowVolts, d.HighVolts = low*q.InVolts, high*q.InVolts

	loads := []Load{d.Upper.load(q.Margin), d.Lower.load(q.Margin)}
	d.Upper.Within, d.Lower.Within = loads[0].Within, loads[1].Within
	d.Answer, d.Conditions = doubts(loads, q.Margin)
	d.Cautions = Cautions(Operation{Volts: q.InVolts, Watts: max(d.Upper.MostWatts, d.Lower.MostWatts)}, false)
	return d
}

// load is what an arm bears at its worst.
func (a Arm) load(margin float64) Load {
	l := Load{Part: a.Part, Volts: a.MostVolts, Watts: a.MostWatts, MostVolts: a.MostVolts, MostWatts: a.MostWatts}
	l.Within = within(l, margin)
	return l
}
