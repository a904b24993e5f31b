package web

import (
	"cmp"
	"net/http"
	"net/url"
	"strings"

	"fitfill/cmd/internal/app"
)

// counterPage is the box and what it found.
type counterPage struct {
	frame
	Query    string
	Engine   string // as it was asked for
	Bench    *bench
	Carried  []field
	Summary  string
	HowRead  string
	Which    string   // what tells the engines apart
	Engines  []choice // that the words can mean
	Onto     *choice  // the engine that the parts were judged for, to be put on the bench
	Codes    []codeView
	VIN      *vinView
	Car      *choice
	Hits     []hit
	Nearest  []hit
	Held     []heldRow
	Hint     string
	Empty    bool // no sheet has been read in yet
	Facets   []facet
	Filters  []known
	Ask      *asking
	Wider    string // address that looks beyond the engine on the bench
	Types    []choice
	Jobs     []choice
	List     *list
	Examples []choice

	partlyRead bool // something of what was said is in no list
}

func (*counterPage) template() string { return "counter" }

// facet is one way to narrow a long list.
type facet struct {
	Name   string
	Values []choice
	More   int
}

// choice is one thing to tap.
type choice struct {
	Text, Href string
	Count      int
	Note       string
}

// hitsShown is how many parts a counter page shows, facetShown how many values
// of each way to narrow.
const (
	hitsShown  = 20
	facetShown = 6
)

// whileTyping reports whether somebody is still typing: then the hits are
// enough, and the ways to narrow them come when he stops.
func whileTyping(r *http.Request) bool { return r.URL.Path == "/counter/typing" }

// askHits answers the part of the counter page that follows the typing.
func askHits(s *site, r *http.Request) (reply, error) {
	a, err := askCounter(s, r)
	if p, ok := a.page.(*counterPage); ok {
		p.Only = "results"
	}
	return a, err
}

func askCounter(s *site, r *http.Request) (reply, error) {
	q := r.URL.Query()
	words, on := strings.TrimSpace(q.Get("q")), benchOf(q)
	on.Engine, on.Vehicle = cmp.Or(on.Engine, on.Vehicle), "" // what is typed is no answer that was given
	p := &counterPage{
		frame: frame{Title: "Counter", Door: "counter"}, Query: words, Engine: on.Engine,
		Carried: carried(q, "q", nameEngine, "everywhere", "type", "supplier", "for"), List: listOf(q),
	}
	if words == "" {
		return s.askBench(r, p, on)
	}
	p.Title = words
	a, err := s.shop.Counter(r.Context(), app.CounterQuestion{
		Find:  app.FindQuestion{Words: words, Type: q.Get("type"), Supplier: q.Get("supplier"), Engine: q.Get("for"), Limit: hitsShown, Quick: whileTyping(r)},
		Bench: on, Everywhere: q.Get("everywhere") != "",
	})
	if err != nil {
		return reply{}, err
	}
	p.fill(s, r, a)
	return reply{a, p, ""}, nil
}

func (p *counterPage) fill(s *site, r *http.Request, a app.CounterAnswer) {
	q := r.URL.Query()
	p.Bench = benchView(r, a.Bench)
	p.read(r, a)
	p.partlyRead = len(a.LeftOut)+len(a.Corrected) > 0
	for i, h := range a.Hits {
		v := hitOfFound(h, s.shop.Settings.Units)
		v.became(r, h.Superseded)
		if i < len(a.Verdicts) {
			v.judged(r, a.Verdicts[i])
		}
		v.listable(r, "/counter")
		p.Hits = append(p.Hits, v)
	}
	for _, h := range a.Nearest {
		p.Nearest = append(p.Nearest, hitOfFound(h, s.shop.Settings.Units))
	}
	p.Held = heldRows(a.Waiting)
	p.Hint = sentence(inPageWords(a.Hint))
	if a.VIN != nil && len(a.VIN.Corrections) > 0 {
		p.Hint = "" // what may be meant stands above, to tap
	}
	p.Summary, p.Empty = sentence(a.First()), strings.Contains(a.Hint, "catalogue is empty")
	if a.Total > len(a.Hits) && !whileTyping(r) {
		p.Facets = facetsOf(q, a.Facets)
	}
	for _, name := range []string{"type", "supplier", "for"} {
		if v := q.Get(name); v != "" {
			text := v
			if name == "for" {
				text = "listed for " + v
			}
			p.Filters = append(p.Filters, known{text, address("/counter", with(q, name, ""))})
		}
	}
	if a.Next != nil {
		ask := askingOf(r, a.Next.Ask, a.Next.AnswerWith, settlesWords(a.Next))
		p.Ask = &ask
	}
	if a.Narrowed {
		p.Wider = address("/counter", with(q, "everywhere", "yes"))
	}
}

func facetsOf(q url.Values, f app.FindFacets) []facet {
	var out []facet
	for _, w := range []struct {
		name, param string
		values      []app.FacetValue
	}{{"type", "type", f.Type}, {"supplier", "supplier", f.Supplier}, {"engine", "for", f.Engine}} {
		if len(w.values) < 2 || q.Get(w.param) != "" {
			continue
		}
		one := facet{Name: w.name, More: max(0, len(w.values)-facetShown)}
		for _, v := range w.values[:min(facetShown, len(w.values))] {
			one.Values = append(one.Values, choice{Text: v.Value, Count: v.Count, Href: address("/counter", with(q, w.param, v.Value))})
		}
		out = append(out, one)
	}
	return out
}

// askBench answers an empty box: with an engine on the bench what is on file
// for it, without one how to begin.
func (s *site) askBench(r *http.Request, p *counterPage, on app.FitQuestion) (reply, error) {
	q := r.URL.Query()
	if on.Engine == "" {
		var err error
		if p.Empty, err = s.shop.NothingReadIn(r.Context()); err != nil {
			return reply{}, err
		}
		for _, e := range []string{"thermostat 82", "P0128"} {
			p.Examples = append(p.Examples, choice{Text: e, Href: address("/counter", with(q, "q", e))})
		}
		return reply{map[string]any{}, p, ""}, nil
	}
	a, err := s.shop.Bench(r.Context(), on)
	if err != nil {
		return reply{}, err
	}
	p.Title, p.Bench = a.Engine, benchView(r, a.Engine)
	for _, t := range a.Types {
		p.Types = append(p.Types, choice{Text: t.Type, Count: t.Parts, Href: address("/fit", with(onBench(q), "type", t.Type))})
	}
	for _, j := range a.Jobs {
		p.Jobs = append(p.Jobs, choice{Text: j.Title, Href: address("/job", with(onBench(q), "job", j.Job))})
	}
	return reply{a, p, ""}, nil
}
