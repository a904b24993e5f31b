package web

import (
	"net/http"
	"strings"

	"fitfill/cmd/internal/app"
)

// codeView is what to check for a trouble code before a part is sold.
type codeView struct {
	Code, Says, Threshold string
	Checks                []checkView
	Cautions              []string
	Parts                 []choice
}

// checkView is one thing to look at.
type checkView struct{ Do, Takes, Finds string }

// vinView is what a VIN says.
type vinView struct {
	Says        string
	Problems    []string
	Corrections []choice
	Vehicle     *choice
}

// enginesShown is how many engines stand to choose from.
const enginesShown = 8

// read shows how the words were read, and what they mean besides parts.
func (p *counterPage) read(r *http.Request, a app.CounterAnswer) {
	q := r.URL.Query()
	p.HowRead = sentence(a.HowRead())
	p.Which = inPageWords(a.Ask)
	if len(a.Engines) > 1 || len(a.Engines) == 1 && a.Total == 0 && a.Engines[0].Engine != a.Bench {
		for _, e := range a.Engines[:min(len(a.Engines), enginesShown)] {
			p.Engines = append(p.Engines, choice{Text: e.Engine, Note: engineNote(e), Href: address("/counter", with(q, nameEngine, e.Engine))})
		}
	}
	if a.For != "" && a.For != a.Bench {
		p.Onto = &choice{Text: a.For, Href: address("/counter", with(q, nameEngine, a.For))}
	}
	if a.Vehicle != "" {
		p.Car = &choice{Text: a.Vehicle, Href: address("/bay/vehicle", with(nil, "vehicle", a.Vehicle))}
	}
	if a.Checks != nil {
		for _, c := range a.Checks.Codes {
			p.Codes = append(p.Codes, codeOf(r, c))
		}
	}
	if v := a.VIN; v != nil {
		p.VIN = &vinView{Says: sentence(inPageWords(v.First()))}
		for _, problem := range v.Problems {
			p.VIN.Problems = append(p.VIN.Problems, sentence(inPageWords(problem.Says)))
		}
		for _, c := range v.Corrections {
			p.VIN.Corrections = append(p.VIN.Corrections, choice{Text: c.VIN, Note: strings.TrimSuffix(c.Changed+"; "+c.Vehicle, "; "), Href: address("/counter", with(q, "q", c.VIN))})
		}
	}
}

func engineNote(e app.EngineMeant) string {
	note := strings.TrimPrefix(strings.TrimPrefix(e.Plate(), e.Engine), ", ")
	if len(e.Models) > 0 {
		note += "; " + strings.Join(e.Models, ", ")
	}
	if len(e.Years) > 0 {
		note += " " + e.Years[0]
	}
	return strings.TrimPrefix(note, "; ")
}

func codeOf(r *http.Request, c app.CodeAdvice) codeView {
	q := r.URL.Query()
	v := codeView{Code: c.Code, Says: nonEmpty(c.Meaning, c.Says), Threshold: sentence(c.Threshold), Cautions: c.Cautions}
	for _, k := range c.Checks {
		takes := app.Plural(int(k.Minutes), "minute", "minutes")
		if k.Minutes < 1 {
			takes = "under a minute"
		}
		if k.Cold {
			takes += ", engine cold"
		}
		v.Checks = append(v.Checks, checkView{k.Do, takes, k.Finds})
	}
	for _, t := range c.Parts {
		v.Parts = append(v.Parts, choice{Text: t, Href: address("/counter", with(q, "q", t))})
	}
	return v
}
