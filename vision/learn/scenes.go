package main

import (
	"fmt"
	"math/rand/v2"

	"ringwise/vision/bodies"
)

// ofScenes is the lesson of the network that tells where bodies lie.
func ofScenes(taught, held []outlook) lesson[*bodies.Net] {
	var kept []*scene
	chance := rand.New(rand.NewPCG(5, 5))
	for i := range held {
		for range 4 {
			kept = append(kept, held[i].vary(chance))
		}
	}
	return lesson[*bodies.Net]{
		fresh: bodies.New,
		read:  bodies.Read,
		learn: func(m *scratch, n *bodies.Net, chance *rand.Rand, slope *bodies.Net) float64 {
			return spotFrom(m, n, taught[chance.IntN(len(taught))].vary(chance), slope)
		},
		measure: func(n *bodies.Net) string {
			loss := 0.0
			var m scratch
			for _, s := range kept {
				m.giveBack()
				l, _ := overlook(&m, n, s).loss(&m, s)
				loss += l / float64(len(kept))
			}
			return fmt.Sprintf("loss %.4f", loss)
		},
	}
}

// spotFrom adds to slope the slopes of the loss over a scene and returns the loss.
func spotFrom(m *scratch, n *bodies.Net, s *scene, slope *bodies.Net) float64 {
	m.giveBack()
	r := overlook(m, n, s)
	loss, d := r.loss(m, s)
	r.back(m, n, d, slope)
	return loss
}
