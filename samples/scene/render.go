package main

import (
	"bufio"
	"context"
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
)

// picture is a photo in linear light, three planes from the top left, where
// 1 is white.
type picture struct {
	width, height int
	planes        [3][]float32
}

func newPicture(width, height int) *picture {
	p := &picture{width: width, height: height}
	for i := range p.planes {
		p.planes[i] = make([]float32, width*height)
	}
	return p
}

// render runs POV-Ray on the scene in a directory of its own. A mask has no
// smoothed edges.
func (s *scene) render(ctx context.Context, mask bool) (*picture, error) {
	dir, err := os.MkdirTemp("", "scene")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	text, files := s.pov(mask)
	files["scene.pov"] = []byte(text)
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			return nil, err
		}
	}
	args := []string{"+Iscene.pov", "+Oscene.ppm", "+FP16", "File_Gamma=1.0", "-D", "-GA", "+WT1",
		fmt.Sprintf("+W%d", s.cam.width), fmt.Sprintf("+H%d", s.cam.height)}
	if !mask {
		args = append(args, "+A0.25", "+AM2", "+R2", "+J0.3")
	}
	command := exec.CommandContext(ctx, "povray", args...)
	command.Dir = dir
	if out, err := command.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("povray failed on the scene of seed %d (%w); is POV-Ray 3.7 installed? It said: %s", s.seed, err, tail(out))
	}
	f, err := os.Open(filepath.Join(dir, "scene.ppm"))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	p, err := readPPM(f)
	if err != nil {
		return nil, fmt.Errorf("picture that povray wrote for seed %d: %w", s.seed, err)
	}
	return p, nil
}

func tail(text []byte) []byte { return text[max(0, len(text)-1200):] }

// readPPM reads a 16-bit binary PPM in linear light and undoes the headroom.
func readPPM(r io.Reader) (*picture, error) {
	in := bufio.NewReaderSize(r, 1<<20)
	var width, height, most int
	if err := ppmHeader(in, &width, &height, &most); err != nil {
		return nil, err
	}
	if most != 65535 {
		return nil, fmt.Errorf("a PPM with values to %d, want 65535", most)
	}
	p := newPicture(width, height)
	row := make([]byte, width*6)
	for y := range height {
		if _, err := io.ReadFull(in, row); err != nil {
			return nil, err
		}
		for x := range width {
			for c := range 3 {
				p.planes[c][y*width+x] = float32(binary.BigEndian.Uint16(row[6*x+2*c:])) / 65535 * headroom
			}
		}
	}
	return p, nil
}

// ppmHeader reads "P6" and the numbers after it, over comment lines, up to
// the one blank before the pixels.
func ppmHeader(in *bufio.Reader, numbers ...*int) error {
	word, err := ppmWord(in)
	if err != nil || word != "P6" {
		return fmt.Errorf("starts with %q, want the P6 of a PPM", word)
	}
	for _, n := range numbers {
		if word, err = ppmWord(in); err != nil {
			return err
		}
		if *n, err = strconv.Atoi(word); err != nil {
			return fmt.Errorf("PPM header: %w", err)
		}
	}
	return nil
}

func ppmWord(in *bufio.Reader) (string, error) {
	var word []byte
	for {
		c, err := in.ReadByte()
		if err != nil {
			return "", err
		}
		switch {
		case c == '#' && len(word) == 0:
			if _, err := in.ReadString('\n'); err != nil {
				return "", err
			}
		case c > ' ':
			word = append(word, c)
		case len(word) > 0:
			return string(word), nil
		}
	}
}
