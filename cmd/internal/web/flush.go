package web

import (
	"errors"
	"fmt"
	"net/http"

	"fitfill/cmd/internal/app"
	"fitfill/compat/coolant"
)

// flushPage is how to get the old coolant out and the new one in.
type flushPage struct {
	frame
	Verdict  verdict
	Says     string
	Rounds   []roundView
	Frost    string
	Totals   []namedFigure
	BottleIs string
	Findings []finding
	Ways     []choice
	Steps    []string
	Cautions []string
	Circuits []choice
	Tos      []choice // what may go in, where nothing was named
	Fields   []flushField
	Carried  []field
	Back     string
	Missing  *problemView // what must be said before there is a plan
}

func (*flushPage) template() string { return "flush" }

// flushField is a figure that may be given.
type flushField struct{ Name, Label, Value, Sample string }

// roundView is one drain and refill.
type roundView struct {
	Drain      figure
	Pours      []pourView
	Left       string
	Strength   string
	Freezes    *figure
	DoNotLeave bool
}

// pourView is what goes in out of one jug.
type pourView struct {
	figure
	What string
}

func askFlush(s *site, r *http.Request) (reply, error) {
	q := r.URL.Query()
	shop, err := s.shop.Tonight(q.Get("coldest"))
	if err != nil {
		return reply{}, err
	}
	from := q.Get("fill")
	if from == record || from == "" {
		from = "unknown"
	}
	choices, err := shop.Bay(r.Context(), app.BayQuestion{Vehicle: q.Get("vehicle"), Engine: q.Get(nameEngine)})
	if err != nil {
		return reply{}, err
	}
	p := &flushPage{frame: frame{Title: "Change the coolant", Door: "bay"}, Back: address("/bay", with(q, "to", "", "add", q.Get("to"), "volume", "", "drain", "", "how", ""))}
	for _, f := range []flushField{{"volume", "The system holds", "", "8 L"}, {"drain", "One drain takes out", "", "4.4 L"}, {"coldest", "Coldest expected", "", "-12 C"}} {
		f.Value = q.Get(f.Name)
		p.Fields = append(p.Fields, f)
	}
	p.Carried = carried(q, "volume", "drain", "coldest")
	if q.Get("to") == "" {
		for _, b := range choices.Bottles {
			if b.Kind != "water" {
				p.Tos = append(p.Tos, choice{Text: b.Number, Note: b.Kind, Href: address("/bay/flush", with(q, "to", b.Number))})
			}
		}
		return reply{choices, p, ""}, nil
	}
	a, err := shop.Flush(r.Context(), app.FlushQuestion{
		Engine: choices.Engine, Circuit: q.Get("circuit"), From: app.FluidSaid{What: from}, To: app.FluidSaid{What: q.Get("to")},
		Volume: q.Get("volume"), Drain: q.Get("drain"), Look: q.Get("look"),
	})
	if usage := (*app.UsageError)(nil); errors.As(err, &usage) && !isTwin(r) { // the form to say it in stands on the page
		p.Missing = p.refused(err)
		return reply{a, p, ""}, nil
	}
	if err != nil {
		return reply{}, err
	}
	p.fill(shop, a)
	if a.Ask != "" {
		for _, name := range choices.Circuits {
			p.Circuits = append(p.Circuits, choice{Text: name, Href: address("/bay/flush", with(q, "circuit", name))})
		}
	}
	return reply{a, p, ""}, nil
}

func (p *flushPage) fill(shop *app.Shop, a app.FlushAnswer) {
	u := shop.Settings.Units
	p.Verdict, p.Says = verdictOf(a.Outcome, a.First), "from "+a.From+" to "+a.To
	if a.Engine != "" {
		p.Says += " in " + a.Engine
	}
	for _, round := range a.Rounds {
		v := roundView{
			Drain: volume(u, round.Drain), Left: fmt.Sprintf("%.3g %%", round.OldLeft.Percents()), Strength: fmt.Sprintf("%.0f %%", round.Strength.Percents()),
			DoNotLeave: round.DoNotLeave,
		}
		if round.With == coolant.RinseCoolant {
			v.Pours = append(v.Pours, pourView{volume(u, round.Bottle), "coolant"})
			if round.Water.Nanolitres() > 0 {
				v.Pours = append(v.Pours, pourView{volume(u, round.Water), "water"})
			}
		} else {
			v.Pours = append(v.Pours, pourView{volume(u, round.Water), round.With})
		}
		if round.Freeze != nil {
			f := temperature(u, round.Freeze.Value)
			v.Freezes = &f
		}
		if v.DoNotLeave {
			p.Frost = a.Frost
		}
		p.Rounds = append(p.Rounds, v)
	}
	if len(p.Rounds) > 0 {
		p.BottleIs = a.BottleIs
		p.Totals = append(p.Totals, namedFigure{Name: "coolant in all (" + a.BottleIs + ")", figure: volume(u, a.Bottle)})
		if a.Water.Nanolitres() > 0 {
			p.Totals = append(p.Totals, namedFigure{Name: "water in all", figure: volume(u, a.Water)})
		}
		p.Totals = append(p.Totals, namedFigure{Name: "to the collector", figure: volume(u, a.Waste)})
	}
	p.Findings = findingsOf(append(a.Findings, a.NotChecked...))
	for _, w := range a.Nearest {
		p.Ways = append(p.Ways, choice{Text: w.Says})
	}
	p.Steps, p.Cautions = a.Steps, a.Cautions
}
