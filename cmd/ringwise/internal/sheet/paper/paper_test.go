package paper

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tall is a block that notes where it was drawn.
func tall(height float64, drawn *[]float64) Block {
	return Block{10, height, func(_, y float64) { *drawn = append(*drawn, y) }}
}

func foot(page, pages int) string { return fmt.Sprintf("%d of %d", page, pages) }

// A4 has 297 − 2·16 − 9 = 256 mm between the margins and above the foot.
func TestGroupsStayTogether(t *testing.T) {
	p := NewPress(A4, false, "t", "en")
	assert.InDelta(t, 256, p.Height(), 1e-9)
	var drawn []float64
	groups := [][]Block{
		{tall(100, &drawn), tall(50, &drawn)},                    // page 1
		{tall(60, &drawn), tall(60, &drawn)},                     // 150 + 120 do not fit: page 2
		{tall(136, &drawn)},                                      // 120 + 136 just fit
		{tall(200, &drawn), tall(100, &drawn), tall(50, &drawn)}, // higher than a page: where there is room
	}
	pages, err := p.Flow(groups, 0, foot)
	require.NoError(t, err)
	assert.Equal(t, 4, pages)
	assert.Equal(t, []float64{16, 116, 16, 76, 136, 16, 16, 116}, drawn)
	var b bytes.Buffer
	require.NoError(t, p.Write(&b))
	assert.True(t, strings.HasPrefix(b.String(), "%PDF-"))
}

func TestTooHighForAPage(t *testing.T) {
	p := NewPress(Letter, false, "t", "en")
	_, err := p.Flow([][]Block{{Space(400)}}, 0, foot)
	assert.ErrorContains(t, err, "does not fit on a page")
}

// Lines are no wider than asked and lose nothing, and words are broken only
// where they are too long.
func TestLines(t *testing.T) {
	p := NewPress(A4, true, "t", "en")
	text := "Widerstände  5.6 kΩ ±5 % and\n" + strings.Repeat("x", 90) + " → end"
	for _, width := range []float64{1, 15, 40, 90} {
		lines := p.lines(text, Body, width)
		for _, l := range lines {
			assert.True(t, p.TextWidth(l, Body) <= width || len([]rune(l)) == 1, "%q", l)
		}
		assert.Equal(t, strings.Join(strings.Fields(text), ""), strings.ReplaceAll(strings.Join(lines, ""), " ", ""))
	}
	assert.Equal(t, []string{"5.6\u00a0kΩ", "±5\u00a0%"}, p.lines("5.6\u00a0kΩ ±5\u00a0%", Body, p.TextWidth("5.6\u00a0kΩ ±", Body)))
	assert.Equal(t, []string{""}, p.lines("", Body, 10))
}

func TestBlocks(t *testing.T) {
	var drawn []float64
	whole := Stack(2, tall(3, &drawn), Row(1, tall(4, &drawn), tall(9, &drawn)), Space(1))
	assert.Equal(t, 21.0, whole.Width)
	assert.Equal(t, 3+2+9+2+1.0, whole.Height)
	whole.Draw(0, 100)
	assert.Equal(t, []float64{100, 105, 105}, drawn)
	rows := Rows(1, 21, tall(1, &drawn), tall(1, &drawn), tall(1, &drawn))
	require.Len(t, rows, 2)
	assert.Equal(t, 21.0, rows[0].Width)
	assert.Equal(t, 15.0, Indent(5, rows[1]).Width)
}

func TestPrintable(t *testing.T) {
	for _, text := range []string{"", "Ω ± µ → ≈ × ÷ · – “” é ä ß ş Ж", "two\nlines\tand a tab"} {
		assert.NoError(t, Printable(text))
	}
	for text, sign := range map[string]string{"a✓": "'✓'", "字": "'字'", "\x00": `'\x00'`, "😀": "'😀'"} {
		assert.ErrorContains(t, Printable(text), sign)
	}
}

func TestParseSizes(t *testing.T) {
	sizes, err := ParseSizes("Both")
	require.NoError(t, err)
	assert.Equal(t, []Size{A4, Letter}, sizes)
	_, err = ParseSizes("a3")
	assert.ErrorContains(t, err, "use a4, letter or both")
}
