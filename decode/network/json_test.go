package network_test

import (
	"context"
	"encoding/json"
	"math"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ringwise/decode"
	"ringwise/decode/network"
)

// However absurd the question, the answer is an error or can be written as
// JSON, which knows no endless numbers.
func TestAnswersAreAlwaysJSON(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		amount := func(name string) float64 {
			return rapid.OneOf(rapid.Just(0.0), rapid.Just(math.Inf(1)), rapid.Just(-1.0), rapid.Just(math.NaN()),
				rapid.Map(rapid.Float64Range(-40, 40), func(x float64) float64 { return math.Pow(10, x) })).Draw(rt, name)
		}
		draw := func(name string) network.Value {
			return network.Value{Ohms: decimal.New(rapid.Int64Range(0, 99).Draw(rt, name), rapid.Int32Range(-13, 15).Draw(rt, name+" exponent")),
				TolerancePercent: decimal.NullDecimal{Decimal: decimal.New(rapid.Int64Range(0, 110).Draw(rt, name+" tolerance"), 0), Valid: rapid.Bool().Draw(rt, name+" tolerated")}}
		}
		finite := func(name string) float64 { return math.Pow(10, rapid.Float64Range(-30, 15).Draw(rt, name)) }
		parts := []network.Part{
			{ID: "a", Value: draw("a"), RatedWatts: finite("rated a"), LimitVolts: finite("limit a"), Count: 2},
			{ID: "b", Value: draw("b"), Kind: decode.KindMetalFilm, Count: network.AnyNumber},
		}
		check := func(answer any, err error) {
			if err != nil {
				assert.NotEmpty(rt, err.Error())
				return
			}
			_, err = json.Marshal(answer)
			require.NoError(rt, err, "%+v", answer)
		}
		c, err := network.Combine(context.Background(), network.CombineQuestion{Target: draw("target"), Volts: amount("volts"), Watts: amount("watts"), MostParts: 4}, parts)
		check(c, err)
		d, err := network.Divide(network.DividerQuestion{InVolts: amount("in"), OutVolts: amount("out"), Ratio: amount("ratio"), LoadOhms: amount("load"),
			SourceOhms: amount("source"), MostAmps: amount("most")}, parts)
		check(d, err)
		p, err := network.PowerOf(network.PowerQuestion{Operation: network.Operation{Ohms: amount("ohms"), Volts: amount("across"), Amps: amount("through"), Watts: amount("in it")},
			RatedWatts: amount("rated"), AmbientC: amount("ambient"), Margin: amount("margin")})
		check(p, err)
		need := network.Need{Value: draw("need"), RatedWatts: amount("need watts"), Volts: amount("need volts")}
		s, err := network.RankStandIns(need, parts)
		check(s, err)
		ppm := rapid.IntRange(-10, 200000).Draw(rt, "ppm")
		w, err := network.SpreadOf(network.SpreadQuestion{Value: draw("value"), TempcoPPM: &ppm, Temperature: &network.TemperatureRange{LowC: amount("low"), HighC: amount("high")}})
		check(w, err)
		plan, err := network.PlanProject(context.Background(), network.List{Lines: []network.ListLine{{Need: need, Quantity: 3}}}, parts)
		check(plan, err)
	})
}
