package web

import (
	"net/http"
	"slices"
	"strings"
)

// policy lets a page load nothing but its own style, script and answers.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

func headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		next.ServeHTTP(w, r)
	})
}

// onlyHosts refuses a request for a name that the page does not listen on: a
// foreign site whose name points at this machine would otherwise read the
// answers.
func (s *site) onlyHosts(hosts []string, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !slices.Contains(hosts, strings.ToLower(r.Host)) {
			s.refuse(w, r, http.StatusMisdirectedRequest, "This page is not served under the name "+r.Host+".", "Open http://"+hosts[0]+"/ on the machine that runs it.")
			return
		}
		next.ServeHTTP(w, r)
	})
}

func (s *site) foreign(w http.ResponseWriter, r *http.Request) {
	s.refuse(w, r, http.StatusForbidden, "Another site tried to write into the catalogue.", "Nothing was changed. Go back to the page itself and do it there.")
}
