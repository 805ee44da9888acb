package confirm

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/network"
)

// A Session goes through parts with a person.
type Session struct {
	Store *stock.Store
	In    io.Reader // the person's answers, a line each
	Out   io.Writer
	Say   func(string) // says a sentence aloud; may be nil

	// Grace is how long the person must have been asked before Enter confirms, so
	// that an Enter that bounced, was held down or was typed ahead confirms nothing
	// unseen. 0 takes every Enter, for answers that no keyboard gives.
	Grace time.Duration

	now    func() time.Time // the clock; nil is that of the system
	asked  time.Time        // when the person was last asked
	items  []*item
	past   []past
	untold []string // written, but not yet said aloud
	begun  bool     // a part was asked about, and how to answer was told
	warned bool     // of what can hurt where one measures
	passed bool     // a part that is in the stock already
}

// An item is a part on its way.
type item struct {
	Part
	said said
	fate verb // confirming, noResistor, skipping, unknowable, passing; saying while open
	met  bool // it was presented before
}

// A past is an answer that can be taken back.
type past struct {
	at     int // the item
	before said
	fate   verb  // that the item had before
	step   int64 // of the stock's journal that the answer made, or 0
}

// A Tally counts what became of the parts.
type Tally struct {
	Confirmed, NoResistor, Skipped, Unknown int
	// Known were in the stock already.
	Known int
	// Quit says that the person stopped before the end.
	Quit bool
}

// String says it in a line, such as "12 parts answered: 9 confirmed, 2
// skipped, 1 no resistor".
func (t Tally) String() string {
	all := t.Confirmed + t.NoResistor + t.Skipped + t.Unknown
	words := []string{fmt.Sprintf("%d confirmed", t.Confirmed)}
	for _, fate := range []struct {
		count int
		word  string
	}{{t.Skipped, "skipped"}, {t.NoResistor, "no resistor"}, {t.Unknown, "could not be told"}} {
		if fate.count > 0 {
			words = append(words, fmt.Sprintf("%d %s", fate.count, fate.word))
		}
	}
	text := fmt.Sprintf("%s answered: %s", count(all, "part"), strings.Join(words, ", "))
	if t.Known > 0 {
		text += "; in the stock already: " + count(t.Known, "part")
	}
	return text
}

func count(n int, word string) string {
	switch n {
	case 0:
		return "no " + word + "s"
	case 1:
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// errQuit ends a session at the person's wish.
var errQuit = errors.New("quit")

// mostAnswer is the longest answer, in bytes.
const mostAnswer = 4096

// A Photo is the parts of one photo.
type Photo struct {
	Name  string
	Parts []Part
}

// Run goes through the photos that next gives, until it answers false, the
// person quits or the answers end. Then it says what became of the parts. What
// was confirmed is in the stock, also if it returns an error.
func (s *Session) Run(ctx context.Context, next func() (photo Photo, ok bool)) (Tally, error) {
	if s.now == nil {
		s.now = time.Now
	}
	err := s.run(ctx, s.listen(ctx), next)
	t := s.tally()
	if errors.Is(err, errQuit) {
		t.Quit, err = true, nil
	}
	if err == nil {
		s.tell(t.String())
		if t.Confirmed > 0 {
			for _, caution := range (stock.Part{}).CautionsBeforeUse() {
				s.tell("CAUTION: " + caution)
			}
		}
		s.speak()
	}
	return t, err
}

func (s *Session) run(ctx context.Context, answers <-chan answer, next func() (Photo, bool)) error {
	for at := 0; ; {
		for at >= len(s.items) {
			photo, ok := next()
			if !ok {
				return nil
			}
			s.tell(photo.Name + ": " + count(len(photo.Parts), "part"))
			for _, p := range photo.Parts {
				s.items = append(s.items, &item{Part: p, said: said{meter: decode.UsualMeter}})
			}
		}
		if it := s.items[at]; !it.met && at > 0 {
			it.said.meter = s.items[at-1].said.meter // it is the same meter still
		}
		s.items[at].met = true
		var err error
		if at, err = s.ask(ctx, answers, at); err != nil {
			return err
		}
	}
}

// An answer is a line that the person typed.
type answer struct {
	line string
	came time.Time
}

// listen reads answers as they come. The channel is closed at their end.
func (s *Session) listen(ctx context.Context) <-chan answer {
	answers := make(chan answer)
	go func() {
		defer close(answers)
		lines := bufio.NewScanner(s.In)
		lines.Buffer(make([]byte, 0, mostAnswer), mostAnswer)
		for lines.Scan() {
			select {
			case answers <- answer{lines.Text(), s.now()}:
			case <-ctx.Done():
				return
			}
		}
	}()
	return answers
}

// tell writes lines. They are said aloud before the next answer.
func (s *Session) tell(lines ...string) {
	for _, line := range lines {
		fmt.Fprintln(s.Out, line)
	}
	s.untold = append(s.untold, lines...)
}

// speak says aloud what was written since the last answer.
func (s *Session) speak() {
	if s.Say != nil && len(s.untold) > 0 {
		s.Say(strings.Join(s.untold, ". "))
	}
	s.untold = nil
}

// ask presents a part and hears answers until it is decided or an answer leads
// elsewhere. It returns the item to go on with.
func (s *Session) ask(ctx context.Context, answers <-chan answer, at int) (int, error) {
	it := s.items[at]
	entry, there, err := s.Store.ByKey(ctx, it.Key)
	if err != nil {
		return at, err
	}
	if there {
		s.pass(it, entry)
		return at + 1, nil
	}
	if !s.begun {
		s.tell("Enter confirms what is said of a part; ? tells what else can be answered")
		s.begun = true
	}
	s.present(it)
	told := false // that an Enter came too soon: of a key that is held down once is enough
	for {
		heard, err := s.hear(ctx, answers)
		if err != nil {
			return at, err
		}
		what, next, err := it.understand(it.said, heard.line)
		if what == confirming && s.Grace > 0 && heard.came.Before(s.asked.Add(s.Grace)) {
			if !told {
				s.tell("not confirmed: that Enter came before this could be seen; press Enter again if it is right")
				s.present(it)
			}
			told = true
			continue
		}
		told = false
		if what == helping || measures(heard.line) {
			s.warnOfMeasuring()
		}
		if err != nil {
			s.tell(decode.SpokenText(err.Error()))
			continue
		}
		switch what {
		case saying:
			s.past = append(s.past, past{at: at, before: it.said})
			it.said = next
			s.present(it)
		case confirming:
			if done, err := s.confirm(ctx, at); err != nil {
				return at, err
			} else if done {
				return at + 1, nil
			}
		case noResistor, skipping, unknowable:
			s.decide(at, what, 0)
			return at + 1, nil
		case undoing:
			return s.undo(ctx, at)
		case repeating:
			s.present(it)
		case listing:
			j := it.judge(it.said)
			s.tell(fmt.Sprintf("part %d of %d: %s", it.Number, it.Of, count(len(j.Candidates), "candidate")))
			s.tell(candidateLines(j, len(j.Candidates))...)
		case helping:
			s.tell(helpLines...)
		case quitting:
			return at, errQuit
		}
	}
}

// warnOfMeasuring says once, before the first value of a meter is taken, what
// can hurt where one measures.
func (s *Session) warnOfMeasuring() {
	if s.warned {
		return
	}
	s.warned = true
	for _, caution := range []string{network.CautionMains, network.CautionCharge} {
		s.tell("CAUTION: before you measure: " + caution)
	}
}

// hear waits for an answer. The end of the answers is a wish to quit: never
// does it confirm anything. Nor is an answer heard where nothing can be shown any
// more: it would be to a part that the person cannot see.
func (s *Session) hear(ctx context.Context, answers <-chan answer) (answer, error) {
	s.speak()
	s.asked = s.now()
	if _, err := fmt.Fprint(s.Out, "> "); err != nil {
		return answer{}, err
	}
	select {
	case <-ctx.Done():
		return answer{}, ctx.Err()
	case heard, ok := <-answers:
		if !ok {
			return answer{}, errQuit
		}
		return heard, nil
	}
}

// pass goes past a part that is in the stock already. It asks nothing: Enter would
// go on there and confirm the part behind, which nobody has looked at yet.
func (s *Session) pass(it *item, entry stock.Part) {
	s.tell(fmt.Sprintf("part %d of %d: in the stock already as entry %d, %s", it.Number, it.Of, entry.ID, entry.Reading.Spoken()))
	if !s.passed {
		s.tell("to confirm such a part anew, remove its entry with ringwise stock remove")
	}
	s.passed = true
	it.fate = passing
}

// present says what the part may be.
func (s *Session) present(it *item) {
	j := it.judge(it.said)
	s.tell(append([]string{it.opening(it.said, j)}, it.details(it.said, j)...)...)
}

// confirm keeps the part as it was said. It answers false if there is nothing
// to confirm.
func (s *Session) confirm(ctx context.Context, at int) (bool, error) {
	it := s.items[at]
	j := it.judge(it.said)
	if j.at < 0 {
		s.tell("there is nothing to confirm: choose a candidate by its number, name the rings, enter the value, or answer not, skip or unclear")
		return false, nil
	}
	if entry, there, err := s.Store.ByKey(ctx, it.Key); err != nil {
		return false, err
	} else if there { // another window was quicker, and its entry is not for undo here to take back
		s.pass(it, entry)
		return true, nil
	}
	entry, err := s.Store.Confirm(ctx, it.entry(it.said, j))
	if err != nil {
		if ctx.Err() != nil {
			return false, ctx.Err()
		}
		s.tell("not confirmed: " + decode.SpokenText(err.Error()))
		return false, nil
	}
	lines := []string{fmt.Sprintf("confirmed as entry %d: %s", entry.ID, entry.Reading.Spoken())}
	if entry.Count > 1 {
		lines[0] += fmt.Sprintf("; %d of them", entry.Count)
	}
	for _, caution := range entry.Cautions() {
		lines = append(lines, "CAUTION: "+decode.SpokenText(caution))
	}
	s.tell(lines...)
	s.decide(at, confirming, entry.Step)
	return true, nil
}

// decide notes what becomes of a part.
func (s *Session) decide(at int, fate verb, step int64) {
	it := s.items[at]
	s.past = append(s.past, past{at: at, before: it.said, fate: it.fate, step: step})
	it.fate = fate
}

// undo takes the last answer back and returns the part it was given to.
func (s *Session) undo(ctx context.Context, at int) (int, error) {
	if len(s.past) == 0 {
		s.tell("there is nothing to undo")
		return at, nil
	}
	last := s.past[len(s.past)-1]
	if last.step != 0 {
		if _, err := s.Store.UndoStep(ctx, last.step); err != nil {
			if ctx.Err() != nil {
				return at, ctx.Err()
			}
			s.tell("not undone: " + decode.SpokenText(err.Error()))
			return at, nil
		}
	}
	s.past = s.past[:len(s.past)-1]
	it := s.items[last.at]
	it.said, it.fate = last.before, last.fate
	s.tell("undone")
	return last.at, nil
}

func (s *Session) tally() Tally {
	var t Tally
	for _, it := range s.items {
		switch it.fate {
		case confirming:
			t.Confirmed++
		case noResistor:
			t.NoResistor++
		case skipping:
			t.Skipped++
		case unknowable:
			t.Unknown++
		case passing:
			t.Known++
		}
	}
	return t
}
