package web

import (
	"cmp"
	"net/http"
	"net/url"
	"strings"

	"fitfill/cmd/internal/app"
)

// bayPage is a top-off in two taps: what is in it, what goes in; then the
// answer.
type bayPage struct {
	frame
	Car      string // vehicle or engine
	CarNote  string
	NoCar    string // address without it
	Vehicle  string
	Cars     []choice
	Asked    []picked // what was tapped, each with the address to tap again
	Step     string   // fill, add or answer
	Question string
	First    []choice // large, to tap first
	Taps     []choice
	NoBottle bool // no list in use has a coolant
	More     []choice
	Carried  []field
	Answer   *mixView
}

func (*bayPage) template() string { return "bay" }

// picked is something that was said already.
type picked struct{ What, Said, Again string }

// record stands for what the vehicle's own record says is in it.
const record = "record"

// readingNames are the parts of the address for what tests showed.
var readingNames = []string{"look", "freeze", "scale", "strength", "ph", "nitrite", "phosphate", "silicate", "age"}

func askBay(s *site, r *http.Request) (reply, error) {
	q := r.URL.Query()
	if car := strings.TrimSpace(q.Get("car")); car != "" {
		meant, err := s.shop.Meant(r.Context(), car)
		if err != nil {
			return reply{}, err
		}
		return reply{see: address("/bay", with(q, "car", "", "vehicle", meant.Vehicle, nameEngine, meant.Engine))}, nil
	}
	fill, add := q.Get("fill"), q.Get("add")
	choices, err := s.shop.Bay(r.Context(), app.BayQuestion{Vehicle: q.Get("vehicle"), Engine: q.Get(nameEngine)})
	if err != nil {
		return reply{}, err
	}
	p := &bayPage{frame: frame{Title: "Bay", Door: "bay"}, Vehicle: choices.Vehicle}
	p.car(q, choices)
	if fill != "" {
		p.Asked = append(p.Asked, picked{"In it", fillWords(fill), address("/bay", with(q, "fill", ""))})
	}
	if add != "" {
		p.Asked = append(p.Asked, picked{"Going in", addWords(add, choices), address("/bay", with(q, "add", ""))})
	}
	switch {
	case fill == "":
		p.fillStep(q, choices)
	case add == "":
		p.addStep(q, choices)
	default:
		return s.bayAnswer(r, p, choices)
	}
	return reply{choices, p, ""}, nil
}

// carsShown is how many vehicles can be tapped without typing.
const carsShown = 8

func (p *bayPage) car(q url.Values, c app.BayAnswer) {
	p.Car = cmp.Or(c.Vehicle, c.Engine)
	if c.Vehicle != "" && c.Engine != "" {
		p.CarNote = c.Engine
	}
	if c.Asks != "" {
		p.CarNote = strings.TrimPrefix(p.CarNote+"; asks for "+c.Asks, "; ")
	}
	if p.Car != "" {
		off := with(q, "vehicle", "", nameEngine, "", "circuit", "")
		if fill := q.Get("fill"); fill == record || fill == "factory" {
			off.Del("fill") // only a car has that
		}
		p.NoCar = address("/bay", off)
		return
	}
	for _, v := range c.Vehicles[:min(carsShown, len(c.Vehicles))] {
		p.Cars = append(p.Cars, choice{Text: v.Vehicle, Note: v.Engine, Href: address("/bay", with(q, "vehicle", v.Vehicle))})
	}
}

func fillWords(fill string) string {
	switch fill {
	case record:
		return "what its record says"
	case "factory":
		return "factory fill, never opened"
	case "unknown":
		return "not known"
	}
	return fill
}

func addWords(add string, c app.BayAnswer) string {
	for _, b := range c.Bottles {
		if b.Number == add {
			return strings.TrimSuffix(b.Number+", "+b.Kind, ", ")
		}
	}
	return add
}

func (p *bayPage) fillStep(q url.Values, c app.BayAnswer) {
	p.Step, p.Question = "fill", "What is in it?"
	to := func(what string) string { return address("/bay", with(q, "fill", what)) }
	if c.Vehicle != "" {
		p.First = append(p.First, choice{Text: "What its record says", Note: c.Vehicle, Href: to(record)})
	}
	if c.Engine != "" {
		p.First = append(p.First, choice{Text: "Factory fill, never opened", Note: c.Asks, Href: to("factory")})
	}
	for _, name := range c.Colours {
		p.Taps = append(p.Taps, choice{Text: name, Href: to(name)})
	}
	p.Taps = append(p.Taps, choice{Text: "water", Href: to("water")}, choice{Text: "Don’t know", Href: to("unknown")})
	p.Carried = carried(q, "fill")
}

// bottlesShown is how many bottles can be tapped before the rest unfolds.
const bottlesShown = 6

func (p *bayPage) addStep(q url.Values, c app.BayAnswer) {
	p.Step, p.Question, p.NoBottle = "add", "What is going in?", len(c.Bottles) == 0
	for i, b := range c.Bottles {
		note := strings.TrimSuffix(b.Kind+", "+b.Supplier, ", ")
		if b.House {
			note = "our drum: " + note
		}
		t := choice{Text: b.Number, Note: note, Href: address("/bay", with(q, "add", b.Number))}
		switch {
		case b.House:
			p.First = append(p.First, t)
		case i < bottlesShown:
			p.Taps = append(p.Taps, t)
		default:
			p.More = append(p.More, t)
		}
	}
	p.Taps = append(p.Taps, choice{Text: "Tap water", Note: "to get home", Href: address("/bay", with(q, "add", "water"))})
	p.Carried = carried(q, "add")
}
