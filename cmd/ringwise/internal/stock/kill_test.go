package stock

import (
	"bufio"
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"modernc.org/sqlite"
)

// With killRoundsVariable set, TestKilled goes so many rounds; with
// killedVariable, this program is the child that is killed.
const (
	killRoundsVariable = "RINGWISE_KILL_ROUNDS"
	killedVariable     = "RINGWISE_KILLED_STOCK"
	usualKillRounds    = 20
)

func TestMain(m *testing.M) {
	if path := os.Getenv(killedVariable); path != "" {
		confirmUntilKilled(path)
	}
	os.Exit(m.Run())
}

// numbered is the part whose every field follows from a number.
func numbered(n int) Part {
	return Part{
		Key: fmt.Sprint("part ", n), Count: n%5 + 1, Origin: ByHand, Note: strings.Repeat(fmt.Sprint(n, " "), 100),
		Reading:   handReading(n),
		Confirmed: time.Date(2026, 3, 1, 10, 0, n, 0, time.UTC),
	}
}

// confirmUntilKilled confirms part after part and answers for each with a line
// once it is kept. It never returns.
func confirmUntilKilled(path string) {
	s, err := Open(bg, path)
	if err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	parts, err := s.Parts(bg, Filter{})
	if err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	for n := len(parts); ; n++ {
		if _, err := s.Confirm(bg, numbered(n)); err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		fmt.Println(n)
	}
}

// A program that is killed while it confirms loses nothing that it answered
// for and leaves nothing half done.
func TestKilled(t *testing.T) {
	rounds := usualKillRounds
	if text := os.Getenv(killRoundsVariable); text != "" {
		var err error
		rounds, err = strconv.Atoi(text)
		require.NoError(t, err)
	}
	self, err := os.Executable()
	require.NoError(t, err)
	dice := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 0))
	path := filepath.Join(t.TempDir(), "stock.db")
	answered, ahead := -1, 0
	for round := range rounds {
		child := exec.Command(self)
		child.Env = append(os.Environ(), killedVariable+"="+path)
		out, err := child.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, child.Start())
		// In every other round at any time from before the file is open, in the
		// others at any time once something was answered.
		var kill *time.Timer
		soon := func() *time.Timer {
			return time.AfterFunc(time.Duration(dice.IntN(150))*time.Millisecond, func() { child.Process.Kill() })
		}
		if round%2 == 0 {
			kill = soon()
		}
		for lines := bufio.NewScanner(out); lines.Scan(); {
			if kill == nil {
				kill = soon()
			}
			n, err := strconv.Atoi(lines.Text())
			require.NoError(t, err, lines.Text())
			require.True(t, n == answered+1 || n == answered+2, "%d follows %d", n, answered)
			answered = n
		}
		require.Error(t, child.Wait(), "it ends only by being killed")
		require.NotNil(t, kill, "it ended by itself")
		kill.Stop()
		if _, err := os.Stat(path); err != nil && answered < 0 {
			continue // killed before the file was there
		}
		s, err := Open(bg, path)
		require.NoError(t, err, "round %d", round)
		parts, err := s.Parts(bg, Filter{})
		require.NoError(t, err)
		require.NoError(t, s.Close())
		require.Contains(t, []int{answered + 1, answered + 2}, len(parts), "all that were answered for, and at most the one that was about to be")
		kept := map[string]record{}
		for _, p := range parts {
			r := newRecord(p)
			r.Number, r.Step = 0, 0
			kept[p.Key] = r
		}
		for n := range parts {
			want := numbered(n)
			require.NoError(t, want.settle())
			require.Equal(t, newRecord(want), kept[want.Key], "round %d", round)
		}
		sound(t, path)
		if len(parts) == answered+2 {
			ahead++
		}
		answered = len(parts) - 1
	}
	assert.Positive(t, answered, "some must have been confirmed")
	t.Logf("%d rounds, %d parts; %d times one was kept but not yet answered for", rounds, answered+1, ahead)
}

// A file that a program was writing when it was killed is put right as it is opened.
// SQLite's manual (Atomic Commit In SQLite, 4.1): a journal left beside the file is
// played back by whoever opens it next and may write.
func TestHalfWrittenFile(t *testing.T) {
	folder := t.TempDir()
	writing, path := filepath.Join(folder, "writing.db"), filepath.Join(folder, "stock.db")
	connector, err := sqlite.NewConnector(sourceName(writing, making, "journal_mode(delete)", "cache_size(1)"))
	require.NoError(t, err)
	db := sql.OpenDB(connector)
	defer db.Close()
	_, err = db.Exec("CREATE TABLE kept (text)")
	require.NoError(t, err)
	_, err = db.Exec("DROP TABLE kept")
	require.NoError(t, err)
	tx, err := db.Begin()
	require.NoError(t, err)
	defer tx.Rollback()
	_, err = tx.Exec("CREATE TABLE half (text)")
	require.NoError(t, err)
	for range 50 { // more than is held back in memory
		_, err = tx.Exec("INSERT INTO half VALUES (?)", strings.Repeat("half written ", 1000))
		require.NoError(t, err)
	}
	for _, ending := range []string{"", "-journal"} {
		data, err := os.ReadFile(writing + ending)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(path+ending, data, 0o600))
	}
	s, err := Open(bg, path)
	require.NoError(t, err)
	confirmed(t, s, fullPart(t))
	require.NoError(t, s.Close())
	sound(t, path)
}
