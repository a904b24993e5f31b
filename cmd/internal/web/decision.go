package web

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog/pattern"
	"fitfill/cmd/internal/app"
)

// decision is a question about a sheet that only a person can answer.
type decision struct {
	Question string
	Gate     bool
	Answers  []answer // to choose one from
	Name     string   // of the field that takes an answer in words; empty: none
	Near     string   // supplier that it may be under another name
	Also     string   // the other name
}

// answer is one answer to a question, and what it says to the import, in the
// words of the command line.
type answer struct {
	Text, Says string
	Proposed   bool
}

// told is one thing that is said to an import: the place of a setting or a field
// in front of the sign, or the gate that is accepted.
type told struct{ flag, name, value string }

var (
	saidToImport = pattern.New(`--(set|map) ((?:"[^"]*"|[^\s="])+)=("(?:[^"\\]|\\.)*"|\S+)|--(accept) ([^\s"=]+(?:="[^"]*"|=\S+)?)|--(supplier|as|ignore) ("(?:[^"\\]|\\.)*"|\S+)`)
	otherName    = pattern.New(`suppliers alias "([^"]*)" "([^"]*)"`)
)

// toldIn reads what a command says to an import, all of it.
func toldIn(command string) []told {
	var list []told
	for _, m := range saidToImport.FindAllStringSubmatch(command, -1) {
		switch {
		case m[1] != "":
			list = append(list, told{m[1], strings.ReplaceAll(m[2], `"`, ""), bareWord(m[3])})
		case m[4] != "":
			list = append(list, told{m[4], "", strings.ReplaceAll(m[5], `"`, "")})
		default:
			list = append(list, told{m[6], "", bareWord(m[7])})
		}
	}
	return list
}

func bareWord(text string) string {
	if plain, err := strconv.Unquote(text); err == nil {
		return plain
	}
	return strings.Trim(text, `"`)
}

// says writes what is told as a command does, for toldIn to read.
func (t told) says() string {
	if t.name == "" {
		if t.flag == "accept" {
			return "--accept " + t.value
		}
		return "--" + t.flag + " " + strconv.Quote(t.value)
	}
	return "--" + t.flag + " " + strconv.Quote(t.name) + "=" + strconv.Quote(t.value)
}

// placeholders stand in a command for what a person fills in.
var placeholders = []string{"FIELD", "HEADING", "VALUE", "NAME", "LINE"}

// decisionOf makes a field of the commands that answer a question: one answer for
// each choice, with everything that it says.
func decisionOf(o app.OpenQuestion) decision {
	d := decision{Question: o.Question, Gate: o.Gate != ""}
	if m := otherName.FindStringSubmatch(o.Command); m != nil {
		d.Near, d.Also = m[1], m[2]
	}
	ways := toldIn(o.Command)
	if d.Gate || len(ways) == 0 {
		return d
	}
	for _, choice := range o.Choices {
		if t, ok := wayOf(choice, o.Choices, ways); ok && choice != d.Near {
			d.Answers = append(d.Answers, answer{Text: choice, Says: t.says(), Proposed: t == ways[0]})
		}
	}
	if len(d.Answers) > 0 {
		return d
	}
	if first := ways[0]; slices.Contains(placeholders, first.value) {
		d.Name = strings.TrimSuffix(first.flag+"."+first.name, ".")
		return d
	}
	for _, w := range ways {
		d.Answers = append(d.Answers, answer{Text: strings.ReplaceAll(w.value, "-", " "), Says: w.says()})
	}
	return d
}

// wayOf returns what a choice says: the way of the command that names it, for a
// last one such as "none" the way that accepts, else a way with the choice in
// place of what it has there.
func wayOf(choice string, choices []string, ways []told) (told, bool) {
	for _, w := range ways {
		if w.value == choice || w.name == choice || w.flag == choice {
			return w, true
		}
	}
	if i := slices.IndexFunc(ways, func(w told) bool { return w.flag == "accept" }); i >= 0 && choice == choices[len(choices)-1] {
		return ways[i], true // what is no field and no heading stands last
	}
	open := func(text string) bool { return slices.Contains(choices, text) || slices.Contains(placeholders, text) }
	for _, w := range ways {
		switch {
		case w.name != "" && open(w.name):
			return told{w.flag, choice, w.value}, true
		case open(w.value) || w.flag == "as":
			return told{w.flag, w.name, choice}, true
		}
	}
	return told{}, false
}

// decided adds to a question about a sheet what a person answered.
func decided(form map[string][]string, q *app.ImportQuestion) {
	q.Maps, q.Settings = map[string]string{}, map[string]string{}
	var all []told
	for _, text := range form["answer"] {
		all = append(all, toldIn(text)...)
	}
	for name, values := range form {
		if flag, rest, ok := strings.Cut(name, "."); (ok || flag == "supplier" || flag == "as") && strings.TrimSpace(values[0]) != "" {
			all = append(all, told{flag, rest, strings.TrimSpace(values[0])})
		}
	}
	for _, t := range all {
		switch t.flag {
		case "set":
			q.Settings[t.name] = t.value
		case "map":
			q.Maps[t.name] = t.value
		case "ignore":
			q.Ignore = append(q.Ignore, t.value)
		case "accept":
			q.Accept = append(q.Accept, t.value)
		case "supplier":
			q.Supplier = t.value
		case "as":
			q.As = t.value
		}
	}
}

func writeDecision(s *site, r *http.Request) (reply, error) {
	id, err := sheetID(r.PostForm.Get("id"))
	if err != nil {
		return reply{}, err
	}
	if r.PostForm.Get("do") == "drop" {
		return reply{see: "/office/sheets"}, s.shop.DropStaged(r.Context(), id)
	}
	if near, also, ok := strings.Cut(r.PostForm.Get("alias"), aliasCut); ok {
		if err := s.shop.AddSupplierName(r.Context(), near, also); err != nil {
			return reply{}, err
		}
	}
	var more app.ImportQuestion
	decided(r.PostForm, &more)
	a, err := s.shop.AcceptStaged(r.Context(), id, more)
	if err != nil {
		return reply{}, err
	}
	return reply{a, importPageOf(a), ""}, nil
}

// aliasCut stands between a supplier and its other name in the value of a
// button.
const aliasCut = " = "
