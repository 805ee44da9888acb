package bench

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http"
	"path"
	"strings"

	"ringwise/cmd/ringwise/internal/picksheet"
	"ringwise/decode"
	"ringwise/decode/network"
)

// mostProject is the largest body that holds a project's list, in bytes: what
// ParseList takes, written as JSON.
const mostProject = 5 << 19

// A projectForm is a project's list of parts.
type projectForm struct {
	Name string `json:"name"` // of its file; may be empty
	List string `json:"list"` // CSV
}

// project goes through a list with the parts of the stock. It takes nothing.
func (s *Server) project(ctx context.Context, f projectForm) (told, error) {
	list, err := network.ParseList(f.List)
	if err != nil {
		return told{}, in("list", err)
	}
	from, err := fromStock(ctx, s.store)
	if err != nil {
		return told{}, err
	}
	plan, err := network.PlanProject(ctx, list, from.parts)
	if err != nil {
		return told{}, err
	}
	name := "project"
	if strings.TrimSpace(f.Name) != "" {
		name = plainName(f.Name)
		name = strings.TrimSuffix(name, path.Ext(name))
	}
	var page bytes.Buffer
	if err := picksheet.Write(&page, name, s.tray.now(), plan); err != nil {
		return told{}, err
	}
	t := tellPlan(list, from, plan)
	t.Files, err = s.made.keep([]madeFile{{name: "pick-" + name + ".html", label: "Pick sheet to print (opens in a new tab)", kind: contentTypes[".html"], data: page.Bytes(), open: true}})
	return t, err
}

// tellPlan says in words where the parts of a list come from.
func tellPlan(list network.List, from choice, plan network.Plan) told {
	t := told{Takes: from.takes(plan.Takings()), Cautions: network.Cautions(list.Worst(), true)}
	if len(list.Ignored) > 0 {
		t.Notes = append(t.Notes, "Columns passed over: "+strings.Join(list.Ignored, ", ")+".")
	}
	for _, note := range list.Notes {
		t.Notes = append(t.Notes, "In the list, "+note+".")
	}
	for _, line := range plan.Lines {
		g := group{Title: fmt.Sprintf("%d × %s%s", line.Quantity, line.Need.Value, needText(line.Need))}
		if line.Reference != "" {
			g.Title = line.Reference + ": " + g.Title
		}
		for _, supply := range line.Supplies {
			b := block{Title: fmt.Sprintf("%s, for %s", supply.How, count(supply.Places, "place", "places")), Answer: supply.Answer, OnlyIf: supply.Conditions}
			for _, take := range supply.Takes {
				b.say("Take", "%d of %s", take.Count, partText(take.Part))
			}
			if supply.How == network.StandsIn {
				b.reckon(supply.StandIn.Arithmetic)
			}
			if c := supply.Combination; c != nil {
				b.say("Joined as", "%s", c.Text)
				b.say("Makes", "%s, %s; at worst %s", about(c.Nominal), network.FormatOff(c.ErrorPercent), network.FormatBounds(c.Low, c.High))
			}
			g.Blocks = append(g.Blocks, b)
		}
		if line.Missing > 0 {
			b := block{Title: fmt.Sprintf("%d missing", line.Missing), Answer: network.No}
			switch buy := line.Buy; {
			case buy != nil:
				b.say("To buy", "%s (%s)%s", buy.Nearest, buy.Series, ratingAndKind(line.RatingToBuy(), line.Need.Kind))
			case line.Need.Kind.Special():
				b.say("To buy", "its like, with the same data%s", ratingAndKind(line.RatingToBuy(), line.Need.Kind))
			}
			for _, r := range line.Refused {
				b.Because = append(b.Because, fmt.Sprintf("not %s: %s", partText(r.Part), strings.Join(r.Reasons, "; ")))
			}
			g.Blocks = append(g.Blocks, b)
		}
		t.Groups = append(t.Groups, g)
	}
	t.Says = fmt.Sprintf("Of %s, %d have parts, %d of them only if what is said holds; %d missing. Nothing was taken.", count(plan.Ready+plan.Missing, "place", "places"), plan.Ready, plan.Check, plan.Missing)
	return t
}

// needText says what is asked for besides the value.
func needText(n network.Need) string {
	rating := ""
	if n.RatedWatts > 0 {
		rating = "rated " + network.FormatRating(n.RatedWatts)
	}
	text := ratingAndKind(rating, n.Kind)
	if n.Volts > 0 {
		text += ", " + network.FormatQuantity(n.Volts, network.Volt) + " across it"
	}
	return text
}

// ratingAndKind appends what is said of a rating and a kind, each if known.
func ratingAndKind(rating string, kind decode.Kind) string {
	text := ""
	if rating != "" {
		text += ", " + rating
	}
	if kind != decode.KindUnknown {
		text += ", " + kind.String()
	}
	return text
}

func (s *Server) findProject(w http.ResponseWriter, r *http.Request) {
	f, ok := takeAtMost[projectForm](w, r, mostProject)
	if !ok {
		return
	}
	if strings.TrimSpace(f.List) == "" {
		reply(w, told{}, in("list", errors.New("paste a list, drop its file here, or choose it")))
		return
	}
	t, err := s.find(r.Context(), func(ctx context.Context) (told, error) { return s.project(ctx, f) })
	reply(w, t, err)
}
