package network

import (
	"fmt"
	"math"
)

// An Operation is a resistor at work: the resistance and what voltage,
// current and power belong to it. Zero is unknown.
type Operation struct {
	Ohms  float64 `json:"ohms"`
	Volts float64 `json:"volts"`
	Amps  float64 `json:"amps"`
	Watts float64 `json:"watts"`
}

// consistency is how far, as a fraction, a third quantity may lie from what
// the other two give before they contradict each other.
const consistency = 0.01

// Solve works out the quantities that are zero from any two others, by Ohm's
// law and P = U·I. Alternating quantities are meant as effective (rms) values.
// It returns an error if fewer than two are known, one is not above zero, or
// more are known and contradict each other by more than 1 %.
func Solve(known Operation) (Operation, error) {
	o := known
	count := 0
	for _, q := range []struct {
		name   string
		amount float64
	}{{"the resistance", o.Ohms}, {"the voltage", o.Volts}, {"the current", o.Amps}, {"the power", o.Watts}} {
		if !isAmountOrNone(q.amount) {
			return Operation{}, errAboveZero(q.name)
		}
		if q.amount > 0 {
			count++
		}
	}
	if count < 2 {
		return Operation{}, fmt.Errorf("two of resistance, voltage, current and power are needed, and %d came", count)
	}
	switch {
	case o.Ohms > 0 && o.Volts > 0:
		o.Amps = o.Volts / o.Ohms
	case o.Ohms > 0 && o.Amps > 0:
		o.Volts = o.Amps * o.Ohms
	case o.Ohms > 0:
		o.Volts = math.Sqrt(o.Watts * o.Ohms)
		o.Amps = o.Volts / o.Ohms
	case o.Volts > 0 && o.Amps > 0:
		o.Ohms = o.Volts / o.Amps
	case o.Volts > 0:
		o.Amps = o.Watts / o.Volts
		o.Ohms = o.Volts / o.Amps
	default:
		o.Volts = o.Watts / o.Amps
		o.Ohms = o.Volts / o.Amps
	}
	o.Watts = o.Volts * o.Amps
	for _, q := range []struct {
		name, unit  string
		given, find float64
	}{{"a current", Ampere, known.Amps, o.Amps}, {"a power", Watt, known.Watts, o.Watts}} {
		if q.given > 0 && math.Abs(q.given-q.find) > consistency*q.find {
			return Operation{}, fmt.Errorf("the quantities contradict each other: the others give %s of %s, not %s: leave one out",
				q.name, FormatQuantity(q.find, q.unit), FormatQuantity(q.given, q.unit))
		}
	}
	for _, amount := range []float64{o.Ohms, o.Volts, o.Amps, o.Watts} {
		if !(amount > 0) || math.IsInf(amount, 0) {
			return Operation{}, fmt.Errorf("the quantities are too far apart to work with: check their units")
		}
	}
	return o, nil
}
