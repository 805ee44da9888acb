package vision

import "math"

// isMasked tells whether one of the body's ends cannot be told from what lies beyond it,
// and no lead comes out of it: something may cover rings there, or two bodies lie end
// to end. The ground is that beside the other half, since what covers an end may reach
// farther to the sides than the ground is looked for.
func (l look) isMasked(v view, stand plane) bool {
	const over = 0.2 // how far the other half's ground reaches over the middle, in half lengths
	before, behind := l.beyond()
	return l.masks(before, groundAlong(v, stand, l.box, -over, groundReach)) ||
		l.masks(behind, groundAlong(v, stand, l.box, -groundReach, over))
}

// masks tells whether columns beyond an end of the body stand out from the ground and
// show no lead.
func (l look) masks(beyond run, ground []tint) bool {
	const (
		most  = 0.6 // may stand out; a lead is thinner than what is looked at
		least = 0.5 // of the columns show a lead where there is one
	)
	if len(ground) == 0 {
		return false
	}
	columns := float64(beyond.to - beyond.from)
	solid, leads := 0.0, 0.0
	for c := beyond.from; c < beyond.to; c++ {
		solid += l.sides.solidAt(c, l.body, ground)
		if l.showsLead(c) {
			leads++
		}
	}
	return solid > most*columns && leads < least*columns
}

// showsLead tells whether what lies on the axis of a column looks other than what lies
// on either side of it, as a lead does beyond the ends of a body.
func (l look) showsLead(column int) bool {
	const clear = 12 // Lab units
	for _, r := range [...]int{stripRows/2 - 1, stripRows / 2} {
		shift := int(math.Round(l.strip.bend.shift(r)))
		axis := toTint(toLinear(l.strip.pixels[r][min(max(column+shift, 0), stripColumns-1)]))
		for _, t := range l.sides[column] {
			if axis.from(t) <= clear {
				return false
			}
		}
	}
	return true
}
