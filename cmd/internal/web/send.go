package web

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"net/http"
	"strings"
	"sync"
)

// gzipFrom is the size in bytes from which packing is worth its time.
const gzipFrom = 1400

// send writes a whole body with its ETag, packed where the browser takes that.
// A body that the browser has already is not sent again.
func send(w http.ResponseWriter, r *http.Request, status int, contentType string, body []byte) {
	h := w.Header()
	h.Set("Content-Type", contentType)
	h.Add("Vary", "Accept-Encoding")
	if h.Get("Cache-Control") == "" {
		h.Set("Cache-Control", "no-cache")
	}
	if status == http.StatusOK {
		sum := sha256.Sum256(body)
		tag := `W/"` + hex.EncodeToString(sum[:12]) + `"`
		h.Set("ETag", tag)
		if strings.Contains(r.Header.Get("If-None-Match"), tag) {
			w.WriteHeader(http.StatusNotModified)
			return
		}
	}
	if len(body) >= gzipFrom && takesGzip(r) {
		p := packers.Get().(*packer)
		defer packers.Put(p) // after the last byte of it is sent
		if packed, err := p.pack(body); err == nil {
			h.Set("Content-Encoding", "gzip")
			body = packed
		}
	}
	w.WriteHeader(status)
	if r.Method != http.MethodHead {
		_, _ = w.Write(body) // the browser is gone; nobody is left to tell
	}
}

// packer packs one body after the other: what it needs for that is a hundred
// times as much as the body.
type packer struct {
	z   *gzip.Writer
	out bytes.Buffer
}

var packers = sync.Pool{New: func() any {
	z, err := gzip.NewWriterLevel(nil, gzip.BestSpeed) // nobody is far away: the time to pack is most of the time to send
	if err != nil {
		panic(err) // the level is one of the library's own
	}
	return &packer{z: z}
}}

// pack returns the packed body, which holds until the next one is packed.
func (p *packer) pack(body []byte) ([]byte, error) {
	p.out.Reset()
	p.z.Reset(&p.out)
	_, err := p.z.Write(body)
	err = errors.Join(err, p.z.Close())
	return p.out.Bytes(), err
}

func takesGzip(r *http.Request) bool {
	for _, part := range strings.Split(r.Header.Get("Accept-Encoding"), ",") {
		name, quality, _ := strings.Cut(strings.TrimSpace(part), ";")
		if name == "gzip" {
			return strings.ReplaceAll(quality, " ", "") != "q=0"
		}
	}
	return false
}

func (s *site) sendJSON(w http.ResponseWriter, r *http.Request, status int, v any) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		s.fail(w, r, err)
		return
	}
	send(w, r, status, "application/json; charset=utf-8", b.Bytes())
}
