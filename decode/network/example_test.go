package network_test

import (
	"context"
	"fmt"

	"github.com/shopspring/decimal"

	"ringwise/decode"
	"ringwise/decode/network"
	"ringwise/decode/series"
)

// Worked by hand: 4.7 kΩ is 4.08 % below 4.9 kΩ, and 1 kΩ and 3.9 kΩ make it.
func ExampleCombine() {
	parts, err := network.FromSeries(series.E12, decimal.New(100, 0), decimal.New(10, 3), decimal.NullDecimal{})
	if err != nil {
		fmt.Println(err)
		return
	}
	target, _ := network.ParseValue("4.9k")
	found, err := network.Combine(context.Background(), network.CombineQuestion{Target: target, MostParts: 2, Best: 1}, parts)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, count := range found.Counts {
		best := count.Best[0]
		fmt.Printf("%d: %s makes %s, %s\n", count.Parts, best.Text, best.Nominal, network.FormatOff(best.ErrorPercent))
	}
	// Output:
	// 1: 4.7 kΩ makes 4.7 kΩ, 4.08 % too low
	// 2: 1 kΩ in series with 3.9 kΩ makes 4.9 kΩ, exact
}

func ExampleMayStandIn() {
	want, _ := network.ParseValue("5K6J")
	have, _ := network.ParseValue("5K6F")
	need := network.Need{Value: want, RatedWatts: 0.25, Kind: decode.KindOrdinary}
	for _, kind := range []decode.Kind{decode.KindMetalFilm, decode.KindUnknown, decode.KindWireWound} {
		s, err := network.MayStandIn(need, network.Part{Value: have, Kind: kind, RatedWatts: 0.5, Count: 1})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %s\n", kind, s.Answer)
	}
	// Output:
	// metal film: yes
	// unknown: only if
	// wire-wound: no
}
