package vision

import "slices"

// What tells letters, threads and springs from bodies with rings, in Lab units and
// counts. Of the 1769 bodies with rings of development photos, of copies of them and of
// scenes of the tune split that these were set on none was less coloured than 8 and one
// in a hundred less than 13; photos whose colours are a quarter as strong should keep
// theirs. Black print of a clean photo stays below 3, in warm light and noise it comes
// to 18, mostly to less than 10. No photo of theirs has more than ten doubtful bodies.
const (
	leastColour  = 3.0  // of any body
	colourInText = 13.0 // of a body where there is much print
	mostDoubtful = 20   // bodies that no hint or outline speaks for; with more there is much print
)

// withoutPrint leaves out what shows no colour but that of the light, such as letters,
// and where there is much of it, what may be letters too. Of a grey photo, which shows no
// colour anyway, only the latter can be told.
func withoutPrint(looks []look, grey bool) []look {
	doubtful := 0
	for _, l := range looks {
		if l.isDoubtful() {
			doubtful++
		}
	}
	much, least := doubtful > mostDoubtful, leastColour
	if much {
		least = colourInText
	}
	return slices.DeleteFunc(looks, func(l look) bool {
		return !l.isLink() && (much && l.isDoubtful() || !grey && !l.isColoured(least))
	})
}

// isDoubtful tells whether neither a hint nor an outline speaks for a body.
func (l look) isDoubtful() bool { return l.chance == 0 && !l.clear() }

// isColoured tells whether a tenth of a body's columns lie so far from any grey of the
// light on the ground. Of grey things in one light a and b rise as the lightness plus 16
// does (CIE 15, above L* of 8): no code is made of black, grey and white on a grey body.
func (l look) isColoured(least float64) bool {
	if len(l.ground) == 0 {
		return true
	}
	const dark = 16
	ground := l.ground[len(l.ground)/2]
	coloured := 0
	for _, s := range l.spots[l.left:l.right] {
		if s.tint.minus(ground.times((s.l+dark)/(ground.l+dark))).chroma() >= least {
			coloured++
		}
	}
	return 10*coloured >= l.right-l.left
}
