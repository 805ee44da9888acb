package main

import (
	"fmt"
	"math"
	"strings"
)

// tapes are the two paper strips that hold the leads of a row of parts.
func tapes(d dice, parts []*part, angle, pitch, leadLength float64) string {
	tone := fromHex(pick(d, []string{"#e8e2d0", "#d8c8a0", "#5a7fb0", "#c05048", "#b89868"})).varied(d, 4, 0.1, 3)
	long := pitch*float64(len(parts)) + 14
	longest := 0.0
	for _, p := range parts {
		longest = max(longest, p.length)
	}
	var b strings.Builder
	for _, side := range []float64{-1, 1} {
		fmt.Fprintf(&b, "box { <%.3f,0,%.3f>,<%.3f,%.3f,%.3f> texture { pigment { %s } normal { bumps 0.1 scale 0.5 } finish { diffuse 0.88 specular 0.1 roughness 0.05 } } rotate y*%.3f }\n",
			side*(longest/2+leadLength*0.72)-3, -long/2, side*(longest/2+leadLength*0.72)+3, parts[0].radius+0.5, long/2, tone.pov(), -angle*180/math.Pi)
	}
	return b.String()
}
