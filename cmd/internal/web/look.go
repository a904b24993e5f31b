package web

import (
	"bytes"
	"cmp"
	"embed"
	"html/template"
	"net/http"
	"net/url"
	"strings"
)

//go:embed templates
var templateFS embed.FS

// looks are the parsed templates: each page with the frame around it.
type looks struct{ pages map[string]*template.Template }

// page is what a template is given: a struct of its own with a frame in it.
type page interface {
	template() string // name of its file, without the ending
	base() *frame
}

// frame is what every page has around it.
type frame struct {
	Title   string
	Door    string // counter, bay or office
	Doors   []doorway
	Twin    string // address of the JSON twin
	CSS, JS string
	Only    string // a part of the page that is sent alone
	Status  int    // of the answer, where it is not 200
	Leave   bool   // the browser was let in by the passphrase
}

func (f *frame) base() *frame { return f }

// doorway is one of the three doors.
type doorway struct {
	Name, Href string
	Here       bool
}

var doors = []struct{ id, name, path string }{{"counter", "Counter", "/counter"}, {"bay", "Bay", "/bay"}, {"office", "Office", "/office"}}

// shared are the templates that pages are put together from.
var shared = []string{"templates/frame.html", "templates/pieces.html"}

func loadLooks() (*looks, error) {
	entries, err := templateFS.ReadDir("templates")
	if err != nil {
		return nil, err
	}
	common, err := template.New("frame.html").Funcs(pieces).ParseFS(templateFS, shared...)
	if err != nil {
		return nil, err
	}
	l := &looks{map[string]*template.Template{}}
	for _, e := range entries {
		file := "templates/" + e.Name()
		if file == shared[0] || file == shared[1] {
			continue
		}
		t, err := common.Clone()
		if err != nil {
			return nil, err
		}
		if l.pages[strings.TrimSuffix(e.Name(), ".html")], err = t.ParseFS(templateFS, file); err != nil {
			return nil, err
		}
	}
	return l, nil
}

// render writes a page, or only the part of it that its frame names.
func (l *looks) render(p page) ([]byte, error) {
	name := "frame.html"
	if only := p.base().Only; only != "" {
		name = only
	}
	var b bytes.Buffer
	err := l.pages[p.template()].ExecuteTemplate(&b, name, p)
	return b.Bytes(), err
}

// doorways lead to the three doors; what is on the bench or in the bay goes
// along, each door being asked for it in its own words.
func doorways(here string, q url.Values) []doorway {
	vehicle, engine := q.Get("vehicle"), q.Get(nameEngine)
	var out []doorway
	for _, d := range doors {
		along := with(nil, "vehicle", vehicle, nameEngine, engine)
		switch {
		case d.id == "counter":
			along = with(nil, nameEngine, cmp.Or(engine, vehicle))
			if engine != "" {
				along = with(along, nameVehicle, vehicle)
			}
		case d.id == "bay" && here != "bay" && vehicle == "":
			along = with(nil, "car", engine) // the Counter takes a plate or a VIN for an engine too
		}
		out = append(out, doorway{d.name, address(d.path, along), d.id == here})
	}
	return out
}

const htmlType = "text/html; charset=utf-8"

// show sends a page and returns its body; nil where it cannot be put together.
func (s *site) show(w http.ResponseWriter, r *http.Request, status int, p page) []byte {
	f := p.base()
	f.CSS, f.JS = s.files.at("fitfill.css"), s.files.at("fitfill.js")
	f.Leave = r.Context().Value(letIn{}) != nil
	f.Doors = doorways(f.Door, r.URL.Query())
	if r.Method == http.MethodGet && status == http.StatusOK {
		f.Twin = address(strings.TrimSuffix(r.URL.Path, "/")+twinEnding, r.URL.Query())
	}
	body, err := s.looks.render(p)
	if err != nil {
		http.Error(w, "The page could not be put together: "+err.Error(), http.StatusInternalServerError)
		return nil
	}
	send(w, r, status, htmlType, body)
	return body
}
