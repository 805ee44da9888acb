package stock

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// BenchmarkBins lists a stock of ten thousand entries.
func BenchmarkBins(b *testing.B) {
	s, err := Open(bg, filepath.Join(b.TempDir(), "stock.db"))
	require.NoError(b, err)
	defer s.Close()
	var lines strings.Builder
	for n := range 10_000 {
		fmt.Fprintf(&lines, `{"key":"%d","count":1,"origin":"by hand","ohms":%d,"confirmed":"2026-03-01T10:00:00Z"}`+"\n", n, n%500+1)
	}
	_, err = s.ImportJSON(bg, strings.NewReader(lines.String()))
	require.NoError(b, err)
	for b.Loop() {
		bins, err := s.Bins(bg)
		require.NoError(b, err)
		require.Len(b, bins, 500)
	}
}

// BenchmarkConfirm confirms one part, onto the disk.
func BenchmarkConfirm(b *testing.B) {
	s, err := Open(bg, filepath.Join(b.TempDir(), "stock.db"))
	require.NoError(b, err)
	defer s.Close()
	for b.Loop() {
		p := numbered(1)
		p.Key = ""
		_, err := s.Confirm(bg, p)
		require.NoError(b, err)
	}
}
