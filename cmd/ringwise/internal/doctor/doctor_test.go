package doctor

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ringwise/cmd/ringwise/internal/photoread"
	"ringwise/cmd/ringwise/internal/stock"
	"ringwise/decode"
)

func TestCompare(t *testing.T) {
	assert.Equal(t, Well, compare("4.6.0").State)
	for _, version := range []string{"4.60.0", "4.5.4", "4.10.0", ""} {
		f := compare(version)
		assert.Equal(t, Wrong, f.State, version)
		assert.Contains(t, f.Do, "install OpenCV 4.6", version)
	}
}

func TestReading(t *testing.T) {
	// Yellow 4, brown 1, red 2, brown ×10, brown ±1 %: IEC 60062, table of colours.
	assert.Equal(t, Finding{"reading", Well, "the built-in photo is read right, YE BN RD BN BN", ""}, reading(t.Context()))
}

func TestJudge(t *testing.T) {
	other := decode.Candidate{Reading: decode.Reading{Ohms: decimal.NewFromInt(4100), Rings: []decode.Colour{decode.Yellow, decode.Brown, decode.Black}}}
	part := photoread.Part{Ranking: decode.Ranking{Candidates: []decode.Candidate{other}}}
	for want, result := range map[string]photoread.Result{
		"out of memory": {Err: errors.New("out of memory")},
		"as 0 parts":    {},
		"as 2 parts":    {Parts: []photoread.Part{part, part}},
		"not read":      {Parts: []photoread.Part{{}}},
		"as YE BN BK":   {Parts: []photoread.Part{part}},
	} {
		f := judge(result)
		assert.Equal(t, Wrong, f.State, want)
		assert.Contains(t, f.Found, want)
		assert.NotEmpty(t, f.Do, want)
	}
}

func TestStock(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stock.db")
	f := stockOf(t.Context(), path)
	assert.Equal(t, Well, f.State)
	assert.Contains(t, f.Found, "none yet")
	assert.NoFileExists(t, path, "looking makes no stock")

	store, err := stock.Open(context.Background(), path)
	require.NoError(t, err)
	require.NoError(t, store.Close())
	f = stockOf(t.Context(), path)
	assert.Equal(t, Well, f.State, f.Found)
	assert.Contains(t, f.Found, "0 parts")

	require.NoError(t, os.WriteFile(path, []byte(strings.Repeat("no stock ", 900)), 0o600))
	f = stockOf(t.Context(), path)
	assert.Equal(t, Wrong, f.State)
	assert.Contains(t, f.Do, "ringwise stock restore")
}

// A sound stock of a newer version must not be replaced by a backup.
func TestNewerStock(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stock.db")
	store, err := stock.Open(context.Background(), path)
	require.NoError(t, err)
	require.NoError(t, store.Close())
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	_, err = db.Exec("PRAGMA user_version = 99")
	require.NoError(t, err)
	require.NoError(t, db.Close())
	f := stockOf(t.Context(), path)
	assert.Equal(t, Wrong, f.State)
	assert.Contains(t, f.Found, "use a newer ringwise")
	assert.NotContains(t, f.Do, "backup")
}

func TestFolder(t *testing.T) {
	at := t.TempDir()
	assert.Equal(t, Well, folder(filepath.Join(at, "stock.db")).State)
	f := folder(filepath.Join(at, "not", "made", "stock.db"))
	assert.Equal(t, Wrong, f.State, "no stock would be made there")
	assert.Equal(t, "there is no folder "+filepath.Join(at, "not", "made"), f.Found)
	_, err := stock.Open(t.Context(), filepath.Join(at, "not", "made", "stock.db"))
	assert.ErrorContains(t, err, f.Found)
	if runtime.GOOS == "linux" {
		t.Setenv("XDG_DATA_HOME", filepath.Join(at, "not", "made"))
		path, err := stock.DefaultPath()
		require.NoError(t, err)
		assert.Equal(t, Well, folder(path).State, "the usual folder is made with the first part")
	}
	left, err := os.ReadDir(at)
	require.NoError(t, err)
	assert.Empty(t, left, "something was left behind")
	if _, err := os.Stat("/proc/self"); err == nil { // where nobody can make a file
		f := folder("/proc/stock.db")
		assert.Equal(t, Wrong, f.State)
		assert.Contains(t, f.Do, "--stock")
	}
}

func TestRoom(t *testing.T) {
	assert.Equal(t, Well, enough(leastRoom, "here").State)
	f := enough(leastRoom-1, "here")
	assert.Equal(t, Wrong, f.State)
	assert.Contains(t, f.Do, "at least 200 MB")
	f = room(filepath.Join(t.TempDir(), "stock.db"))
	assert.Contains(t, f.Found, " MB in ")
}

// With an empty PATH neither a browser nor a speech program can be found, and
// neither makes the whole wrong.
func TestOptionalPrograms(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	for _, f := range []Finding{browser(), voice()} {
		assert.Equal(t, Lacking, f.State, f.Of)
		assert.NotEmpty(t, f.Do)
		assert.True(t, Sound([]Finding{f}))
	}
}

func TestLook(t *testing.T) {
	f := look(t.Context(), filepath.Join(t.TempDir(), "none.avi"))
	assert.Equal(t, Wrong, f.State)
	assert.Contains(t, f.Found, "cannot be opened")
}

func TestFontsAndDecoder(t *testing.T) {
	assert.Equal(t, Well, fonts().State)
	assert.Equal(t, Well, decoder(t.Context()).State)
	ended, stop := context.WithCancel(t.Context())
	stop()
	assert.Equal(t, Wrong, decoder(ended).State)
}

// Each finding is one line that begins with its state in a word.
func TestWrite(t *testing.T) {
	var b strings.Builder
	require.NoError(t, Write(&b, []Finding{{"lamp", Well, "it shines", ""}, {"tin", Wrong, "it is empty", "fill it"}, {"tea", Lacking, "none", "make some"}}))
	assert.Equal(t, "well: lamp: it shines\nwrong: tin: it is empty; to do: fill it\nlacking: tea: none; to do: make some\n"+
		"Something is wrong: see the lines that begin with wrong. 1 well, 1 lacking, 1 wrong.\n", b.String())
}
