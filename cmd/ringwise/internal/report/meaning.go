package report

import "ringwise/decode"

// Meaning writes what a reading says of its part, such as
// "5.6 kΩ ±5 %, 100 ppm/K".
func Meaning(r decode.Reading) string { return r.Meaning() }
