package network

// Plain sentences for the person, carried in the cautions of an answer. Common
// practice, no source, but for the voltages.
const (
	CautionHeat     = "A resistor near its rating gets hot enough to burn skin and scorch a board: leave air around it and keep it off the board."
	CautionMains    = "On the mains, and above some 50 volts, a shock can kill. Work on nothing that is connected to the mains, and leave mains wiring to whom local codes allow it: licensed people in many places."
	CautionCharge   = "Capacitors hold charge after the power is off: let them discharge through a suitable resistor and measure that they have."
	CautionSpecial  = "Replace fusible, flameproof, wire-wound, high-voltage and safety parts with the same kind only: they are there to fail safely."
	CautionMetering = "Measure resistance with all power off, the plug pulled and batteries out: a voltage falsifies the reading, and harms you and the meter."
	CautionMeasure  = "Values and ratings worked out here rest on what was entered: measure before you switch on."
)

const (
	// hotWatts is from what power on a small part is too hot to touch.
	// Judged, no source.
	hotWatts = 0.1
	// liveVolts is the most that counts as extra-low voltage: 50 V alternating,
	// the stricter of the two limits, 120 V for direct current (IEC 61140 and
	// IEC 60364-4-41, from memory).
	liveVolts = 50
	// chargeVolts is from where stored charge is worth a word. Judged, no
	// source.
	chargeVolts = 25
)

// Cautions gathers what goes with a resistor at work, of which voltage and power
// count, that may be one of the special kinds or not.
func Cautions(o Operation, special bool) []string {
	var list []string
	if o.Watts >= hotWatts {
		list = append(list, CautionHeat)
	}
	if o.Volts > liveVolts {
		list = append(list, CautionMains)
	}
	if o.Volts > chargeVolts {
		list = append(list, CautionCharge)
	}
	if special {
		list = append(list, CautionSpecial)
	}
	return append(list, CautionMeasure)
}
