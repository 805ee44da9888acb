// Package stock keeps confirmed parts in one SQLite file. Nothing enters it
// that a person has not confirmed, everything done to it can be undone, and
// what it has answered for survives the loss of power.
package stock

import (
	"time"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// A Part is an entry of the stock: one or several identical parts, confirmed
// together.
type Part struct {
	// ID is the entry's number in this stock, from 1. Confirm gives it; it is
	// never given twice.
	ID int64
	// Key names the entry in any stock, at most 64 characters. Confirm makes
	// one up if it is empty. To confirm the same key again adds nothing: a
	// repeated request, or an import of what is there, does no harm.
	Key string
	// Count is how many of the parts are there now; 0 if all are taken.
	Count int
	// Origin says where the value comes from.
	Origin Origin
	// Reading is the value as confirmed. Rings is empty unless Origin is
	// FromRings. Notes and Cautions are not kept but worked out anew.
	Reading decode.Reading
	// Kind, of those that network.Kinds lists, Size and Rating cannot be seen in rings; each comes with the basis
	// on which it stands, and is empty or null where that is Unknown.
	Kind        decode.Kind
	KindBasis   Basis
	Size        Size
	SizeBasis   Basis
	RatingWatts decimal.NullDecimal // power rating at 70 °C, in watts
	RatingBasis Basis
	// Photo is the name of the photo's file and PhotoPart the number of the
	// part in it, from 1. Empty and 0 if there was no photo.
	Photo     string
	PhotoPart int
	// Verdict is what Ringwise said of its own reading: "sure", "check",
	// "unreadable"; empty without a photo. Candidates are the readings it
	// offered, best first.
	Verdict    string
	Candidates []Candidate
	// Changes are what the person changed of the first candidate.
	Changes []Change
	// Meter is what a meter showed, nil if none was asked.
	Meter *decode.Measurement
	// Note is the person's own remark, at most 2000 characters.
	Note string
	// Confirmed is when the person confirmed the entry. Confirm takes the
	// present time if it is zero. Kept to the second, in UTC.
	Confirmed time.Time
	// Crop is the part cut out of the photo, as PNG of at most 4 MB. Parts
	// and Part leave it out; Crop fetches it.
	Crop []byte
	// Step is the last step of the journal that changed the entry. Amend
	// refuses an entry that has changed since it was fetched.
	Step int64
}

// Origin says where the value of a part comes from.
type Origin string

// The origins.
const (
	FromRings Origin = "rings"   // a person confirmed the rings
	ByHand    Origin = "by hand" // a person gave the value: printed, or measured
)

// Basis says on what a fact that rings do not carry stands.
type Basis string

// The bases.
const (
	Unknown   Basis = "unknown"
	Estimated Basis = "estimated" // worked out from the photo or from other facts
	Said      Basis = "said"      // by the person
)

// A Candidate is a reading that was offered.
type Candidate struct {
	Rings      []decode.Colour
	Ohms       decimal.Decimal
	Tolerance  decimal.NullDecimal // percent
	Confidence float64             // 0 to 1
}

// A Change is one thing the person changed, such as What "ring 2", From
// "blue", To "violet".
type Change struct {
	What string `json:"what"`
	From string `json:"from"`
	To   string `json:"to"`
}
