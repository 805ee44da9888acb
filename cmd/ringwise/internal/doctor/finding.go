// Package doctor examines what Ringwise needs: its libraries, its reading, the
// stock, and the programs and devices it can use. Every finding says what was
// found and, if anything can be done, what.
package doctor

import (
	"fmt"
	"io"
)

// A State says how a finding stands.
type State string

// The states.
const (
	Well    State = "well"
	Lacking State = "lacking" // something optional is not there; all else works
	Wrong   State = "wrong"   // something does not work as it should
)

// A Finding is what one examination found.
type Finding struct {
	Of    string `json:"of"`    // what was examined
	State State  `json:"state"` //
	Found string `json:"found"` // in a few words
	Do    string `json:"do"`    // what to do, empty if there is nothing to do
}

// Sound is whether nothing is wrong.
func Sound(all []Finding) bool {
	for _, f := range all {
		if f.State == Wrong {
			return false
		}
	}
	return true
}

// Write writes findings a line each, then one that sums them up, for people and
// screen readers.
func Write(w io.Writer, all []Finding) error {
	count := map[State]int{}
	for _, f := range all {
		count[f.State]++
		line := fmt.Sprintf("%s: %s: %s", f.State, f.Of, f.Found)
		if f.Do != "" {
			line += "; to do: " + f.Do
		}
		if _, err := fmt.Fprintln(w, line); err != nil {
			return err
		}
	}
	sum := "All that is needed works."
	if !Sound(all) {
		sum = "Something is wrong: see the lines that begin with wrong."
	}
	_, err := fmt.Fprintf(w, "%s %d well, %d lacking, %d wrong.\n", sum, count[Well], count[Lacking], count[Wrong])
	return err
}
