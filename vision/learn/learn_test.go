package columns

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// noisy is a strip of random colours with a random truth.
func noisy(chance *rand.Rand) (*Strip, *Target) {
	s, t := &Strip{Detail: 1}, new(Target)
	for r := range s.Pixels {
		for c := range s.Pixels[r] {
			for k := range 3 {
				s.Pixels[r][c][k] = 255 * chance.Float32()
			}
		}
	}
	for c := range t {
		t[c][chance.IntN(Classes)] = 1
	}
	return s, t
}

// TestSlopes checks the slopes of the loss against differences: the definition
// of a derivative.
func TestSlopes(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 1))
	n, slope := New(chance), New(nil)
	s1, t1 := noisy(chance)
	s2, t2 := noisy(chance)
	strips, targets := []*Strip{s1, s2}, []*Target{t1, t2}
	n.Learn(strips, targets, slope)
	for i, weights := range n.Weights() {
		// Of each layer the weight with the steepest slope, where rounding
		// matters least.
		steep := 0
		for j, g := range slope.Weights()[i] {
			if math.Abs(float64(g)) > math.Abs(float64(slope.Weights()[i][steep])) {
				steep = j
			}
		}
		const step = 2e-3
		was := weights[steep]
		weights[steep] = was + step
		up := n.Learn(strips, targets, New(nil))
		weights[steep] = was - step
		down := n.Learn(strips, targets, New(nil))
		weights[steep] = was
		want := float64(slope.Weights()[i][steep])
		assert.InDelta(t, want, (up-down)/(2*step), 0.05*math.Abs(want)+1e-4, "layer %d", i/2)
	}
}

// TestLearns checks that steps down the slopes lower the loss.
func TestLearns(t *testing.T) {
	chance := rand.New(rand.NewPCG(2, 2))
	n := New(chance)
	s, target := noisy(chance)
	first := n.Learn([]*Strip{s}, []*Target{target}, New(nil))
	for range 30 {
		slope := New(nil)
		n.Learn([]*Strip{s}, []*Target{target}, slope)
		for i, weights := range n.Weights() {
			for j := range weights {
				weights[j] -= 0.02 * slope.Weights()[i][j]
			}
		}
	}
	assert.Less(t, n.Learn([]*Strip{s}, []*Target{target}, New(nil)), first-0.1)
}

// TestSeesAsItLearns checks the quick way through the network against the one
// that learning takes.
func TestSeesAsItLearns(t *testing.T) {
	n := Taught()
	s, _ := noisy(rand.New(rand.NewPCG(6, 6)))
	r := n.forward(s.features())
	for c, logs := range n.See(s) {
		want := logSoftmax(r.scores.Data[c*Classes:][:Classes])
		for k := range want {
			require.InDelta(t, want[k], logs[k], 1e-3)
		}
	}
}

func TestProbabilitiesSumToOne(t *testing.T) {
	s, _ := noisy(rand.New(rand.NewPCG(3, 3)))
	for c, logs := range Taught().See(s) {
		sum := 0.0
		for _, l := range logs {
			sum += math.Exp(float64(l))
		}
		require.InDelta(t, 1, sum, 1e-4, "column %d", c)
	}
}

func TestWeightsRoundTrip(t *testing.T) {
	n := New(rand.New(rand.NewPCG(4, 4)))
	var file bytes.Buffer
	require.NoError(t, n.Write(&file))
	again, err := Read(bytes.NewReader(file.Bytes()))
	require.NoError(t, err)
	assert.Equal(t, n.Weights(), again.Weights())
	_, err = Read(bytes.NewReader(file.Bytes()[:1000]))
	assert.ErrorContains(t, err, "end too early")
	_, err = Read(bytes.NewReader([]byte("something else, and quite long")))
	assert.ErrorContains(t, err, "not the weights")
}

// TestLab checks the features' Lab against published values: the sRGB
// primaries and white under D65, as tabled with the sRGB standard's matrices
// (IEC 61966-2-1; L*, a*, b* from memory of the published tables).
func TestLab(t *testing.T) {
	for _, c := range []struct {
		rgb     [3]float32
		l, a, b float64
	}{
		{[3]float32{255, 255, 255}, 100, 0, 0},
		{[3]float32{0, 0, 0}, 0, 0, 0},
		{[3]float32{255, 0, 0}, 53.24, 80.09, 67.20},
		{[3]float32{0, 255, 0}, 87.73, -86.18, 83.18},
		{[3]float32{0, 0, 255}, 32.30, 79.19, -107.86},
	} {
		lab := meanLab([][3]float32{toLinear(c.rgb)})
		assert.InDelta(t, c.l, 50*(lab[0]+1), 0.05)
		assert.InDelta(t, c.a, 40*lab[1], 0.05)
		assert.InDelta(t, c.b, 40*lab[2], 0.05)
	}
}

func BenchmarkSee(b *testing.B) {
	s, _ := noisy(rand.New(rand.NewPCG(5, 5)))
	n := Taught()
	for b.Loop() {
		n.See(s)
	}
}
