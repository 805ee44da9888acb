// Package photoread takes photos the whole way: from the bytes of a file to
// the ranked readings of every part in it. One photo's failure never touches
// another's.
package photoread

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"time"

	"ringwise/cmd/ringwise/internal/ruler"
	"ringwise/vision"
)

// MaxFileSize is the largest photo file that is read, in bytes. Phone photos
// come to some 15 MB, scans to some 100 MB.
const MaxFileSize = 256 << 20

// A Source names a photo and gives the bytes of its file.
type Source struct {
	Name string
	Load func() ([]byte, error)
	// Open decodes the bytes; nil for vision.Open.
	Open func(ctx context.Context, data []byte) (*vision.Photo, error)
	// Scale is that of the photo, 0 if unknown. Points are those of the photo
	// between which it was measured; nil if it was not, and else an error if
	// the photo does not hold them.
	Scale  ruler.Scale
	Points []vision.Point
	// Done is told what came of it and how long that took; nil for nobody.
	Done func(result Result, took time.Duration)
}

// File is the photo in the file at path.
func File(path string) Source {
	return Source{Name: path, Load: func() ([]byte, error) {
		f, err := os.Open(path)
		if err != nil {
			return nil, plain(err)
		}
		defer f.Close()
		info, err := f.Stat()
		if err != nil {
			return nil, plain(err)
		}
		if info.IsDir() {
			return nil, errors.New("this is a folder: name the photos in it")
		}
		return load(f, MaxFileSize)
	}}
}

// Stream is a photo read from r, such as standard input.
func Stream(name string, r io.Reader) Source {
	return Source{Name: name, Load: func() ([]byte, error) { return load(r, MaxFileSize) }}
}

// load reads r to its end, refusing what is empty or has more than so many
// bytes.
func load(r io.Reader, most int) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, int64(most)+1))
	switch {
	case err != nil:
		return nil, plain(err)
	case len(data) == 0:
		return nil, errors.New("the file is empty: copy the photo again")
	case len(data) > most:
		return nil, fmt.Errorf("the file is larger than %d MB: save the photo smaller", most>>20)
	}
	return data, nil
}

// plain says what the system's error means for the person who named the file.
func plain(err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("no such file: check the name")
	case errors.Is(err, fs.ErrPermission):
		return errors.New("the file may not be read: check its permissions")
	}
	var path *fs.PathError
	if errors.As(err, &path) {
		return fmt.Errorf("the file cannot be read: %w", path.Err)
	}
	return fmt.Errorf("the file cannot be read: %w", err)
}
