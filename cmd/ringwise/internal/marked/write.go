package marked

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"gocv.io/x/gocv"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/vision"
)

// Write draws the parts on a copy of the photo and writes it to path, making
// folders as needed.
func Write(path string, photo *vision.Photo, parts []photoread.Part) error {
	picture := Draw(photo, parts)
	defer picture.Close()

	kind := gocv.FileExt(strings.ToLower(filepath.Ext(path)))
	quality := []int{gocv.IMWriteJpegQuality, 90}
	switch kind {
	case ".png":
		quality = []int{gocv.IMWritePngCompression, 6}
	case ".webp":
		quality = []int{gocv.IMWriteWebpQuality, 90}
	}
	data, err := gocv.IMEncodeWithParams(kind, picture, quality)
	if err != nil {
		return fmt.Errorf("the marked copy could not be encoded as %s: %w", kind, err)
	}
	defer data.Close()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return fmt.Errorf("no folder for the marked copy: %w", err)
	}
	if err := os.WriteFile(path, data.GetBytes(), 0o666); err != nil {
		return fmt.Errorf("the marked copy could not be written: %w", err)
	}
	return nil
}
