package network

import (
	"fmt"
	"math"

	"ringwise/decode"
)

// A PowerQuestion asks how much a resistor gets to bear and what rating that
// calls for.
type PowerQuestion struct {
	// Operation holds any two of resistance, voltage, current and power.
	Operation Operation `json:"operation"`
	// Margin is how many times the power the rating should be at the least;
	// 0 for UsualMargin.
	Margin float64 `json:"margin,omitempty"`
	// AmbientC is how hot it is round the part, in °C, inside the case.
	AmbientC float64 `json:"ambient_c"`
	// Kind is what the part is made as; Derating goes before what is usual
	// for the kind where it is not nil.
	Kind     decode.Kind `json:"kind,omitempty"`
	Derating *Derating   `json:"derating,omitempty"`
	// RatedWatts and Size say what is known of the part; 0 and nil: unknown.
	RatedWatts float64   `json:"rated_watts,omitempty"`
	Size       *BodySize `json:"size,omitempty"`
}

// ratings are the power ratings that leaded parts are sold with, in watts.
// Common practice, no source.
var ratings = []float64{0.125, 0.25, 0.5, 1, 2, 3, 5, 7, 10, 15, 20, 25, 50, 100}

// Power is what a resistor bears and what it calls for.
type Power struct {
	Value     Value     `json:"value"` // the resistance, rounded
	Operation Operation `json:"operation"`
	Margin    float64   `json:"margin"`
	Derating  Derating  `json:"derating"`
	// Share is what share of its rating a part bears at the ambient
	// temperature; NeededWatts is power times margin divided by that share,
	// and 0 if no rating will do because it is too hot.
	Share       float64 `json:"share"`
	NeededWatts float64 `json:"needed_watts"`
	// SoldWatts is the next rating sold that is at least NeededWatts; 0 if
	// none is.
	SoldWatts float64 `json:"sold_watts"`
	// RatedWatts is the rating of the part, and RatedFrom says on what it
	// rests; 0 if unknown.
	RatedWatts float64 `json:"rated_watts"`
	RatedFrom  string  `json:"rated_from"`
	// BearsWatts and BearsVolts are the most that the part bears there,
	// without a margin: by its derated rating, and by the smaller of that and
	// the limiting element voltage. 0 if unknown.
	BearsWatts float64 `json:"bears_watts"`
	BearsVolts float64 `json:"bears_volts"`
	// VoltsFrom says on which of them BearsVolts rests, and where that leaves a
	// limiting element voltage out of account; empty if it is 0.
	VoltsFrom string `json:"volts_from"`
	// Answer says whether the part will do with the margin: OnlyIf where the
	// rating is unknown or estimated, or there is no usual derating of its kind.
	Answer   Answer   `json:"answer"`
	Because  []string `json:"because"`
	Cautions []string `json:"cautions"`
}

// PowerOf works out what a resistor bears. It returns an error if the
// operation is not given by two quantities or something is out of range.
func PowerOf(q PowerQuestion) (Power, error) {
	operation, err := Solve(q.Operation)
	if err != nil {
		return Power{}, err
	}
	p := Power{Value: About(operation.Ohms), Operation: operation, Derating: DeratingOf(q.Kind), Because: []string{}}
	if p.Margin, err = marginOf(q.Margin); err != nil {
		return Power{}, err
	}
	if !isAmountOrNone(q.RatedWatts) {
		return Power{}, errAboveZero("the power rating")
	}
	if !(q.AmbientC >= coldest && q.AmbientC <= hottest) {
		return Power{}, fmt.Errorf("a temperature of %g °C is out of range: use %g to %d °C", q.AmbientC, coldest, hottest)
	}
	if q.Derating != nil {
		if err := q.Derating.Check(); err != nil {
			return Power{}, err
		}
		p.Derating = *q.Derating
		if p.Derating.Source == "" {
			p.Derating.Source = "as given"
		}
	}
	p.Share = p.Derating.Share(q.AmbientC)
	if p.Share > 0 {
		p.NeededWatts = operation.Watts * p.Margin / p.Share
		for _, sold := range ratings {
			if !tooWeak(sold, p.NeededWatts, 1) {
				p.SoldWatts = sold
				break
			}
		}
	}
	p.rate(q)
	p.decide(q)
	p.Cautions = Cautions(operation, q.Kind == decode.KindUnknown || q.Kind.Special())
	return p, nil
}

// rate finds the rating and what the part bears by it.
func (p *Power) rate(q PowerQuestion) {
	switch {
	case q.RatedWatts > 0:
		p.RatedWatts, p.RatedFrom = q.RatedWatts, "as given"
	case q.Size != nil:
		p.RatedWatts = q.Size.LowWatts
		p.RatedFrom = fmt.Sprintf("estimated by the body: size %s is sold at %s to %s, and the lowest is taken",
			q.Size.Name, FormatRating(q.Size.LowWatts), FormatRating(q.Size.HighWatts))
	default:
		p.RatedFrom = "unknown: where a plan gives none, 1/4 or 1/2 W is usual (common practice)"
	}
	if p.RatedWatts > 0 {
		p.BearsWatts = p.RatedWatts * p.Share
		p.BearsVolts = math.Sqrt(p.BearsWatts * p.Operation.Ohms)
	}
	switch {
	case q.Size != nil && (p.RatedWatts == 0 || q.Size.LimitVolts < p.BearsVolts):
		p.BearsVolts, p.VoltsFrom = q.Size.LimitVolts, "the limiting element voltage of size "+q.Size.Name
	case q.Size == nil && asksForLimit(p.BearsVolts):
		p.VoltsFrom = "by its power alone: its limiting element voltage, which is unknown, may be less"
	case p.BearsVolts > 0:
		p.VoltsFrom = "by its power"
	}
}

// decide says whether the part will do.
func (p *Power) decide(q PowerQuestion) {
	v := &verdict{}
	o := p.Operation
	switch {
	case p.Share == 0:
		v.no("at %g °C no rating will do: the part bears nothing from %g °C on", q.AmbientC, p.Derating.ZeroC)
	case p.RatedWatts == 0:
		v.onlyIf("its power rating, which is unknown, is %s or more", FormatRating(roundUp(p.NeededWatts)))
	case tooWeak(p.RatedWatts, p.NeededWatts, 1):
		v.no("its rating of %s is below the %s needed (%s times %s, at %s of the rating)", FormatRating(p.RatedWatts),
			FormatRating(roundUp(p.NeededWatts)), FormatFigures(p.Margin, 3), FormatQuantity(o.Watts, Watt), FormatPercent(100*p.Share))
	case q.RatedWatts == 0:
		v.onlyIf("the rating estimated from its body holds: look it up or ask the maker")
	}
	if q.Size != nil && tooHigh(o.Volts, q.Size.LimitVolts) {
		v.no("%s lie across it, and bodies of size %s bear %s (limiting element voltage)", FormatQuantity(o.Volts, Volt), q.Size.Name, FormatQuantity(q.Size.LimitVolts, Volt))
	}
	if q.Size == nil && asksForLimit(o.Volts) {
		v.onlyIf("its limiting element voltage, which is unknown, is %s or more", FormatQuantity(o.Volts, Volt))
	}
	if p.Derating.Guessed {
		v.onlyIf("it is derated no earlier than taken here: there is no curve for its kind, which is %s", q.Kind)
	}
	p.Because = append(append(p.Because, v.reasons...), v.conditions...)
	switch {
	case len(v.reasons) > 0:
		p.Answer, p.Because = No, append([]string{}, v.reasons...)
	case len(v.conditions) > 0:
		p.Answer = OnlyIf
	default:
		p.Answer = Yes
	}
}

// roundUp rounds up to three significant figures, so that what is shown as
// needed is never too little.
func roundUp(x float64) float64 {
	if !isAmount(x) {
		return x
	}
	scale := math.Pow(10, 2-math.Floor(math.Log10(x)))
	return math.Ceil(x*scale-1e-9) / scale
}

// roundDown rounds down to three significant figures, so that what is shown as
// borne is never too much.
func roundDown(x float64) float64 {
	if !isAmount(x) {
		return x
	}
	scale := math.Pow(10, 2-math.Floor(math.Log10(x)))
	return math.Floor(x*scale+1e-9) / scale
}

// MostVolts is the most that may lie across a part: by its rating at the start
// of derating and by its limiting element voltage, whichever is less, as far as
// they are known; 0 if neither is.
func (p Part) MostVolts() float64 {
	switch byRating := math.Sqrt(p.RatedWatts * p.Value.ohms()); {
	case p.LimitVolts == 0:
		return byRating
	case p.RatedWatts == 0:
		return p.LimitVolts
	default:
		return min(byRating, p.LimitVolts)
	}
}
