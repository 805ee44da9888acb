package network

import (
	"fmt"

	"ringwise/decode"
)

// A Derating is how the power that a part bears falls with the heat around it:
// all of its rating up to StartC, nothing from ZeroC on, a straight line
// between (IEC 60115-1, derating curve).
type Derating struct {
	StartC float64 `json:"start_c"`
	ZeroC  float64 `json:"zero_c"`
	Source string  `json:"source"` // where the two come from
	// Guessed tells that there is no curve for the kind that an end not given
	// could be taken from.
	Guessed bool `json:"guessed,omitempty"`
}

// deratings are the usual curves of each kind; makers' data differ and go
// before them. Where curves differ, the earlier zero is taken.
var deratings = map[decode.Kind]Derating{
	decode.KindComposition: {StartC: 70, ZeroC: 130, Source: "from memory: MIL-R-39008, 70 °C and 130 °C"},
	decode.KindCarbonFilm:  {StartC: 70, ZeroC: 155, Source: "IEC 60115 practice for 70 °C; 155 °C from memory of data sheets"},
	decode.KindMetalFilm:   {StartC: 70, ZeroC: 155, Source: "IEC 60115 practice for 70 °C; 155 °C from memory of data sheets"},
	decode.KindOxide:       {StartC: 70, ZeroC: 200, Source: "IEC 60115 practice for 70 °C; 200 °C from memory of data sheets"},
	decode.KindWireWound:   {StartC: 25, ZeroC: 275, Source: "from memory: MIL-R-26, 25 °C and 275 °C"},
	decode.KindFusible:     {StartC: 70, ZeroC: 155, Source: "IEC 60115 practice for 70 °C; 155 °C from memory of data sheets"},
	decode.KindFlameproof:  {StartC: 70, ZeroC: 155, Source: "IEC 60115 practice for 70 °C; 155 °C from memory of data sheets"},
	decode.KindHighVoltage: {StartC: 70, ZeroC: 155, Source: "IEC 60115 practice for 70 °C; 155 °C from memory of data sheets"},
}

// unknownDerating is for kinds that are not known: the lowest of the usual
// ones.
var unknownDerating = Derating{StartC: 70, ZeroC: 130, Guessed: true,
	Source: "no curve for its kind: the usual start of 70 °C (IEC 60115 practice) and the lowest usual end, 130 °C (from memory)"}

// DeratingOf returns the usual derating of a kind, as a start: the part's own
// data sheet goes before it.
func DeratingOf(kind decode.Kind) Derating {
	if d, known := deratings[kind]; known {
		return d
	}
	return unknownDerating
}

// GivenDerating is the derating whose start and end, in °C, are given; nil for an
// end that is not given, which is then the usual one of the kind.
func GivenDerating(kind decode.Kind, startC, zeroC *float64) Derating {
	d := DeratingOf(kind)
	switch {
	case startC != nil && zeroC != nil:
		return Derating{StartC: *startC, ZeroC: *zeroC, Source: "as given"}
	case startC != nil:
		d.StartC, d.Source = *startC, "the start as given, the end as usual: "+d.Source
	case zeroC != nil:
		d.ZeroC, d.Source = *zeroC, "the end as given, the start as usual: "+d.Source
	}
	return d
}

// Check refuses a curve that makes no sense.
func (d Derating) Check() error {
	for _, c := range []float64{d.StartC, d.ZeroC} {
		if !(c >= coldest && c <= hottest) {
			return fmt.Errorf("a temperature of %g °C is out of range: use %g to %d °C", c, coldest, hottest)
		}
	}
	if d.ZeroC <= d.StartC {
		return fmt.Errorf("derating from %g °C cannot end at %g °C: the end must be the hotter", d.StartC, d.ZeroC)
	}
	return nil
}

// Share returns what share of its rating a part bears at an ambient
// temperature, 0 to 1.
func (d Derating) Share(ambientC float64) float64 {
	return min(1, max(0, (d.ZeroC-ambientC)/(d.ZeroC-d.StartC)))
}
