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
}

// deratings are the usual curves of each kind; makers' data differ and go
// before them. Where curves differ, the earlier zero is taken.
var deratings = map[decode.Kind]Derating{
	decode.KindComposition: {70, 130, "from memory: MIL-R-39008, 70 °C and 130 °C"},
	decode.KindCarbonFilm:  {70, 155, "IEC 60115 practice for 70 °C; 155 °C from memory of data sheets"},
	decode.KindMetalFilm:   {70, 155, "IEC 60115 practice for 70 °C; 155 °C from memory of data sheets"},
	decode.KindOxide:       {70, 200, "IEC 60115 practice for 70 °C; 200 °C from memory of data sheets"},
	decode.KindWireWound:   {25, 275, "from memory: MIL-R-26, 25 °C and 275 °C"},
	decode.KindFusible:     {70, 155, "IEC 60115 practice for 70 °C; 155 °C from memory of data sheets"},
	decode.KindFlameproof:  {70, 155, "IEC 60115 practice for 70 °C; 155 °C from memory of data sheets"},
	decode.KindHighVoltage: {70, 155, "IEC 60115 practice for 70 °C; 155 °C from memory of data sheets"},
}

// unknownDerating is for kinds that are not known: the lowest of the usual
// ones.
var unknownDerating = Derating{70, 130, "no curve for its kind: the usual start of 70 °C (IEC 60115 practice) and the lowest usual end, 130 °C (from memory)"}

// DeratingOf returns the usual derating of a kind, as a start: the part's own
// data sheet goes before it.
func DeratingOf(kind decode.Kind) Derating {
	if d, known := deratings[kind]; known {
		return d
	}
	return unknownDerating
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
