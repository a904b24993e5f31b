package importers

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog"
)

// Propose maps the sheet's headings to the fields of a sheet of that kind: what
// a person said first, then what was saved for the supplier, then the table of
// headings. Decimal mark, order of dates and units come from the heading, the
// settings, or the values of the whole column. Whatever would have to be guessed
// is a question: a filled column without a field, a missing required field, two
// columns for one field that differ, numbers or dates with two readings, bare
// numbers without a unit. Without questions the mapping is ready for Read. A
// reference without its tables is answered with a question too.
func Propose(ref catalog.Reference, kind catalog.SheetKind, s *Sheet, opt Options) (Mapping, []Question) {
	k := specOf(kind)
	if k == nil {
		return Mapping{}, []Question{{Question: fmt.Sprintf("There is no kind of sheet called %q: which is it?", kind),
			Choices: kindNames(), Command: "--as " + string(catalog.SupplierSheet)}}
	}
	voc, err := newVocabulary(ref)
	if err == nil {
		err = opt.Settings.check()
	}
	if err != nil {
		return Mapping{}, []Question{{Question: err.Error()}}
	}
	p := &proposal{voc: voc, kind: k, sheet: s, opt: opt, settings: Settings{}}
	if opt.Saved != nil {
		maps.Copy(p.settings, opt.Saved.Settings)
	}
	maps.Copy(p.settings, opt.Settings)
	p.assign()
	p.study()
	p.settleDoubles()
	m := Mapping{Kind: kind, Settings: p.settings}
	for i := range p.columns {
		p.finish(&m, i)
	}
	p.askMissing()
	return m, p.questions
}

// proposal is the work of one Propose.
type proposal struct {
	voc       *vocabulary
	kind      *kindSpec
	sheet     *Sheet
	opt       Options
	settings  Settings
	columns   []candidate // by column of the sheet
	questions []Question
}

// candidate is one column of the sheet while it is being mapped.
type candidate struct {
	Column
	field   field
	mapped  bool
	ignored bool
	seen    evidence
}

func (p *proposal) ask(command string, choices []string, format string, args ...any) {
	p.questions = append(p.questions, Question{Question: fmt.Sprintf(format, args...), Choices: choices, Command: command})
}

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

// finish moves a column into the mapping, or asks about it.
func (p *proposal) finish(m *Mapping, i int) {
	c := &p.columns[i]
	switch {
	case c.mapped:
		p.settleReading(c)
		m.Columns = append(m.Columns, c.Column)
	case c.ignored || c.seen.filled == 0:
		m.Ignored = append(m.Ignored, c.Heading)
	default:
		choices := p.nearest(p.sheet.Header[i])
		f := "FIELD"
		if len(choices) > 0 {
			f = choices[0]
		}
		p.ask(fmt.Sprintf("--map %s=%q or --ignore %q", f, c.Heading, c.Heading), append(choices, "ignore"),
			"Column %q (%s) is none of ours. Which field does it fill, or should it be set aside?", c.Heading, c.seen.examples())
	}
}

func (p *proposal) askMissing() {
	for _, name := range p.kind.required {
		if slices.ContainsFunc(p.columns, func(c candidate) bool { return c.mapped && c.Field == name }) {
			continue
		}
		var choices []string
		for _, c := range p.columns {
			if !c.mapped && !c.ignored && c.seen.filled > 0 {
				choices = append(choices, c.Heading)
			}
		}
		p.ask(fmt.Sprintf("--map %s=\"HEADING\"", name), choices,
			"No column holds the %s, which a %s sheet needs. Which one is it?", strings.ReplaceAll(name, "_", " "), p.kind.kind)
	}
}
