package bench

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"mime"
	"net/http"
	"sync"
)

// Bounds on files made for the person: they are kept in memory alone.
const (
	mostMadeBytes = 64 << 20 // at one time
	mostBatches   = 8        // kept, the oldest goes first
)

// A madeFile is a file to download or to open. It never lies on the disk.
type madeFile struct {
	name, label, kind string
	data              []byte
	open              bool // as a page of its own, else to be saved
}

// fileView is what the page shows of it.
type fileView struct {
	Label string `json:"label"`
	At    string `json:"at"`
	Open  bool   `json:"open"`
}

// made holds the files made lately under names that cannot be guessed.
type made struct {
	mu      sync.Mutex
	files   map[string]madeFile
	batches [][]string // names, oldest first
}

func newMade() *made { return &made{files: map[string]madeFile{}} }

// keep keeps files that belong together and says where they are found.
func (m *made) keep(files []madeFile) ([]fileView, error) {
	total := 0
	for _, f := range files {
		total += len(f.data)
	}
	if total > mostMadeBytes {
		return nil, fmt.Errorf("that makes %d MB, and at most %d are kept: ask for fewer variants", total>>20, mostMadeBytes>>20)
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	var batch []string
	var views []fileView
	for _, f := range files {
		name := rand.Text()
		m.files[name] = f
		batch = append(batch, name)
		views = append(views, fileView{f.label, "/made/" + name, f.open})
	}
	m.batches = append(m.batches, batch)
	for len(m.batches) > mostBatches || len(m.batches) > 1 && m.size() > mostMadeBytes {
		for _, name := range m.batches[0] {
			delete(m.files, name)
		}
		m.batches = m.batches[1:]
	}
	return views, nil
}

// size is how many bytes are kept.
func (m *made) size() (total int) {
	for _, f := range m.files {
		total += len(f.data)
	}
	return total
}

// showMade sends a file that was made.
func (s *Server) showMade(w http.ResponseWriter, r *http.Request) {
	s.made.mu.Lock()
	f, ok := s.made.files[r.PathValue("name")]
	s.made.mu.Unlock()
	if !ok {
		refuse(w, http.StatusNotFound, "this file is no longer kept: make it again")
		return
	}
	h := w.Header()
	h.Set("Content-Type", f.kind)
	how := "attachment"
	if f.open {
		how = "inline"
		h.Set("Content-Security-Policy", madePolicy(f.data))
	}
	h.Set("Content-Disposition", mime.FormatMediaType(how, map[string]string{"filename": f.name}))
	w.Write(f.data)
}

// madePolicy lets a page that was made use the one style that it holds, by its
// hash, and nothing else (W3C Content Security Policy Level 3).
func madePolicy(page []byte) string {
	style := "'none'"
	if _, from, ok := bytes.Cut(page, []byte("<style>")); ok {
		if text, _, ok := bytes.Cut(from, []byte("</style>")); ok {
			sum := sha256.Sum256(text)
			style = "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
		}
	}
	return "default-src 'none'; style-src " + style + "; form-action 'none'; base-uri 'none'; frame-ancestors 'none'; sandbox allow-modals"
}
