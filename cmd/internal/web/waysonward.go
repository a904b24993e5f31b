package web

import (
	"maps"
	"net/http"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
)

var (
	nearest = pattern.New(`nearest known one is "([^"]+)"`)
	quotes  = pattern.New(`"([^"]+)"`)
)

// waysOn lists where to go on from a question that failed: the same one with
// the nearest known name in place of what nothing knows, else without it; and
// the sheets, where it was about one of them.
func waysOn(r *http.Request, problem, hint string) []choice {
	if r.Method != http.MethodGet {
		return nil
	}
	q, path := r.URL.Query(), wholePage(r)
	name := blamed(r, problem)
	var ways []choice
	switch near := nearest.FindStringSubmatch(hint); {
	case name == "":
	case near != nil:
		ways = append(ways, choice{Text: "Ask with " + near[1], Href: address(path, with(q, name, near[1]))})
		fallthrough
	default:
		without := with(q, name, "")
		switch { // these pages have no answer without it
		case name == nameEngine && path != "/bay":
			path, without = "/counter", with(nil, "q", q.Get("q"))
		case name == nameVehicle && path == "/bay/vehicle":
			path = "/bay"
		}
		ways = append(ways, choice{Text: "Ask without " + q.Get(name), Href: address(path, without)})
	}
	if strings.HasPrefix(path, "/sheet/") || strings.HasPrefix(path, "/office/sheets/") {
		ways = append(ways, choice{Text: "Sheets in use", Href: "/office/sheets"})
	}
	return ways
}

// blamed returns the name of the value of a question that a problem names; "" where
// it names none.
func blamed(r *http.Request, problem string) string {
	q := r.URL.Query()
	said := ""
	if m := quotes.FindStringSubmatch(problem); m != nil {
		said = catalog.Key(m[1])
	}
	for _, name := range slices.Sorted(maps.Keys(q)) {
		if said != "" && catalog.Key(q.Get(name)) == said {
			return name
		}
	}
	for _, name := range slices.Sorted(maps.Keys(q)) {
		if v := q.Get(name); len(v) > 1 && name != "q" && slices.Contains(strings.FieldsFunc(problem, func(c rune) bool { return strings.ContainsRune(" .,:;\"", c) }), v) {
			return name
		}
	}
	return ""
}
