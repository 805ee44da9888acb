package network

import (
	"math"
	"slices"
)

// A worst is one part of a circuit with all others at those ends of their tolerances
// that give it the most voltage and power: what lies in series with it at its least,
// what lies beside it at its most.
type worst struct {
	low, high float64 // the bounds of the part itself, in ohms
	levels    []level // from the part outwards
}

// A level is what is joined to a part, and to all that is joined to it before.
type level struct {
	join Join
	ohms float64
}

// worsts lists the worst of each part, in the order of Parts.
func (c Circuit) worsts() []worst {
	if c.Join == Single {
		low, high := c.Bounds()
		if low <= 0 {
			low = nominal(*c.Part) // a tolerance of 100 % allows for anything
		}
		return []worst{{low: low, high: high}}
	}
	lows, highs := make([]float64, len(c.Branches)), make([]float64, len(c.Branches))
	for i, b := range c.Branches {
		lows[i], highs[i] = b.Bounds()
	}
	var list []worst
	for i, b := range c.Branches {
		at := level{join: c.Join}
		for k := range c.Branches {
			switch {
			case k == i:
			case c.Join == Series:
				at.ohms += max(0, lows[k])
			case at.ohms == 0:
				at.ohms = highs[k]
			default:
				at.ohms = side(at.ohms, highs[k])
			}
		}
		for _, w := range b.worsts() {
			w.levels = append(slices.Clip(w.levels), at)
			list = append(list, w)
		}
	}
	return list
}

// byVolts is the most voltage across the part and the most power in it with so many
// volts across the whole.
func (w worst) byVolts(volts float64) (mostVolts, mostWatts float64) {
	power := func(ohms float64) float64 { return w.share(ohms) * w.share(ohms) / ohms }
	return volts * w.share(w.high), volts * volts * peak(w.low, w.high, power)
}

// byWatts is the same with so much power in the whole.
func (w worst) byWatts(watts float64) (mostVolts, mostWatts float64) {
	return math.Sqrt(watts * w.powerShare(w.high) * w.high), watts * w.mostShare()
}

// mostShare is the most of the power in the whole that the part gets, as a share.
func (w worst) mostShare() float64 { return peak(w.low, w.high, w.powerShare) }

// share is the part's share of the voltage across the whole if it has so many ohms.
func (w worst) share(ohms float64) float64 {
	share, _ := w.shareAndWhole(ohms)
	return share
}

// powerShare is its share of the power in the whole.
func (w worst) powerShare(ohms float64) float64 {
	share, whole := w.shareAndWhole(ohms)
	return share * share * whole / ohms
}

// shareAndWhole are its share of the voltage and the resistance of the whole.
func (w worst) shareAndWhole(ohms float64) (share, whole float64) {
	share, whole = 1, ohms
	for _, l := range w.levels {
		if l.join == Parallel {
			whole = side(whole, l.ohms)
			continue
		}
		share *= whole / (whole + l.ohms)
		whole += l.ohms
	}
	return share, whole
}

// peak is the most of a function that rises up to one place between two ends, which
// may be an end, and falls from there on: such is the power in a part, which is most
// where its resistance is that of what feeds it.
func peak(low, high float64, of func(float64) float64) float64 {
	most := math.Max(of(low), of(high))
	for range 40 { // each takes a third off what is left
		third := (high - low) / 3
		if of(low+third) < of(high-third) {
			low += third
		} else {
			high -= third
		}
	}
	return math.Max(most, of(low))
}
