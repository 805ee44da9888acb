package network

import (
	"math"
	"strings"
)

// A Join is how the branches of a circuit hang together.
type Join string

// The joins.
const (
	Single   Join = "part"     // no branches: one part
	Series   Join = "series"   // one after another
	Parallel Join = "parallel" // side by side
)

// A Circuit joins parts between two ends.
type Circuit struct {
	Join     Join      `json:"join"`
	Part     *Part     `json:"part,omitempty"`     // of a Single
	Branches []Circuit `json:"branches,omitempty"` // of the others, two or more
}

// Of makes a circuit of one part.
func Of(part Part) Circuit { return Circuit{Join: Single, Part: &part} }

// InSeries and InParallel join circuits. Branches of the same join are taken
// in, so that no series stands within a series.
func InSeries(branches ...Circuit) Circuit   { return join(Series, branches) }
func InParallel(branches ...Circuit) Circuit { return join(Parallel, branches) }

func join(how Join, branches []Circuit) Circuit {
	c := Circuit{Join: how}
	for _, b := range branches {
		if b.Join == how {
			c.Branches = append(c.Branches, b.Branches...)
		} else {
			c.Branches = append(c.Branches, b)
		}
	}
	if len(c.Branches) == 1 {
		return c.Branches[0]
	}
	return c
}

// resistance works out the resistance between the ends with the resistance of
// each part as of says.
func (c Circuit) resistance(of func(Part) float64) float64 {
	sum := 0.0
	switch c.Join {
	case Series:
		for _, b := range c.Branches {
			sum += b.resistance(of)
		}
		return sum
	case Parallel:
		for _, b := range c.Branches {
			sum += 1 / b.resistance(of)
		}
		return 1 / sum
	}
	return of(*c.Part)
}

// Ohms is the nominal resistance between the ends.
func (c Circuit) Ohms() float64 { return c.resistance(nominal) }

func nominal(p Part) float64 { return p.Value.ohms() }

// Bounds are the least and most resistance that the tolerances of the parts
// allow. More of any part is more of the whole, so that these are the cases of
// all parts at their least and all at their most. A part of unknown tolerance
// counts as ±20 %.
func (c Circuit) Bounds() (low, high float64) {
	low = c.resistance(func(p Part) float64 { l, _ := withTolerance(p.Value).bounds(); return l })
	high = c.resistance(func(p Part) float64 { _, h := withTolerance(p.Value).bounds(); return h })
	return low, high
}

// withTolerance gives a value without a tolerance ±20 %.
func withTolerance(v Value) Value {
	if !v.TolerancePercent.Valid {
		v.TolerancePercent.Decimal, v.TolerancePercent.Valid = noTolerance, true
	}
	return v
}

// ExpectedPercent is the root of the sum of the squares of what each part's
// tolerance does to the whole, in percent either side: the expected spread if
// the parts are off independently of each other (RSS; JCGM 100:2008, 5.1.2,
// with the tolerances in place of the uncertainties). A part moves the whole by
// its share of the power.
func (c Circuit) ExpectedPercent() float64 {
	sum := 0.0
	for _, load := range c.marked(0) {
		t := withTolerance(load.Part.Value).TolerancePercent.Decimal.InexactFloat64() * load.PowerShare
		sum += t * t
	}
	return math.Sqrt(sum)
}

// Parts lists the parts in the order in which String names them.
func (c Circuit) Parts() []Part {
	if c.Join == Single {
		return []Part{*c.Part}
	}
	var parts []Part
	for _, b := range c.Branches {
		parts = append(parts, b.Parts()...)
	}
	return parts
}

// String says in words how the parts are joined, such as "10 kΩ in series with
// (22 kΩ in parallel with 47 kΩ)".
func (c Circuit) String() string {
	return c.text(func(p Part) string { return Exact(p.Value.Ohms).String() })
}

func (c Circuit) text(name func(Part) string) string {
	if c.Join == Single {
		return name(*c.Part)
	}
	words := make([]string, len(c.Branches))
	for i, b := range c.Branches {
		words[i] = b.text(name)
		if b.Join != Single {
			words[i] = "(" + words[i] + ")"
		}
	}
	return strings.Join(words, " in "+string(c.Join)+" with ")
}

// A Load is what one part of a circuit bears.
type Load struct {
	Part         Part    `json:"part"`
	PowerShare   float64 `json:"power_share"`   // of the whole circuit's, 0 to 1
	VoltageShare float64 `json:"voltage_share"` // of the whole circuit's, 0 to 1
	Volts        float64 `json:"volts"`         // 0 if the whole's is unknown
	Watts        float64 `json:"watts"`
	// MostVolts and MostWatts are the most that the tolerances of the parts allow.
	MostVolts float64 `json:"most_volts"`
	MostWatts float64 `json:"most_watts"`
	// Within says whether the part bears it by its rating, with the margin, and
	// its limiting element voltage: OnlyIf if one that matters is unknown or is
	// passed at the worst of the tolerances, empty if the voltage across the
	// whole is unknown.
	Within Answer `json:"within,omitempty"`
}

// Loads works out what each part bears with so many volts across the whole, 0
// if that is unknown, in the order of Parts. A rating is to be margin times the
// power. The shares are known either way.
func (c Circuit) Loads(volts, margin float64) []Load {
	loads := c.marked(volts)
	if volts > 0 {
		for i, w := range c.worsts() {
			loads[i].MostVolts, loads[i].MostWatts = w.byVolts(volts)
			loads[i].Within = within(loads[i], margin)
		}
	}
	return loads
}

// marked works out the loads of parts that have what is marked on them.
func (c Circuit) marked(volts float64) []Load {
	whole := c.Ohms()
	var loads []Load
	var visit func(c Circuit, share float64)
	visit = func(c Circuit, share float64) {
		switch c.Join {
		case Series:
			ohms := c.Ohms()
			for _, b := range c.Branches {
				visit(b, share*b.Ohms()/ohms)
			}
		case Parallel:
			for _, b := range c.Branches {
				visit(b, share)
			}
		default:
			load := Load{Part: *c.Part, VoltageShare: share, PowerShare: share * share * whole / nominal(*c.Part), Volts: share * volts}
			load.Watts = load.Volts * load.Volts / nominal(*c.Part)
			loads = append(loads, load)
		}
	}
	visit(c, 1)
	return loads
}

// within says whether the part bears its load.
func within(load Load, margin float64) Answer {
	switch p := load.Part; {
	case load.Volts == 0:
		return ""
	case tooWeak(p.RatedWatts, load.Watts, margin), tooHigh(load.Volts, p.LimitVolts):
		return No
	case p.RatedWatts == 0 || p.RatingEstimated || p.LimitVolts == 0 && asksForLimit(load.MostVolts),
		tooWeak(p.RatedWatts, load.MostWatts, 1), tooHigh(load.MostVolts, p.LimitVolts):
		return OnlyIf
	}
	return Yes
}
