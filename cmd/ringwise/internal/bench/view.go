package bench

import (
	"fmt"
	"math"
	"strings"
	"time"

	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
	"ringwise/decode/series"
	"ringwise/vision"
)

// The shape of what the page is told. Places on a photo are fractions of its
// width and height, places on a part fractions of the body's length in reading
// order.
type (
	benchView struct {
		Colours []colourView `json:"colours"`
		Kinds   []string     `json:"kinds"`
		Sizes   []string     `json:"sizes"`
		Margin  float64      `json:"margin"` // round the body in its strip
		Photos  []photoView  `json:"photos"`
		Session sessionView  `json:"session"`
		LAN     bool         `json:"lan"`    // devices of the network may be let in
		Remote  bool         `json:"remote"` // the window is on such a device
		Camera  *cameraView  `json:"camera"` // nil if there is no fixed one
		Series  []string     `json:"series"` // of preferred numbers
		Asks    []askView    `json:"asks"`   // kinds of questions for a sheet
	}
	askView struct {
		Kind    string `json:"kind"`
		Heading string `json:"heading"`
	}
	colourView struct {
		Name    string `json:"name"`
		Letters string `json:"letters"`
		Key     string `json:"key"`
		Paint   string `json:"paint"`
	}
	photoView struct {
		ID     int        `json:"id"`
		Name   string     `json:"name"`
		Width  int        `json:"width"`
		Height int        `json:"height"`
		Lamp   int        `json:"lamp"`   // the photo in whose light it was taken
		Whites int        `json:"whites"` // spots said to be white
		Scale  *scaleView `json:"scale"`  // nil if unknown
		Parts  []partView `json:"parts"`
	}
	partView struct {
		Number     int             `json:"number"`
		Version    int             `json:"version"`
		Status     status          `json:"status"`
		Outline    [4][2]float64   `json:"outline"`
		Aspect     float64         `json:"aspect"` // width over height of the strip
		Turned     bool            `json:"turned"` // the strip is read from its right end
		Verdict    string          `json:"verdict"`
		Why        string          `json:"why"`
		Rings      []ringView      `json:"rings"`
		Candidates []candidateView `json:"candidates"`
		Taken      int             `json:"taken"` // -1 if none is
		Means      []meaningView   `json:"means"` // of the rings taken, if there are several
		Changed    bool            `json:"changed"`
		Meter      meterView       `json:"meter"`
		Facts      factsText       `json:"facts"`
		Body       *bodyView       `json:"body"` // nil if its size is unknown
		Cautions   []string        `json:"cautions"`
		Entry      int64           `json:"entry"`
		Before     string          `json:"before"` // its value before anything was told of the light, if another
		Spoken     string          `json:"spoken"`
	}
	ringView struct {
		Centre float64 `json:"centre"`
		Width  float64 `json:"width"`
		Colour string  `json:"colour"` // empty if not told
		Said   bool    `json:"said"`
		Role   string  `json:"role"`
	}
	meaningView struct {
		Value string `json:"value"`
		Note  string `json:"note"`
		Taken bool   `json:"taken"`
	}
	candidateView struct {
		Rings     []string `json:"rings"`
		Value     string   `json:"value"`
		Tolerance string   `json:"tolerance"`
		Span      string   `json:"span"`
		Marking   string   `json:"marking"`
		Percent   int      `json:"percent"`
		Notes     []string `json:"notes"`
		Bin       string   `json:"bin"` // the key of its bin
	}
	sessionView struct {
		Undo      int            `json:"undo"`     // number of the last deed, 0 if there is none
		UndoWhat  string         `json:"undoWhat"` // in a few words
		Redo      int            `json:"redo"`     // number of what was undone last, 0 if there is none
		RedoWhat  string         `json:"redoWhat"`
		Confirmed int            `json:"confirmed"`
		Corrected int            `json:"corrected"` // of those
		PerMinute float64        `json:"perMinute"` // lately; 0 if not known
		Counts    map[status]int `json:"counts"`
		Unsaved   int            `json:"unsaved"` // confirmed, and not taken by the stock
	}
)

// keys are the letters that set a ring's colour: one each, out of its name or
// its letters.
var keys = [decode.ColourCount]string{
	decode.Black: "k", decode.Brown: "n", decode.Red: "r", decode.Orange: "o", decode.Yellow: "y",
	decode.Green: "g", decode.Blue: "u", decode.Violet: "v", decode.Grey: "e", decode.White: "w",
	decode.Gold: "d", decode.Silver: "s", decode.Pink: "p",
}

// view is everything that the page shows of the bench.
func (t *tray) view() benchView {
	t.mu.Lock()
	defer t.mu.Unlock()
	v := benchView{Margin: vision.CropMargin, Photos: []photoView{}, Session: t.session()}
	for c := range decode.Colour(decode.ColourCount) {
		p := paint.Of(c)
		v.Colours = append(v.Colours, colourView{c.String(), c.Letters(), keys[c], fmt.Sprintf("#%02x%02x%02x", p.R, p.G, p.B)})
	}
	for _, k := range decode.Kinds {
		v.Kinds = append(v.Kinds, k.String())
	}
	for _, s := range stock.TypeSizes {
		v.Sizes = append(v.Sizes, string(s))
	}
	for _, e := range series.All {
		v.Series = append(v.Series, e.String())
	}
	if words, err := sheet.In("en"); err == nil {
		for _, k := range sheet.Kinds {
			v.Asks = append(v.Asks, askView{string(k), words.Kinds[k]})
		}
	}
	for _, p := range t.photos {
		v.Photos = append(v.Photos, viewPhoto(p))
	}
	return v
}

// viewOf is one photo, nil if it is gone.
func (t *tray) viewOf(id int) *photoView {
	t.mu.Lock()
	defer t.mu.Unlock()
	p := t.photo(id)
	if p == nil {
		return nil
	}
	v := viewPhoto(p)
	return &v
}

func viewPhoto(p *photo) photoView {
	v := photoView{ID: p.id, Lamp: p.lampOf(), Whites: len(p.whites), Scale: p.viewScale(), Name: p.name, Width: p.width, Height: p.height, Parts: []partView{}}
	for _, part := range p.parts {
		v.Parts = append(v.Parts, viewPart(p, part))
	}
	return v
}

func viewPart(in *photo, p *part) partView {
	j := p.judge()
	v := partView{
		Number: p.number, Version: p.version, Status: p.said.status,
		Aspect: p.found.CropAspect(), Turned: j.from == decode.RightEnd,
		Verdict: j.Verdict.String(), Why: j.Why, Taken: j.taken,
		Rings: []ringView{}, Candidates: []candidateView{}, Means: []meaningView{}, Cautions: []string{},
		Changed: p.said.known.Rings != nil || p.said.known.From != decode.EitherEnd || p.said.taken != nil,
		Meter:   p.viewMeter(j), Facts: p.said.facts.view(), Body: in.viewBody(p), Entry: p.said.entry, Before: p.before(),
	}
	for i, corner := range p.found.Outline {
		v.Outline[i] = [2]float64{corner.X / float64(in.width), corner.Y / float64(in.height)}
	}
	taken, ok := j.reading()
	var roles []string
	if ok {
		roles = rolesOf(taken.Reading)
	}
	v.Cautions = append(v.Cautions, p.cautions(taken)...)
	for i, ring := range j.rings {
		r := ringView{Centre: ring.centre, Width: ring.width, Said: ring.said}
		if v.Turned {
			r.Centre = 1 - r.Centre
		}
		if ring.named {
			r.Colour = ring.colour.String()
		}
		if i < len(roles) {
			r.Role = roles[i]
		}
		v.Rings = append(v.Rings, r)
	}
	for _, c := range j.Candidates {
		v.Candidates = append(v.Candidates, viewCandidate(c))
	}
	if len(j.means) > 1 {
		for i, r := range j.means {
			v.Means = append(v.Means, meaningView{stock.Meaning(r), strings.Join(r.Notes, " "), i == p.said.sense})
		}
	}
	v.Spoken = spoken(p, j)
	return v
}

func viewCandidate(c decode.Candidate) candidateView {
	v := candidateView{Value: c.Value(), Marking: c.RKMWithToleranceLetter(), Percent: int(100*c.Confidence + 1e-9), Notes: append([]string{}, c.Notes...), Bin: binKey(c.Reading)}
	for _, ring := range c.Rings {
		v.Rings = append(v.Rings, ring.String())
	}
	if c.IsLink() {
		v.Value, v.Span = "0 Ω", "zero-ohm link"
		return v
	}
	if c.TolerancePercent.Valid {
		v.Tolerance = fmt.Sprintf("±%s %%", c.TolerancePercent.Decimal)
		v.Span = decode.FormatOhms(c.Low()) + " to " + decode.FormatOhms(c.High())
	}
	if c.TempcoPPM != nil {
		v.Tolerance += fmt.Sprintf(", %d ppm/K", *c.TempcoPPM)
	}
	if c.FailureRate.Valid {
		v.Tolerance += fmt.Sprintf(", %s %%/1000 h", c.FailureRate.Decimal)
	}
	return v
}

// rolesOf says what each ring of a reading stands for.
func rolesOf(r decode.Reading) []string {
	n := len(r.Rings)
	if n == 1 {
		return []string{"link"}
	}
	digits := 2
	if n >= 5 && !r.FailureRate.Valid {
		digits = 3
	}
	roles := make([]string, n)
	for i, c := range r.Rings {
		switch i - digits {
		case 0:
			roles[i] = multiplier(c)
		case 1:
			roles[i] = fmt.Sprintf("±%s %%", r.TolerancePercent.Decimal)
		case 2:
			if r.FailureRate.Valid {
				roles[i] = fmt.Sprintf("%s %%/1000 h", r.FailureRate.Decimal)
			} else if r.TempcoPPM != nil {
				roles[i] = fmt.Sprintf("%d ppm/K", *r.TempcoPPM)
			}
		default:
			d, _ := c.Digit()
			roles[i] = fmt.Sprint(d)
		}
	}
	return roles
}

// multiplier writes what a multiplier ring multiplies by.
func multiplier(c decode.Colour) string {
	exponent, _ := c.Multiplier()
	if exponent < 0 {
		return "× 0." + strings.Repeat("0", -exponent-1) + "1"
	}
	prefix := [...]string{"", " k", " M", " G"}[exponent/3]
	return "× 1" + strings.Repeat("0", exponent%3) + prefix
}

// binKey names the bin for a reading: value and tolerance.
func binKey(r decode.Reading) string {
	if r.IsLink() {
		return "0"
	}
	key := r.Ohms.String()
	if r.TolerancePercent.Valid {
		key += "/" + r.TolerancePercent.Decimal.String()
	}
	return key
}

// lately is the time over which the pace of sorting is taken.
const lately = 5 * time.Minute

// sessionNow is session for who does not hold the tray.
func (t *tray) sessionNow() sessionView {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.session()
}

// session is the summary of what was done since the program started.
func (t *tray) session() sessionView {
	v := sessionView{Confirmed: len(t.confirmed), Counts: map[status]int{}, Unsaved: len(t.unsaved)}
	if n := len(t.done); n > 0 {
		v.Undo, v.UndoWhat = t.done[n-1].number, t.done[n-1].what
	}
	if n := len(t.undone); n > 0 {
		v.Redo, v.RedoWhat = t.undone[n-1].number, t.undone[n-1].what
	}
	for _, photo := range t.photos {
		for _, p := range photo.parts {
			v.Counts[p.said.status]++
		}
	}
	for _, c := range t.confirmed {
		if c.corrected {
			v.Corrected++
		}
	}
	v.PerMinute = t.pace()
	return v
}

// pace is how many parts a minute were confirmed lately, 0 if that cannot be
// told yet.
func (t *tray) pace() float64 {
	now, recent := t.now(), t.confirmed
	for len(recent) > 0 && now.Sub(recent[0].at) > lately {
		recent = recent[1:]
	}
	if len(recent) < 2 {
		return 0
	}
	minutes := recent[len(recent)-1].at.Sub(recent[0].at).Minutes()
	if minutes <= 0 {
		return 0
	}
	return math.Round(10*float64(len(recent)-1)/minutes) / 10
}
