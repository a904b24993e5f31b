package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"
)

// A route is one question that the page answers, or one thing that it writes.
// The JSON twin of a question stands at the same address with .json behind the
// path and writes the answer as it is.
type route struct {
	pattern string
	ask     func(*site, *http.Request) (reply, error)    // of a GET
	write   func(*site, *http.Request) (reply, error)    // of a POST
	file    func(*site, *http.Request) (download, error) // of a GET that fetches a sheet
	largest int64                                        // bytes that a POST may have, where that is not a form's

	// quick marks an answer that many ask for at once and that takes a
	// processor a few milliseconds: no more are made at a time than there are
	// processors, as each would only make all others later.
	quick bool
	kept  bool // an answer for everybody is kept until the catalogue changes
}

// reply is an answer, and the page that shows it.
type reply struct {
	answer any
	page   page
	see    string // or where the answer stands
}

// routes is every address of the page. Files with a hash in their names and
// the sheets to download are the only others.
var routes = []route{
	{pattern: "GET /{$}", ask: askCounter, quick: true},
	{pattern: "GET /counter", ask: askCounter, quick: true},
	{pattern: "GET /counter/hits", ask: askHits, quick: true, kept: true},
	{pattern: "GET /counter/typing", ask: askHits, quick: true, kept: true},
	{pattern: "GET /fit", ask: askFit},
	{pattern: "GET /job", ask: askJob},
	{pattern: "GET /bay", ask: askBay},
	{pattern: "GET /bay/flush", ask: askFlush},
	{pattern: "GET /bay/vehicle", ask: askVehicle},
	{pattern: "POST /bay/fill", write: writeFill},
	{pattern: "POST /bay/takeback", write: writeBack},
	{pattern: "GET /office", ask: askOffice},
	{pattern: "GET /office/suppliers.csv", file: suppliersCSV},
	{pattern: "GET /office/sheets", ask: askSheets},
	{pattern: "GET /office/sheets/{sheet}", ask: askWaiting},
	{pattern: "POST /office/import", write: writeImport, largest: largestSheet},
	{pattern: "POST /office/decide", write: writeDecision},
	{pattern: "POST /office/undo", write: writeUndo},
	{pattern: "GET /office/held", ask: askHeld},
	{pattern: "GET /office/held.csv", file: heldCSV},
	{pattern: "POST /office/held", write: writeHeld},
	{pattern: "GET /office/notes", ask: askNotes},
	{pattern: "POST /office/notes", write: writeNote},
	{pattern: "GET /office/audit", ask: askAudit},
	{pattern: "GET /office/audit.csv", file: auditCSV},
	{pattern: "GET /sheet/{sheet}/line/{line}", ask: askLine},
}

// twinKey marks a request for the JSON twin of a page.
type twinKey struct{}

const twinEnding = ".json"

// twins takes the ending of a JSON twin off the path, so that one route serves
// both.
func twins(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		path, is := strings.CutSuffix(r.URL.Path, twinEnding)
		if !is || strings.HasPrefix(path, staticPath) {
			next.ServeHTTP(w, r)
			return
		}
		if path == "/" || path == "" {
			path = "/counter"
		}
		r = r.WithContext(context.WithValue(r.Context(), twinKey{}, true))
		u := *r.URL
		u.Path, u.RawPath = path, ""
		r.URL = &u
		next.ServeHTTP(w, r)
	})
}

func isTwin(r *http.Request) bool { return r.Context().Value(twinKey{}) != nil }

// address writes a path with a query; empty values are left out.
func address(path string, query url.Values) string {
	q := url.Values{}
	for name, values := range query {
		for _, v := range values {
			if v != "" {
				q.Add(name, v)
			}
		}
	}
	if len(q) == 0 {
		return path
	}
	return path + "?" + q.Encode()
}

// with returns a copy of a query in which names have new values, given in
// pairs; an empty value takes the name out.
func with(query url.Values, pairs ...string) url.Values {
	q := url.Values{}
	for name, values := range query {
		q[name] = values
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] == "" {
			q.Del(pairs[i])
		} else {
			q.Set(pairs[i], pairs[i+1])
		}
	}
	return q
}
