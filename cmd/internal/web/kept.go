package web

import (
	"context"
	"net/http"
	"sync"
)

// How many answers are kept, and how many bytes of them.
const (
	mostPages     = 2000
	mostPageBytes = 8 << 20
)

// keptPages keeps the answers that follow the typing at the Counter, by their
// whole address, as long as nothing in the catalogue changes. People ask for the
// same things all day, and while somebody types, each beginning of a word has
// been typed before.
type keptPages struct {
	mu      sync.Mutex
	version int64 // of the catalogue
	pages   map[string][]byte
	bytes   int
}

// get returns the answer that was kept of a state of the catalogue; nil where
// there is none.
func (k *keptPages) get(version int64, address string) []byte {
	k.mu.Lock()
	defer k.mu.Unlock()
	if version != k.version {
		return nil
	}
	return k.pages[address]
}

func (k *keptPages) keep(version int64, address string, body []byte) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if version != k.version || k.pages == nil {
		k.version, k.pages, k.bytes = version, map[string][]byte{}, 0
	}
	k.bytes += len(body) - len(k.pages[address])
	k.pages[address] = body
	for other, old := range k.pages { // any one makes room
		if len(k.pages) <= mostPages && k.bytes <= mostPageBytes {
			break
		}
		k.bytes -= len(old)
		delete(k.pages, other)
	}
}

// sendKept sends an answer that was kept, if there is one, and otherwise returns
// what keeps the one that is about to be made.
func (s *site) sendKept(w http.ResponseWriter, r *http.Request) (sent bool, keep func(context.Context, []byte)) {
	version, err := s.shop.Version(r.Context())
	if err != nil || isTwin(r) {
		return false, func(context.Context, []byte) {}
	}
	address := r.URL.Path + "?" + r.URL.RawQuery
	if body := s.kept.get(version, address); body != nil {
		send(w, r, http.StatusOK, htmlType, body)
		return true, nil
	}
	return false, func(ctx context.Context, body []byte) {
		if now, err := s.shop.Version(ctx); err == nil && now == version { // nothing was changed meanwhile
			s.kept.keep(version, address, body)
		}
	}
}

// forEverybody reports whether an answer may be kept: it is about parts, and
// neither it nor the question is about somebody's car; all that was said is known
// to the lists, so that no customer's name is among it.
func (p *counterPage) forEverybody(r *http.Request) bool {
	q := r.URL.Query()
	return len(p.Hits) > 0 && p.Car == nil && p.VIN == nil && !p.partlyRead && q.Get(nameVehicle) == "" && q.Get(nameEngine) == ""
}
