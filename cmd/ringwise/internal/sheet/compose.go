package sheet

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"unicode/utf8"
)

// Bounds of an Order.
const (
	MostQuestions = 60
	MostVariants  = 26
	MostLevel     = 3
	MostText      = 200 // characters of the title and of the note
)

// An Order says what sheets to make.
type Order struct {
	Title    string
	Note     string // a line at the head, such as where the parts come from
	Kinds    []Kind
	Level    int // 1 to MostLevel
	Count    int // questions on a sheet, 1 to MostQuestions
	Variants int // 1 to MostVariants: the same questions in other orders
	Seed     uint64
	Language string
}

// A Sheet is one variant of the questions.
type Sheet struct {
	Code      string // ties a question sheet to its answers
	Variant   int    // from 1
	Order     Order
	Questions []Question
	Unchecked bool // some part has not been confirmed by a person
}

// A task is one question before its choices have an order.
type task struct {
	kind   Kind
	number int // in variant 1
	ask    func(dice *rand.Rand) Question
}

// Check returns an error if the order is out of bounds.
func (o Order) Check() error {
	switch {
	case o.Count < 1 || o.Count > MostQuestions:
		return fmt.Errorf("%d questions make no sheet: ask for 1 to %d", o.Count, MostQuestions)
	case o.Variants < 1 || o.Variants > MostVariants:
		return fmt.Errorf("%d variants cannot be made: ask for 1 to %d", o.Variants, MostVariants)
	case o.Level < 1 || o.Level > MostLevel:
		return fmt.Errorf("there is no level %d: use 1 to %d", o.Level, MostLevel)
	case len(o.Kinds) == 0:
		return fmt.Errorf("no kind of question is chosen: use some of %s, or all", kindNames())
	}
	switch title, note := utf8.RuneCountInString(o.Title), utf8.RuneCountInString(o.Note); {
	case strings.TrimSpace(o.Title) == "":
		return errors.New("the title is empty: give one, such as the name of the class")
	case title > MostText || note > MostText:
		return fmt.Errorf("the title or the note has %d characters: use at most %d", max(title, note), MostText)
	}
	_, err := In(o.Language)
	return err
}

// Compose makes the sheets of an order, one for each variant, from parts that
// Usable has let through. The same parts and order make the same sheets. It
// returns an error if the order is out of bounds or so many different
// questions cannot be made of the parts.
func Compose(parts []Part, o Order) ([]Sheet, error) {
	if err := o.Check(); err != nil {
		return nil, err
	}
	w, err := In(o.Language)
	if err != nil {
		return nil, err
	}
	c := composer{words: w, level: o.Level, parts: parts, dice: rand.New(rand.NewPCG(o.Seed, 1)), bags: map[Kind][]Part{}, asked: map[Kind][]Part{}}
	tasks, err := c.tasks(o)
	if err != nil {
		return nil, err
	}
	sheets := make([]Sheet, o.Variants)
	for v := range sheets {
		dice := rand.New(rand.NewPCG(o.Seed, uint64(2+v)))
		order := slices.Clone(tasks)
		if v > 0 {
			dice.Shuffle(len(order), func(i, k int) { order[i], order[k] = order[k], order[i] })
		}
		s := Sheet{Variant: v + 1, Order: o}
		for _, t := range order {
			q := t.ask(dice)
			q.First = t.number
			s.Questions = append(s.Questions, q)
			s.Unchecked = s.Unchecked || slices.ContainsFunc(q.Figures, func(f Figure) bool { return f.Part.Unchecked })
		}
		if s.Code, err = codeOf(s); err != nil {
			return nil, err
		}
		sheets[v] = s
	}
	return sheets, nil
}

// A composer picks the parts that questions are asked about.
type composer struct {
	words Words
	level int
	parts []Part
	dice  *rand.Rand
	bags  map[Kind][]Part // for each kind the parts not yet asked about
	asked map[Kind][]Part // and those that are
}

// tasks makes as many tasks as are ordered, spread over the kinds and sorted
// by them. No question is asked twice.
func (c *composer) tasks(o Order) ([]task, error) {
	for _, k := range o.Kinds {
		c.bags[k] = c.bag()
	}
	var tasks []task
	for open := slices.Clone(o.Kinds); len(tasks) < o.Count; {
		if len(open) == 0 {
			return nil, tooFew(len(tasks), len(c.parts), o)
		}
		for i := 0; i < len(open) && len(tasks) < o.Count; {
			if t, ok := c.next(open[i]); ok {
				tasks = append(tasks, t)
				i++
			} else {
				open = slices.Delete(open, i, i+1)
			}
		}
	}
	slices.SortStableFunc(tasks, func(a, b task) int {
		return slices.Index(Kinds, a.kind) - slices.Index(Kinds, b.kind)
	})
	for i := range tasks {
		tasks[i].number = i + 1
	}
	return tasks, nil
}

// tooFew says that of so many parts fewer questions can be made than are
// ordered, and what would help.
func tooFew(questions, parts int, o Order) error {
	made, of := "no question", fmt.Sprintf("%s at level %d", countOf(parts, "part"), o.Level)
	var mends []string
	if questions > 0 {
		made, of = "only "+countOf(questions, "different question"), fmt.Sprintf("%s, not %d", of, o.Count)
		mends = append(mends, "ask for fewer")
	}
	if len(o.Kinds) < len(Kinds) {
		mends = append(mends, "add kinds")
	}
	mends = append(mends, "give other or more parts")
	return fmt.Errorf("%s can be made of %s: %s", made, of, strings.Join(mends, ", or "))
}

func countOf(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// bag holds one part for each row of rings, shuffled.
func (c *composer) bag() []Part {
	var bag []Part
	for _, p := range c.parts {
		if !slices.ContainsFunc(bag, func(q Part) bool { return slices.Equal(p.Reading.Rings, q.Reading.Rings) }) {
			bag = append(bag, p)
		}
	}
	c.dice.Shuffle(len(bag), func(i, k int) { bag[i], bag[k] = bag[k], bag[i] })
	return bag
}

// next makes the next task of a kind, or reports false if there is none left.
// It is about a part that no other question tells, as long as there is one.
func (c *composer) next(kind Kind) (task, bool) {
	for len(c.bags[kind]) > 0 {
		at := max(0, slices.IndexFunc(c.bags[kind], func(p Part) bool { return !c.told(kind, p) }))
		first := c.bags[kind][at]
		c.bags[kind] = slices.Delete(c.bags[kind], at, at+1)
		if ask, ok := c.about(kind, first); ok {
			c.asked[kind] = append(c.asked[kind], first)
			return task{kind: kind, ask: ask}, true
		}
	}
	return task{}, false
}

// reverse is the kind that shows what another asks for.
var reverse = map[Kind]Kind{ToValue: ToRings, ToRings: ToValue}

// told reports whether another question shows what a question of a kind about
// a part would ask for.
func (c *composer) told(kind Kind, p Part) bool {
	return slices.ContainsFunc(c.asked[reverse[kind]], func(q Part) bool { return q.Reading.Ohms.Equal(p.Reading.Ohms) })
}

// about makes a question of a kind about a part, or reports false if the
// other parts do not allow one.
func (c *composer) about(kind Kind, first Part) (func(*rand.Rand) Question, bool) {
	w, level := c.words, c.level
	switch kind {
	case ToValue:
		return func(*rand.Rand) Question { return w.askValue(first, level) }, true
	case ToRings:
		return func(*rand.Rand) Question { return w.askRings(first) }, true
	case StandIn:
		wanted, choices, ok := standIns(first, c.parts, level, c.dice)
		return func(dice *rand.Rand) Question {
			shuffled := slices.Clone(choices)
			dice.Shuffle(len(shuffled), func(i, k int) { shuffled[i], shuffled[k] = shuffled[k], shuffled[i] })
			return w.askStandIn(wanted, shuffled)
		}, ok
	case Pair, Divider:
		second, ok := c.partner(first)
		if kind == Pair {
			return func(*rand.Rand) Question { return w.askPair(first, second, level) }, ok
		}
		supply := supplies[c.dice.IntN(len(supplies))]
		return func(*rand.Rand) Question { return w.askDivider(first, second, supply, level) }, ok
	case Power:
		l, ok := loads(first.Reading, level, c.dice)
		return func(*rand.Rand) Question { return w.askPower(first, l) }, ok
	case Impossible:
		f, ok := spoiled(first.Reading.Rings, c.dice)
		others := c.others(first, min(level+1, 3))
		return func(dice *rand.Rand) Question {
			shuffled := slices.Clone(others)
			dice.Shuffle(len(shuffled), func(i, k int) { shuffled[i], shuffled[k] = shuffled[k], shuffled[i] })
			return w.askImpossible(f, shuffled, dice.IntN(len(shuffled)+1))
		}, ok && len(others) >= 1
	}
	panic("there is no kind " + string(kind))
}

// partner picks a part to go with the first: another, not too far from it in
// value.
func (c *composer) partner(first Part) (Part, bool) {
	var list []Part
	for _, p := range c.parts {
		if !slices.Equal(p.Reading.Rings, first.Reading.Rings) && !ratio(p.Reading.Ohms, first.Reading.Ohms).GreaterThan(widestPair) {
			list = append(list, p)
		}
	}
	if len(list) == 0 {
		return Part{}, false
	}
	return list[c.dice.IntN(len(list))], true
}

// others picks up to so many parts with rings that differ from the first's
// and from each other's.
func (c *composer) others(first Part, most int) []Part {
	var list []Part
	for _, p := range c.bag() {
		if len(list) < most && !slices.Equal(p.Reading.Rings, first.Reading.Rings) {
			list = append(list, p)
		}
	}
	return list
}
