package score

import (
	"fmt"
	"io"
	"math"
	"slices"
	"text/tabwriter"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/decode"
	"ringwise/vision"
)

// A Lesson is how well the same parts are read after some others by the same
// lamp were confirmed.
type Lesson struct {
	Confirmed int // in each batch
	Batches   int
	Tally     // of the parts that are never confirmed
}

// Taught returns what is read after 0, 3 and 8 confirmed parts of each batch, as
// far as these are fewer than most, and after most. The parts measured are the
// same each time: those found but for the first most. A batch is the photos that
// the truth puts into one, and by itself each that it puts into none; batches
// with too few parts are left out.
func (c *Card) Taught(most int) []Lesson {
	var lessons []Lesson
	batches := c.batches()
	for _, n := range []int{0, 3, 8, most} {
		if n > most || n == most && slices.ContainsFunc(lessons, func(l Lesson) bool { return l.Confirmed == most }) {
			continue
		}
		lesson := Lesson{Confirmed: n}
		var all []Labelled
		for _, b := range batches {
			if len(b.found) <= most {
				continue
			}
			lesson.Batches++
			all = append(all, b.after(n, most)...)
		}
		lesson.Tally = tally(all)
		lessons = append(lessons, lesson)
	}
	return lessons
}

// PrintTaught writes the lessons.
func PrintTaught(w io.Writer, lessons []Lesson) {
	if lessons[0].Batches == 0 {
		fmt.Fprintf(w, "\nno photo or batch has more than %d parts found: teach fewer\n", lessons[len(lessons)-1].Confirmed)
		return
	}
	batches := "1 batch"
	if n := lessons[0].Batches; n > 1 {
		batches = fmt.Sprintf("each of %d batches", n)
	}
	fmt.Fprintf(w, "\nafter confirming some parts of %s, the same %d others\n", batches, lessons[0].First.Total)
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "confirmed\tfirst right\t\t\tfirst three\t\t\tsure\t\t\twrong among sure\t\t\tcalibration error")
	for _, l := range lessons {
		fmt.Fprintf(table, "%d\t%s\t%s\t%s\t%s\t%.4f\n", l.Confirmed, l.First, l.FirstThree, l.Sure, l.WrongSure, l.ECE)
	}
	table.Flush()
}

// A lampBatch is photos by one lamp with the parts found in them.
type lampBatch struct {
	found  []Labelled
	bodies map[*Photo][]vision.Part // all of a photo: first those of found, in their order
}

// batches sorts what was found by lamp, in the order of the truth.
func (c *Card) batches() []*lampBatch {
	var list []*lampBatch
	byName := map[string]*lampBatch{}
	of := func(p *Photo) *lampBatch {
		name, ok := p.Scene["batch"].(string)
		if ok {
			name = p.set + "/" + name
		} else {
			name = p.path
		}
		b := byName[name]
		if b == nil {
			b = &lampBatch{bodies: map[*Photo][]vision.Part{}}
			byName[name] = b
			list = append(list, b)
		}
		return b
	}
	for _, l := range c.Labelled {
		if l.Found {
			b := of(l.Photo)
			b.found = append(b.found, l)
			b.bodies[l.Photo] = append(b.bodies[l.Photo], l.Reported.Part)
		}
	}
	for _, f := range c.False {
		b := of(f.Photo)
		b.bodies[f.Photo] = append(b.bodies[f.Photo], f.Reported.Part)
	}
	return list
}

// after reads the parts but for the first most after the first n were confirmed.
func (b *lampBatch) after(n, most int) []Labelled {
	var light vision.Light
	for _, l := range b.found[:n] {
		if rings := l.confirmed(); rings != nil {
			if told, err := light.WithPart(l.Reported.Part, rings); err == nil {
				light = told
			}
		}
	}
	anew := map[*Photo][]vision.Part{}
	for photo, bodies := range b.bodies {
		anew[photo] = vision.Under(bodies, light)
	}
	var out []Labelled
	next := map[*Photo]int{}
	for i, l := range b.found {
		part := anew[l.Photo][next[l.Photo]]
		next[l.Photo]++
		if i >= most {
			l.Reported = photoread.Part{Part: part, Ranking: decode.Rank(part.Seen)}
			out = append(out, l)
		}
	}
	return out
}

// confirmed is what a person says who confirms a part: which rings lie where
// along the strip. It is nil if that many rings were never seen, or if the truth
// does not say which end comes first.
func (l Labelled) confirmed() []decode.KnownRing {
	if l.Truth.Body.Axis == nil {
		return nil
	}
	var best *decode.Cut
	for i, cut := range l.Reported.Seen.Cuts {
		if len(cut.Rings) == len(l.Truth.Bands) && (best == nil || cut.LogWeight > best.LogWeight) {
			best = &l.Reported.Seen.Cuts[i]
		}
	}
	if best == nil {
		return nil
	}
	bands := slices.Clone(l.Truth.Bands)
	sin, cos := math.Sincos(*l.Truth.Body.Axis * math.Pi / 180)
	left, right := l.Reported.At(0, 0.5), l.Reported.At(1, 0.5)
	if (right.X-left.X)*cos+(right.Y-left.Y)*sin < 0 {
		slices.Reverse(bands)
	}
	rings := make([]decode.KnownRing, len(bands))
	for i, colour := range bands {
		rings[i] = decode.KnownRing{Centre: best.Rings[i].Centre, Width: best.Rings[i].Width, Colour: colour, Sure: true}
	}
	return rings
}
