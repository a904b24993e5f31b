package web

import (
	"html/template"
	"net/http"
	"slices"
	"strings"

	"fitfill/cmd/internal/app"
	"fitfill/cmd/internal/shelf"
	"fitfill/compat"
)

// jobPage is the list for the shelf: what was gathered at the Counter, and what
// a job takes.
type jobPage struct {
	frame
	Bench   *bench
	Parts   []hit // gathered, as far as the job has no place for them
	Gone    []string
	Jobs    []choice
	Job     string
	Verdict *verdict
	List    template.HTML
	Hint    string
	Lines   []lineReasons
	Back    string
}

func (*jobPage) template() string { return "job" }

// lineReasons are the reasons of one line of the list.
type lineReasons struct {
	Role     string
	Findings []finding
}

// chosen reads the list out of the address.
func chosen(entries []string) (out []app.Chosen) {
	for _, e := range filled(entries) {
		number, supplier, _ := strings.Cut(e, ofSupplier)
		out = append(out, app.Chosen{Number: number, Supplier: supplier})
	}
	return out
}

func askJob(s *site, r *http.Request) (reply, error) {
	q := r.URL.Query()
	on, named := benchOf(q), q.Get("job")
	gathered, err := s.shop.Gather(r.Context(), app.GatherQuestion{Bench: on, Parts: chosen(q[nameList])})
	if err != nil {
		return reply{}, err
	}
	p := &jobPage{frame: frame{Title: "Job list", Door: "counter"}, Bench: benchView(r, gathered.Engine), Gone: gathered.Gone, Back: address("/counter", onBench(q))}
	if on.Engine != "" {
		for _, j := range gathered.Jobs {
			p.Jobs = append(p.Jobs, choice{Text: j.Title, Href: address("/job", with(q, "job", j.Job))})
		}
	}
	var answer any = gathered
	rest := gathered.Parts
	if named != "" {
		var take []string
		take, rest = s.shop.Places(named, gathered.Parts)
		a, err := s.shop.Job(r.Context(), app.JobQuestion{Engine: on.Engine, Job: named, Vehicle: on, Take: take})
		if err != nil {
			return reply{}, err
		}
		if err := p.job(a); err != nil {
			return reply{}, err
		}
		answer = a
	}
	for i, h := range gathered.Parts {
		if !slices.ContainsFunc(rest, func(x app.Hit) bool { return x.Number == h.Number && x.Supplier == h.Supplier }) {
			continue
		}
		v := hitOfFound(h, s.shop.Settings.Units)
		if i < len(gathered.Verdicts) {
			v.judged(r, gathered.Verdicts[i])
		}
		less := with(q)
		less[nameList] = slices.DeleteFunc(slices.Clone(q[nameList]), func(e string) bool { return e == listEntry(h.Number, h.Supplier) })
		v.Off = address("/job", less)
		p.Parts = append(p.Parts, v)
	}
	return reply{answer, p, ""}, nil
}

func (p *jobPage) job(a app.JobAnswer) (err error) {
	p.Title, p.Job = a.Title+" on "+a.Engine, a.Title
	o := a.Outcome()
	v := verdictOf(o, map[compat.Outcome]string{
		compat.Yes: "everything on it fits", compat.Caution: "something on it is to be minded", compat.No: "something on it does not fit", compat.CannotSay: "a place on it is open",
	}[o])
	p.Verdict, p.Hint = &v, sentence(inPageWords(a.Hint))
	for _, l := range a.Lines {
		if len(l.Findings) > 0 {
			p.Lines = append(p.Lines, lineReasons{app.Capital(l.Role) + ": " + l.Number, findingsOf(l.Findings)})
		}
	}
	a.Notes = slices.Clone(a.Notes)
	for i := range a.Notes {
		a.Notes[i].Text = sentence(inPageWords(a.Notes[i].Text))
	}
	p.List, err = shelf.List(a)
	return err
}
