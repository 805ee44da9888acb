package network

import (
	"fmt"
	"math"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// A SpreadQuestion asks what a part marked with a value may really have.
type SpreadQuestion struct {
	Value       Value               `json:"value"`                 // with its tolerance; none counts as ±20 % (IEC 60062: no tolerance ring)
	TempcoPPM   *int                `json:"tempco_ppm,omitempty"`  // ppm/K either side of zero; nil: unknown
	Temperature *TemperatureRange   `json:"temperature,omitempty"` // nil: the drift is not asked for
	Meter       *decode.Measurement `json:"meter,omitempty"`       // nil: not measured
}

// A TemperatureRange is how cold and how hot a part gets, in °C.
type TemperatureRange struct {
	LowC  float64 `json:"low_c"`
	HighC float64 `json:"high_c"`
	// ReferenceC is the temperature for which the marked value holds:
	// ReferenceTemperature for parts to IEC 60115.
	ReferenceC float64 `json:"reference_c"`
}

// ReferenceTemperature is the temperature, in °C, at which resistance is
// stated (IEC 60115-1, from memory).
const ReferenceTemperature = 20

// Bounds of temperatures, in °C.
const (
	coldest = -273.15
	hottest = 1000
)

func (r TemperatureRange) check() error {
	for _, c := range []float64{r.LowC, r.HighC, r.ReferenceC} {
		if !(c >= coldest && c <= hottest) {
			return fmt.Errorf("a temperature of %g °C is out of range: use %g to %d °C", c, coldest, hottest)
		}
	}
	if r.LowC > r.HighC {
		return fmt.Errorf("the temperature range of %g to %g °C ends below its start: give the lower one first", r.LowC, r.HighC)
	}
	return nil
}

// farthest is the largest distance from the reference, in kelvin.
func (r TemperatureRange) farthest() float64 {
	return max(math.Abs(r.LowC-r.ReferenceC), math.Abs(r.HighC-r.ReferenceC))
}

// A Spread is what a part may really have.
type Spread struct {
	Value Value `json:"value"`
	// Low and High are the bounds of the tolerance, exact.
	Low  Value `json:"low"`
	High Value `json:"high"`
	// DriftPercent is the most that the resistance moves over the temperature
	// range, either way; 0 if it was not asked for or the coefficient is
	// unknown.
	DriftPercent float64 `json:"drift_percent"`
	// WorstLow and WorstHigh are the bounds of tolerance and drift together,
	// both at their worst, exact.
	WorstLow  Value `json:"worst_low"`
	WorstHigh Value `json:"worst_high"`
	// Expected holds narrower bounds, each under the assumption it names.
	Expected []Expectation `json:"expected"`
	Meter    *MeterAnswer  `json:"meter,omitempty"`
	Notes    []string      `json:"notes"`
	Cautions []string      `json:"cautions"` // none without a meter reading
}

// An Expectation is a spread that holds if an assumption does.
type Expectation struct {
	Assumption string `json:"assumption"`
	// Holds says for which share of parts, in words; empty where that is not
	// known.
	Holds        string  `json:"holds"`
	SigmaPercent float64 `json:"sigma_percent"` // standard deviation; 0 where the assumption needs none
	Percent      float64 `json:"percent"`       // either side of nominal
	Low          Value   `json:"low"`
	High         Value   `json:"high"`
}

// noTolerance stands in where a value has none: IEC 60062 takes a missing
// tolerance ring for ±20 %.
var noTolerance = decimal.New(20, 0)

// ninetyFive is how many standard deviations either side hold 95 % of a normal
// distribution (JCGM 100:2008, table G.1).
const ninetyFive = 1.96

// SpreadOf works out what a part may really have. It returns an error if the
// value is not above zero or a temperature is out of range.
func SpreadOf(q SpreadQuestion) (Spread, error) {
	if err := checkValue("the value", q.Value); err != nil {
		return Spread{}, err
	}
	s := Spread{Value: q.Value, Notes: []string{}, Cautions: []string{}}
	if !s.Value.TolerancePercent.Valid {
		s.Value.TolerancePercent = decimal.NewNullDecimal(noTolerance)
		s.Notes = append(s.Notes, "No tolerance was given: ±20 % is taken, as for a part without a tolerance ring (IEC 60062).")
	}
	s.Low, s.High = s.Value.Low(), s.Value.High()
	drift := decimal.Zero
	if q.Temperature != nil {
		if err := q.Temperature.check(); err != nil {
			return Spread{}, err
		}
		switch {
		case q.TempcoPPM == nil:
			s.Notes = append(s.Notes, "The temperature coefficient is unknown, so the drift is left out: it comes on top.")
		case *q.TempcoPPM < 0 || *q.TempcoPPM > 1e5:
			return Spread{}, fmt.Errorf("a temperature coefficient of %d ppm/K is out of range: give 0 to 100000, which counts either side of zero", *q.TempcoPPM)
		default:
			// ppm/K times K is ppm, and ten thousand ppm are one percent.
			drift = decimal.NewFromInt(int64(*q.TempcoPPM)).Mul(decimal.NewFromFloat(q.Temperature.farthest())).Shift(-4)
		}
	}
	s.DriftPercent = drift.InexactFloat64()
	s.WorstLow = Exact(decimal.Max(decimal.Zero, s.Low.Ohms.Mul(hundred.Sub(drift)).Shift(-2)))
	s.WorstHigh = Exact(s.High.Ohms.Mul(hundred.Add(drift)).Shift(-2))
	s.Expected = s.expected()
	if q.Meter != nil {
		answer, err := compare(s.Value, *q.Meter)
		if err != nil {
			return Spread{}, err
		}
		s.Meter = &answer
		s.Cautions = []string{CautionMetering, CautionMains, CautionCharge}
	}
	return s, nil
}

// expected works out the narrower bounds.
func (s Spread) expected() []Expectation {
	tolerance := s.Value.TolerancePercent.Decimal.InexactFloat64()
	squares := math.Hypot(tolerance, s.DriftPercent)
	uniform, normal := squares/math.Sqrt(3), squares/3
	list := []Expectation{
		// JCGM 100:2008, 4.3.7: the standard uncertainty of a quantity that
		// lies anywhere within ±a is a/√3.
		{Assumption: "any value within the tolerance is as likely as another (sigma is the tolerance divided by the root of 3)", Holds: "at least 95 of 100 parts",
			SigmaPercent: uniform, Percent: min(ninetyFive*uniform, tolerance+s.DriftPercent)},
		// Common practice, no source.
		{Assumption: "the tolerance is three sigma of a normal distribution round the marked value", Holds: "95 of 100 parts",
			SigmaPercent: normal, Percent: ninetyFive * normal},
	}
	if s.DriftPercent > 0 {
		// Common practice, no source.
		list = append(list, Expectation{Assumption: "tolerance and drift are independent, so their squares add (RSS)", Percent: squares})
	}
	for i := range list {
		nominal := s.Value.ohms()
		list[i].Low = About(nominal * (1 - list[i].Percent/100))
		list[i].High = About(nominal * (1 + list[i].Percent/100))
	}
	return list
}
