package bench

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/onhand"
	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/network"
	"ringwise/decode/series"
)

// Bounds of searches, of which one runs at a time, for a large one takes some
// 200 MB: how long one may take, and how long the next waits for its turn.
const (
	findingTime = 15 * time.Second
	waitingTime = 3 * time.Second
)

// errBusyFinding is the answer while too many searches run.
var errBusyFinding = errors.New("the bench is busy with another search: wait a moment, then ask again")

// find runs a search once there is room for it.
func (s *Server) find(ctx context.Context, search func(context.Context) (told, error)) (told, error) {
	select {
	case s.finding <- struct{}{}:
		defer func() { <-s.finding }()
	case <-time.After(waitingTime):
		return told{}, errBusyFinding
	case <-ctx.Done():
		return told{}, ctx.Err()
	}
	ctx, stop := context.WithTimeout(ctx, findingTime)
	defer stop()
	t, err := search(ctx)
	if errors.Is(err, context.DeadlineExceeded) {
		err = errors.New("the search took too long: ask for fewer parts, or choose from a coarser series or a smaller range")
	}
	return t, err
}

// A choiceForm says from which parts to choose.
type choiceForm struct {
	From      string `json:"from"`      // "stock" or a series
	Least     string `json:"least"`     // values of the series, from
	Most      string `json:"most"`      // to
	Tolerance string `json:"tolerance"` // of the parts of the series; empty: the usual one
	Power     string `json:"power"`     // their rating; empty: unknown
}

// A choice is the parts to choose from.
type choice struct {
	parts  []network.Part
	origin string
	steps  map[string]int64 // of the entries of the stock by their ID, nil for a series
}

// usualLeast and usualMost are from where to where a series is searched if the
// person says nothing.
const usualLeast, usualMost = "1", "10M"

func (f choiceForm) parts(ctx context.Context, store *stock.Store) (c choice, err error) {
	if f.From == "stock" {
		return fromStock(ctx, store)
	}
	e, err := series.Parse(f.From)
	if err != nil {
		return c, in("from", err)
	}
	bound := func(field, text, usual string) (decimal.Decimal, error) {
		if strings.TrimSpace(text) == "" {
			text = usual
		}
		v, err := network.ParseValue(text)
		if err == nil && !v.Ohms.IsPositive() {
			err = errors.New("the values of a series lie above zero")
		}
		return v.Ohms, in(field, err)
	}
	low, err := bound("least", f.Least, usualLeast)
	if err != nil {
		return c, err
	}
	high, err := bound("most", f.Most, usualMost)
	if err != nil {
		return c, err
	}
	if high.LessThan(low) {
		return c, in("most", fmt.Errorf("%s is less than the smallest, %s", network.Exact(high), network.Exact(low)))
	}
	var tolerance decimal.NullDecimal
	if f.Tolerance != "" {
		percent, err := network.ParseTolerance(f.Tolerance)
		if err != nil {
			return c, in("partTolerance", err)
		}
		tolerance = decimal.NewNullDecimal(percent)
	}
	watts, err := quantity("partPower", f.Power, network.Watt)
	if err != nil {
		return c, err
	}
	if c.parts, err = network.FromSeries(e, low, high, tolerance); err != nil {
		return c, in("most", err)
	}
	for i := range c.parts {
		c.parts[i].RatedWatts = watts
	}
	c.origin = fmt.Sprintf("%s from %s to %s", e, network.Exact(low), network.Exact(high))
	return c, nil
}

// fromStock is all that is left in the stock.
func fromStock(ctx context.Context, store *stock.Store) (choice, error) {
	entries, err := store.Parts(ctx, stock.Filter{})
	if err != nil {
		return choice{}, err
	}
	c := choice{origin: "the stock", steps: map[string]int64{}}
	for _, e := range entries {
		p := onhand.FromStock(e)
		c.parts, c.steps[p.ID] = append(c.parts, p), e.Step
	}
	return c, nil
}

// some is parts, of which there must be at least one.
func (f choiceForm) some(ctx context.Context, store *stock.Store) (choice, error) {
	c, err := f.parts(ctx, store)
	if err == nil && len(c.parts) == 0 {
		err = in("from", errEmptyStock)
	}
	return c, err
}

// errEmptyStock is the answer where the stock has nothing to choose from.
var errEmptyStock = errors.New("the stock is empty: confirm parts first, or choose from a series")

// takes are the parts of an answer as they can be taken out of the stock.
func (c choice) takes(list []network.Taking) []taking {
	if c.steps == nil {
		return nil
	}
	var takes []taking
	for _, t := range list {
		id, err := strconv.ParseInt(t.Part.ID, 10, 64)
		if err != nil {
			return nil // not of the stock
		}
		takes = append(takes, taking{Entry: id, Step: c.steps[t.Part.ID], Count: t.Count, Name: partText(t.Part)})
	}
	return takes
}

// each counts how often each part is used.
func each(parts []network.Part) []network.Taking {
	var list []network.Taking
	at := map[string]int{}
	for _, p := range parts {
		i, known := at[p.ID]
		if !known {
			i = len(list)
			at[p.ID] = i
			list = append(list, network.Taking{Part: p})
		}
		list[i].Count++
	}
	return list
}

// A combineForm asks which parts join to a value.
type combineForm struct {
	Choice    choiceForm `json:"choice"`
	Target    string     `json:"target"`
	Tolerance string     `json:"tolerance"` // how far the whole may be off; may be empty
	Parts     int        `json:"parts"`     // the most, 1 to 4
	At        string     `json:"at"`        // volts across the whole or watts in it; may be empty
	Margin    string     `json:"margin"`    // times; empty: usual
}

// circuitsShown is how many circuits of each count are shown.
const circuitsShown = 3

func (f combineForm) question() (q network.CombineQuestion, err error) {
	q.MostParts, q.Best = f.Parts, circuitsShown
	if q.Target, err = network.ParseValue(f.Target); err != nil {
		return q, in("target", err)
	}
	if f.Tolerance != "" {
		percent, err := network.ParseTolerance(f.Tolerance)
		if err != nil {
			return q, in("tolerance", err)
		}
		q.Target.TolerancePercent = decimal.NewNullDecimal(percent)
	}
	if q.MostParts < 1 || q.MostParts > network.MostParts {
		return q, in("parts", fmt.Errorf("%d is no number of parts to join: use 1 to %d", q.MostParts, network.MostParts))
	}
	switch unit := network.UnitOf(f.At); {
	case strings.TrimSpace(f.At) == "":
	case unit == network.Volt:
		q.Volts, err = quantity("at", f.At, network.Volt)
	case unit == network.Watt:
		q.Watts, err = quantity("at", f.At, network.Watt)
	default:
		err = errors.New("write the voltage across the whole or the power in it with its unit, such as 10 V or 0.5 W")
	}
	if err != nil {
		return q, in("at", err)
	}
	if q.Margin, err = times(f.Margin); err != nil {
		return q, err
	}
	return q, in("target", q.Check())
}

// combine finds parts that join to a value.
func (s *Server) combine(ctx context.Context, f combineForm) (told, error) {
	q, err := f.question()
	if err != nil {
		return told{}, err
	}
	from, err := f.Choice.some(ctx, s.store)
	if err != nil {
		return told{}, err
	}
	found, err := network.Combine(ctx, q, from.parts)
	if err != nil {
		return told{}, err
	}
	return tellCombinations(q, from, found), nil
}

func tellCombinations(q network.CombineQuestion, from choice, found network.Combinations) told {
	t := told{Notes: leftOut(found.LeftOut), Cautions: found.Cautions}
	loaded := q.Volts > 0 || q.Watts > 0
	nearest := ""
	for _, n := range found.Counts {
		g := group{Title: count(n.Parts, "part", "parts"), Note: n.Note}
		if len(n.Best) > 0 && !n.Better && !loaded {
			g.Note = "no nearer than fewer"
			t.Groups = append(t.Groups, g)
			continue
		}
		for i, c := range n.Best {
			if i > 0 && math.Abs(c.ErrorPercent) > network.FarOff {
				continue
			}
			b := tellCombination(q, c, loaded)
			b.Takes = from.takes(each(c.Circuit.Parts()))
			if c.Answer == network.No {
				b.Because, b.Takes = c.Conditions, nil
			} else {
				t.OnlyIf = add(t.OnlyIf, c.Conditions...)
				if n.Better || nearest == "" {
					nearest = fmt.Sprintf("%s makes %s, %s", n.Best[0].Text, about(n.Best[0].Nominal), network.FormatOff(n.Best[0].ErrorPercent))
				}
			}
			g.Blocks = append(g.Blocks, b)
		}
		t.Groups = append(t.Groups, g)
	}
	if q.Target.TolerancePercent.Valid {
		help := ": choose parts of a tighter tolerance, or measure."
		if q.Volts > 0 || q.Watts > 0 {
			help = " and bears its load: choose parts of a tighter tolerance or a higher rating."
		}
		within := fmt.Sprintf("None of these keeps within ±%s %% at its worst%s", q.Target.TolerancePercent.Decimal, help)
		if found.Fewest > 0 {
			within = fmt.Sprintf("Fewest that keep within ±%s %% at their worst: %s.", q.Target.TolerancePercent.Decimal, count(found.Fewest, "part", "parts"))
		}
		t.Notes = append([]string{within}, t.Notes...)
	}
	t.Says = fmt.Sprintf("Nothing of %s joins to %s.", from.origin, q.Target)
	if nearest != "" {
		t.Says = fmt.Sprintf("From %s, nearest to %s: %s.", from.origin, q.Target, nearest)
	}
	return t
}

func tellCombination(q network.CombineQuestion, c network.Combination, loaded bool) block {
	b := block{Title: c.Text, Answer: c.Answer}
	if len(c.Loads) == 1 {
		b.Title = partText(c.Loads[0].Part)
	}
	b.say("Makes", "%s, %s", about(c.Nominal), network.FormatOff(c.ErrorPercent))
	b.say("At worst", "%s (%s to %s)", network.FormatBounds(c.Low, c.High), q.FormatOff(c.LowPercent), q.FormatOff(c.HighPercent))
	b.say("Expected", "±%s, if the parts are off independently (RSS)", network.FormatPercent(c.ExpectedPercent))
	if len(c.Loads) > 1 || loaded {
		var texts []string
		times := map[string]int{}
		for _, l := range c.Loads {
			text := loadText(l)
			if times[text]++; times[text] == 1 {
				texts = append(texts, text)
			}
		}
		for _, text := range texts {
			name := "Bears"
			if n := times[text]; n > 1 {
				name = fmt.Sprintf("Each of %d bears", n)
			}
			b.say(name, "%s", text)
		}
	}
	if c.BearsWatts > 0 {
		b.say("The whole bears", "%s, by the ratings at the worst of the tolerances, without a margin", network.FormatQuantity(c.BearsWatts, network.Watt))
	}
	return b
}

// loadText says what one part of a circuit bears.
func loadText(l network.Load) string {
	text := fmt.Sprintf("%s: %s of the power, %s of the voltage", partText(l.Part), share(l.PowerShare), share(l.VoltageShare))
	if l.Volts > 0 {
		text += ": " + network.FormatQuantity(l.Watts, network.Watt) + " at " + network.FormatQuantity(l.Volts, network.Volt) +
			", at worst " + network.FormatQuantity(l.MostWatts, network.Watt)
		if l.Part.RatedWatts > 0 {
			text += ", rated " + network.FormatRating(l.Part.RatedWatts)
		}
	}
	return text
}

// share writes a share of one as percent.
func share(part float64) string { return network.FormatPercent(math.Round(part*1000) / 10) }

// mostLeftOut is how many parts that were not considered are named.
const mostLeftOut = 5

// leftOut names the parts that were not considered, and why.
func leftOut(list []network.LeftOut) []string {
	var notes []string
	for i, l := range list {
		if i == mostLeftOut {
			notes = append(notes, fmt.Sprintf("Left out: %d more.", len(list)-i))
			break
		}
		kind := ""
		if l.Part.Kind != decode.KindUnknown {
			kind = ", " + string(l.Part.Kind)
		}
		notes = append(notes, fmt.Sprintf("Left out: %s%s: %s.", partText(l.Part), kind, strings.TrimSuffix(l.Why, ".")))
	}
	return notes
}

// A dividerForm asks for two parts that divide a voltage.
type dividerForm struct {
	Choice  choiceForm `json:"choice"`
	In      string     `json:"in"`
	Out     string     `json:"out"`
	Load    string     `json:"load"`    // ohms; empty: none
	Source  string     `json:"source"`  // ohms; empty: none
	Current string     `json:"current"` // the most from the source; may be empty
	Margin  string     `json:"margin"`  // times; empty: usual
}

func (f dividerForm) question() (q network.DividerQuestion, err error) {
	q.Best = circuitsShown
	for _, x := range []struct {
		field, text, unit, want string
		to                      *float64
	}{
		{"in", f.In, network.Volt, "the voltage that is there, such as 12 V", &q.InVolts},
		{"out", f.Out, network.Volt, "the voltage wanted, such as 3.3 V", &q.OutVolts},
		{"current", f.Current, network.Ampere, "", &q.MostAmps},
	} {
		if strings.TrimSpace(x.text) == "" && x.want != "" {
			return q, in(x.field, errors.New("write "+x.want))
		}
		if *x.to, err = quantity(x.field, x.text, x.unit); err != nil {
			return q, err
		}
	}
	for _, x := range []struct {
		field, text string
		to          *float64
	}{{"load", f.Load, &q.LoadOhms}, {"source", f.Source, &q.SourceOhms}} {
		if strings.TrimSpace(x.text) == "" {
			continue
		}
		v, err := network.ParseValue(x.text)
		if err == nil && !v.Ohms.IsPositive() {
			err = errors.New("it must be above zero: leave it empty if there is none")
		}
		if err != nil {
			return q, in(x.field, err)
		}
		*x.to = v.Ohms.InexactFloat64()
	}
	if q.Margin, err = times(f.Margin); err != nil {
		return q, err
	}
	return q, in("out", q.Check())
}

// divide finds two parts that divide a voltage.
func (s *Server) divide(ctx context.Context, f dividerForm) (told, error) {
	q, err := f.question()
	if err != nil {
		return told{}, err
	}
	from, err := f.Choice.some(ctx, s.store)
	if err != nil {
		return told{}, err
	}
	found, err := network.Divide(q, from.parts)
	if err != nil {
		return told{}, err
	}
	t := told{Notes: append(found.Notes, leftOut(found.LeftOut)...)}
	g := group{}
	for i, d := range found.Best {
		if i > 0 && math.Abs(d.ErrorPercent) > network.FarOff {
			continue
		}
		b := tellDivider(d)
		b.Takes = from.takes(each([]network.Part{d.Upper.Part, d.Lower.Part}))
		if d.Answer == network.No {
			b.Because, b.Takes = d.Conditions, nil
		} else {
			t.OnlyIf = add(t.OnlyIf, d.Conditions...)
			if t.Says == "" {
				t.Says = fmt.Sprintf("From %s: upper %s, lower %s give %s, %s.", from.origin, d.Upper.Part.Value, d.Lower.Part.Value, network.FormatQuantity(d.OutVolts, network.Volt), network.FormatOff(d.ErrorPercent))
			}
		}
		t.Cautions = add(t.Cautions, d.Cautions...)
		g.Blocks = append(g.Blocks, b)
	}
	if t.Says == "" {
		t.Says = fmt.Sprintf("No pair of %s bears it.", from.origin)
	}
	t.Groups = []group{g}
	return t, nil
}

func tellDivider(d network.Divider) block {
	volts := func(v float64) string { return network.FormatQuantity(v, network.Volt) }
	b := block{Title: fmt.Sprintf("Upper %s, lower %s", partText(d.Upper.Part), partText(d.Lower.Part)), Answer: d.Answer}
	b.say("Gives", "%s, %s", volts(d.OutVolts), network.FormatOff(d.ErrorPercent))
	b.say("By the tolerances", "%s (%s to %s)", span(volts(d.LowVolts), volts(d.HighVolts)), network.FormatOff(d.LowPercent), network.FormatOff(d.HighPercent))
	load := ", and nothing is loaded"
	if d.LoadAmps > 0 {
		load = ", of which the load takes " + network.FormatQuantity(d.LoadAmps, network.Ampere)
	}
	b.say("The source gives", "%s%s", network.FormatQuantity(d.Amps, network.Ampere), load)
	for _, x := range []struct {
		name string
		arm  network.Arm
	}{{"Upper bears", d.Upper}, {"Lower bears", d.Lower}} {
		rated := ""
		if x.arm.Part.RatedWatts > 0 {
			rated = ", rated " + network.FormatRating(x.arm.Part.RatedWatts)
		}
		b.say(x.name, "%s at %s, at worst %s%s", network.FormatQuantity(x.arm.Watts, network.Watt), volts(x.arm.Volts), network.FormatQuantity(x.arm.MostWatts, network.Watt), rated)
	}
	b.say("The load sees", "a source of %s", about(d.Output))
	return b
}

func (s *Server) findCombine(w http.ResponseWriter, r *http.Request) {
	if f, ok := take[combineForm](w, r); ok {
		t, err := s.find(r.Context(), func(ctx context.Context) (told, error) { return s.combine(ctx, f) })
		reply(w, t, err)
	}
}

func (s *Server) findDivider(w http.ResponseWriter, r *http.Request) {
	if f, ok := take[dividerForm](w, r); ok {
		t, err := s.find(r.Context(), func(ctx context.Context) (told, error) { return s.divide(ctx, f) })
		reply(w, t, err)
	}
}
