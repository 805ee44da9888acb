package decode

// Plain sentences for the person, carried in the notes and cautions of a
// reading.
const (
	// NoteLink goes with a single black ring (IEC 60062).
	NoteLink = "A single black ring marks a zero-ohm link."

	// NoteFailureRate goes with a four-ring code and a failure-rate ring.
	NoteFailureRate = "Read as a four-ring code with a failure-rate ring, as on military parts."

	// NoteLookAlike goes with anything that other evidence does not show to
	// be a resistor: moulded axial chokes, some diodes, capacitors and
	// thermistors carry rings that are legal here and mean something else.
	NoteLookAlike = "This could be a choke or another part: measure it."

	// CautionHighVoltage goes with yellow or grey read in place of gold or
	// silver.
	CautionHighVoltage = "This may be a high-voltage part: replace it only with one rated for the voltage."

	// CautionSpecialPart goes with a wire-wound, fusible, flameproof or safety part,
	// or the look of one.
	CautionSpecialPart = "This may be a wire-wound, fusible, flameproof or safety part: replace it only with the same kind."
)
