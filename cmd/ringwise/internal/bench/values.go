package bench

import (
	"net/http"

	"ringwise/decode/network"
)

// mostText is the largest text that is looked through for values, in bytes.
const mostText = 128 << 10

// showValues tells all forms of the values that a text of the page names.
func (s *Server) showValues(w http.ResponseWriter, r *http.Request) {
	asked, ok := takeAtMost[struct {
		Text string `json:"text"`
	}](w, r, mostText)
	if !ok {
		return
	}
	values := []network.Forms{}
	for _, v := range network.ValuesIn(asked.Text) {
		values = append(values, v.Forms())
	}
	answer(w, struct {
		Values []network.Forms `json:"values"`
	}{values})
}
