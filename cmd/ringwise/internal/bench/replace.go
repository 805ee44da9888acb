package bench

import (
	"context"
	"fmt"
	"net/http"

	"ringwise/decode/network"
)

// A replaceForm asks which parts may stand in for a value.
type replaceForm struct {
	Choice    choiceForm `json:"choice"`
	Value     string     `json:"value"`
	Tolerance string     `json:"tolerance"` // empty: an ordinary place
	Power     string     `json:"power"`
	Voltage   string     `json:"voltage"`
	Kind      string     `json:"kind"`
}

// standInsShown is how many parts that may stand in are shown.
const standInsShown = 5

// replace ranks the parts that may stand in, and says what each series of
// preferred numbers has nearest.
func (s *Server) replace(ctx context.Context, f replaceForm) (told, error) {
	need, err := standInForm{Value: f.Value, Tolerance: f.Tolerance, Power: f.Power, Voltage: f.Voltage, Kind: f.Kind}.need()
	if err != nil {
		return told{}, err
	}
	from, err := f.Choice.parts(ctx, s.store)
	if err != nil {
		return told{}, err
	}
	ranked, err := network.RankStandIns(need, from.parts)
	if err != nil {
		return told{}, in("value", err)
	}
	var nearest []network.SeriesChoice
	if need.Value.Ohms.IsPositive() {
		if nearest, err = network.SeriesChoices(need); err != nil {
			return told{}, in("value", err)
		}
	}
	return tellReplace(need, from, network.WorthShowing(need, ranked, standInsShown), nearest), nil
}

// tellReplace says in words what may stand in.
func tellReplace(need network.Need, from choice, list []network.StandIn, nearest []network.SeriesChoice) told {
	t := told{Cautions: network.Cautions(need.Operation(), need.Kind.Special())}
	g := group{Title: "Best of " + from.origin}
	for _, s := range list {
		b := block{Title: fmt.Sprintf("%s, %s", partText(s.Part), network.FormatOff(s.ErrorPercent)), Answer: s.Answer, Because: s.Reasons}
		b.reckon(s.Arithmetic)
		if s.Answer != network.No {
			b.OnlyIf, b.Takes = s.Conditions, from.takes([]network.Taking{{Part: s.Part, Count: 1}})
		}
		g.Blocks = append(g.Blocks, b)
	}
	if len(list) > 0 { // the best comes first
		t.Answer, t.Groups = list[0].Answer, append(t.Groups, g)
	}
	if len(nearest) > 0 {
		b := block{Title: "To buy: the nearest of each series (IEC 60063)"}
		for _, c := range nearest {
			fits := "fits"
			if !c.Fits {
				fits = "does not fit with its tolerance"
			}
			b.say(c.Series, "%s, %s; %s", c.Nearest, network.FormatOff(c.ErrorPercent), fits)
		}
		t.Groups = append(t.Groups, group{Blocks: []block{b}})
	}
	switch {
	case len(list) == 0 || t.Answer == network.No:
		t.Says = fmt.Sprintf("No part of %s may stand in for %s.", from.origin, need.Value)
	case t.Answer == network.Yes:
		t.Says = fmt.Sprintf("Yes: %s for %s.", partText(list[0].Part), need.Value)
	default:
		t.Says = fmt.Sprintf("Only if %s: %s for %s.", count(len(list[0].Conditions), "thing holds", "things hold"), partText(list[0].Part), need.Value)
	}
	return t
}

func (s *Server) findReplace(w http.ResponseWriter, r *http.Request) {
	if f, ok := take[replaceForm](w, r); ok {
		t, err := s.find(r.Context(), func(ctx context.Context) (told, error) { return s.replace(ctx, f) })
		reply(w, t, err)
	}
}
