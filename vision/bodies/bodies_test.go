package bodies

import (
	"bytes"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gocv.io/x/gocv"

	"ringwise/vision/columns"
)

func TestWeightsRoundTrip(t *testing.T) {
	n := New(rand.New(rand.NewPCG(4, 4)))
	var file bytes.Buffer
	require.NoError(t, n.Write(&file))
	again, err := Read(bytes.NewReader(file.Bytes()))
	require.NoError(t, err)
	assert.Equal(t, n.Weights(), again.Weights())
	_, err = Read(bytes.NewReader(file.Bytes()[:1000]))
	assert.ErrorContains(t, err, "end too early")
	_, err = Read(bytes.NewReader([]byte("ringwise columns 1\n and more")))
	assert.ErrorContains(t, err, "not the weights")
}

// noisy is a view of random colours.
func noisy(width, height int, seed uint64) []uint8 {
	chance := rand.New(rand.NewPCG(3, seed))
	lab := make([]uint8, 3*width*height)
	for i := range lab {
		lab[i] = uint8(chance.IntN(256))
	}
	return lab
}

// TestAnySize checks that views of any size are taken, and that what is hinted at in
// those of noise, where much is, lies in them or a body's half length beyond.
func TestAnySize(t *testing.T) {
	for _, c := range []struct {
		width, height int
		hints         bool
	}{{1, 1, false}, {1, 300, false}, {31, 33, false}, {512, 8, false}, {300, 200, true}, {200, 300, true}, {Side, Side, true}} {
		hints := Hints(noisy(c.width, c.height, 1), c.width, c.height)
		assert.Equal(t, c.hints, len(hints) > 0, "%v", c)
		for _, h := range hints {
			require.False(t, math.IsNaN(h.Angle+h.Half+h.Rise), "%v", c)
			require.InDelta(t, float64(c.width)/2, h.X, float64(c.width)/2+h.Half, "%v", c)
			require.InDelta(t, float64(c.height)/2, h.Y, float64(c.height)/2+h.Half, "%v", c)
		}
	}
}

// TestManyAtOnce checks that views seen at the same time do not mix.
func TestManyAtOnce(t *testing.T) {
	const views = 4
	alone := make([][]Hint, views)
	for i := range alone {
		alone[i] = Hints(noisy(200+i, 160, uint64(i)), 200+i, 160)
	}
	var group sync.WaitGroup
	for i := range alone {
		group.Go(func() { assert.Equal(t, alone[i], Hints(noisy(200+i, 160, uint64(i)), 200+i, 160)) })
	}
	group.Wait()
}

// TestPeaks checks that the likeliest of neighbouring cells is the hint, and that
// what is said of it is understood.
func TestPeaks(t *testing.T) {
	const rows, columns, cells = 4, 5, 20
	said := make([]float32, Outputs*cells)
	for i := range cells {
		said[i] = -9
	}
	said[7], said[8], said[13], said[15] = 2, 1, 2, 0 // of the first three, which touch, two are as likely
	at := func(k int) *float32 { return &said[k*cells+7] }
	*at(Right), *at(Down) = 0.25, -0.5
	*at(Cosine), *at(Sine) = -2, 0
	*at(Half), *at(Rise) = float32(math.Log(5)), float32(math.Log(2))
	hints := peaks(said, Middle, rows, columns)
	require.Len(t, hints, 2)
	h := hints[0]
	assert.InDelta(t, 2.75*Cell, h.X, 1e-5)
	assert.InDelta(t, 1*Cell, h.Y, 1e-5)
	assert.InDelta(t, math.Pi/2, h.Angle, 1e-6)
	assert.InDelta(t, 5*Cell, h.Half, 1e-4)
	assert.InDelta(t, 2*Cell, h.Rise, 1e-4)
	assert.InDelta(t, 0.8808, h.Chance, 1e-4, "the logistic function of 2")
	assert.InDelta(t, 0.5, hints[1].Chance, 1e-9)

	for i := range cells {
		said[Bare*cells+i] = -9
	}
	said[Bare*cells+2] = 1
	bare := peaks(said, Bare, rows, columns)
	require.Len(t, bare, 1)
	assert.True(t, bare[0].Bare)
	assert.InDelta(t, 2.5*Cell, bare[0].X, 1e-5)
}

// TestScaledAsTaught checks that the bytes that OpenCV makes of colours come to the
// network as the colours that it is taught with.
func TestScaledAsTaught(t *testing.T) {
	chance := rand.New(rand.NewPCG(5, 5))
	rgb := gocv.NewMatWithSize(1, 200, gocv.MatTypeCV8UC3)
	defer rgb.Close()
	bytes, err := rgb.DataPtrUint8()
	require.NoError(t, err)
	for i := range bytes {
		bytes[i] = uint8(chance.IntN(256))
	}
	lab := gocv.NewMat()
	defer lab.Close()
	gocv.CvtColor(rgb, &lab, gocv.ColorRGBToLab)
	seen := lab.ToBytes()
	for i := range 200 {
		want := columns.ScaledLab([3]float32{float32(bytes[3*i]), float32(bytes[3*i+1]), float32(bytes[3*i+2])})
		for k := range want {
			assert.InDelta(t, want[k], scaled[k][seen[3*i+k]], 0.05) // two steps of a byte, of 0.025 each
		}
	}
}

func BenchmarkHints(b *testing.B) {
	lab := noisy(Side, Side*3/4, 5)
	for b.Loop() {
		Hints(lab, Side, Side*3/4)
	}
}
