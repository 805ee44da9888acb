package marking

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"ringwise/cmd/ringwise/internal/sheet"
)

// FindKey reads the key to a sheet from the first of the folders that holds
// it. The error names the folders.
func FindKey(code string, folders []string) (sheet.Key, error) {
	code, err := sheet.ParseCode(code)
	if err != nil {
		return sheet.Key{}, err
	}
	for _, folder := range folders {
		path := filepath.Join(folder, sheet.KeyFile(code))
		f, err := os.Open(path)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return sheet.Key{}, fmt.Errorf("the key %s cannot be read: %w", path, err)
		}
		defer f.Close()
		key, err := sheet.ReadKey(f)
		if err == nil && key.Sheet != code {
			err = fmt.Errorf("it is the key to sheet %s: name the right file", key.Sheet)
		}
		if err != nil {
			return sheet.Key{}, fmt.Errorf("%s: %w", path, err)
		}
		return key, nil
	}
	return sheet.Key{}, fmt.Errorf("there is no key to sheet %s: %s is in none of %s; name its folder with --keys, or make the sheet again with its seed",
		code, sheet.KeyFile(code), strings.Join(folders, ", "))
}
