package doctor

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"ringwise/cmd/ringwise/internal/stock"
)

// nearest is the folder of the stock or, if it is not made yet, the nearest
// folder above it that is there.
func nearest(path string) string {
	at := filepath.Dir(path)
	for {
		if info, err := os.Stat(at); err == nil && info.IsDir() {
			return at
		}
		above := filepath.Dir(at)
		if above == at {
			return at
		}
		at = above
	}
}

// folder examines whether the stock can be written, by a file that is made and
// removed again. Of the folders only that of the usual stock is made where it is
// not there, as stock.Open does.
func folder(path string) Finding {
	at := nearest(path)
	f := Finding{Of: "folder of the stock", State: Well, Found: "files can be written in " + at}
	if named := filepath.Dir(path); at != named && !usual(path) {
		f.State, f.Found = Wrong, "there is no folder "+named
		f.Do = "make it, or name a stock elsewhere with --stock"
		return f
	}
	file, err := os.CreateTemp(at, ".ringwise-*")
	if err != nil {
		f.State, f.Found = Wrong, "nothing can be written in "+at
		f.Do = "change its permissions, or name a stock elsewhere with --stock"
		return f
	}
	file.Close()
	os.Remove(file.Name())
	return f
}

// usual tells whether the path is that of the usual stock.
func usual(path string) bool {
	standard, err := stock.DefaultPath()
	at, e := filepath.Abs(path)
	return err == nil && e == nil && at == standard
}

// leastRoom is how much must be free beside the stock, in bytes: a few thousand
// parts with their pictures and one backup of them. A judgement.
const leastRoom = 200 << 20

// room examines the free space beside the stock.
func room(path string) Finding {
	at := nearest(path)
	free, err := freeSpace(at)
	if err != nil {
		return Finding{Of: "free space", State: Lacking, Found: "it cannot be measured here", Do: "see yourself that 200 MB are free"}
	}
	return enough(free, at)
}

func enough(free uint64, at string) Finding {
	f := Finding{Of: "free space", State: Well, Found: fmt.Sprintf("%d MB in %s", free>>20, at)}
	if free < leastRoom {
		f.State = Wrong
		f.Do = fmt.Sprintf("make room: at least %d MB, so that the stock and its backups can be written", leastRoom>>20)
	}
	return f
}

// stockOf examines the stock itself, without changing it.
func stockOf(ctx context.Context, path string) Finding {
	f := Finding{Of: "stock", State: Well}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		f.Found = "there is none yet: the first confirmed part makes it"
		return f
	}
	found, err := stock.Verify(ctx, path)
	var file *stock.FileError
	switch {
	case errors.As(err, &file) && file.Damaged():
		f.State, f.Found, f.Do = Wrong, err.Error(), "put a backup in its place with ringwise stock restore"
	case err != nil:
		f.State, f.Found, f.Do = Wrong, err.Error(), "do what this line says, then run ringwise doctor again"
	case len(found.Faults) > 0:
		f.State, f.Found = Wrong, strings.Join(found.Faults, ", ")
		f.Do = "keep a copy of the file, then put a backup in its place with ringwise stock restore"
	default:
		f.Found = fmt.Sprintf("whole: %d parts in %d entries, %d steps in the journal", found.Parts, found.Entries, found.Steps)
	}
	return f
}
