package web

import (
	"cmp"
	"context"
	"errors"
	"net/http"
	"runtime"
	"time"

	"fitfill/cmd/internal/app"
)

// site serves one shop.
type site struct {
	shop  *app.Shop
	looks *looks
	files *files
	turns chan struct{} // one for each answer of the Counter that is being made
	kept  *keptPages
	lock  *lock
}

// New returns the handler of the page of a shop that is reached under the given
// hosts, each a name with its port as a browser sends it.
func New(shop *app.Shop, hosts []string) (http.Handler, error) {
	_, handler, err := assemble(shop, reach{hosts: hosts})
	return handler, err
}

func assemble(shop *app.Shop, h reach) (*site, http.Handler, error) {
	files, err := loadFiles()
	if err != nil {
		return nil, nil, err
	}
	looks, err := loadLooks()
	if err != nil {
		return nil, nil, err
	}
	s := &site{shop, looks, files, make(chan struct{}, runtime.GOMAXPROCS(0)), &keptPages{}, newLock(h.others, time.Now)}
	mux := http.NewServeMux()
	mux.HandleFunc("GET "+staticPath, s.static)
	for _, rt := range routes {
		mux.HandleFunc(rt.pattern, s.serve(rt))
	}
	mux.HandleFunc("/", s.unknown)
	protected := http.NewCrossOriginProtection()
	protected.SetDenyHandler(http.HandlerFunc(s.foreign))
	return s, headers(s.onlyHosts(h, protected.Handler(twins(s.locked(mux))))), nil
}

func (s *site) serve(rt route) http.HandlerFunc {
	ask := rt.ask
	if rt.write != nil {
		ask = rt.write
	}
	return func(w http.ResponseWriter, r *http.Request) {
		keep := func(context.Context, []byte) {}
		if rt.kept {
			var sent bool
			if sent, keep = s.sendKept(w, r); sent {
				return
			}
		}
		s, err := s.now(r)
		if err != nil {
			s.fail(w, r, err)
			return
		}
		if rt.file != nil {
			s.sendFile(w, r, rt.file)
			return
		}
		if rt.write != nil {
			if err := readForm(w, r, rt.largest); err != nil {
				s.fail(w, r, err)
				return
			}
		}
		if rt.quick {
			select {
			case s.turns <- struct{}{}:
				defer func() { <-s.turns }()
			case <-r.Context().Done():
				return
			}
		}
		a, err := ask(s, r)
		switch {
		case err != nil:
			s.fail(w, r, err)
		case a.see != "":
			http.Redirect(w, r, a.see, http.StatusSeeOther)
		case isTwin(r):
			s.sendJSON(w, r, http.StatusOK, a.answer)
		default:
			body := s.show(w, r, cmp.Or(a.page.base().Status, http.StatusOK), a.page)
			if p, ok := a.page.(*counterPage); ok && body != nil && p.forEverybody(r) {
				keep(r.Context(), body)
			}
		}
	}
}

// now returns the site with the garage's own tables as they are now: the page
// runs for days, and somebody may import such a table meanwhile.
func (s *site) now(r *http.Request) (*site, error) {
	shop, err := s.shop.Current(r.Context())
	if err != nil || shop == s.shop {
		return s, err
	}
	other := *s
	other.shop = shop
	return &other, nil
}

// readForm reads what was posted, a sheet with it or not.
func readForm(w http.ResponseWriter, r *http.Request, largest int64) error {
	read, most := (*http.Request).ParseForm, int64(largestForm)
	if largest > 0 {
		read, most = func(r *http.Request) error { return r.ParseMultipartForm(inMemory) }, largest
	}
	r.Body = http.MaxBytesReader(w, r.Body, most)
	err := read(r)
	var large *http.MaxBytesError
	if err != nil && !errors.As(err, &large) {
		return &app.UsageError{Problem: "what was sent cannot be read", Hint: "fill in the form and send it again"}
	}
	return err
}

// inMemory is how much of a sheet is kept in memory while it comes in.
const inMemory = 8 << 20

// sendFile sends a sheet to be kept.
func (s *site) sendFile(w http.ResponseWriter, r *http.Request, write func(*site, *http.Request) (download, error)) {
	d, err := write(s, r)
	if err != nil {
		s.fail(w, r, err)
		return
	}
	w.Header().Set("Content-Disposition", `attachment; filename="`+d.name+`"`)
	send(w, r, http.StatusOK, "text/csv; charset=utf-8", d.body)
}

// largestForm is how many bytes a form may have.
const largestForm = 1 << 20
