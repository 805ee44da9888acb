package printed

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/paint"
	"ringwise/cmd/ringwise/internal/sheet"
	"ringwise/cmd/ringwise/internal/sheet/axetest"
	"ringwise/cmd/ringwise/internal/sheet/paper"
	"ringwise/cmd/ringwise/internal/sheet/strip"
	"ringwise/decode"
)

// looks are all ways to print a sheet.
var looks = []Look{{}, {Large: true}, {Letters: true}, {Grey: true}, {Large: true, Grey: true}}

// documents makes the questions and answers of a sheet of all kinds. Every
// other part has a picture, a plain body with its rings.
func documents(t testing.TB, level, count int, seed uint64) []sheet.Document {
	t.Helper()
	parts, err := sheet.ParseValues("E12; 4.99 kΩ ±1 %; 102 kΩ ±0.5 %; 33.2 kΩ ±0.1 %; 1R5; R33; 8M2", level)
	require.NoError(t, err)
	parts, _ = sheet.Usable(parts, level)
	for i := range parts {
		if i%2 == 0 {
			parts[i].Picture = pictured(t, parts[i].Reading.Rings)
			parts[i].Unchecked = i%4 == 0
		}
	}
	sheets, err := sheet.Compose(parts, sheet.Order{
		Title: "Radio club – “first evening”, 3 Ω to 3 MΩ", Note: "Invented values of a spring clean-out.",
		Kinds: sheet.Kinds, Level: level, Count: count, Variants: 2, Seed: seed, Language: "en",
	})
	require.NoError(t, err)
	var docs []sheet.Document
	for _, side := range []func(sheet.Sheet) (sheet.Document, error){sheet.Questions, sheet.Answers} {
		doc, err := side(sheets[len(sheets)-1])
		require.NoError(t, err)
		docs = append(docs, doc)
	}
	return docs
}

// drawn keeps what pictured drew, by the rings.
var drawn = map[string]*sheet.Picture{}

// pictured draws a body with rings.
func pictured(t testing.TB, rings []decode.Colour) *sheet.Picture {
	t.Helper()
	name := fmt.Sprint(rings)
	if p := drawn[name]; p != nil {
		return p
	}
	img := image.NewRGBA(image.Rect(0, 0, 480, 160))
	for y := range 160 {
		for x := range 480 {
			c := color.RGBA{0xe8, 0xe6, 0xe0, 0xff}
			if x > 50 && x < 430 && y > 20 && y < 140 {
				c = color.RGBA{0xd8, 0xb9, 0x88, 0xff}
				if k := (x - 80) / 60; x > 80 && k < len(rings) && (x-80)%60 < 30 {
					c = paint.Of(rings[k])
				}
			}
			img.Set(x, y, c)
		}
	}
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, img, nil))
	drawn[name] = &sheet.Picture{JPEG: b.Bytes(), Width: 480, Height: 160}
	return drawn[name]
}

// texts are all words that a document must show, but for those in drawings.
func texts(doc sheet.Document) []string {
	list := append([]string{doc.Title, doc.Heading, doc.Foot}, doc.Notes...)
	list = append(list, doc.Lines...)
	for _, item := range doc.Items {
		list = append(list, item.Heading, item.Points, item.Ask)
		for _, caution := range item.Cautions {
			list = append(list, doc.Words.Caution+": "+caution)
		}
		for _, f := range item.Figures {
			if f.Part.Unchecked {
				list = append(list, doc.Words.UncheckedMark)
			}
			list = append(list, f.Label)
		}
		for _, b := range item.Boxes {
			list = append(list, b.Name+" "+b.Label, b.Answer)
		}
		list = append(append(list, item.Steps...), item.Remarks...)
	}
	return list
}

// wordsOf counts words.
func wordsOf(list ...string) map[string]int {
	count := map[string]int{}
	for _, text := range list {
		for _, word := range strings.Fields(text) {
			count[word]++
		}
	}
	return count
}

// A placedWord is a word on a page, in points.
type placedWord struct {
	Text string  `xml:",chardata"`
	XMin float64 `xml:"xMin,attr"`
	YMin float64 `xml:"yMin,attr"`
	XMax float64 `xml:"xMax,attr"`
	YMax float64 `xml:"yMax,attr"`
}

type placedPage struct {
	Width  float64      `xml:"width,attr"`
	Height float64      `xml:"height,attr"`
	Words  []placedWord `xml:"word"`
}

// pagesOf reads a PDF with pdftotext, of the Debian package poppler-utils.
func pagesOf(t testing.TB, pdf []byte) []placedPage {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is missing: cmd/setup poppler-utils installs it")
	}
	file := filepath.Join(t.TempDir(), "sheet.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o600))
	out, err := exec.Command("pdftotext", "-bbox", file, "-").Output()
	require.NoError(t, err)
	var page struct {
		Pages []placedPage `xml:"body>doc>page"`
	}
	require.NoError(t, xml.Unmarshal(out, &page))
	return page.Pages
}

// Every word of every document stands on its pages, within the margins, and
// none on another.
func TestPagesHoldEveryWord(t *testing.T) {
	for level := 1; level <= sheet.MostLevel; level++ {
		for i, doc := range documents(t, level, 21, uint64(level)) {
			for _, look := range looks {
				for _, size := range []paper.Size{paper.A4, paper.Letter} {
					t.Run(fmt.Sprintf("level %d, %d%s, %s", level, i, look.Suffix(), size.Name), func(t *testing.T) {
						checkPages(t, doc, look, size)
					})
				}
			}
		}
	}
}

func checkPages(t *testing.T, doc sheet.Document, look Look, size paper.Size) {
	var b bytes.Buffer
	count, err := PDF(&b, doc, look, size)
	require.NoError(t, err)
	pages := pagesOf(t, b.Bytes())
	require.Len(t, pages, count)
	var found []string
	for n, p := range pages {
		assert.InDelta(t, size.Width, p.Width*25.4/72, 0.2)
		assert.InDelta(t, size.Height, p.Height*25.4/72, 0.2)
		for i, w := range p.Words {
			found = append(found, w.Text)
			assert.True(t, w.XMin > 40 && w.XMax < p.Width-40 && w.YMin > 36 && w.YMax < p.Height-30, "page %d: %+v lies beyond the margin", n+1, w)
			for _, o := range p.Words[:i] {
				across, down := min(w.XMax, o.XMax)-max(w.XMin, o.XMin), min(w.YMax, o.YMax)-max(w.YMin, o.YMin)
				low := min(w.YMax-w.YMin, o.YMax-o.YMin)
				assert.False(t, across > 0.5 && down > 0.4*low, "page %d: %q lies on %q", n+1, w.Text, o.Text)
			}
		}
	}
	got := wordsOf(found...)
	for word, n := range wordsOf(texts(doc)...) {
		// A word too long for its box is broken.
		assert.GreaterOrEqual(t, got[word], n, "%q", word)
	}
}

// 200 random sheets, each in one look and size.
func TestRandomSheetsAreWhole(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a while")
	}
	for seed := range uint64(100) { // questions and answers of each: 200
		dice := rand.New(rand.NewPCG(seed, 7))
		for _, doc := range documents(t, 1+dice.IntN(3), 4+dice.IntN(12), seed) {
			checkPages(t, doc, looks[dice.IntN(len(looks))], []paper.Size{paper.A4, paper.Letter}[dice.IntN(2)])
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

// pdftotext finds the values as decode writes them.
func TestValuesInThePDF(t *testing.T) {
	parts, err := sheet.ParseValues("5K6; 82K ±10 %; 1M5; R47", 2)
	require.NoError(t, err)
	sheets, err := sheet.Compose(parts, sheet.Order{Title: "Club", Kinds: []sheet.Kind{sheet.ToValue}, Level: 2, Count: 4, Variants: 1, Language: "en"})
	require.NoError(t, err)
	doc, err := sheet.Answers(sheets[0])
	require.NoError(t, err)
	var b bytes.Buffer
	_, err = PDF(&b, doc, Look{}, paper.A4)
	require.NoError(t, err)
	text := ""
	for _, p := range pagesOf(t, b.Bytes()) {
		for _, w := range p.Words {
			text += strings.ReplaceAll(w.Text, "\u00a0", " ") + " "
		}
	}
	for _, p := range parts {
		r := p.Reading
		for _, want := range []string{r.Value(), decode.FormatOhms(r.Low()), decode.FormatOhms(r.High()), r.RKMWithToleranceLetter(), "±" + r.TolerancePercent.Decimal.String() + " %"} {
			assert.Contains(t, text, want)
		}
	}
}

// The HTML holds the same words as the PDF, and is well-formed.
func TestHTMLHoldsEveryWord(t *testing.T) {
	for _, doc := range documents(t, 3, 14, 5) {
		for _, look := range looks {
			var b bytes.Buffer
			require.NoError(t, HTML(&b, doc, look))
			page := b.String()
			body := page[strings.Index(page, "<html"):]
			ids := map[string]bool{}
			labelled := map[string]bool{}
			var found []string
			d := xml.NewDecoder(strings.NewReader(body))
			d.AutoClose, d.Entity, d.Strict = xml.HTMLAutoClose, xml.HTMLEntity, false
			for {
				token, err := d.Token()
				if err == io.EOF {
					break
				}
				require.NoError(t, err)
				switch token := token.(type) {
				case xml.CharData:
					found = append(found, string(token))
				case xml.StartElement:
					for _, a := range token.Attr {
						switch a.Name.Local {
						case "id":
							assert.False(t, ids[a.Value], "the id %s stands twice", a.Value)
							ids[a.Value] = true
						case "for":
							labelled[a.Value] = true
						case "alt", "aria-label":
							assert.NotEmpty(t, a.Value)
						}
					}
				}
			}
			for id := range labelled {
				assert.True(t, ids[id], "a label is for %s, which is not there", id)
			}
			got := wordsOf(found...)
			for word, n := range wordsOf(texts(doc)...) {
				assert.GreaterOrEqual(t, got[word], n, "%q", word)
			}
			assert.Equal(t, strings.Count(page, "<input"), strings.Count(page, "<label"))
			pictures := strings.Count(page, "<img") + strings.Count(page, "<svg") - strings.Count(page, `<svg aria-hidden="true"`)
			assert.Equal(t, pictures, strings.Count(page, `<img alt="`)+strings.Count(page, `<svg role="img" aria-label="`))
		}
	}
}

// Whatever font a browser has, the letters of a ring stay within their tab.
func TestHTMLLettersFitTheirTabs(t *testing.T) {
	shapes := strip.Draw([]decode.Colour{decode.White, decode.White, decode.Black, decode.Gold}, strip.Style{})
	letters := 0
	for i, s := range shapes {
		if s.Text != "" {
			letters++
			tab := shapes[i-1].Points
			assert.Less(t, lettersWidth*s.Size, tab[1].X-tab[0].X)
		}
	}
	assert.Equal(t, 4, letters)
	page := string(drawing("", strip.Height, shapes))
	assert.Equal(t, letters, strings.Count(page, `textLength="6.44" lengthAdjust="spacingAndGlyphs"`), page)
}

// Every page passes axe-core, in every look.
func TestHTMLPassesAxe(t *testing.T) {
	axe := axetest.New(t)
	for _, doc := range documents(t, 3, 14, 6) {
		for _, look := range looks {
			var page bytes.Buffer
			require.NoError(t, HTML(&page, doc, look))
			axe.Check(t, page.Bytes())
		}
	}
}

// Without colour every fill and picture is grey, and letters tell the rings.
func TestGreyHasNoColour(t *testing.T) {
	doc := documents(t, 2, 14, 9)[0]
	var b bytes.Buffer
	require.NoError(t, HTML(&b, doc, Look{Grey: true}))
	fills := regexp.MustCompile(`fill="#(..)(..)(..)"`).FindAllStringSubmatch(b.String(), -1)
	require.NotEmpty(t, fills)
	for _, f := range fills {
		assert.True(t, f[1] == f[2] && f[2] == f[3], f[0])
	}
	for _, item := range doc.Items {
		for _, f := range item.Figures {
			if p := f.Part.Picture; p != nil {
				data, err := Look{Grey: true}.picture(*p)
				require.NoError(t, err)
				img, err := jpeg.Decode(bytes.NewReader(data))
				require.NoError(t, err)
				assert.IsType(t, &image.Gray{}, img)
				var letters []string
				for _, shape := range (Look{Grey: true}).tabs(f) {
					if shape.Text != "" {
						letters = append(letters, shape.Text)
					}
				}
				var want []string
				for _, c := range f.Part.Reading.Rings {
					want = append(want, c.Letters())
				}
				assert.Equal(t, want, letters)
				assert.Empty(t, Look{}.tabs(f))
			}
		}
	}
	_, err := Look{Grey: true}.picture(sheet.Picture{JPEG: []byte("no picture")})
	assert.ErrorContains(t, err, "damaged")
}

// In large print too, the first page has a question, and the line at the foot
// has one above it.
func TestLargePrintFillsItsPages(t *testing.T) {
	box := regexp.MustCompile(`^[0-9]+[a-f]$`)
	parts, err := sheet.ParseValues("E12; 4K99F", 2)
	require.NoError(t, err)
	for seed := range uint64(8) {
		sheets, err := sheet.Compose(parts, sheet.Order{Title: "Radio club", Kinds: sheet.Kinds, Level: 2, Count: 10, Variants: 1, Seed: seed, Language: "en"})
		require.NoError(t, err)
		doc, err := sheet.Questions(sheets[0])
		require.NoError(t, err)
		var b bytes.Buffer
		_, err = PDF(&b, doc, Look{Large: true}, paper.A4)
		require.NoError(t, err)
		pages := pagesOf(t, b.Bytes())
		for _, n := range []int{0, len(pages) - 1} {
			assert.True(t, slices.ContainsFunc(pages[n].Words, func(w placedWord) bool { return box.MatchString(w.Text) }), "seed %d: page %d has no question", seed, n+1)
		}
	}
}

// In large print the way to an answer may stand on the page after it, and names
// its question.
func TestLargeAnswersNameTheirQuestion(t *testing.T) {
	parts, err := sheet.ParseValues("E12; 4K99F", 2)
	require.NoError(t, err)
	sheets, err := sheet.Compose(parts, sheet.Order{Title: "Radio club", Kinds: sheet.Kinds, Level: 2, Count: 7, Variants: 1, Seed: 5, Language: "en"})
	require.NoError(t, err)
	doc, err := sheet.Answers(sheets[0])
	require.NoError(t, err)
	var b bytes.Buffer
	_, err = PDF(&b, doc, Look{Large: true}, paper.A4)
	require.NoError(t, err)
	var words []string
	for _, p := range pagesOf(t, b.Bytes()) {
		for _, w := range p.Words {
			words = append(words, w.Text)
		}
	}
	found := regexp.MustCompile(`(\d+) · How to get there:`).FindAllStringSubmatch(strings.Join(words, " "), -1)
	var numbers []string
	for _, f := range found {
		numbers = append(numbers, f[1])
	}
	assert.Equal(t, []string{"1", "2", "3", "4", "5", "6", "7"}, numbers)
}

// What the font cannot show is refused by name, never left out.
func TestUnprintableTitle(t *testing.T) {
	doc := documents(t, 1, 4, 1)[0]
	doc.Title = "抵抗器"
	_, err := PDF(io.Discard, doc, Look{}, paper.A4)
	assert.ErrorContains(t, err, "'抵'")
	doc.Title, doc.Notes = "Widerstände, Ωµ±→≈×÷", []string{"\x07"}
	_, err = PDF(io.Discard, doc, Look{}, paper.A4)
	assert.ErrorContains(t, err, "'\\a'")
}

// An endless word of a title is broken, not cut off.
func TestLongTitle(t *testing.T) {
	doc := documents(t, 1, 4, 1)[0]
	doc.Title = strings.Repeat("Widerstandsfarbcode", 12)
	var b bytes.Buffer
	_, err := PDF(&b, doc, Look{Large: true}, paper.A4)
	require.NoError(t, err)
	text := ""
	for _, w := range pagesOf(t, b.Bytes())[0].Words {
		assert.Less(t, w.XMax, 210/25.4*72-40)
		text += w.Text
	}
	assert.Contains(t, text, doc.Title)
}

// Thirty pages of questions and answers with pictures.
func BenchmarkThirtyPages(b *testing.B) {
	docs := documents(b, 3, 46, 2)
	pages := 0
	for b.Loop() {
		pages = 0
		for _, doc := range docs {
			n, err := PDF(io.Discard, doc, Look{}, paper.A4)
			require.NoError(b, err)
			pages += n
		}
	}
	b.ReportMetric(float64(pages), "pages")
	require.GreaterOrEqual(b, pages, 30)
}
