package marking

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ringwise/cmd/ringwise/internal/sheet"
)

// A Class is how a class did, in the words of the sheet's language.
type Class struct {
	Words     sheet.Words
	Title     string
	Heading   string
	Lines     []string // how many, average, spread, what could not be read
	Questions []Tally
	Slips     []string // most frequent first
}

// A Tally is how one question went, over all variants.
type Tally struct {
	Number    int // in variant 1
	Kind      string
	Right, Of int // boxes
}

// Percent is the share of right boxes, rounded.
func (t Tally) Percent() int { return (200*t.Right + t.Of) / (2 * t.Of) }

// mostSlips is how many slips a summary names.
const mostSlips = 8

// Sum sums up the marked answers of a class, of which there is at least one.
func Sum(scripts []Script) (Class, error) {
	key := scripts[0].Key
	w, err := sheet.In(key.Language)
	if err != nil {
		return Class{}, err
	}
	c := Class{Words: w, Title: key.Title}
	tallies := map[int]*Tally{}
	slips := map[sheet.SlipName]*slipCount{}
	var codes []string
	var all []int
	sum, notRead := 0, 0
	for _, s := range scripts {
		if !slices.Contains(codes, s.Key.Sheet) {
			codes = append(codes, s.Key.Sheet)
		}
		all, sum = append(all, s.Points()), sum+s.Points()
		notRead += s.NotRead()
		for i, q := range s.Key.Questions {
			t := tallies[q.First]
			if t == nil {
				t = &Tally{Number: q.First, Kind: w.Kinds[q.Kind]}
				tallies[q.First] = t
			}
			t.Right, t.Of = t.Right+points(s.Marks[i]), t.Of+len(s.Marks[i])
			for _, m := range s.Marks[i] {
				for _, name := range m.Slips {
					if slips[name] == nil {
						slips[name] = &slipCount{name: name, questions: map[int]bool{}}
					}
					slips[name].count++
					slips[name].questions[q.First] = true
				}
			}
		}
	}
	c.Heading = w.Class + " · " + fmt.Sprintf(w.Sheet, strings.Join(codes, ", "))
	of := scripts[0].Of()
	average := float64(sum) / float64(len(scripts))
	slices.Sort(all)
	c.Lines = []string{
		fmt.Sprintf(w.Learners, len(scripts)),
		fmt.Sprintf(w.Average, w.Number(average, 1), of, int(100*average/float64(of)+0.5)),
		fmt.Sprintf(w.Spread, all[0], w.Number(middle(all), 1), all[len(all)-1]),
	}
	if notRead > 0 {
		c.Lines = append(c.Lines, fmt.Sprintf(w.NotRead, notRead))
	}
	if len(codes) > 1 {
		c.Lines = append(c.Lines, w.NumbersOfFirst)
	}
	for _, t := range tallies {
		c.Questions = append(c.Questions, *t)
	}
	slices.SortFunc(c.Questions, func(a, b Tally) int { return a.Number - b.Number })
	c.Slips = slipLines(slips, w)
	return c, nil
}

type slipCount struct {
	name      sheet.SlipName
	count     int
	questions map[int]bool
}

// slipLines names the most frequent slips and the questions they were made in.
func slipLines(slips map[sheet.SlipName]*slipCount, w sheet.Words) []string {
	var counts []*slipCount
	for _, s := range slips {
		counts = append(counts, s)
	}
	slices.SortFunc(counts, func(a, b *slipCount) int {
		return cmp.Or(b.count-a.count, cmp.Compare(a.name, b.name))
	})
	var lines []string
	for _, s := range counts[:min(len(counts), mostSlips)] {
		var numbers []int
		for n := range s.questions {
			numbers = append(numbers, n)
		}
		slices.Sort(numbers)
		words := make([]string, len(numbers))
		for i, n := range numbers {
			words[i] = strconv.Itoa(n)
		}
		lines = append(lines, fmt.Sprintf(w.SlipLine, w.SlipNames[s.name], s.count, strings.Join(words, ", ")))
	}
	if lines == nil {
		lines = []string{w.NoSlips}
	}
	return lines
}

// middle is the median of sorted numbers.
func middle(sorted []int) float64 {
	n := len(sorted)
	return float64(sorted[(n-1)/2]+sorted[n/2]) / 2
}
