package stock

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBackupAndRestore(t *testing.T) {
	s := oddStock(t)
	backup := filepath.Join(t.TempDir(), "copy.db")
	require.NoError(t, s.Backup(bg, backup))
	whole := export(t, s)
	found := sound(t, backup)
	assert.Equal(t, 5, found.Entries)
	assert.Equal(t, 12, found.Parts) // 0, 2, 2, 7 and 1
	assert.Equal(t, 1, found.Crops)
	assert.Equal(t, 6, found.Steps)
	assert.ErrorContains(t, s.Backup(bg, backup), "is there already: choose another name")
	assert.ErrorContains(t, s.Backup(bg, filepath.Join(t.TempDir(), "no", "copy.db")), "no copy can be written to")

	// A window that is open sees the restored stock, and may go on.
	require.NoError(t, s.Remove(bg, 2))
	confirmed(t, s, fromRings(t, "BN BK RD GD", 1))
	revision, err := s.Revision(bg)
	require.NoError(t, err)
	kept, err := Restore(bg, backup, s.Path())
	require.NoError(t, err)
	assert.Equal(t, whole, export(t, s))
	assert.Contains(t, kept, ".before-restore-")
	assert.Equal(t, 5, sound(t, kept).Entries, "one removed, one added")
	after, err := s.Revision(bg)
	require.NoError(t, err)
	assert.Greater(t, after, revision)
	_, err = s.Undo(bg)
	require.NoError(t, err, "the journal came with it")
	next := confirmed(t, s, fromRings(t, "BN BK RD GD", 1))
	assert.EqualValues(t, 7, next.ID, "numbers given since the backup are not given again")
	sound(t, s.Path())
	left, err := filepath.Glob(filepath.Join(filepath.Dir(s.Path()), ".ringwise-*"))
	require.NoError(t, err)
	assert.Empty(t, left, "nothing is left lying about")
}

func TestRestoreWhereThereIsNone(t *testing.T) {
	s := oddStock(t)
	backup := filepath.Join(t.TempDir(), "copy.db")
	require.NoError(t, s.Backup(bg, backup))
	path := filepath.Join(t.TempDir(), "stock.db")
	kept, err := Restore(bg, backup, path)
	require.NoError(t, err)
	assert.Empty(t, kept)
	assert.Equal(t, export(t, s), export(t, openStock(t, path)))
}

func TestRestoreOverADamagedStock(t *testing.T) {
	s := oddStock(t)
	backup := filepath.Join(t.TempDir(), "copy.db")
	require.NoError(t, s.Backup(bg, backup))
	path := filepath.Join(t.TempDir(), "stock.db")
	damage := []byte(strings.Repeat("moth and rust ", 1000))
	require.NoError(t, os.WriteFile(path, damage, 0o600))
	kept, err := Restore(bg, backup, path)
	require.NoError(t, err)
	assert.Equal(t, export(t, s), export(t, openStock(t, path)))
	was, err := os.ReadFile(kept)
	require.NoError(t, err)
	assert.Equal(t, damage, was, "the damaged file is kept")
}

func TestRestoreRefuses(t *testing.T) {
	s := oddStock(t)
	whole := export(t, s)
	folder := t.TempDir()
	backup := filepath.Join(folder, "copy.db")
	require.NoError(t, s.Backup(bg, backup))
	data, err := os.ReadFile(backup)
	require.NoError(t, err)

	odd := filepath.Join(folder, "odd.db")
	alter(t, data, odd, "UPDATE part SET ohms = '1' WHERE id = 1")
	_, err = Restore(bg, odd, s.Path())
	assert.ErrorContains(t, err, "odd.db has a fault (entry #1 makes no sense: the rings GN VT RD GD do not mean 1 Ω ±5 %")
	half := filepath.Join(folder, "half.db")
	alter(t, data, half, "UPDATE part SET count = 9 WHERE id = 2")
	_, err = Restore(bg, half, s.Path())
	assert.ErrorContains(t, err, "entry #2 is not what the journal says")
	_, err = Restore(bg, filepath.Join(folder, "none.db"), s.Path())
	assert.ErrorContains(t, err, "there is no stock at")
	empty := filepath.Join(folder, "empty.db")
	require.NoError(t, os.WriteFile(empty, nil, 0o600))
	_, err = Restore(bg, empty, s.Path())
	assert.ErrorContains(t, err, "is empty or a folder")
	assert.Equal(t, whole, export(t, s))
}

// A page that was overwritten is found out.
func TestVerifyFindsDamage(t *testing.T) {
	s := oddStock(t)
	for range 30 {
		confirmed(t, s, fullPart(t))
	}
	backup := filepath.Join(t.TempDir(), "copy.db")
	require.NoError(t, s.Backup(bg, backup))
	data, err := os.ReadFile(backup)
	require.NoError(t, err)
	sound(t, backup)
	const page = 4096
	require.Greater(t, len(data), 4*page)
	for at := page; at < len(data); at += page {
		spoiled := append([]byte(nil), data...)
		for i := range page {
			spoiled[at+i] ^= 0x5a
		}
		require.NoError(t, os.WriteFile(backup, spoiled, 0o600))
		found, err := Verify(bg, backup)
		if err == nil {
			assert.NotEmpty(t, found.Faults, "page at %d", at)
		}
	}
}
