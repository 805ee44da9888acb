package decode

// A Sighting is what was seen of one part: one or more ways to cut the body
// into rings, and what speaks against trusting any of them.
type Sighting struct {
	// Cuts are rival accounts of the same body: other ring counts, so that a
	// ring that was missed or is none has its say, and other guesses at the
	// light. Rank weighs them against each other.
	Cuts []Cut

	// Body is the hue of the body, as far as it could be told.
	Body BodyHue

	// Slenderness is the body's length over its width, 0 where it is unknown.
	Slenderness float64

	// Doubt is the probability, 0 to 1, that the part carries no ring code
	// at all (a blank body, a diode, a choke, some other thing).
	Doubt float64

	// Fault names what makes the part unreadable and what to do, such as
	// that it shows no rings. Empty when there is something to rank.
	Fault string

	// Handicap lists what lowers trust without making the part unreadable,
	// such as "blurred", "glare on a ring", "few pixels".
	Handicap []string

	// Hindrance names what made the rings hard to see and what would help,
	// such as "the rings are blurred: hold the camera still". It lowers no
	// trust; it is told where nothing or nothing certain can be read. Empty
	// when nothing did.
	Hindrance string
}

// A Cut is one account of the rings along a body, from the left end of the
// straightened strip to its right end.
type Cut struct {
	Rings []SeenRing

	// LogWeight is the natural logarithm of the account's own likelihood
	// before any colour is named, relative to its rivals.
	LogWeight float64

	// Alike holds, for each pair of rings, what is added to the logarithm
	// of the likelihood if both have the same colour: rings of one paint on
	// one body look alike. It may be nil.
	Alike [][]float64
}

// A SeenRing is one ring of a cut.
type SeenRing struct {
	// Centre and Width are fractions of the body's length, measured from
	// the strip's left end; 0 to 1.
	Centre, Width float64

	// LogLikelihood holds, for each colour, the natural logarithm of the
	// likelihood of the observed colour if the ring had that paint.
	LogLikelihood [ColourCount]float64
}

// BodyHue is the rough colour of a body.
type BodyHue uint8

// The hues that bear on how a part is coded.
const (
	BodyUnknown BodyHue = iota
	BodyTan             // tan, cream, golden: often two digits
	BodyBlue            // light or strong blue: often three digits
	BodyGreen           // green, mint, turquoise, olive
	BodyGrey            // grey, white
	BodyDark            // dark brown, maroon, charcoal: old composition parts
	BodyPink            // pink, orange, salmon
)

// Verdict says how far a ranking may be trusted.
type Verdict uint8

// The verdicts.
const (
	Unreadable Verdict = iota
	Check
	Sure
)

// String returns "sure", "check" or "unreadable".
func (v Verdict) String() string {
	switch v {
	case Sure:
		return "sure"
	case Check:
		return "check"
	}
	return "unreadable"
}
