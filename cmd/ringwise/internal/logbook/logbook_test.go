package logbook

import (
	"errors"
	"io/fs"
	"log/slog"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// line is what a log keeps of one call.
func line(verbose bool, do func(*slog.Logger)) string {
	var out strings.Builder
	do(New(&out, verbose))
	return out.String()
}

// Attacks: a careless caller that logs what is personal, under any key and in
// any form.
func TestNothingPersonalComesThrough(t *testing.T) {
	secrets := []string{"grandmother's tin.jpg", "/home/una/photos", "5.6 kΩ", "5600", "192.168.1.9:40000", "ringwise-7350=WQ3K", "A line\nlevel=ERROR"}
	type holder struct{ Name string }
	for _, secret := range secrets {
		out := line(true, func(log *slog.Logger) {
			log.Info("photo", "name", secret, "route", secret, "outcome", secret, secret[:1], holder{secret},
				"err", errors.New(secret), "path", &fs.PathError{Op: "open", Path: secret, Err: fs.ErrNotExist},
				slog.Group("inside", "name", secret), "bytes", []byte(secret), "values", []string{secret})
			log.With("name", secret).Warn("photo")
			log.Error(secret)
		})
		assert.NotContains(t, out, secret)
		for _, word := range strings.FieldsFunc(secret, func(r rune) bool { return r == ' ' || r == '/' || r == '\n' || r == '=' }) {
			if len(word) > 5 {
				assert.NotContains(t, out, word)
			}
		}
		assert.Contains(t, out, Withheld)
		assert.Equal(t, 3, strings.Count(out, "\n"), out)
	}
}

func TestWhatComesThrough(t *testing.T) {
	say := func(log *slog.Logger) {
		log.Debug("answered", "route", "GET /photos/{photo}", "status", 200, "took", 3*time.Millisecond)
		log.Warn("the stock cannot be written", "code", 13, "err", fs.ErrClosed)
	}
	out := line(true, say)
	assert.Contains(t, out, `level=DEBUG msg=answered route="GET /photos/{photo}" status=200 took=3ms`)
	assert.Contains(t, out, "err=*errors.errorString")
	out = line(false, say)
	assert.NotContains(t, out, "answered", "only with verbose")
	assert.Contains(t, out, `level=WARN msg="the stock cannot be written" code=13`)
}
