package network

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/decode"
)

// A Plan says where the parts of a project's list come from. Planning takes
// nothing: Takings says what there is to take once the person says so.
type Plan struct {
	Lines []PlanLine `json:"lines"`
	// Ready counts the places that parts are found for, Check those of them
	// where something has to be made sure first, Missing those without.
	Ready   int `json:"ready"`
	Check   int `json:"check"`
	Missing int `json:"missing"`
}

// A PlanLine is a line of the list and what serves it.
type PlanLine struct {
	ListLine
	Supplies []Supply `json:"supplies"`
	Missing  int      `json:"missing"` // places without a part
	// Refused are parts of the very value that is missing which may not be
	// used, and why.
	Refused []StandIn `json:"refused"`
	// Buy is what to buy for what is missing, of the series most easily had
	// of which a part fits; null if none does.
	Buy *SeriesChoice `json:"buy,omitempty"`
	// BuyWatts is the rating that what is to be bought needs at the least: the
	// one asked for or the one that the voltage calls for with UsualMargin,
	// whichever is more. 0 if unknown or nothing is missing.
	BuyWatts float64 `json:"buy_watts,omitempty"`
}

// How says in which way parts serve a place.
type How string

// The ways, in the order in which they are tried.
const (
	AsAsked  How = "as asked"
	StandsIn How = "stands in"
	JoinedUp How = "joined"
)

// joinLimit is the most parts that a plan joins.
const joinLimit = 3

// A Supply serves some places of a line in one way.
type Supply struct {
	How    How `json:"how"`
	Places int `json:"places"`
	// Takes lists the parts for all the places together.
	Takes []Taking `json:"takes"`
	// Answer and Conditions are as for a StandIn or a Combination, of which
	// the one that applies is there too.
	Answer      Answer       `json:"answer"`
	Conditions  []string     `json:"conditions"`
	StandIn     *StandIn     `json:"stand_in,omitempty"`
	Combination *Combination `json:"combination,omitempty"`
	Why         string       `json:"why"`
}

// A Taking is so many of a part.
type Taking struct {
	Part  Part `json:"part"`
	Count int  `json:"count"`
}

// PlanProject finds parts of the stock for every place of a list, no part
// twice. First come parts of the very value asked for, the loosest tolerance
// that will do before the tighter ones; then, for what is left of all lines,
// others that may stand in, yes before only if; then two or three that join to
// the value, so near that even at its worst the whole stays within what the
// circuit bears (±10 % in an ordinary place), each able to bear its share of
// the rating asked for. For a special kind only parts known to be of it are
// found, and none are joined. It returns an error if two parts have the same ID, and the
// context's if that ends first.
func PlanProject(ctx context.Context, list List, stock []Part) (Plan, error) {
	ids := map[string]bool{}
	for _, p := range stock {
		if ids[p.ID] {
			return Plan{}, fmt.Errorf("two parts of the stock have the ID %q: each needs its own", p.ID)
		}
		ids[p.ID] = true
	}
	left := slices.Clone(stock)
	plan := Plan{Lines: make([]PlanLine, len(list.Lines))}
	for i, line := range list.Lines {
		plan.Lines[i] = PlanLine{ListLine: line, Missing: line.Quantity, Supplies: []Supply{}, Refused: []StandIn{}}
	}
	for _, find := range []func(context.Context, *PlanLine, []Part) error{takeAsAsked, takeStandIns, takeJoined} {
		for i := range plan.Lines {
			if err := ctx.Err(); err != nil {
				return Plan{}, err
			}
			if err := find(ctx, &plan.Lines[i], left); err != nil {
				return Plan{}, err
			}
		}
	}
	for i := range plan.Lines {
		line := &plan.Lines[i]
		for _, s := range line.Supplies {
			plan.Ready += s.Places
			if s.Answer != Yes {
				plan.Check += s.Places
			}
		}
		plan.Missing += line.Missing
		if line.Missing > 0 {
			line.Buy = toBuy(line.Need)
			line.BuyWatts = line.wattsToBuy()
			line.refuse(stock)
		}
	}
	return plan, nil
}

// soldSeries lists the series in the order in which their parts are easily had.
// Common practice, no source.
var soldSeries = []string{"E24", "E96", "E192", "E48", "E12", "E6"}

// toBuy is what the first of soldSeries offers that fits.
func toBuy(need Need) *SeriesChoice {
	choices, err := SeriesChoices(need)
	if err != nil {
		return nil // a link is in no series
	}
	for _, name := range soldSeries {
		for _, c := range choices {
			if c.Series == name && c.Fits {
				return &c
			}
		}
	}
	return nil
}

// refuse names the parts of the very value that may not be used.
func (line *PlanLine) refuse(stock []Part) {
	for _, part := range stock {
		if !part.enough(1) || !part.Value.Ohms.Equal(line.Need.Value.Ohms) {
			continue
		}
		if s, err := inPlan(line.Need, part); err == nil && s.Answer == No {
			line.Refused = append(line.Refused, s)
		}
	}
}

// inPlan is MayStandIn for a plan, whose parts are taken by the list: where it
// asks for a special kind, parts of unknown kind are refused.
func inPlan(need Need, part Part) (StandIn, error) {
	s, err := MayStandIn(need, part)
	if need.Kind.Special() && part.Kind == decode.KindUnknown {
		s.Answer = No
		s.Reasons = append(s.Reasons, fmt.Sprintf("its kind is unknown, and the place calls for a %s part: if it is one, say so of the stock first", need.Kind))
	}
	return s, err
}

// Takings lists what the plan takes of each part, in the order of the lines,
// each part once.
func (p Plan) Takings() []Taking {
	var all []Taking
	for _, line := range p.Lines {
		for _, s := range line.Supplies {
			for _, t := range s.Takes {
				all = addTaking(all, t)
			}
		}
	}
	return all
}

func addTaking(list []Taking, t Taking) []Taking {
	if i := slices.IndexFunc(list, func(have Taking) bool { return have.Part.ID == t.Part.ID }); i >= 0 {
		list[i].Count += t.Count
		return list
	}
	return append(list, t)
}

// takeAsAsked serves a line with parts of its own value.
func takeAsAsked(_ context.Context, line *PlanLine, left []Part) error {
	return line.take(left, AsAsked, func(a, b StandIn) int {
		// The loosest first keeps tight ones for who needs them; unknown last.
		loose := func(s StandIn) float64 {
			if t := tolerance(s.Part); !math.IsInf(t, 1) {
				return -t
			}
			return 0
		}
		return cmp.Or(cmp.Compare(loose(a), loose(b)), cmp.Compare(a.Part.RatedWatts, b.Part.RatedWatts))
	})
}

// takeStandIns serves what a line is still missing with other values.
func takeStandIns(_ context.Context, line *PlanLine, left []Part) error {
	return line.take(left, StandsIn, compareStandIns)
}

// take serves a line with single parts, best first, yes before only if.
func (line *PlanLine) take(left []Part, how How, order func(a, b StandIn) int) error {
	if line.Missing == 0 {
		return nil
	}
	type choice struct {
		StandIn
		at int
	}
	var choices []choice
	for at, part := range left {
		if !part.enough(1) || (how == AsAsked) != part.Value.Ohms.Equal(line.Need.Value.Ohms) {
			continue
		}
		s, err := inPlan(line.Need, part)
		if err != nil {
			return err
		}
		if s.Answer != No {
			choices = append(choices, choice{s, at})
		}
	}
	slices.SortStableFunc(choices, func(a, b choice) int {
		return cmp.Or(cmp.Compare(a.Answer.rank(), b.Answer.rank()), order(a.StandIn, b.StandIn))
	})
	for _, c := range choices {
		if line.Missing == 0 {
			break
		}
		count := line.Missing
		if left[c.at].Count != AnyNumber {
			count = min(count, left[c.at].Count)
			left[c.at].Count -= count
		}
		line.Missing -= count
		why := "the value asked for"
		if how == StandsIn {
			why = strings.Join(c.Arithmetic, "; ")
		}
		line.Supplies = append(line.Supplies, Supply{How: how, Places: count, Takes: []Taking{{c.Part, count}},
			Answer: c.Answer, Conditions: c.Conditions, StandIn: &c.StandIn, Why: why})
	}
	return nil
}

// takeJoined serves what a line is still missing with parts that are joined.
func takeJoined(ctx context.Context, line *PlanLine, left []Part) error {
	need := line.Need
	if need.Kind.Special() || need.Value.Ohms.IsZero() {
		return nil // replaced with their like only
	}
	q := CombineQuestion{Target: need.Value, MostParts: joinLimit, Best: 10}
	if need.RatedWatts > 0 {
		q.Watts, q.Margin = need.RatedWatts, 1 // a rating asked for has its margin
	} else {
		q.Volts = need.Volts
	}
	if !q.Target.TolerancePercent.Valid {
		q.Target.TolerancePercent = decimal.NewNullDecimal(ordinaryServes)
	}
	for line.Missing > 0 {
		some := nearby(need.Value, left)
		if use, _ := usable(some); len(use) == 0 {
			return nil
		}
		found, err := Combine(ctx, q, some)
		if err != nil {
			return err
		}
		best := joined(q, need, found)
		if best == nil {
			return nil
		}
		supply := Supply{How: JoinedUp, Combination: best, Why: best.Text}
		for _, p := range best.Circuit.Parts() {
			supply.Takes = addTaking(supply.Takes, Taking{p, 1})
		}
		supply.Answer, supply.Conditions = placeDoubts(need, *best)
		supply.Places = line.Missing
		for _, t := range supply.Takes {
			if t.Part.Count != AnyNumber {
				supply.Places = min(supply.Places, t.Part.Count/t.Count)
			}
		}
		for i := range supply.Takes {
			t := &supply.Takes[i]
			t.Count *= supply.Places
			at := slices.IndexFunc(left, func(have Part) bool { return have.ID == t.Part.ID })
			if left[at].Count != AnyNumber {
				left[at].Count -= t.Count
			}
		}
		line.Missing -= supply.Places
		line.Supplies = append(line.Supplies, supply)
	}
	return nil
}

// joined picks the first circuit, fewest parts first, that keeps within what
// the circuit bears and is joined of two parts or more.
func joined(q CombineQuestion, need Need, found Combinations) *Combination {
	for _, group := range found.Counts[1:] {
		for _, c := range group.Best {
			if q.meets(c) && (need.Volts == 0 || bearsVolts(c, need.Volts)) {
				return &c
			}
		}
	}
	return nil
}

// bearsVolts reports whether no part is known to get too high a voltage.
func bearsVolts(c Combination, volts float64) bool {
	return !slices.ContainsFunc(c.Circuit.Loads(volts, 1), func(l Load) bool {
		return tooHigh(l.Volts, l.Part.MostVolts())
	})
}

// reach is how many times larger or smaller than the value a part that is
// joined may be: beyond it a part changes next to nothing.
const reach = 1000

// heat asks for a rating with the usual margin of a part in a circuit that was picked
// by a rating asked for, and for the voltage that lies across it.
func (v *verdict) heat(l Load) {
	seen := &verdict{}
	if tooLittle(l.Part.RatedWatts, UsualMargin*l.Watts) {
		seen.onlyIf("the power rating of %s, which bears %s, is enough, as that of the part replaced was: %s is usual", l.Part.Value,
			FormatQuantity(l.Watts, Watt), FormatRating(roundUp(UsualMargin*l.Watts)))
	}
	seen.askForLimit(l)
	v.conditions = appendNew(v.conditions, seen.conditions)
}

// nearby picks, of what is left, the parts that may be joined to a value.
func nearby(v Value, left []Part) []Part {
	return slices.DeleteFunc(slices.Clone(left), func(p Part) bool {
		times := nominal(p) / v.ohms()
		return !p.enough(1) || times > reach || times < 1/float64(reach)
	})
}

// placeDoubts says what has to be made sure of a circuit in its place: what is
// unknown of its parts, and of what the place asks for.
func placeDoubts(need Need, c Combination) (Answer, []string) {
	v := &verdict{conditions: slices.Clone(c.Conditions)}
	kindVerdict(need.Kind, decode.KindOrdinary, v)
	if need.RatedWatts == 0 && c.BearsWatts > 0 {
		v.onlyIf("the place asks for no more than a power rating of %s", FormatRating(roundDown(c.BearsWatts)))
	}
	if need.RatedWatts > 0 && need.Volts > 0 {
		for _, l := range c.Circuit.Loads(need.Volts, UsualMargin) {
			v.heat(l)
		}
	}
	if len(v.conditions) > 0 {
		return OnlyIf, v.conditions
	}
	return c.Answer, v.conditions
}
