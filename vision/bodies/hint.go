package bodies

import (
	"cmp"
	"math"
	"slices"

	"ringwise/vision/layers"
)

// Side is the longest side of what the network sees, in pixels.
const Side = 512

// A Hint is a place where a body may lie: its middle, the direction of its axis in
// radians and its half sizes, in pixels of the view.
type Hint struct {
	X, Y, Angle, Half, Rise float64
	Chance                  float64 // that a body lies there, from 0 to 1
	Bare                    bool    // whether it is that of a resistor without rings
}

// leastChance is from what chance on a place is hinted at.
const leastChance = 0.3

var runners = layers.NewRunners(func() []byte { return Taught().graph(Side, Side) })

// Hints returns places where bodies may lie in a view, likeliest first. The view
// is given as CIELAB in bytes, as OpenCV scales it, three a pixel: L 0 to 255, a
// and b with 128 for 0. It is at most Side long.
func Hints(lab []uint8, width, height int) []Hint {
	said, rows, columns := Said(lab, width, height), padded(height)/Cell, padded(width)/Cell
	hints := append(peaks(said, Middle, rows, columns), peaks(said, Bare, rows, columns)...)
	slices.SortStableFunc(hints, func(a, b Hint) int { return cmp.Compare(b.Chance, a.Chance) })
	return hints
}

// Said is what the network says of each cell of a view, given as to Hints: all
// cells' first output, row by row, then all cells' second, and so on. Beyond the
// view there are cells of nothing, to a multiple of Multiple pixels.
func Said(lab []uint8, width, height int) []float32 {
	rows, columns := padded(height), padded(width)
	framed := make([]float32, 3*rows*columns)
	for y := range height {
		to := framed[3*y*columns:]
		for i, v := range lab[3*y*width : 3*(y+1)*width] {
			to[i] = scaled[i%3][v]
		}
	}
	var said []float32
	runners.Use(func(r *layers.Runner) {
		r.Set(input, framed, 3, rows, columns)
		r.Out(func(out []float32) { said = slices.Clone(out) })
	})
	return said
}

// padded is a side with as much nothing beyond it as the network wants.
func padded(side int) int { return (side + Multiple - 1) / Multiple * Multiple }

// scaled is what the network is given for each byte of L, a and b: values from
// about -1 to 1.
var scaled = func() (table [3][256]float32) {
	for v := range 256 {
		table[0][v] = float32(v)*100/255/50 - 1
		table[1][v] = float32(v-128) / 40
		table[2][v] = table[1][v]
	}
	return table
}()

// peaks returns a hint for each cell that is likelier, by one of the outputs, than
// those around it.
func peaks(said []float32, by, rows, columns int) []Hint {
	cells := rows * columns
	likely := said[by*cells:][:cells]
	var out []Hint
	for i, odds := range likely {
		chance := 1 / (1 + math.Exp(-float64(odds)))
		if chance < leastChance || !isPeak(likely, i, rows, columns) {
			continue
		}
		of := func(k int) float64 { return float64(said[k*cells+i]) }
		out = append(out, Hint{
			X:      (float64(i%columns) + 0.5 + of(Right)) * Cell,
			Y:      (float64(i/columns) + 0.5 + of(Down)) * Cell,
			Angle:  math.Atan2(of(Sine), of(Cosine)) / 2,
			Half:   math.Exp(of(Half)) * Cell,
			Rise:   math.Exp(of(Rise)) * Cell,
			Chance: chance,
			Bare:   by == Bare,
		})
	}
	return out
}

func isPeak(said []float32, i, rows, columns int) bool {
	r, c := i/columns, i%columns
	for y := max(0, r-1); y <= min(rows-1, r+1); y++ {
		for x := max(0, c-1); x <= min(columns-1, c+1); x++ {
			if j := y*columns + x; said[j] > said[i] || said[j] == said[i] && j < i {
				return false
			}
		}
	}
	return true
}
