package stock

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Whatever is imported, it is refused with one line and adds nothing, or the
// stock is sound.
func FuzzImport(f *testing.F) {
	s, err := Open(bg, filepath.Join(f.TempDir(), "stock.db"))
	require.NoError(f, err)
	defer s.Close()
	good := `{"key":"k","count":1,"origin":"rings","bands":["green","blue","red","gold"],"ohms":5600,"tolerance_percent":5,"confirmed":"2026-03-01T10:00:00Z"}`
	for _, seed := range []string{good, strings.Replace(good, "5600", "1e400", 1), strings.Replace(good, `"k"`, `"\u0000"`, 1), good + good, "[]", "null", "{}"} {
		f.Add(seed, false)
	}
	f.Add("key,count,origin,ohms,confirmed\nk,1,by hand,5600,2026-03-01T10:00:00Z\n", true)
	f.Add("key,count,origin,ohms,confirmed\nk,-1,by hand,0x10,2026-03-01T10:00:00Z\n", true)
	f.Add("key,key,key\n\"", true)
	f.Fuzz(func(t *testing.T, text string, asCSV bool) {
		read := s.ImportJSON
		if asCSV {
			read = s.ImportCSV
		}
		before := counts(t, s)
		done, err := read(bg, strings.NewReader(text))
		if err != nil || done.Added == 0 {
			require.Equal(t, before, counts(t, s))
			return
		}
		sound(t, s.Path())
		_, err = s.Undo(bg)
		require.NoError(t, err)
		require.Equal(t, before, counts(t, s))
	})
}
