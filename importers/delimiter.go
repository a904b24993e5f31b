package importers

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A candidate dialect is chosen if its score is this much better than that of
// the best one with another separator; else a person is asked.
const clearlyBetter = 1.15

// scoredDialect is a dialect with what the sample shows under it.
type scoredDialect struct {
	Dialect
	score  float64
	width  int // number of cells of most rows
	rows   int // rows of the sample
	fits   int // rows of that width without a damaged quote
	faults int // rows with a damaged quote
	cells  int // cells that were judged
	shaped int // cells that look like a value
	known  int // headings in one row that the tables know
	sample []string
}

// chooseDialect sets the sheet's dialect and returns the usual number of cells
// of a row, and whether the first line is the hint "sep=;" that some
// spreadsheets write. Settings decide, then the hint, then the score
// p·q·(1 or, for rows of one cell, 0.05), where p is the share of rows that
// have the most common width and q the share of cells that look like a value;
// known headings in one row raise it. So one bad row never decides, and on a
// tie the form of RFC 4180 wins.
func (s *Sheet) chooseDialect(voc *vocabulary, settings Settings) (width int, hint bool) {
	said, hint := hintedDelimiter(s.text.head(64))
	asked := separators[settings["separator"]]
	only := cmp.Or(asked, said)
	ranked := s.rankDialects(voc, settings, only)
	best := ranked[0]
	for _, o := range ranked[1:] {
		if o.Delimiter[0] != best.Delimiter[0] && o.width > 1 {
			s.runnerUp = fmt.Sprintf("; with %s most rows have %d cells (--set separator=%s)", delimiterNames[o.Delimiter], o.width, delimiterNames[o.Delimiter])
			break
		}
	}
	usual := best
	for _, o := range ranked {
		if o.Delimiter == best.Delimiter && o.Quote == '"' && !o.Backslash {
			usual = o
		}
	}
	s.Dialect, s.Delimiter = best.Dialect, rune(best.Delimiter[0])
	switch name := delimiterNames[best.Delimiter]; {
	case asked != "":
		s.prove("separator", name, "it was chosen")
	case hint:
		s.prove("separator", name, "the first line says so (sep=)")
	default:
		s.prove("separator", name, best.why())
		s.askDelimiter(best, ranked[1:])
	}
	s.proveQuotes(best, usual, settings)
	return best.width, hint
}

func hintedDelimiter(text []byte) (delim string, hint bool) {
	first, _, _ := bytes.Cut(text, []byte("\n"))
	first, _, _ = bytes.Cut(first, []byte("\r"))
	rest, ok := bytes.CutPrefix(bytes.ToLower(bytes.Trim(first, "\" ")), []byte("sep="))
	if !ok || len(rest) > 1 {
		return "", false
	}
	return separators[string(rest)], separators[string(rest)] != ""
}

// rankDialects scores the candidates, the best first.
func (s *Sheet) rankDialects(voc *vocabulary, settings Settings, only string) []scoredDialect {
	sample := sampleText(s.text)
	var ranked []scoredDialect
	for _, d := range candidates(sample, settings, only) {
		ranked = append(ranked, s.scoreDialect(voc, sample, d))
	}
	weighQuotes(ranked)
	slices.SortStableFunc(ranked, func(a, b scoredDialect) int { return cmp.Compare(b.score, a.score) })
	return ranked
}

// weighQuotes makes it harder for apostrophes, and for no quotes at all, to win
// over double quotes: they must be clearly better, and a slip of the keyboard in
// one or two rows never means that quotes are plain characters.
func weighQuotes(list []scoredDialect) {
	usual := map[string]*scoredDialect{}
	for i := range list {
		if d := &list[i]; d.Quote == '"' && !d.Backslash {
			usual[d.Delimiter] = d
		}
	}
	for i := range list {
		d := &list[i]
		u := usual[d.Delimiter]
		if u == nil || d.Quote == '"' {
			continue
		}
		if d.score /= clearlyBetter; d.Quote == 0 && u.faults <= 2 {
			d.score = 0
		}
	}
}

// candidates are the dialects that the sample allows, that of RFC 4180 first.
func candidates(sample [][]byte, settings Settings, only string) (list []Dialect) {
	holds := func(text string) bool {
		return slices.ContainsFunc(sample, func(w []byte) bool { return bytes.Contains(w, []byte(text)) })
	}
	quotes := []Dialect{{Quote: '"'}}
	if holds(`\"`) {
		quotes = append(quotes, Dialect{Quote: '"', Backslash: true})
	}
	if holds(`'`) {
		quotes = append(quotes, Dialect{Quote: '\''})
		if holds(`\'`) {
			quotes = append(quotes, Dialect{Quote: '\'', Backslash: true})
		}
	}
	if holds(`"`) {
		quotes = append(quotes, Dialect{})
	}
	quotes = settings.quotes(quotes)
	for _, delim := range []string{",", ";", "\t", "|", ", "} {
		if only != "" && delim != only || only == "" && delim != "," && !holds(delim) {
			continue
		}
		for _, q := range quotes {
			q.Delimiter = delim
			list = append(list, q)
		}
	}
	return list
}

// quotes narrows the quoting down to what a person chose.
func (s Settings) quotes(list []Dialect) []Dialect {
	quote := map[string]byte{"double": '"', "single": '\'', "none": 0}
	if s["quote"] == "" && s["escape"] == "" {
		return list
	}
	d := Dialect{Quote: '"', Backslash: s["escape"] == "backslash"}
	if q, ok := quote[s["quote"]]; ok {
		d.Quote = q
	}
	return []Dialect{d}
}

func (d *scoredDialect) why() string {
	text := fmt.Sprintf("%d of %d rows have %d cells, %d of %d cells look like values", d.fits, d.rows, d.width, d.shaped, d.cells)
	if d.known > 1 {
		text += fmt.Sprintf(", %d headings are known", d.known)
	}
	return text
}

// askDelimiter asks where another separator reads the sheet about as well.
func (s *Sheet) askDelimiter(best scoredDialect, others []scoredDialect) {
	for _, o := range others {
		if o.Delimiter == best.Delimiter || o.width < 2 || o.score == best.score && o.Delimiter[0] == best.Delimiter[0] {
			continue
		}
		if o.score*clearlyBetter <= best.score {
			return
		}
		a, b := delimiterNames[best.Delimiter], delimiterNames[o.Delimiter]
		s.ask("separator", "separator", a, []string{a, b}, fmt.Sprintf(
			"Two separators read this sheet about as well. Which is right?\n  %s: %s\n  %s: %s",
			a, strings.Join(best.sample, "  /  "), b, strings.Join(o.sample, "  /  ")))
		return
	}
}

func (s *Sheet) proveQuotes(best, usual scoredDialect, settings Settings) {
	why := "cells begin and end with them"
	switch {
	case settings["quote"] != "" || settings["escape"] != "":
		why = "it was chosen"
	case best.Quote == '"' && !best.Backslash && !s.seen.quote:
		why = "no quote stands in the file"
	case best.Backslash:
		why = "quotes inside cells follow a backslash"
	case best.Quote == 0:
		why = fmt.Sprintf("as opening and closing marks they would damage %d rows of the sample", usual.faults)
		s.ask("quotes", "quote", "none", []string{"none", "double"}, "The quotation marks in this sheet do not seem to open and close cells: "+why+
			". Are they plain characters, such as inch or ditto marks? Read so for now:\n  "+strings.Join(best.sample, "\n  "))
	}
	s.prove("quotes", quoteNames[best.Quote], why)
}
