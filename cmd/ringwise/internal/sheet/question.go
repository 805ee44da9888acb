package sheet

import (
	"ringwise/decode"
)

// A Question is asked of one or more parts and answered in boxes.
type Question struct {
	Kind     Kind
	First    int // its number in variant 1
	Ask      string
	Figures  []Figure
	Boxes    []Box
	Cautions []string
	Steps    []string // the worked answer
	Remarks  []string // what else is worth knowing, with the answer
}

// A Figure is a row of rings to look at or to fill in.
type Figure struct {
	Label string // "A"; empty where a question has one figure
	Part  Part
	// Blank asks to draw the outline of a part with its rings left empty;
	// the answer sheet shows them.
	Blank bool
	// Faulty marks a row that has no meaning: only Part.Reading.Rings is set.
	Faulty bool
}

// A Box is where one answer goes.
type Box struct {
	Label string
	Form  Form
	// Want is the right answer as it is compared, Shown as people read it.
	Want, Shown string
	// Figures is how many figures of a number are enough; 0 asks for the
	// exact number.
	Figures int
	Slips   []Slip
}

// Form says how an answer is written and compared.
type Form string

// The forms of an answer.
const (
	FormRings   Form = "rings"   // colours in reading order
	FormOhms    Form = "ohm"     // a resistance
	FormPercent Form = "percent" // a tolerance, as a number or a letter
	FormTempco  Form = "ppm/K"   // a coefficient, as a number or a letter
	FormVolts   Form = "volt"    // a voltage
	FormWatts   Form = "watt"    // a power
	FormNumber  Form = "number"  // a whole number
	FormMarking Form = "marking" // a resistance in letters and digits
	FormLetters Form = "letters" // the letters of figures, or none of them
	FormWord    Form = "word"    // one of the words offered
)

// NoneOfThem is the answer in FormLetters that no figure fits.
const NoneOfThem = "-"

// A Slip is a wrong answer with a known cause.
type Slip struct {
	Name   SlipName `json:"slip"`
	Answer string   `json:"answer"`
}

// lettersOf writes rings in letters of IEC 60757.
func lettersOf(rings []decode.Colour) string {
	text := ""
	for i, c := range rings {
		if i > 0 {
			text += " "
		}
		text += c.Letters()
	}
	return text
}
