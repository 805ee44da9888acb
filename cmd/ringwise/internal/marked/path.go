// Package marked draws on a photo what was read of it.
package marked

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// kinds are the file name endings in which a marked photo can be written.
var kinds = []string{".jpg", ".jpeg", ".png", ".webp"}

// otherFile matches names that end as those of files do: with a point and at
// most five letters and figures, of which the first is a letter.
var otherFile = regexp.MustCompile(`[^.]\.[A-Za-z][A-Za-z0-9]{0,4}$`)

// Paths returns the file for each photo's marked copy. out is a picture file
// for one photo, otherwise a folder, which need not exist yet; one that does
// not and has the name of some other file is refused, unless it ends as a
// folder's. Photos of the same name get numbers. It refuses to write over a
// photo that is to be read, and to write to standard output or without a name.
func Paths(out string, photos []string) ([]string, error) {
	switch out {
	case "":
		return nil, errors.New("the marked copies have no name: use a .jpg, .png or .webp file, or a folder")
	case "-":
		return nil, fmt.Errorf("marked copies do not go to standard output: use a .jpg, .png or .webp file, or a folder, which may be .%c-", filepath.Separator)
	}
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
	case !exists && otherFile.MatchString(filepath.Base(out)) && !strings.HasSuffix(out, string(filepath.Separator)):
		return nil, fmt.Errorf("%s is no .jpg, .png or .webp file: use one of these, or end the name with %c if it is to be a folder", out, filepath.Separator)
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
