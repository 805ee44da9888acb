package main

import (
	"fmt"
	"math"
	"strings"
)

// leadStyles are the ways leads are bent, with the share of parts.
var leadStyles = []weighted[string]{
	{"straight", 52}, {"curved", 20}, {"kinked", 14}, {"staple", 8}, {"hairpin", 6},
}

// leadPath gives the middle line of a lead that leaves a body at from in the
// level direction out. The turn is 1 or -1, to the left or right; a staple
// or hairpin turns both its leads to the same side.
func leadPath(d dice, from, out vec, length, radius float64, style string, turn float64) []vec {
	path := []vec{from}
	angle := math.Atan2(out.z, out.x)
	at := from
	walk := func(distance, bend float64, steps int) {
		for range steps {
			angle += bend / float64(steps)
			at = at.plus(heading(angle).times(distance / float64(steps)))
			path = append(path, at)
		}
	}
	switch style {
	case "curved":
		walk(length*0.25, 0, 1)
		walk(length*0.75, d.near(0, 0.35), 9)
	case "kinked":
		walk(length*d.between(0.1, 0.5), d.near(0, 0.05), 2)
		walk(length*0.08, d.sign()*d.between(0.25, 1.6), 5)
		walk(length*0.5, d.near(0, 0.2), 5)
	case "staple":
		walk(d.between(0.8, 3), 0, 1)
		walk(d.between(0.8, 2), turn*math.Pi/2*d.between(0.9, 1.1), 5)
		walk(length*0.6, d.near(0, 0.05), 2)
	case "hairpin":
		if d.chance(0.5) {
			walk(length*0.8, d.near(0, 0.1), 4)
			break
		}
		walk(d.between(1, 3), 0, 1)
		walk(math.Pi*d.between(1.8, 4), turn*math.Pi, 10)
		walk(length*0.9, d.near(0, 0.05), 2)
	default:
		walk(length, d.near(0, 0.06), 3)
	}
	sag(path, radius, d.between(0, 0.7))
	return path
}

// sag lets the far end of a lead sink towards the ground by the given share.
func sag(path []vec, radius, share float64) {
	total := 0.0
	for i := 1; i < len(path); i++ {
		total += path[i].distance(path[i-1])
	}
	gone, start := 0.0, path[0].y
	for i := 1; i < len(path); i++ {
		gone += path[i].flat().distance(path[i-1].flat())
		path[i].y = start - (start-radius)*share*math.Pow(gone/total, 2)
	}
}

// wirePov is a bent wire as POV-Ray text without a texture: cylinders with
// round joints.
func wirePov(path []vec, radius float64) string {
	var b strings.Builder
	for i := 1; i < len(path); i++ {
		fmt.Fprintf(&b, " cylinder { %s %s %.4f }", povVec(path[i-1]), povVec(path[i]), radius)
		if i < len(path)-1 {
			fmt.Fprintf(&b, " sphere { %s %.4f }", povVec(path[i]), radius)
		}
	}
	return b.String()
}

// wound is wires of one texture as POV-Ray text.
func wound(paths [][]vec, radius float64, texture string) string {
	var b strings.Builder
	for _, path := range paths {
		fmt.Fprintf(&b, "union {%s %s }\n", wirePov(path, radius), texture)
	}
	return b.String()
}
