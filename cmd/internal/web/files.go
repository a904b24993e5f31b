package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"net/http"
	"path"
	"strings"
)

//go:embed static
var staticFS embed.FS

const staticPath = "/static/"

// files are the embedded style and script. Their names hold a hash of their
// content, so that a browser may keep them for good and never uses an old one.
type files struct {
	body map[string][]byte // by name with the hash
	name map[string]string // by name without
}

func loadFiles() (*files, error) {
	entries, err := staticFS.ReadDir("static")
	if err != nil {
		return nil, err
	}
	f := &files{map[string][]byte{}, map[string]string{}}
	for _, e := range entries {
		body, err := staticFS.ReadFile("static/" + e.Name())
		if err != nil {
			return nil, err
		}
		sum := sha256.Sum256(body)
		ext := path.Ext(e.Name())
		hashed := strings.TrimSuffix(e.Name(), ext) + "." + hex.EncodeToString(sum[:6]) + ext
		f.body[hashed], f.name[e.Name()] = body, hashed
	}
	return f, nil
}

// contentTypes are those of the embedded files by their endings. What the system
// calls them is not asked: some call a script plain text, and then no browser runs
// it.
var contentTypes = map[string]string{".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8"}

// at returns the address of a file.
func (f *files) at(name string) string { return staticPath + f.name[name] }

func (s *site) static(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(r.URL.Path, staticPath)
	body, ok := s.files.body[name]
	if !ok {
		s.unknown(w, r)
		return
	}
	w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	send(w, r, http.StatusOK, contentTypes[path.Ext(name)], body)
}
