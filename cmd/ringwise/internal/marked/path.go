// Package marked draws on a photo what was read of it.
package marked

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// kinds are the file name endings in which a marked photo can be written.
var kinds = []string{".jpg", ".jpeg", ".png", ".webp"}

// Paths returns the file for each photo's marked copy. out is a picture file
// for one photo, otherwise a folder, which need not exist yet. Photos of the
// same name get numbers. It refuses to write over a photo that is to be read.
func Paths(out string, photos []string) ([]string, error) {
	info, err := os.Stat(out)
	exists := err == nil
	folder := exists && info.IsDir()
	picture := slices.Contains(kinds, strings.ToLower(filepath.Ext(out)))
	switch {
	case folder:
	case len(photos) > 1 && (exists || picture):
		return nil, fmt.Errorf("%s is no folder, and several photos need one", out)
	case exists && !picture:
		return nil, fmt.Errorf("%s is neither a folder nor a .jpg, .png or .webp file", out)
	case picture:
		return []string{out}, apart([]string{out}, photos)
	}

	paths := make([]string, len(photos))
	for i, photo := range photos {
		name := "standard-input"
		if photo != "-" {
			name = filepath.Base(photo)
			name = strings.TrimSuffix(name, filepath.Ext(name))
		}
		path := filepath.Join(out, name+".jpg")
		for n := 2; slices.Contains(paths[:i], path); n++ {
			path = filepath.Join(out, fmt.Sprintf("%s-%d.jpg", name, n))
		}
		paths[i] = path
	}
	return paths, apart(paths, photos)
}

// apart returns an error if one of the paths is one of the photos.
func apart(paths, photos []string) error {
	var inputs []os.FileInfo
	for _, photo := range photos {
		if info, err := os.Stat(photo); err == nil {
			inputs = append(inputs, info)
		}
	}
	for _, path := range paths {
		info, err := os.Stat(path)
		if err == nil && slices.ContainsFunc(inputs, func(in os.FileInfo) bool { return os.SameFile(in, info) }) {
			return fmt.Errorf("%s is one of the photos, and the marked copy would replace it: name another place", path)
		}
	}
	return nil
}
