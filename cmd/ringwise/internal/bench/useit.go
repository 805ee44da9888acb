package bench

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"ringwise/cmd/ringwise/internal/onhand"
	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/network"
)

// A subject is the part that a question is about: one on a photo, or an entry
// of the stock, in the version that the person has seen.
type subject struct {
	Photo   int   `json:"photo"`
	Part    int   `json:"part"`
	Version int   `json:"version"`
	Entry   int64 `json:"entry"` // 0 for a part on a photo
	Step    int64 `json:"step"`
}

// A used part is one whose use is asked about.
type used struct {
	network.Part
	kept      stock.Part
	confirmed bool
}

// errNoValue is the answer to a question about a part without a value.
var errNoValue = errors.New("this part has no value yet: take a candidate, set its rings, or enter it by hand")

// use finds the part that a question is about.
func (t *tray) use(ctx context.Context, s subject) (used, error) {
	if s.Entry == 0 {
		t.mu.Lock()
		defer t.mu.Unlock()
		p, err := t.part(s.Photo, s.Part, s.Version)
		if err != nil {
			return used{}, err
		}
		if p.said.status != stocked {
			taken, ok := p.judge().reading()
			if !ok || p.said.status == noResistor || p.said.status == cannotTell {
				return used{}, errNoValue
			}
			kept := t.entry(t.photo(s.Photo), p)
			kept.Reading = taken.Reading
			part := onhand.FromStock(kept)
			part.ID, part.Where = "", "the part in hand"
			return used{part, kept, false}, nil
		}
		s.Entry = p.said.entry
	}
	kept, err := t.store.Part(ctx, s.Entry)
	switch {
	case err != nil:
		return used{}, err
	case s.Step != 0 && kept.Step != s.Step:
		return used{}, errStale
	}
	return used{onhand.FromStock(kept), kept, true}, nil
}

// ifRight makes an answer rest on the reading where nobody has confirmed it.
func (u used) ifRight(a network.Answer, conditions []string) (network.Answer, []string) {
	if u.confirmed || a == network.No {
		return a, conditions
	}
	return network.OnlyIf, append([]string{"the reading of this part is right: nobody has confirmed it yet"}, conditions...)
}

// notes say on what everything about the part rests.
func (u used) notes() []string {
	if u.confirmed {
		return nil
	}
	return []string{"All of this rests on a reading that nobody has confirmed yet."}
}

// A spreadForm asks what a part may really be.
type spreadForm struct {
	Of        subject `json:"of"`
	Low       string  `json:"low"`  // °C
	High      string  `json:"high"` // °C
	Tempco    string  `json:"tempco"`
	Measured  string  `json:"measured"` // empty: what was noted of the part
	Accuracy  string  `json:"accuracy"` // of the meter, percent of the reading; empty: usual
	Counts    string  `json:"counts"`   // of its last digit on top; empty: usual
	InCircuit bool    `json:"inCircuit"`
}

// spread says what a part may really be.
func (t *tray) spread(ctx context.Context, f spreadForm) (told, error) {
	u, err := t.use(ctx, f.Of)
	if err != nil {
		return told{}, err
	}
	q := network.SpreadQuestion{Value: u.Value, TempcoPPM: u.TempcoPPM}
	if f.Tempco != "" {
		ppm, err := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(f.Tempco), "ppm/K")))
		if err != nil || ppm < 0 {
			return told{}, in("tempco", fmt.Errorf("%.20q is no coefficient: write a whole number of ppm/K, such as 100", f.Tempco))
		}
		q.TempcoPPM = &ppm
	}
	if f.Low != "" || f.High != "" {
		r := network.TemperatureRange{LowC: network.ReferenceTemperature, HighC: network.ReferenceTemperature, ReferenceC: network.ReferenceTemperature}
		if f.Low != "" {
			if r.LowC, err = celsius(f.Low); err != nil {
				return told{}, in("low", err)
			}
		}
		if f.High != "" {
			if r.HighC, err = celsius(f.High); err != nil {
				return told{}, in("high", err)
			}
		}
		q.Temperature = &r
	}
	q.Meter = u.kept.Meter
	if f.Measured != "" {
		meter, err := f.meter()
		if err != nil {
			return told{}, err
		}
		shown, err := meter.Shows(f.Measured)
		if err != nil {
			return told{}, in("measured", err)
		}
		shown.InCircuit = f.InCircuit
		q.Meter = &shown
	}
	s, err := network.SpreadOf(q)
	if err != nil {
		field := "high"
		if q.Temperature == nil {
			field = "tempco"
		}
		if q.Value.Ohms.IsZero() {
			return told{}, err
		}
		return told{}, in(field, err)
	}
	return tellSpread(u, q, s), nil
}

// meter is how accurate the person's meter is.
func (f spreadForm) meter() (decode.Meter, error) {
	m := decode.UsualMeter
	if text := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(f.Accuracy), "%")); text != "" {
		percent, err := decimal.NewFromString(strings.Replace(text, ",", ".", 1))
		if err != nil || len(text) > 12 || percent.IsNegative() || percent.GreaterThan(decimal.New(100, 0)) {
			return m, in("accuracy", fmt.Errorf("%.20q is no accuracy: write percent of the reading, such as 0.8", f.Accuracy))
		}
		m.Percent = percent
	}
	if text := strings.TrimSpace(f.Counts); text != "" {
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil || n < 0 || n > 1000 {
			return m, in("counts", fmt.Errorf("%.20q is no count: write a whole number from 0 to 1000, such as 3", f.Counts))
		}
		m.Counts = n
	}
	return m, nil
}

// tellSpread says what may be of a part in words.
func tellSpread(u used, q network.SpreadQuestion, s network.Spread) told {
	b := block{Title: u.Value.String()}
	b.say("By its tolerance", "%s", span(s.Low.String(), s.High.String()))
	says := "By its tolerance " + span(s.Low.String(), s.High.String())
	if q.Temperature != nil && q.TempcoPPM != nil {
		b.say("Drift", "±%s from %g to %g °C, at %d ppm/K from %g °C", network.FormatPercent(s.DriftPercent), q.Temperature.LowC, q.Temperature.HighC, *q.TempcoPPM, q.Temperature.ReferenceC)
		b.say("Both at their worst", "%s", network.FormatBounds(s.WorstLow, s.WorstHigh))
		says += "; with the drift at worst " + network.FormatBounds(s.WorstLow, s.WorstHigh)
	}
	for _, e := range s.Expected {
		holds := ""
		if e.Holds != "" {
			holds = " for " + e.Holds
		}
		b.say("To be expected", "%s%s, if %s", network.FormatBounds(e.Low, e.High), holds, e.Assumption)
	}
	t := told{Notes: append(u.notes(), s.Notes...), Cautions: add(u.kept.Cautions(), s.Cautions...)}
	if m := s.Meter; m != nil {
		really := about(m.Low) + " or more"
		if m.High != nil {
			really = network.FormatBounds(m.Low, *m.High)
		}
		b.say("The meter", "%s, so really %s: %s; %s against the marked value", m.Shown, really, m.Says, network.FormatOffFrom(m.ErrorPercent, s.Value.TolerancePercent.Decimal.InexactFloat64()))
		if m.Nearest != nil {
			b.say("Nearest of E24", "%s: compare the rings, and measure with a lead free", *m.Nearest)
		}
		says += "; the meter's reading is " + m.Says
		t.Notes = append(t.Notes, m.Notes...)
	}
	t.Says, t.Groups = says+".", []group{{Blocks: []block{b}}}
	return t
}

// A standInForm asks whether a part may stand in for a needed value.
type standInForm struct {
	Of        subject `json:"of"`
	Value     string  `json:"value"`
	Tolerance string  `json:"tolerance"` // empty: that of Value, or an ordinary place
	Power     string  `json:"power"`
	Voltage   string  `json:"voltage"`
	Kind      string  `json:"kind"`
}

// need reads what the place asks for.
func (f standInForm) need() (n network.Need, err error) {
	if n.Value, err = network.ParseValue(f.Value); err != nil {
		return n, in("value", err)
	}
	n.OwnTolerance = n.Value.TolerancePercent.Valid
	if f.Tolerance != "" {
		percent, err := network.ParseTolerance(f.Tolerance)
		if err != nil {
			return n, in("tolerance", err)
		}
		n.Value.TolerancePercent, n.OwnTolerance = decimal.NewNullDecimal(percent), false
	}
	if n.RatedWatts, err = quantity("power", f.Power, network.Watt); err != nil {
		return n, err
	}
	if n.Volts, err = quantity("voltage", f.Voltage, network.Volt); err != nil {
		return n, err
	}
	if n.Kind, err = decode.ParseKind(f.Kind); err != nil {
		return n, in("kind", err)
	}
	return n, in("value", n.Check())
}

// standIn says whether a part may stand in.
func (t *tray) standIn(ctx context.Context, f standInForm) (told, error) {
	u, err := t.use(ctx, f.Of)
	if err != nil {
		return told{}, err
	}
	n, err := f.need()
	if err != nil {
		return told{}, err
	}
	s, err := network.MayStandIn(n, u.Part)
	if err != nil {
		return told{}, in("value", err)
	}
	b := block{Title: fmt.Sprintf("%s in place of %s", u.Value, n.Value), Because: s.Reasons}
	b.Answer, b.OnlyIf = u.ifRight(s.Answer, s.Conditions)
	if b.Answer == network.No {
		b.OnlyIf = nil
	}
	b.reckon(s.Arithmetic)
	says := map[network.Answer]string{
		network.Yes: "Yes, it may stand in", network.No: "No, it may not stand in",
		network.OnlyIf: "Only if " + count(len(b.OnlyIf), "thing holds", "things hold"),
	}[b.Answer]
	return told{
		Says: fmt.Sprintf("%s: %s for %s.", says, u.Value, n.Value), Answer: b.Answer, Groups: []group{{Blocks: []block{b}}}, Notes: u.notes(),
		Cautions: add(u.kept.Cautions(), network.Cautions(n.Operation(), n.Kind.Special() || u.Kind.Special())...),
	}, nil
}

// A powerForm asks what a part bears.
type powerForm struct {
	Of      subject `json:"of"`
	At      string  `json:"at"`      // volts, amps or watts, with the unit
	Ambient string  `json:"ambient"` // °C; empty: 25
	Margin  string  `json:"margin"`  // times; empty: usual
	Rated   string  `json:"rated"`   // empty: what is known of the part
	Start   string  `json:"start"`   // of derating, °C; empty: usual for the kind
	Zero    string  `json:"zero"`    // where it ends, °C; empty: usual for the kind
}

// roomTemperature is the heat round a part if the person names none, in °C.
const roomTemperature = 25

// question reads the form for a part.
func (f powerForm) question(u used) (q network.PowerQuestion, err error) {
	q = network.PowerQuestion{AmbientC: roomTemperature, Kind: u.Kind, Operation: network.Operation{Ohms: u.Value.Ohms.InexactFloat64()}}
	switch network.UnitOf(f.At) {
	case network.Volt:
		q.Operation.Volts, err = quantity("at", f.At, network.Volt)
	case network.Ampere:
		q.Operation.Amps, err = quantity("at", f.At, network.Ampere)
	case network.Watt:
		q.Operation.Watts, err = quantity("at", f.At, network.Watt)
	default:
		err = in("at", errors.New("write the voltage across the part, the current through it or the power in it with its unit, such as 12 V, 20 mA or 0.1 W"))
	}
	if err != nil {
		return q, err
	}
	if f.Ambient != "" {
		if q.AmbientC, err = celsius(f.Ambient); err != nil {
			return q, in("ambient", err)
		}
	}
	if q.Margin, err = times(f.Margin); err != nil {
		return q, err
	}
	if u.RatedWatts > 0 && u.kept.RatingWatts.Valid {
		q.RatedWatts = u.RatedWatts
	}
	if f.Rated != "" {
		if q.RatedWatts, err = quantity("rated", f.Rated, network.Watt); err != nil {
			return q, err
		}
	}
	if size, ok := onhand.Size(u.kept.Size); ok {
		q.Size = &size
	}
	q.Derating, err = f.derating(u.Kind)
	return q, err
}

// derating is the curve that the person gives, nil for the usual one of the kind.
func (f powerForm) derating(kind decode.Kind) (*network.Derating, error) {
	if strings.TrimSpace(f.Start+f.Zero) == "" {
		return nil, nil
	}
	var startC, zeroC *float64
	for _, x := range []struct {
		name, text string
		to         **float64
	}{{"start", f.Start, &startC}, {"zero", f.Zero, &zeroC}} {
		if strings.TrimSpace(x.text) == "" {
			continue
		}
		c, err := celsius(x.text)
		if err != nil {
			return nil, in(x.name, err)
		}
		*x.to = &c
	}
	d := network.GivenDerating(kind, startC, zeroC)
	return &d, in("zero", d.Check())
}

// power says what a part bears and which rating it needs.
func (t *tray) power(ctx context.Context, f powerForm) (told, error) {
	u, err := t.use(ctx, f.Of)
	if err != nil {
		return told{}, err
	}
	if u.Value.Ohms.IsZero() {
		return told{}, errors.New("a link of 0 Ω has no power to speak of: what matters is the current that it bears, which rings do not tell")
	}
	q, err := f.question(u)
	if err != nil {
		return told{}, err
	}
	p, err := network.PowerOf(q)
	if err != nil {
		return told{}, in("at", err)
	}
	conditions := p.Because
	if u.kept.RatingWatts.Valid && u.RatingEstimated && f.Rated == "" && p.Answer != network.No {
		p.Answer = network.OnlyIf
		conditions = append([]string{"its rating, which is only an estimate, is right"}, conditions...)
	}
	b := block{Title: u.Value.String(), Because: p.Because}
	if b.Answer, b.OnlyIf = u.ifRight(p.Answer, conditions); b.Answer != network.No {
		b.Because = nil
	} else {
		b.OnlyIf = nil
	}
	o := p.Operation
	b.say("At work", "%s, %s", network.FormatQuantity(o.Volts, network.Volt), network.FormatQuantity(o.Amps, network.Ampere))
	b.say("Heat", "%s", network.FormatQuantity(o.Watts, network.Watt))
	b.say("Derating", "all of the rating up to %g °C, nothing from %g °C on (%s)", p.Derating.StartC, p.Derating.ZeroC, p.Derating.Source)
	b.say(fmt.Sprintf("At %g °C", q.AmbientC), "a part bears %s of its rating", network.FormatPercent(100*p.Share))
	needed := ""
	switch {
	case p.Share == 0:
		needed = "none will do at that temperature"
	case p.SoldWatts == 0:
		needed = network.FormatQuantity(p.NeededWatts, network.Watt) + " or more, beyond what is usual for leaded parts"
	default:
		needed = fmt.Sprintf("%s or more with a margin of %g times; the next one sold is %s", network.FormatQuantity(p.NeededWatts, network.Watt), p.Margin, network.FormatRating(p.SoldWatts))
	}
	b.say("Rating needed", "%s", needed)
	size, known := onhand.Size(u.kept.Size)
	if text := sizeText(u.kept, size, known); text != "" {
		b.say("Body", "%s", text)
	}
	rated := p.RatedFrom
	if p.RatedWatts > 0 {
		rated = network.FormatRating(p.RatedWatts) + ", " + p.RatedFrom
	}
	b.say("Rating of the part", "%s", rated)
	if p.BearsWatts > 0 {
		b.say("It bears there", "%s, without a margin", network.FormatQuantity(p.BearsWatts, network.Watt))
	}
	if p.BearsVolts > 0 {
		b.say("Most voltage across it", "%s, %s", network.FormatQuantity(p.BearsVolts, network.Volt), p.VoltsFrom)
	}
	will := map[network.Answer]string{network.Yes: "it will do", network.OnlyIf: "it will do only if " + count(len(b.OnlyIf), "thing holds", "things hold"), network.No: "it will not do"}[b.Answer]
	return told{
		Says:   fmt.Sprintf("%s of heat: %s. Rating needed: %s.", network.FormatQuantity(o.Watts, network.Watt), will, needed),
		Answer: b.Answer, Groups: []group{{Blocks: []block{b}}}, Notes: u.notes(), Cautions: add(u.kept.Cautions(), p.Cautions...),
	}, nil
}

// quantity reads a field that holds a quantity; empty is 0.
func quantity(field, text, unit string) (float64, error) {
	if strings.TrimSpace(text) == "" {
		return 0, nil
	}
	amount, err := network.ParseQuantity(text, unit)
	return amount, in(field, err)
}

// times reads the field of a margin: how many times the power a rating is to be;
// empty is 0, the usual one.
func times(text string) (float64, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0, nil
	}
	margin, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil || !(margin >= 1 && margin <= 100) {
		return 0, in("margin", fmt.Errorf("%.20q is no margin: write how many times the power a rating is to be, 1 to 100", text))
	}
	return margin, nil
}

// celsius reads a temperature.
func celsius(text string) (float64, error) {
	plain := strings.TrimRight(strings.Replace(strings.ReplaceAll(strings.TrimSpace(text), "−", "-"), ",", ".", 1), " °Cc")
	c, err := strconv.ParseFloat(plain, 64)
	if err != nil {
		return 0, fmt.Errorf("%.20q is no temperature: write one in °C, such as 70", text)
	}
	return c, nil
}

func (s *Server) useSpread(w http.ResponseWriter, r *http.Request) {
	if f, ok := take[spreadForm](w, r); ok {
		t, err := s.tray.spread(r.Context(), f)
		reply(w, t, err)
	}
}

func (s *Server) useStandIn(w http.ResponseWriter, r *http.Request) {
	if f, ok := take[standInForm](w, r); ok {
		t, err := s.tray.standIn(r.Context(), f)
		reply(w, t, err)
	}
}

func (s *Server) usePower(w http.ResponseWriter, r *http.Request) {
	if f, ok := take[powerForm](w, r); ok {
		t, err := s.tray.power(r.Context(), f)
		reply(w, t, err)
	}
}
