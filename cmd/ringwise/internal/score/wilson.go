package score

import "math"

// z95 is the 97.5 % point of the standard normal distribution, for two-sided
// 95 % intervals.
const z95 = 1.959963984540054

// A Share is a count out of a total.
type Share struct {
	Count int `json:"count"`
	Total int `json:"total"`
}

// add counts one more in the total, and in the count if yes.
func (s *Share) add(yes bool) {
	s.Total++
	if yes {
		s.Count++
	}
}

// Wilson returns the 95 % score interval of the share, each bound 0 to 1
// (E. B. Wilson, Journal of the American Statistical Association 22, 1927).
// An empty share can be anything: 0 to 1.
func (s Share) Wilson() (low, high float64) {
	if s.Total == 0 {
		return 0, 1
	}
	n := float64(s.Total)
	p := float64(s.Count) / n
	centre := p + z95*z95/(2*n)
	half := z95 * math.Sqrt(p*(1-p)/n+z95*z95/(4*n*n))
	scale := 1 + z95*z95/n
	return max(0, (centre-half)/scale), min(1, (centre+half)/scale)
}
