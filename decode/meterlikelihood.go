package decode

import "math"

// How parts measure. All shares and spreads are judged: common practice, no
// source. The meter's own error is taken as anywhere within its limit (a
// rectangular distribution, JCGM 100:2008, 4.3.7).
const (
	// shareBroken is the share of parts that measure anything at all: broken,
	// badly touched, or on the wrong range.
	shareBroken = 0.002
	// shareDrifted is the share beyond their tolerance by age or heat, and
	// driftSpread by how much more than the tolerance, as a mean.
	shareDrifted = 0.03
	driftSpread  = 0.02
	// riseSpread is by how much, as a mean, composition parts have risen that
	// have: 20 % and more is often met in old sets.
	riseSpread = 0.2
	// shareComposition is the share of composition parts among those of
	// unknown kind.
	shareComposition = 0.1
	// shareShunted is the share of parts in a circuit that read low for their
	// neighbours; they may read down to a hundredth.
	shareShunted = 0.6
	mostShunted  = 100.0
)

// shareRisen is the share of composition parts that have risen, by age.
var shareRisen = map[Age]float64{AgeUnknown: 0.25, New: 0.05, Old: 0.5}

// plainTolerance is taken, in percent, where no tolerance is known.
const plainTolerance = 20

// leastOhms is below what a value is as good as zero, in ohms, and mostLink
// the most that a zero-ohm link has (common practice, no source).
const (
	leastOhms = 0.001
	mostLink  = 0.05
)

// finest is the least error of a meter, as a fraction, so that one that is said
// to be exact can be reckoned with.
const finest = 1e-5

// A span is how a reading and a measurement lie to each other, as natural
// logarithms of ohms.
type span struct {
	low, high   float64 // the bounds of the tolerance
	least, most float64 // what the part may have by what the meter shows
}

// spanOf is false for a link, of which logarithms make no sense.
func spanOf(r Reading, m Measurement) (span, bool) {
	if r.IsLink() {
		return span{}, false
	}
	tolerance := float64(plainTolerance)
	if r.TolerancePercent.Valid {
		tolerance = r.TolerancePercent.Decimal.InexactFloat64()
	}
	nominal := math.Log(r.Ohms.InexactFloat64())
	shown, limit := m.Ohms.InexactFloat64(), m.Limit().InexactFloat64()
	x := span{
		low:   nominal + math.Log1p(-math.Min(0.99, tolerance/100)),
		high:  nominal + math.Log1p(tolerance/100),
		least: math.Log(math.Max(leastOhms, shown-limit)),
		most:  math.Log(math.Max(leastOhms, shown+limit)),
	}
	x.most = math.Max(x.most, x.least+finest)
	return x, true
}

// likelihood is the density, per unit of the natural logarithm, of measuring
// so if the part has the reading.
func likelihood(r Reading, m Measurement, s Specimen) float64 {
	broken := shareBroken * anyValue
	x, ok := spanOf(r, m)
	if !ok {
		if linkFits(m) {
			return 1 // spread over about one unit
		}
		return broken
	}
	risen := risenShare(s)
	whole := (1-shareDrifted-risen)*x.within() + shareDrifted*x.drifted() + risen*x.risen()
	if m.InCircuit {
		whole = (1-shareShunted)*whole + shareShunted*x.shunted()
	}
	return (1-shareBroken)*whole + broken
}

func risenShare(s Specimen) float64 {
	switch s.Kind {
	case KindComposition:
		return shareRisen[s.Age]
	case KindUnknown:
		return shareComposition * shareRisen[s.Age]
	}
	return 0
}

// within is the density if the part is anywhere within its tolerance and the
// meter anywhere within its limit: the share that both have in common.
func (x span) within() float64 {
	common := math.Min(x.high, x.most) - math.Max(x.low, x.least)
	return math.Max(0, common) / ((x.high - x.low) * (x.most - x.least))
}

// below and above are how far the measured value lies below and above the
// tolerance, more than the meter may be wrong.
func (x span) below() float64 { return math.Max(0, x.low-x.most) }
func (x span) above() float64 { return math.Max(0, x.least-x.high) }

// drifted is the density if the part lies beyond its tolerance, either way,
// the less likely the farther.
func (x span) drifted() float64 {
	flat := x.high - x.low + x.most - x.least
	return math.Exp(-(x.below()+x.above())/driftSpread) / (2*driftSpread + flat)
}

// risen is the density if the part has risen above its tolerance.
func (x span) risen() float64 {
	if x.most < x.high {
		return 0
	}
	return math.Exp(-x.above()/riseSpread) / (riseSpread + x.most - x.least)
}

// shunted is the density if neighbours make the part read low: as likely at
// any fraction.
func (x span) shunted() float64 {
	if x.above() > 0 || x.below() > math.Log(mostShunted) {
		return 0
	}
	return 1 / (x.high - x.low + x.most - x.least + math.Log(mostShunted))
}

// linkFits tells whether a link could measure so.
func linkFits(m Measurement) bool {
	return m.Ohms.Sub(m.Limit()).InexactFloat64() <= mostLink
}

// Of drifted and risen parts, beyond is how many spreads away still counts as
// the same part: one in twenty drifts farther.
const beyond = 3.0

// FitOf says how a measured value goes with a reading of a part of that kind
// and age. Within the tolerance, widened by the meter's limit, it fits; beyond
// it, it may have drifted: some way for any part, far upwards for composition
// parts, or parts of unknown kind that are old. In a circuit it may read low.
func FitOf(r Reading, m Measurement, s Specimen) Fit {
	x, ok := spanOf(r, m)
	if !ok {
		if linkFits(m) {
			return Within
		}
		return Off
	}
	rise := driftSpread
	if s.Kind == KindComposition && s.Age != New || s.Kind == KindUnknown && s.Age == Old {
		rise = riseSpread
	}
	switch {
	case x.below() == 0 && x.above() == 0:
		return Within
	case x.below() <= beyond*driftSpread && x.above() <= beyond*rise:
		return Drifted
	case m.InCircuit && x.above() == 0:
		return LowInCircuit
	}
	return Off
}
