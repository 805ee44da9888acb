// Package columns says, for each column of a straightened strip, how likely it
// is to show what lies outside a body, bare body, or a ring of each colour. Two
// convolutional networks tell, taught on scenes whose truth is known: a small one
// for a glance, and one to read. Two more tell where a body's edges lie and where
// something lies over it. See the command in learn.
package columns

// The strip reaches beyond the body on all sides, so that ground, leads and
// the body's outline are seen too.
const (
	Columns   = 160
	Rows      = 44
	bodyRows  = 24 // the rows in the middle that a well fitted body fills
	sideBands = 2  // bands of rows on either side of the body
)

// The strip's half length over that of the body it is made for, and its half width
// over the body's.
const (
	ReachAlong  = 1.25 * Columns / 128
	ReachAcross = 0.86 * Rows / bodyRows
)

// A Strip is a stretch of a photo straightened along a body's axis, columns
// along the body and rows across it.
type Strip struct {
	// Pixels are sRGB values from 0 to 255, red first (IEC 61966-2-1).
	Pixels [Rows][Columns][3]float32
	// Detail is the number of photo pixels per column, before any shrinking.
	Detail float64
}

// Along is where a column lies along the body, in half lengths from its
// middle.
func Along(column float64) float64 { return (2*column/Columns - 1) * ReachAlong }

// Aside is where a row lies across the body, in half widths from its axis.
func Aside(row float64) float64 { return (2*row/Rows - 1) * ReachAcross }

// Across is where a place across the body, in half widths from its axis, lies
// in the strip: -1 in the first row, 1 in the last.
func Across(place float64) float64 { return place / ReachAcross }
