package bench

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"net/http"
	"path/filepath"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/cmd/ringwise/internal/sheet/bundle"
	"ringwise/cmd/ringwise/internal/sheet/paper"
	"ringwise/cmd/ringwise/internal/sheet/photopart"
	"ringwise/cmd/ringwise/internal/sheet/printed"
	"ringwise/cmd/ringwise/internal/stock"
)

// makingTime is how long sheets may take to make; one order at a time is made.
const makingTime = 2 * time.Minute

// A sheetForm orders question sheets.
type sheetForm struct {
	From     string   `json:"from"` // "session" or "stock"
	Kinds    []string `json:"kinds"`
	Level    int      `json:"level"`
	Count    string   `json:"count"`
	Variants string   `json:"variants"`
	Paper    string   `json:"paper"`
	Large    bool     `json:"large"`
	Letters  bool     `json:"letters"`
	Grey     bool     `json:"grey"`
	Title    string   `json:"title"`
	Note     string   `json:"note"`
	Seed     string   `json:"seed"` // empty: a new one
}

// usualTitle heads a sheet for which the person names no title.
const usualTitle = "The ring code of resistors"

// order reads the form.
func (f sheetForm) order() (o sheet.Order, err error) {
	o = sheet.Order{Title: strings.TrimSpace(f.Title), Note: strings.TrimSpace(f.Note), Level: f.Level, Language: "en", Seed: rand.Uint64N(1_000_000)}
	if o.Title == "" {
		o.Title = usualTitle
	}
	if len(f.Kinds) == 0 {
		return o, in("kinds", errors.New("choose at least one kind of question"))
	}
	if o.Kinds, err = sheet.ParseKinds(strings.Join(f.Kinds, ",")); err != nil {
		return o, in("kinds", err)
	}
	whole := func(field, text string, most int) (int, error) {
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil || n < 1 || n > most {
			return 0, in(field, fmt.Errorf("%.20q will not do: write a whole number from 1 to %d", text, most))
		}
		return n, nil
	}
	if o.Count, err = whole("count", f.Count, sheet.MostQuestions); err != nil {
		return o, err
	}
	if o.Variants, err = whole("variants", f.Variants, sheet.MostVariants); err != nil {
		return o, err
	}
	if text := strings.TrimSpace(f.Seed); text != "" {
		if o.Seed, err = strconv.ParseUint(text, 10, 64); err != nil {
			return o, in("seed", fmt.Errorf("%.20q is no seed: write a whole number, or leave it empty", text))
		}
	}
	field := "level"
	switch {
	case utf8.RuneCountInString(o.Title) > sheet.MostText || paper.Printable(o.Title) != nil:
		field = "title"
	case utf8.RuneCountInString(o.Note) > sheet.MostText || paper.Printable(o.Note) != nil:
		field = "note"
	}
	err = o.Check()
	if err == nil {
		err = errors.Join(paper.Printable(o.Title), paper.Printable(o.Note))
	}
	return o, in(field, err)
}

// makeSheets makes sheets of confirmed parts, questions and answers.
func (s *Server) makeSheets(ctx context.Context, f sheetForm) (told, error) {
	order, err := f.order()
	if err != nil {
		return told{}, err
	}
	sizes, err := paper.ParseSizes(f.Paper)
	if err != nil {
		return told{}, in("paper", err)
	}
	var among func(stock.Part) bool
	switch f.From {
	case "session":
		among = func(p stock.Part) bool { return strings.HasPrefix(p.Key, s.tray.key+"-") }
	case "stock":
		among = func(stock.Part) bool { return true }
	default:
		return told{}, in("from", errors.New("choose the parts of this session or of the stock"))
	}
	parts, err := photopart.FromStore(ctx, s.store, among)
	if err != nil {
		return told{}, err
	}
	if len(parts) == 0 {
		return told{}, in("from", errors.New("there are no parts with confirmed rings yet: confirm some first"))
	}
	parts, notes := sheet.Usable(parts, order.Level)
	if len(notes) > mostLeftOut {
		notes = append(notes[:mostLeftOut:mostLeftOut], fmt.Sprintf("… and %d more are left out", len(notes)-mostLeftOut))
	}
	for i, note := range notes {
		notes[i] = sentence(note)
	}
	sheets, err := sheet.Compose(parts, order)
	if err != nil {
		return told{Notes: notes}, in("count", err)
	}
	look := printed.Look{Large: f.Large, Letters: f.Letters, Grey: f.Grey}
	var files []madeFile
	total := 0
	for _, made := range sheets {
		more, err := filesOf(ctx, made, look, sizes)
		if err != nil {
			return told{}, err
		}
		files = append(files, more...)
		for _, file := range more {
			if total += len(file.data); total > mostMadeBytes {
				return told{}, in("variants", fmt.Errorf("these sheets would take more than %d MB: ask for fewer variants", mostMadeBytes>>20))
			}
		}
	}
	t := told{Notes: append(notes, fmt.Sprintf("The seed is %d: with the same parts it makes the same sheets again.", order.Seed),
		"Keep the key: ringwise mark needs it to mark what comes back.")}
	t.Says = fmt.Sprintf("%s made, with %s.", count(len(sheets), "sheet", "sheets"), count(order.Count, "question", "questions"))
	if len(sheets) > 1 {
		t.Says = strings.TrimSuffix(t.Says, ".") + " each."
	}
	t.Files, err = s.made.keep(files)
	return t, err
}

// filesOf makes the files of one sheet.
func filesOf(ctx context.Context, s sheet.Sheet, look printed.Look, sizes []paper.Size) (files []madeFile, err error) {
	all, err := bundle.Of(ctx, s, look, sizes)
	for _, f := range all {
		files = append(files, madeFile{name: f.Name, label: fmt.Sprintf("Variant %d (%s): %s", s.Variant, s.Code, f.What),
			kind: sheetTypes[filepath.Ext(f.Name)], data: f.Data})
	}
	return files, err
}

// sheetTypes are the media types of a sheet's files.
var sheetTypes = map[string]string{
	".pdf":  "application/pdf",
	".html": contentTypes[".html"],
	".csv":  "text/csv; charset=utf-8",
	".json": "application/json",
}

func (s *Server) orderSheets(w http.ResponseWriter, r *http.Request) {
	f, ok := take[sheetForm](w, r)
	if !ok {
		return
	}
	select {
	case s.making <- struct{}{}:
		defer func() { <-s.making }()
	default:
		refuse(w, http.StatusTooManyRequests, "other sheets are being made: wait a moment, then ask again")
		return
	}
	http.NewResponseController(w).SetWriteDeadline(time.Now().Add(makingTime + uploadTime))
	ctx, stop := context.WithTimeout(r.Context(), makingTime)
	defer stop()
	t, err := s.makeSheets(ctx, f)
	if errors.Is(err, context.DeadlineExceeded) {
		err = errors.New("making the sheets took too long: ask for fewer variants")
	}
	reply(w, t, err)
}
