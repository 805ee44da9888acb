package decode

import (
	_ "embed"
	"encoding/json"
	"math"
)

//go:embed calibration.json
var calibrationData []byte

// A Calibration turns the share of the weight that the best candidate has into
// the probability that it is right, by a straight line in log odds. It is
// fitted to readings whose truth is known, by the method of Platt
// ("Probabilistic outputs for support vector machines", 1999).
type Calibration struct {
	Slope  float64 `json:"slope"`  // above 0
	Offset float64 `json:"offset"` // in natural log odds
	Made   string  `json:"made"`   // from what and how
}

// CurrentCalibration is the calibration that Rank uses.
func CurrentCalibration() Calibration { return calibration }

var calibration = func() (c Calibration) {
	if err := json.Unmarshal(calibrationData, &c); err != nil || c.Slope <= 0 {
		panic("calibration.json is no calibration") // the file is part of the program
	}
	return c
}()

// Confidence is the probability of being right for a share of the weight, both
// 0 to 1.
func (c Calibration) Confidence(share float64) float64 {
	if share <= 0 || share >= 1 {
		return share
	}
	return 1 / (1 + math.Exp(-c.Slope*logOdds(share)-c.Offset))
}

// Share is the other way round: the share of the weight that gave a confidence.
func (c Calibration) Share(confidence float64) float64 {
	if confidence <= 0 || confidence >= 1 {
		return confidence
	}
	return 1 / (1 + math.Exp(-(logOdds(confidence)-c.Offset)/c.Slope))
}

func logOdds(p float64) float64 { return math.Log(p) - math.Log1p(-p) }

// calibrate turns the shares of candidates, best first, into confidences. What
// the best gains the others lose, in proportion; what it loses is left for
// codes not listed. The order stays.
func calibrate(candidates []Candidate) {
	if len(candidates) == 0 {
		return
	}
	share := candidates[0].Confidence
	confidence := calibration.Confidence(share)
	for i := range candidates[1:] {
		if confidence > share {
			candidates[i+1].Confidence *= (1 - confidence) / (1 - share)
		}
		confidence = max(confidence, candidates[i+1].Confidence)
	}
	candidates[0].Confidence = confidence
}
