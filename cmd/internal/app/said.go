package app

import (
	"context"
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/vin"
	"fitfill/compat"
)

// Said keeps answers about a vehicle as told today: Vehicle, Number, Supplier,
// Outcome, First, Question and Listing are the caller's, How is asked where it is
// empty. Every output that shows an answer for a vehicle, puts one on a list or
// lets a person confirm one calls it. An answer is not held up where it cannot
// be kept: the text says so then, and is empty otherwise.
func (s *Shop) Said(ctx context.Context, list []catalog.Said) string {
	if len(list) == 0 {
		return ""
	}
	today, _ := s.day("", "")
	for i := range list {
		list[i].At, list[i].Date = s.timestamp(), today
		if list[i].How == "" {
			list[i].How = catalog.SaidAsked
		}
	}
	if err := s.store.Say(ctx, list); err != nil {
		return "This answer could not be put on record for " + list[0].Vehicle + ": " + err.Error() + "."
	}
	return ""
}

// ToldLine is what was said about a part or a fluid.
type ToldLine struct {
	Date     string          `json:"date"`
	Vehicle  string          `json:"vehicle"`
	Question string          `json:"question"`
	Number   string          `json:"number"`
	Supplier string          `json:"supplier"`
	Outcome  string          `json:"outcome"`
	First    string          `json:"first"`
	Listing  compat.Evidence `json:"listing"`
	How      string          `json:"how"`
}

func toldLine(d catalog.Said) ToldLine {
	return ToldLine{d.Date.String(), d.Vehicle, d.Question, d.Number, d.Supplier, d.Outcome, d.First, compat.From(d.Listing), d.How}
}

// fitVehicle takes from the vehicle that a question names what the question
// leaves out: its engine, and the VIN's letter for it.
func (s *Shop) fitVehicle(ctx context.Context, v *sqlite.View, q *FitQuestion, ask *asked, a *FitAnswer) error {
	if q.Vehicle == "" {
		return nil
	}
	car, err := vehicleNamed(ctx, v, q.Vehicle)
	if err != nil {
		return err
	}
	a.Vehicle = car.Mark
	if q.Engine == "" {
		q.Engine = car.Engine
	}
	if q.Engine == "" {
		return &UsageError{Problem: "the engine of " + car.Mark + " is not on file", Hint: fmt.Sprintf("put it there: fitfill vehicle add %q --engine CODE, or name the engine", car.Mark)}
	}
	ask.Engine = q.Engine
	if ask.VIN8 == "" && car.VIN != "" {
		ask.VIN8 = vin.Read(car.VIN, false).Engine
	}
	return nil
}

// saidFit turns the answers about a vehicle into what was said.
func saidFit(vehicle string, a FitAnswer) []catalog.Said {
	var list []catalog.Said
	for _, p := range a.Answers {
		list = append(list, catalog.Said{
			Vehicle: vehicle, Question: strings.TrimSpace("fit " + a.Engine + " --part " + p.Number), Number: p.Number, Supplier: p.Supplier,
			Outcome: p.Outcome.String(), First: p.First, Listing: listingOf(p),
		})
	}
	return list
}

// listingOf returns the line of the part's own supplier that lists it, else the
// first listing that the verdict rests on.
func listingOf(p PartFit) catalog.Origin {
	var first catalog.Origin
	for _, f := range p.Findings {
		if f.Check != "listed" || f.NotChecked || f.Outcome != compat.Yes && f.Outcome != compat.Caution {
			continue
		}
		for _, e := range f.Origin {
			if e.Sheet == "" || e.Line == 0 {
				continue
			}
			o := catalog.Origin{Sheet: e.Sheet, SHA256: e.SHA256, Supplier: e.Supplier, Line: e.Line}
			if e.Supplier == p.Supplier {
				return o
			}
			if !first.Known() {
				first = o
			}
		}
	}
	return first
}

// saidMix turns a judgement on a top-off into what was said.
func saidMix(a MixAnswer, q MixQuestion) []catalog.Said {
	number := q.Add.What
	if number == "" {
		number = a.Add
	}
	question := fmt.Sprintf("mix --vehicle %q --add %q", a.Vehicle, number)
	if q.Add.Volume != "" {
		question += " --add-volume " + q.Add.Volume
	}
	return []catalog.Said{{Vehicle: a.Vehicle, Question: question, Number: number, Outcome: a.Outcome.String(), First: a.First}}
}
