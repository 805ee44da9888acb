package sheet

import (
	"fmt"
	"slices"
	"strings"

	"ringwise/decode"
)

// Words are all the texts of sheets and of their marking in one language. In
// texts with verbs, %[1]s is the first of what is named behind the field, so
// that a language may put them in its own order.
type Words struct {
	Lang    string // as in IETF BCP 47, for screen readers
	Point   string // decimal mark
	Colours [decode.ColourCount]string
	And, Or string // between the last two of a list
	None    string // no figure fits

	// The head of a sheet.
	Questions, Answers string
	Sheet              string // code
	Variant            string // number
	Page               string // number, count
	Name, Date, Points string
	OnePoint           string
	PointsOf           string // count of two or more
	Letters            string // list of letters with their colours
	FromLeft           string
	RingCounts         string
	AnyForm            string
	UncheckedParts     string // mark
	UncheckedMark      string
	MarkBy             string // code
	FootNote           string
	Worked             string
	Caution            string

	// What a figure is called for those who do not see it.
	FigureOf     string // rings
	FigureLetter string // letter, rings
	BlankOf      string // count of rings

	// Boxes.
	Rings, Value, Tolerance, Lowest, Highest, Marking, Coefficient string
	SeriesValue, ParallelValue                                     string
	SeriesLowest, SeriesHighest, ParallelLowest, ParallelHighest   string
	Voltage, VoltageLowest, VoltageHighest, PowerBox, Heat         string
	WhichFits, WhichRow, WhichRing                                 string
	MoreFigures                                                    string // label, count

	// Kinds of question, by Kind: a heading each.
	Kinds map[Kind]string

	// Questions.
	AskValue      string
	AskRings      string // value with tolerance, count of rings
	AskStandIn    string // value with tolerance
	AskPair       string
	AskDivider    string // supply
	AskPower      string // volts, rating
	AskImpossible string
	HeatWords     [4]string // cool, warm, hot, overloaded
	HeatRule      string    // the four words

	// Worked answers.
	DigitRing     string // colour, digit
	TimesRing     string // colour, multiplier
	Makes         string // digits and multiplier, ohms in full
	Also          string // ohms with prefix
	ToleranceRing string // colour, percent, lowest, highest
	NoTolerance   string // percent, lowest, highest
	TempcoRing    string // colour, ppm
	MarkedAs      string // code, code with tolerance letter
	Preferred     string // digits, series
	NotPreferred  string // digits
	RingsFor      string // value, digits, multiplier
	RingIs        string // what, colour
	DigitIs       string // digit
	TimesIs       string // multiplier
	TolIs         string // percent
	TolNone       string // percent
	WantedSpan    string // value, lowest, highest
	FitsSpan      string // letter, value, lowest, highest
	BelowSpan     string // letter, value, lowest, highest
	AboveSpan     string // letter, value, lowest, highest
	BothSpan      string // letter, value, lowest, highest
	PartIs        string // letter, value
	PartSpan      string // letter, value, lowest, highest
	// The results below come with their own = or ≈.
	SeriesStep     string // A, B, sum
	ParallelStep   string // A, B, result
	SeriesSpan     string // lowest, highest
	ParallelSpan   string // lowest, highest
	DividerStep    string // supply, A, B, result
	DividerLow     string // supply, highest A, lowest B, result
	DividerHigh    string // supply, lowest A, highest B, result
	PowerStep      string // volts, ohms, watts
	PowerShare     string // rating, share in percent, heat word
	ImpossibleStep string // letter, ring number, colour, reason
	ZeroFirst      string
	NoDigit        string // colour
	NoTol          string // colour
	NoTempco       string // colour
	OthersFine     string // letters with values
	OtherEndToo    string

	// Cautions.
	CautionHeat, CautionMains, CautionStandIn string

	// Marking.
	Class          string // heading of the summary
	Learners       string // count
	Average        string // points, of, percent
	Spread         string // least, middle, most
	NotRead        string // answers that could not be read
	NumbersOfFirst string
	ShareRight     string // heading of the chart
	RightOf        string // right, of, percent
	Table          TableWords
	SlipHeading    string
	SlipLine       string // slip, count, numbers of questions
	NoSlips        string
	SlipNames      map[SlipName]string
	Empty          string
	Unreadable     string // why
	NoKnownSlip    string
}

// TableWords head the columns of the summary's table.
type TableWords struct{ Question, Kind, Right, Share string }

// languages holds the words of each language by its tag.
var languages = map[string]Words{"en": english}

// In returns the words of a language.
func In(language string) (Words, error) {
	if w, ok := languages[language]; ok {
		return w, nil
	}
	var known []string
	for tag := range languages {
		known = append(known, tag)
	}
	slices.Sort(known)
	return Words{}, fmt.Errorf("there are no words in the language %q: use %s", language, strings.Join(known, ", "))
}

// names lists rings by the names of their colours.
func (w Words) names(rings []decode.Colour) string {
	names := make([]string, len(rings))
	for i, c := range rings {
		names[i] = w.Colours[c]
	}
	return strings.Join(names, ", ")
}

// list joins words with commas and a last "and".
func (w Words) list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " " + w.And + " " + words[last]
}

// letters lists every ring colour behind its letters of IEC 60757.
func (w Words) letters() string {
	var list []string
	for c := range decode.Colour(decode.ColourCount) {
		list = append(list, c.Letters()+noBreak+w.Colours[c])
	}
	return strings.Join(list, ", ")
}
