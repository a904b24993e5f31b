package web

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/cmd/internal/app"
)

// vehiclePage is all that is on file of a vehicle.
type vehiclePage struct {
	frame
	app.VehicleCard
	States  []circuitView
	Lines   []dated
	Fit     []dated
	Back    []dated
	Said    []dated
	Logged  int64  // entry that was made just now
	TopUp   string // address
	Flush   string
	Counter string
}

func (*vehiclePage) template() string { return "vehicle" }

// circuitView is one circuit as the log says that it is.
type circuitView struct {
	Name, State string
	Minds       []string
}

// dated is something that happened on a day.
type dated struct {
	Date, Says string
	Place      place
}

func askVehicle(s *site, r *http.Request) (reply, error) {
	q := r.URL.Query()
	c, err := s.shop.Vehicle(r.Context(), q.Get("vehicle"))
	if err != nil {
		return reply{}, err
	}
	mark := c.VehicleLine.Vehicle
	p := &vehiclePage{
		frame: frame{Title: mark, Door: "bay"}, VehicleCard: c,
		TopUp: address("/bay", with(nil, "vehicle", mark, "fill", record)), Flush: address("/bay/flush", with(nil, "vehicle", mark, "fill", record)),
	}
	if c.Engine != "" {
		p.Counter = address("/counter", with(nil, nameEngine, c.Engine, nameVehicle, mark))
	}
	for _, n := range c.Circuits {
		p.States = append(p.States, circuitView{n.Circuit, n.State, n.Says()})
	}
	for _, f := range newestFirst(c.Fills) {
		p.Lines = append(p.Lines, dated{f.Date, f.Says(s.shop.Settings.Units), placeOf(f.Origin)})
	}
	for _, f := range newestFirst(c.Fitted) {
		p.Fit = append(p.Fit, dated{f.Date, strings.TrimSuffix(nonEmpty(f.Type, "part")+" "+f.Number+" of "+f.Supplier, " of "), placeOf(f.Origin)})
	}
	for _, b := range newestFirst(c.Comebacks) {
		says := strings.TrimSuffix(nonEmpty(b.Type, "part")+" "+b.Number+" of "+b.Supplier, " of ") + ": " + b.Reason
		if b.Told != nil {
			says += "; told on " + b.Told.Date + ": " + b.Told.First
		}
		p.Back = append(p.Back, dated{b.Date, says, placeOf(b.Origin)})
	}
	for _, d := range newestFirst(c.Told) {
		p.Said = append(p.Said, dated{Date: d.Date, Says: strings.TrimPrefix(d.Number+": "+d.First, ": ")})
	}
	p.Logged, _ = strconv.ParseInt(q.Get("entry"), 10, 64)
	return reply{c, p, ""}, nil
}

// linesShown is how many entries of each kind a vehicle's page shows.
const linesShown = 8

func newestFirst[T any](list []T) []T {
	out := slices.Clone(list)
	slices.Reverse(out)
	return out[:min(linesShown, len(out))]
}

// writeFill logs what was poured and shows the vehicle after it.
func writeFill(s *site, r *http.Request) (reply, error) {
	f := r.PostForm
	a, err := s.shop.AddFill(r.Context(), app.FillSaid{
		Vehicle: f.Get("vehicle"), Circuit: f.Get("circuit"), What: f.Get("what"), Strength: f.Get("strength"), Volume: f.Get("volume"),
		Drained: f.Get("drained"), Water: f.Get("water"), Note: f.Get("note"),
	})
	if err != nil {
		return reply{}, err
	}
	return reply{see: address("/bay/vehicle", with(nil, "vehicle", a.Vehicle, "entry", strconv.FormatInt(a.Fill.Entry, 10)))}, nil
}

// writeBack takes an entry out of the log that was mistyped.
func writeBack(s *site, r *http.Request) (reply, error) {
	entry, err := strconv.ParseInt(r.PostForm.Get("entry"), 10, 64)
	if err != nil {
		return reply{}, &app.UsageError{Problem: "not said which entry", Hint: "take it back on the page of the vehicle"}
	}
	if _, err := s.shop.TakeBack(r.Context(), catalog.LogFill, entry); err != nil {
		return reply{}, err
	}
	return reply{see: address("/bay/vehicle", with(nil, "vehicle", r.PostForm.Get("vehicle")))}, nil
}
