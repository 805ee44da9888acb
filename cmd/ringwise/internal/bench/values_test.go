package bench

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode/network"
)

// everyForm are the forms of 5.6 kΩ ±5 % in which the decode package reads a
// value (IEC 60062, IEC 60757).
var everyForm = []string{"5K6J", "5.6 kΩ ±5 %", "5600 ± 5", "5,6 kOhm ±J", "GN BU RD GD", "green-blue-red-gold"}

// Every field for a value on the page takes every form, and the answer is the
// same.
func TestFieldsTakeValuesInEveryForm(t *testing.T) {
	s := newServer(t, Options{})
	s.confirmAll(t)
	for name, ask := range map[string]func(form string) (string, any){
		"stand-in": func(form string) (string, any) {
			return "/use/stand-in", standInForm{Of: subject{Entry: 1}, Value: form}
		},
		"join": func(form string) (string, any) {
			return "/find/combine", combineForm{Choice: choiceForm{From: "E6", Least: "1k", Most: "100k"}, Target: form, Parts: 2}
		},
		"least": func(form string) (string, any) {
			return "/find/combine", combineForm{Choice: choiceForm{From: "E6", Least: form, Most: "100k"}, Target: "7k", Parts: 1}
		},
		"load": func(form string) (string, any) {
			return "/find/divider", dividerForm{Choice: choiceForm{From: "E6", Least: "1k", Most: "100k"}, In: "5 V", Out: "2 V", Load: form}
		},
		"source": func(form string) (string, any) {
			return "/find/divider", dividerForm{Choice: choiceForm{From: "E6", Least: "1k", Most: "100k"}, In: "5 V", Out: "2 V", Source: form}
		},
		"list": func(form string) (string, any) {
			return "/find/project", projectForm{List: "value;quantity\n" + form + ";2\n"}
		},
	} {
		var first told
		for i, form := range everyForm {
			path, body := ask(form)
			got, raw := s.asks(t, path, body)
			require.Equal(t, 200, raw.Code, "%s of %s: %s", name, form, raw.Body)
			got.Files = nil // of a random name each time
			if i == 0 {
				first = got
			}
			assert.Equal(t, first, got, "%s of %s", name, form)
		}
	}
	for _, form := range everyForm {
		reading, err := byHand{Value: form}.reading()
		require.NoError(t, err, form)
		assert.Equal(t, "5.6 kΩ ±5 %", stock.Meaning(reading), form)
	}
	reading, err := byHand{Value: "5K6", Tolerance: "±1 %"}.reading()
	require.NoError(t, err)
	assert.Equal(t, "5.6 kΩ ±1 %", stock.Meaning(reading))
}

// Every value in an answer of the page is told in all its forms.
func TestValuesOfThePage(t *testing.T) {
	s := newServer(t, Options{})
	s.confirmAll(t)
	got, _ := s.asks(t, "/use/stand-in", standInForm{Of: subject{Entry: 1}, Value: "5K1"})
	text := got.Says + "\n" + got.rows()
	body, err := json.Marshal(map[string]string{"text": text})
	require.NoError(t, err)
	raw := s.answers(own("POST", "/values", string(body)))
	require.Equal(t, 200, raw.Code)
	var told struct{ Values []network.Forms }
	require.NoError(t, json.Unmarshal(raw.Body.Bytes(), &told))
	assert.Contains(t, told.Values, network.Forms{Text: "5.6 kΩ ±5 %", RKM: "5K6J", Rings: []string{"green", "blue", "red", "gold"}, Letters: "GN BU RD GD", Spoken: "five point six kilo-ohm, plus or minus five percent"})
	assert.Greater(t, len(told.Values), 3)
	rest := text
	for _, v := range told.Values {
		rest = strings.ReplaceAll(rest, v.Text, "")
	}
	assert.NotContains(t, rest, "Ω", "none is left out")
	assert.JSONEq(t, `{"values":[]}`, s.answers(own("POST", "/values", `{"text":"nothing"}`)).Body.String())
	assert.Equal(t, 400, s.answers(own("POST", "/values", `{"text":"`+strings.Repeat("1 Ω ", mostText)+`"}`)).Code)
}
