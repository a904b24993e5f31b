package importers

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog"
)

// Propose is Suggest without the reasons.
func Propose(ref catalog.Reference, kind catalog.SheetKind, s *Sheet, opt Options) (Mapping, []Question) {
	p := Suggest(ref, kind, s, opt)
	return p.Mapping, p.Questions
}

// Proposal is a mapping with how it was come by.
type Proposal struct {
	Mapping     Mapping
	Questions   []Question
	Suggestions []Suggestion // one for every filled column that no person and no saved mapping placed
	Notes       []string     // what was decided without asking and is worth reading
	Command     string       // the flags that accept every suggestion
}

// Suggestion says which field a column seems to fill and by what evidence.
type Suggestion struct {
	Heading  string
	Field    string // empty where nothing comes near
	Score    float64
	Evidence string
	Taken    bool // sure enough to be used without a question
}

// Suggest maps the sheet's headings to the fields of a sheet of that kind: what
// a person said first, then what was saved for the supplier, then the table of
// headings, then the likeness of headings and values. Headings and values of a
// column are weighed together, each field goes to one column, and what is not
// sure enough is left open. Decimal mark, order of dates, units and the like come
// from the heading, from the values of the whole column, or from the settings
// where the values do not show them. Whatever would have to be guessed is a
// question: a filled column without a field, a missing required field, two
// columns for one field that differ, values with two readings, bare numbers
// without a unit, values that changed places since the last sheet. Without
// questions the mapping is ready for Read. A reference without its tables is
// answered with a question too.
func Suggest(ref catalog.Reference, kind catalog.SheetKind, s *Sheet, opt Options) Proposal {
	k := specOf(kind)
	if k == nil {
		return Proposal{Questions: []Question{{Code: "no-kind", Question: fmt.Sprintf("There is no kind of sheet called %q: which is it?", kind),
			Choices: kindNames(), Command: "--as " + string(catalog.SupplierSheet)}}}
	}
	voc, err := vocabularyOf(ref)
	if err == nil {
		err = opt.Settings.checkMeaning()
	}
	if err != nil {
		return Proposal{Questions: []Question{{Code: "setting", Question: err.Error()}}}
	}
	return suggestWith(voc, k, s, opt)
}

func suggestWith(voc *vocabulary, k *kindSpec, s *Sheet, opt Options) Proposal {
	p := &proposal{voc: voc, kind: k, sheet: s, opt: opt, settings: Settings{}}
	if opt.Saved != nil {
		maps.Copy(p.settings, opt.Saved.Settings)
	}
	maps.Copy(p.settings, opt.Settings)
	p.assign()
	p.checkColumns()
	p.study(nil)
	p.suggest()
	p.settleDoubles()
	m := Mapping{Kind: k.kind, Settings: p.settings, Signature: voc.signature(s)}
	for i := range p.columns {
		p.finish(&m, i)
	}
	p.mapSections(&m)
	p.typesFromText(&m)
	p.askMissing()
	p.askGone()
	p.measure(&m)
	p.version(&m)
	p.askDrift(&m)
	p.writeAnswers()
	p.result.Mapping, p.result.Command = m, strings.Join(p.accepts, " ")
	return p.result
}

// proposal is the work of one Suggest.
type proposal struct {
	voc      *vocabulary
	kind     *kindSpec
	sheet    *Sheet
	opt      Options
	settings Settings
	columns  []candidate // by column of the sheet
	readings []openReading
	nearTo   map[string]map[string]bool // by heading, the fields whose names are close to it
	zeros    bool                       // the part numbers have lost their zeros, and are not swapped with anything
	changed  bool                       // the supplier's last sheet had other headings
	gone     []Column                   // columns of the last sheet that are not in this one
	accepts  []string
	result   Proposal
}

// candidate is one column of the sheet while it is being mapped.
type candidate struct {
	Column
	field   field
	mapped  bool
	ignored bool
	said    bool // by a person
	known   bool // from the supplier's last sheet
	listed  bool // by the table of headings
	seen    evidence
	shape   valueShape
	values  map[string]scored
	guess   *Suggestion
}

func (p *proposal) ask(code, command string, choices []string, format string, args ...any) {
	p.result.Questions = append(p.result.Questions, Question{Code: code, Question: fmt.Sprintf(format, args...), Choices: choices, Command: command})
}

func (p *proposal) note(format string, args ...any) {
	p.result.Notes = append(p.result.Notes, fmt.Sprintf(format, args...))
}

// accepted reports whether a person answered the question of that code with
// "go on".
func (p *proposal) accepted(code string) bool { return slices.Contains(p.opt.Accept, code) }

// find returns the column that a person calls by that name, −1 if there is
// none.
func (p *proposal) find(name string) int {
	for i := range p.columns {
		if p.columns[i].Heading == trim(name) {
			return i
		}
	}
	for i := range p.columns {
		if fold(p.columns[i].Heading) == fold(name) && fold(name) != "" {
			return i
		}
	}
	return -1
}

func (p *proposal) headings() []string {
	names := make([]string, len(p.columns))
	for i := range p.columns {
		names[i] = p.columns[i].Heading
	}
	return names
}

func kindNames() []string {
	names := make([]string, len(catalog.SheetKinds))
	for i, k := range catalog.SheetKinds {
		names[i] = string(k)
	}
	return names
}
