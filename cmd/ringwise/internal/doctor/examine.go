package doctor

import (
	"context"
	"os/exec"
	"runtime"

	"ringwise/cmd/ringwise/internal/sheet/paper"
	"ringwise/cmd/ringwise/internal/speech"
)

// Examine examines everything, with the stock in the file at path. The camera
// is tried only if one is named.
func Examine(ctx context.Context, path, camera string) []Finding {
	all := []Finding{library(), reading(ctx), decoder(ctx)}
	all = append(all, folder(path), room(path), stockOf(ctx, path))
	all = append(all, fonts(), browser(), voice())
	if camera != "" {
		all = append(all, look(ctx, camera))
	}
	return all
}

// fonts examines the font for PDF, which is part of the program.
func fonts() Finding {
	f := Finding{Of: "fonts of printed sheets", State: Well, Found: "in the program, with Ω, ± and µ"}
	if err := paper.Printable("Ω±µ…–"); err != nil {
		f.State, f.Found, f.Do = Wrong, err.Error(), "install Ringwise again"
	}
	return f
}

// openers are the programs that open a page in the user's browser.
var openers = map[string][]string{
	"linux":   {"xdg-open", "sensible-browser", "x-www-browser", "www-browser"},
	"darwin":  {"open"},
	"windows": {"rundll32"},
}

// browser examines whether a browser for the bench is likely there.
func browser() Finding {
	f := Finding{Of: "browser for the bench"}
	for _, name := range openers[runtime.GOOS] {
		if _, err := exec.LookPath(name); err == nil {
			f.State, f.Found = Well, name+" opens one"
			return f
		}
	}
	f.State, f.Found = Lacking, "none is known here"
	f.Do = "install any current browser, or open the bench from a phone with ringwise bench --lan"
	return f
}

// voice examines whether there is a speech program.
func voice() Finding {
	f := Finding{Of: "speech", State: Well, Found: "a speech program for --speak is there"}
	if _, err := speech.Find(); err != nil {
		f.State, f.Found = Lacking, "there is no speech program"
		f.Do = "install espeak-ng or speech-dispatcher to use --speak"
	}
	return f
}
