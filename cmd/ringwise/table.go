package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// openTable opens a table or a list that the person named.
func openTable(path string) (*os.File, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: no such file: check the name", path)
	}
	if err != nil {
		return nil, fmt.Errorf("%s cannot be opened: check that it may be read", path)
	}
	if info, err := f.Stat(); err == nil && info.IsDir() {
		f.Close()
		return nil, fmt.Errorf("%s: this is a folder: name the file in it", path)
	}
	return f, nil
}
