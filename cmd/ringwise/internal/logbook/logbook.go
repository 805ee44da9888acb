// Package logbook is the program's log of what it does, for whoever looks into
// what went wrong. It holds nothing personal, so that it can be shown to others:
// no photo's name, no value of the stock, no path, address, cookie or secret.
package logbook

import (
	"fmt"
	"io"
	"log/slog"
	"regexp"
)

// New returns a log that writes a line each to w in the form key=value of
// log/slog. It keeps warnings and errors, and with verbose all else too.
//
// Whatever a caller passes, only numbers, times, truths and the texts of a few keys
// come through; an error comes through as its type alone.
func New(w io.Writer, verbose bool) *slog.Logger {
	level := slog.LevelWarn
	if verbose {
		level = slog.LevelDebug
	}
	return slog.New(slog.NewTextHandler(w, &slog.HandlerOptions{Level: level, ReplaceAttr: plain}))
}

// Withheld stands for what does not come through.
const Withheld = "withheld"

// texts are the keys under which text comes through, and the forms it may have:
// words of this program's own. What a person or another program says has no
// business there. No form has digits, so that no value does.
var texts = map[string]*regexp.Regexp{
	slog.MessageKey: words,
	"outcome":       words,
	"refused":       words, // why a request was turned away
	"from":          words, // this computer or a device
	// The pattern of a request, never its path.
	"route": regexp.MustCompile(`^((GET|POST|DELETE) /[a-z/{}$.-]*|none)$`),
	// A function of this program.
	"at": regexp.MustCompile(`^(ringwise/[A-Za-z/.()*_]*|unknown)$`),
}

var words = regexp.MustCompile(`^[a-z ]{1,60}$`)

// plain keeps out what is not for others.
func plain(_ []string, a slog.Attr) slog.Attr {
	value := a.Value.Resolve()
	switch value.Kind() {
	case slog.KindInt64, slog.KindUint64, slog.KindFloat64, slog.KindBool, slog.KindDuration, slog.KindTime:
		return a
	case slog.KindString:
		if form := texts[a.Key]; form != nil && form.MatchString(value.String()) {
			return a
		}
	case slog.KindAny:
		switch held := value.Any().(type) {
		case slog.Level:
			return a
		case error:
			return slog.String(a.Key, fmt.Sprintf("%T", held))
		}
	}
	return slog.String(a.Key, Withheld)
}
