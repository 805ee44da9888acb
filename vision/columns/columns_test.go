package columns

import (
	"bytes"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func noisy(seed uint64) *Strip {
	chance := rand.New(rand.NewPCG(3, seed))
	s := &Strip{Detail: 1}
	for r := range s.Pixels {
		for c := range s.Pixels[r] {
			for k := range 3 {
				s.Pixels[r][c][k] = 255 * chance.Float32()
			}
		}
	}
	return s
}

func TestProbabilitiesSumToOne(t *testing.T) {
	for _, seen := range []*LogLikelihoods{NewSeer(noisy(3)).Glance(), NewSeer(noisy(3)).Read()} {
		for c, logs := range seen {
			sum := 0.0
			for _, l := range logs {
				sum += math.Exp(float64(l))
			}
			require.InDelta(t, 1, sum, 1e-4, "column %d", c)
		}
	}
}

// TestSeesManyAtOnce checks that strips seen at the same time do not mix.
func TestSeesManyAtOnce(t *testing.T) {
	var alone [8]*LogLikelihoods
	for i := range alone {
		alone[i] = NewSeer(noisy(uint64(i))).Read()
	}
	var group sync.WaitGroup
	for i := range alone {
		group.Go(func() {
			for range 3 {
				assert.Equal(t, alone[i], NewSeer(noisy(uint64(i))).Read(), "strip %d", i)
			}
		})
	}
	group.Wait()
}

func TestWeightsRoundTrip(t *testing.T) {
	for _, shape := range []Shape{Glancing, Reading, Edging, Covering} {
		n := New(shape, rand.New(rand.NewPCG(4, 4)))
		var file bytes.Buffer
		require.NoError(t, n.Write(&file))
		again, err := Read(shape, bytes.NewReader(file.Bytes()))
		require.NoError(t, err)
		assert.Equal(t, n.Weights(), again.Weights())
		_, err = Read(shape, bytes.NewReader(file.Bytes()[:1000]))
		assert.ErrorContains(t, err, "end too early")
		_, err = Read(shape, bytes.NewReader([]byte("something else, and quite long")))
		assert.ErrorContains(t, err, "not the weights")
	}
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
		lab := scaledLab(toLinear(c.rgb))
		assert.InDelta(t, c.l, 50*(lab[0]+1), 0.05)
		assert.InDelta(t, c.a, 40*lab[1], 0.05)
		assert.InDelta(t, c.b, 40*lab[2], 0.05)
	}
}

func BenchmarkSee(b *testing.B) {
	s := noisy(5)
	b.Run("glance", func(b *testing.B) {
		for b.Loop() {
			NewSeer(s).Glance()
		}
	})
	b.Run("edges", func(b *testing.B) {
		for b.Loop() {
			NewSeer(s).Edges()
		}
	})
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			NewSeer(s).Read()
		}
	})
}
