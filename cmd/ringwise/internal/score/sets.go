package score

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// LoadSets reads truth files, each given as its path or as NAME=PATH. A set
// without a name is called by its file or, if that is truth.json, by the
// folder it lies in. It returns an error if two names are the same.
func LoadSets(words []string) ([]Truth, error) {
	var sets []Truth
	taken := map[string]string{}
	for _, word := range words {
		name, path := splitName(word)
		truth, err := LoadTruth(path)
		if err != nil {
			return nil, err
		}
		if name == "" {
			name = nameOf(path)
		}
		if other, twice := taken[name]; twice {
			return nil, fmt.Errorf("%s and %s would both be called %q: give one another name, as NAME=%s", other, path, name, path)
		}
		taken[name] = path
		truth.SetName(name)
		sets = append(sets, truth)
	}
	return sets, nil
}

// SetName names the set.
func (t *Truth) SetName(name string) {
	t.Name = name
	for i := range t.Photos {
		t.Photos[i].set = name
	}
}

// splitName parts NAME=PATH. What is the path of a file as it stands has no
// name, and neither has a path with "=" in a folder's name.
func splitName(word string) (name, path string) {
	name, path, named := strings.Cut(word, "=")
	_, err := os.Stat(word)
	if !named || name == "" || strings.ContainsRune(name, filepath.Separator) || !errors.Is(err, fs.ErrNotExist) {
		return "", word
	}
	return name, path
}

// nameOf names a set by its truth file.
func nameOf(path string) string {
	if name := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)); name != "truth" {
		return name
	}
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	return filepath.Base(filepath.Dir(path))
}
