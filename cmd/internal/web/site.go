package web

import (
	"net/http"

	"fitfill/cmd/internal/app"
)

// site serves one shop.
type site struct {
	shop  *app.Shop
	looks *looks
	files *files
}

// New returns the handler of the page of a shop that is reached under the given
// hosts, each a name with its port as a browser sends it.
func New(shop *app.Shop, hosts []string) (http.Handler, error) {
	files, err := loadFiles()
	if err != nil {
		return nil, err
	}
	looks, err := loadLooks()
	if err != nil {
		return nil, err
	}
	s := &site{shop, looks, files}
	mux := http.NewServeMux()
	mux.HandleFunc("GET "+staticPath, s.static)
	for _, rt := range routes {
		mux.HandleFunc(rt.pattern, s.serve(rt))
	}
	mux.HandleFunc("/", s.unknown)
	protected := http.NewCrossOriginProtection()
	protected.SetDenyHandler(http.HandlerFunc(s.foreign))
	return headers(s.onlyHosts(hosts, protected.Handler(twins(mux)))), nil
}

func (s *site) serve(rt route) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if rt.write != nil {
			r.Body = http.MaxBytesReader(w, r.Body, largestForm)
			err := r.ParseForm()
			var see string
			if err == nil {
				see, err = rt.write(s, r)
			}
			if err != nil {
				s.fail(w, r, err)
				return
			}
			http.Redirect(w, r, see, http.StatusSeeOther)
			return
		}
		a, err := rt.ask(s, r)
		switch {
		case err != nil:
			s.fail(w, r, err)
		case a.see != "":
			http.Redirect(w, r, a.see, http.StatusSeeOther)
		case isTwin(r):
			s.sendJSON(w, r, http.StatusOK, a.answer)
		default:
			s.show(w, r, http.StatusOK, a.page)
		}
	}
}

// largestForm is how many bytes a form may have.
const largestForm = 1 << 20
