package app

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/bleveindex"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/words"
)

// FindQuestion is what somebody is looking for.
type FindQuestion struct {
	Words    string
	Type     string
	Engine   string
	Supplier string
	Limit    int
	Quick    bool // leave out the counts by type and engine: while somebody types nobody reads them
}

// FindAnswer is how the words were read, and what the catalogue has for them.
type FindAnswer struct {
	Query     string       `json:"query"`
	ReadAs    string       `json:"read_as"` // number, barcode, vin, trouble-code, vehicle, engine or words
	Reads     []words.Span `json:"reads"`
	Corrected []Correction `json:"corrected,omitempty"`
	LeftOut   []string     `json:"left_out,omitempty"` // words that no part has
	Ways      []Way        `json:"alternatives,omitempty"`

	Types   []string      `json:"types,omitempty"`
	Engines []EngineMeant `json:"engines,omitempty"`
	Ask     string        `json:"ask,omitempty"` // tells the engines apart
	Vehicle string        `json:"vehicle,omitempty"`
	VIN     *VINAnswer    `json:"vin,omitempty"`
	Checks  *ChecksAnswer `json:"checks,omitempty"`

	Total   int        `json:"total"`
	Hits    []Hit      `json:"hits"`
	Nearest []Hit      `json:"nearest,omitempty"` // what exists and comes near; never an answer
	Facets  FindFacets `json:"facets"`
	Judged  int        `json:"judged,omitempty"`  // the first hits, which facets.outcome counts
	Waiting []HeldNote `json:"waiting,omitempty"` // held rows about the number asked for
	Hint    string     `json:"hint,omitempty"`
}

// Correction is a word that was read as another, since nothing knows it as it
// was written.
type Correction struct {
	From string `json:"from"`
	To   string `json:"to"`
}

// Way is another way in which the words can be read, or a way on, as a command.
type Way struct {
	ReadAs  string `json:"read_as"`
	Command string `json:"command"`
}

// FacetValue is one value to narrow by, with the number of hits that have it.
type FacetValue = bleveindex.Value

// FindFacets counts all hits by type, engine and supplier, and the judged ones
// by outcome.
type FindFacets struct {
	Type     []FacetValue `json:"type"`
	Engine   []FacetValue `json:"engine"`
	Supplier []FacetValue `json:"supplier"`
	Outcome  []FacetValue `json:"outcome,omitempty"`
}

// Answered reports whether there is something to hand over: a part, an engine
// or a vehicle, or what to check for a code.
func (a FindAnswer) Answered() bool {
	return a.Total > 0 || a.Checks != nil && a.Checks.Known() || a.VIN != nil && a.VIN.Settled() ||
		a.ReadAs == string(words.AsEngine) && len(a.Engines) > 0 || a.Vehicle != ""
}

// finder is one question on its way through the catalogue.
type finder struct {
	s    *Shop
	v    *sqlite.View
	late *lateIndex
	q    FindQuestion
	a    *FindAnswer

	table     *words.Table
	r         words.Reading
	known     knownStretches
	suppliers []sqlite.Supplier
	engines   []EngineMeant
	types     []string
	circuit   string // the loop that is meant
}

// Find reads what was said and looks for it. A number is looked for in this
// order: the very number, cross-references to it and from it, numbers that
// begin with it, numbers that have it in them. Where an engine is meant, the
// parts for it are judged and come in the order of the judgement; price and
// stock move no part. Everything else comes by supplier and number.
func (s *Shop) Find(ctx context.Context, q FindQuestion) (FindAnswer, error) {
	a := FindAnswer{
		Query: q.Words, ReadAs: string(words.AsWords), Reads: []words.Span{}, Hits: []Hit{},
		Facets: FindFacets{[]FacetValue{}, []FacetValue{}, []FacetValue{}, nil},
	}
	if len(strings.Fields(q.Words)) == 0 {
		return a, &UsageError{Problem: "there is nothing to look for", Hint: "fitfill find WORDS, such as: fitfill find thermostat 82"}
	}
	if q.Limit < 1 {
		return a, &UsageError{Problem: fmt.Sprintf("--limit %d shows nothing", q.Limit), Hint: "it is at least 1"}
	}
	err := s.withIndex(ctx, func(v *sqlite.View, late *lateIndex) error {
		fresh := a
		f := &finder{s: s, v: v, late: late, q: q, a: &fresh}
		if err := f.find(ctx); err != nil {
			return err
		}
		a = fresh
		return nil
	})
	return a, err
}

func (f *finder) find(ctx context.Context) error {
	if err := f.read(ctx); err != nil {
		return err
	}
	if _, err := f.supplierOf(); err != nil { // before anything else: a slip is told, not an empty answer
		return err
	}
	if err := f.ahead(ctx); err != nil {
		return err
	}
	if err := f.narrowed(ctx); err != nil {
		return err
	}
	f.loopWords()
	f.a.ReadAs, f.a.Types, f.a.Engines, f.a.Ask = string(f.r.As), f.types, f.engines, askWhichEngine(f.engines)
	if f.a.VIN != nil {
		f.a.Ask = f.a.VIN.Ask
	}
	if err := f.look(ctx); err != nil {
		return err
	}
	f.a.Reads = append(f.a.Reads, f.r.Spans...)
	if err := f.ways(ctx); err != nil {
		return err
	}
	if f.a.Total == 0 {
		return f.nothing(ctx)
	}
	return nil
}

// look finds the parts by the way in which the words were read.
func (f *finder) look(ctx context.Context) error {
	switch {
	case f.r.As == words.AsNumber && f.r.Partial == "":
		return f.numbers(ctx)
	case f.r.As == words.AsNumber:
		return f.halfNumber(ctx)
	case f.r.As == words.AsBarcode:
		return f.barcode(ctx)
	case f.noEngine():
		return nil
	case f.r.As == words.AsCode && (len(f.types) == 0 || len(f.engines) == 0):
		return nil // first the checks, and which car
	case len(f.engines) > 0 && len(f.engines) <= mostJudged:
		return f.forEngines(ctx)
	}
	return f.words(ctx)
}

// mostJudged is for how many engines parts are judged in one answer; more are
// shown to choose from.
const mostJudged = 6

// noEngine reports whether an engine was said that nothing on file is: parts
// for another one would be no answer.
func (f *finder) noEngine() bool {
	said := f.r.NamesEngine() || f.r.As == words.AsVIN
	return said && len(f.engines) == 0
}

// ways offers the commands that go on from here.
func (f *finder) ways(ctx context.Context) error {
	add := func(as words.As, format string, args ...any) {
		f.a.Ways = append(f.a.Ways, Way{string(as), fmt.Sprintf(format, args...)})
	}
	if f.r.Code != "" {
		add(words.AsCode, "fitfill checks %s%s", f.r.Code, engineFlag(f.engines))
	}
	if f.r.VIN != "" {
		add(words.AsVIN, "fitfill vin %s", f.r.VIN)
	}
	if f.a.Vehicle != "" {
		add(words.AsVehicle, "fitfill vehicle show %q", f.a.Vehicle)
	}
	for _, e := range f.engines[:min(3, len(f.engines))] {
		for _, t := range f.types[:min(2, len(f.types))] {
			add(words.AsEngine, "fitfill fit %s --type %s", quoted(e.Engine), t)
		}
		if len(f.types) == 0 {
			add(words.AsEngine, "fitfill fit %s", quoted(e.Engine))
		}
	}
	if f.r.As != words.AsNumber || f.a.Total > 0 {
		return nil
	}
	year, err := strconv.Atoi(f.r.Partial)
	if err != nil || len(f.r.Partial) != len("2001") {
		return nil
	}
	from, to, err := yearsOnFile(ctx, f.v)
	if year >= from && year <= to {
		add(words.AsWords, "fitfill find \"year %d\"", year)
	}
	return err
}

func engineFlag(list []EngineMeant) string {
	if len(list) != 1 {
		return ""
	}
	return " --engine " + quoted(list[0].Engine)
}

// quoted puts a name into quotes where a shell would take it apart.
func quoted(name string) string {
	if strings.ContainsAny(name, " '\"()&;|") {
		return fmt.Sprintf("%q", name)
	}
	return name
}

func heldNotes(ctx context.Context, v *sqlite.View, keys ...string) ([]HeldNote, error) {
	held, err := v.HeldAbout(ctx, keys)
	if err != nil {
		return nil, err
	}
	var notes []HeldNote
	for _, h := range held {
		notes = append(notes, HeldNote{Sheet: h.Origin.Sheet, Line: h.Line, Number: h.Number, Reason: h.Reason})
	}
	return notes, nil
}

// supplierOf returns the supplier that the flag or the words name.
func (f *finder) supplierOf() (string, error) {
	if f.q.Supplier != "" {
		return supplierName(f.q.Supplier, f.suppliers)
	}
	for _, key := range f.r.Suppliers {
		for _, s := range f.suppliers {
			for _, n := range append([]string{s.Name}, s.OtherNames...) {
				if catalog.Key(n) == key {
					return s.Name, nil
				}
			}
		}
	}
	return "", nil
}

func hasDigit(key string) bool { return strings.ContainsAny(key, "0123456789") }
