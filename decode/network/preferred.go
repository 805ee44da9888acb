package network

import (
	"github.com/shopspring/decimal"

	"ringwise/decode/series"
)

// A SeriesChoice is what a series of IEC 60063 offers for a need.
type SeriesChoice struct {
	Series string `json:"series"`
	// Nearest is the number of the series nearest to the value wanted, with
	// the tolerance that goes with the series; Below and Above are its
	// neighbours on either side of the value, the value itself where the
	// series contains it.
	Nearest      Value   `json:"nearest"`
	Below        Value   `json:"below"`
	Above        Value   `json:"above"`
	ErrorPercent float64 `json:"error_percent"` // of the nearest
	// Fits says whether the nearest lies within what the circuit bears, the
	// whole of its tolerance included; in an ordinary place that is ±20 %.
	Fits bool `json:"fits"`
}

// SeriesChoices returns what each series offers for a need, E6 to E192. It
// returns an error if the need makes no sense or is a link, and nothing for a
// special kind of which no tolerance was named: its like has to be found.
func SeriesChoices(need Need) ([]SeriesChoice, error) {
	if err := need.Check(); err != nil {
		return nil, err
	}
	if err := checkValue("the value wanted", need.Value); err != nil {
		return nil, err
	}
	choices, err := series.Choices(need.Value.Ohms)
	if err != nil {
		return nil, err
	}
	if need.exact() {
		return nil, nil
	}
	bearable := need.Value
	if !bearable.TolerancePercent.Valid {
		bearable.TolerancePercent = decimal.NewNullDecimal(ordinaryMay)
	}
	var list []SeriesChoice
	for _, c := range choices {
		if c.Series == series.E3 {
			continue // not sold as a series of its own: its tolerance is above 20 %
		}
		tolerance := decimal.NewNullDecimal(c.Series.TolerancePercent())
		nearest := Value{c.Nearest, tolerance}
		list = append(list, SeriesChoice{
			Series: c.Series.String(), Nearest: nearest,
			Below: Value{c.Below, tolerance}, Above: Value{c.Above, tolerance},
			ErrorPercent: c.ErrorPercent.InexactFloat64(),
			Fits: nearest.Low().Ohms.GreaterThanOrEqual(bearable.Low().Ohms) &&
				nearest.High().Ohms.LessThanOrEqual(bearable.High().Ohms),
		})
	}
	return list, nil
}
