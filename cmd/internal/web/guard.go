package web

import (
	"net"
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
		h.Set("Referrer-Policy", "same-origin") // with "no-referrer" a form of this page would not say where it comes from
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		next.ServeHTTP(w, r)
	})
}

// reach is where a page is reached, and under which names.
type reach struct {
	hosts  []string // each a name with its port as a browser sends it, the one to show first
	names  []string // such as that of a proxy in front: with any port
	own    bool     // also the address at which a request comes in
	others bool     // other machines reach it
}

// known reports whether a request asks for a name of the page. An address in
// numbers is safe: only a name can be pointed at this machine from elsewhere.
func (h reach) known(r *http.Request) bool {
	host := strings.ToLower(r.Host)
	if slices.Contains(h.hosts, host) || slices.Contains(h.names, nameOf(host)) {
		return true
	}
	at, ok := r.Context().Value(http.LocalAddrContextKey).(net.Addr)
	return h.own && ok && (host == at.String() || host == strings.TrimSuffix(at.String(), ":"+usualPort))
}

// nameOf is a host without its port.
func nameOf(host string) string {
	if name, _, err := net.SplitHostPort(host); err == nil {
		return name
	}
	return strings.Trim(host, "[]")
}

// onlyHosts refuses a request for a name that the page does not listen on: a
// foreign site whose name points at this machine would otherwise read the
// answers.
func (s *site) onlyHosts(h reach, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !h.known(r) {
			hint := "Open http://" + h.hosts[0] + "/ on the machine that runs it."
			if h.others {
				hint = "Open it by the address of the machine that runs it, in numbers, or let it know the name: fitfill serve --name " + nameOf(strings.ToLower(r.Host))
			}
			s.refuse(w, r, http.StatusMisdirectedRequest, "This page is not served under the name "+r.Host+".", hint)
			return
		}
		next.ServeHTTP(w, r)
	})
}

func (s *site) foreign(w http.ResponseWriter, r *http.Request) {
	s.refuse(w, r, http.StatusForbidden, "Another site tried to write into the catalogue.", "Nothing was changed. Go back to the page itself and do it there.")
}
