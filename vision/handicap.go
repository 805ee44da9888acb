package vision

// regard finds out what of the photo around a body keeps it from being trusted.
func (l *look) regard(v view, stand plane) {
	l.grey, l.cutOff, l.masked = v.grey(), v.cutsOff(l.box), l.isMasked(v, stand)
}

// handicap lists what keeps a body from being trusted, each with what would
// help.
func (l look) handicap() []string {
	var out []string
	if l.grey {
		out = append(out, "the photo has no colours: take it in colour")
	}
	if l.cutOff {
		out = append(out, "the photo's edge may cut the body: take the photo with all of the part in it")
	}
	if c, ok := l.likeliest(); ok && l.burnt(c) > mostGlare {
		out = append(out, burntRing)
	}
	if l.masked {
		out = append(out, "an end of the body cannot be seen: move what covers or touches it")
	}
	if l.isCrossed() {
		out = append(out, "something may lie across the body: move it away")
	}
	if l.detail*float64(l.right-l.left) < smallBody {
		out = append(out, "few pixels: take the photo closer")
	}
	if !l.clear() {
		out = append(out, "the body's outline is not clear: move the part clear of others, onto plain ground")
	}
	return out
}

// mostGlare is the share of a ring that may be burnt out where its colour is still to
// be trusted: a spot of glare on a ring makes it look silver or white. Set by hand.
const mostGlare = 0.2

// atTheEdge is the share of its length from the photo's edge within which the end
// of a body may as well lie beyond it: about as far off as ends are found.
const atTheEdge = 0.03

// cutsOff tells whether one of a body's ends may lie beyond the photo's edge, and
// rings with it.
func (v view) cutsOff(b box) bool {
	near := atTheEdge * 2 * b.half
	for _, end := range [2]float64{-b.half, b.half} {
		x, y := b.at(end, 0)
		if min(x, y, float64(v.width-1)-x, float64(v.height-1)-y) < near {
			return true
		}
	}
	return false
}

// unclearDoubt is the share of bodies with an unclear outline that are none, as
// judged on generated scenes.
const unclearDoubt = 0.1

// surelyHinted is the chance given by a hint from which on a body with rings needs
// no clear outline: on the scenes of the tune split all such were bodies. It must
// stand out from what lies beside it by surelySolid all the same: print on a block
// does not.
const (
	surelyHinted = 0.4
	surelySolid  = 0.35
)

// clear tells whether a body's outline, or the network that sees it in its
// surroundings, leaves no doubt that it is one.
func (l look) clear() bool {
	outlined := l.gain >= 25 && l.solid >= 0.5 && l.open <= 0.4 && l.discord <= 12
	hinted := l.chance >= surelyHinted && l.solid >= surelySolid
	return l.told != nil && (outlined || hinted)
}

// smallBody is the length, in photo pixels, below which a body is too small to
// be sure of.
const smallBody = 48
