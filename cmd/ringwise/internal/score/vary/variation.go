package main

import (
	"errors"
	"image"
	"image/color"
	"math"
	"math/rand/v2"

	"gocv.io/x/gocv"
)

// A variation is what is done to a photo.
type variation struct {
	turn       float64 // in radians
	scale      float64
	blur       float64 // spread of the Gaussian in pixels of the copy, 0 for none
	gain       [3]float64
	gamma      float64
	vivid      float64 // times the distance of each colour from grey
	noise      float64 // spread, in sRGB values
	quality    int     // of the JPEG, to 100
	noiseDrawn *rand.Rand
}

// leastBody is the length in pixels to which bodies may be shrunk; smaller ones are not.
const leastBody = 45

// newVariation draws one for a photo whose smallest body is so many pixels long.
func newVariation(chance *rand.Rand, smallest float64) variation {
	v := variation{
		scale: math.Exp(math.Log(0.62) + chance.Float64()*math.Log(1.25/0.62)), gamma: math.Exp(0.08 * chance.NormFloat64()),
		vivid: math.Exp(0.12 * chance.NormFloat64()), quality: 45 + chance.IntN(48), noiseDrawn: chance,
	}
	v.scale = max(v.scale, min(1, leastBody/smallest))
	switch chance.IntN(4) {
	case 0:
		v.turn = (2*chance.Float64() - 1) * 25 * math.Pi / 180
	case 1:
		v.turn = math.Pi/2 + (2*chance.Float64()-1)*15*math.Pi/180
	}
	if chance.Float64() < 0.35 {
		v.blur = 0.3 + 0.5*chance.Float64()
	}
	light := math.Exp2(0.25 * chance.NormFloat64())
	warm, green := 0.08*chance.NormFloat64(), 0.03*chance.NormFloat64()
	v.gain = [3]float64{light * math.Exp(-warm), light * math.Exp(green), light * math.Exp(warm)} // blue first
	v.noise = []float64{0, 1.3, 3}[chance.IntN(3)]
	return v
}

// of makes the copy of a photo, as JPEG, and tells where its places come to lie.
func (v variation) of(data []byte) ([]byte, way, error) {
	photo, err := gocv.IMDecode(data, gocv.IMReadColor)
	if err != nil {
		return nil, way{}, err
	}
	defer photo.Close()
	if photo.Empty() {
		return nil, way{}, errors.New("OpenCV cannot open it: is it a photo?")
	}
	w := v.lay(&photo)
	if v.blur > 0 {
		gocv.GaussianBlur(photo, &photo, image.Point{}, v.blur, v.blur, gocv.BorderReplicate)
	}
	pixels, err := photo.DataPtrUint8()
	if err != nil {
		return nil, way{}, err
	}
	v.light(pixels)
	jpeg, err := gocv.IMEncodeWithParams(gocv.JPEGFileExt, photo, []int{gocv.IMWriteJpegQuality, v.quality})
	if err != nil {
		return nil, way{}, err
	}
	defer jpeg.Close()
	return append([]byte(nil), jpeg.GetBytes()...), w, nil
}

// lay turns the photo and scales it. What comes to lie in no photo has the mean colour
// of its corners.
func (v variation) lay(photo *gocv.Mat) way {
	width, height := float64(photo.Cols()), float64(photo.Rows())
	sin, cos := math.Sincos(v.turn)
	wide, high := math.Ceil(math.Abs(width*cos)+math.Abs(height*sin)), math.Ceil(math.Abs(width*sin)+math.Abs(height*cos))
	if v.turn != 0 {
		turn := gocv.GetRotationMatrix2D(image.Pt(0, 0), -v.turn*180/math.Pi, 1)
		defer turn.Close()
		turn.SetDoubleAt(0, 2, wide/2-(width/2*cos-height/2*sin))
		turn.SetDoubleAt(1, 2, high/2-(width/2*sin+height/2*cos))
		gocv.WarpAffineWithParams(*photo, photo, turn, image.Pt(int(wide), int(high)), gocv.InterpolationCubic, gocv.BorderConstant, corners(*photo))
	}
	by := gocv.InterpolationCubic
	if v.scale < 1 {
		by = gocv.InterpolationArea
	}
	size := image.Pt(int(math.Round(wide*v.scale)), int(math.Round(high*v.scale)))
	gocv.Resize(*photo, photo, size, 0, 0, by)
	return way{from: [2]float64{width / 2, height / 2}, about: [2]float64{float64(size.X) / 2, float64(size.Y) / 2}, turn: v.turn, scale: v.scale}
}

// corners is the mean colour of the photo's corners.
func corners(photo gocv.Mat) color.RGBA {
	var sum [3]int
	for _, p := range [4][2]int{{0, 0}, {0, photo.Cols() - 1}, {photo.Rows() - 1, 0}, {photo.Rows() - 1, photo.Cols() - 1}} {
		for k, v := range photo.GetVecbAt(p[0], p[1]) {
			sum[k] += int(v)
		}
	}
	return color.RGBA{B: uint8(sum[0] / 4), G: uint8(sum[1] / 4), R: uint8(sum[2] / 4)}
}

// light shows the pixels, blue first, under another light.
func (v variation) light(pixels []uint8) {
	var curves [3][256]float64
	for k := range curves {
		for i := range curves[k] {
			curves[k][i] = 255 * math.Pow(min(1, math.Pow(float64(i)/255, 2.2)*v.gain[k]), v.gamma/2.2)
		}
	}
	for at := 0; at+2 < len(pixels); at += 3 {
		p := pixels[at : at+3]
		b, g, r := curves[0][p[0]], curves[1][p[1]], curves[2][p[2]]
		grey := 0.114*b + 0.587*g + 0.299*r // luma (ITU-R BT.601)
		noise := v.noise * v.noiseDrawn.NormFloat64()
		for k, c := range [3]float64{b, g, r} {
			p[k] = uint8(max(0, min(255, grey+v.vivid*(c-grey)+noise)) + 0.5)
		}
	}
}
