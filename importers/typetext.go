package importers

import (
	"slices"
	"strings"

	"fitfill/catalog"
)

// typesHeading names the words of the descriptions where they say what the parts
// are (setting "types").
const typesHeading = "words of the descriptions"

// typesFromText reads what the parts are from their descriptions where a person
// said so, and else says that it could be done: a list that is asked for its
// thermostats gives none if no column says which they are.
func (p *proposal) typesFromText(m *Mapping) {
	placed := func(field string) int {
		return slices.IndexFunc(m.Columns, func(c Column) bool { return c.Field == field })
	}
	at := placed("description")
	if p.kind.kind != catalog.SupplierSheet || placed("type") >= 0 {
		return
	}
	if p.settings["types"] != "" {
		if at < 0 {
			p.ask("setting", "--map description=\"HEADING\"", p.headings(), "No column holds descriptions from which the kind of part could be read. Which one is it?")
			return
		}
		m.Columns = append(m.Columns, Column{Heading: typesHeading, Index: m.Columns[at].Index, Field: "type", FromText: true})
		return
	}
	if at < 0 || placed("engine") < 0 && placed("make") < 0 && placed("model") < 0 {
		return
	}
	c := &p.columns[m.Columns[at].Index]
	var found []string
	known := 0
	for _, t := range c.shape.texts {
		if kind := p.voc.typeIn(t); kind != "" {
			if known++; !slices.Contains(found, kind) {
				found = append(found, kind)
			}
		}
	}
	if 2*known < len(c.shape.texts) || known == 0 {
		return
	}
	slices.Sort(found)
	p.note("No column says what a part is, so that nobody finds these who asks for one kind of part. The descriptions say it (%s): --set types=description reads it from them.",
		strings.Join(found[:min(len(found), 4)], ", "))
}

// typeIn returns what kind of part a description names: "Thermostat 82 °C",
// "Radiator cap 15 lb", "Upper hose", "O-ring 53 x 3.5". The words in front of the
// first number must end in one kind and name no other: "Thermostat cover" and
// "Thermostat, housing and seal" may be anything.
func (v *vocabulary) typeIn(text string) string {
	text = text[:min(len(text), mostDescribed)]
	head := text
	for _, mark := range []string{",", ";", "(", "+", "&", "/", " - ", " – "} {
		head, _, _ = strings.Cut(head, mark)
	}
	if head != text && v.typeIn(strings.TrimLeft(text[len(head):], ",;(+&/-– ")) != "" {
		return "" // a second part, or the first one's place
	}
	words := v.leadingWords(head)
	for len(words) > 0 && v.describesFluid(words[len(words)-1]) {
		words = words[:len(words)-1]
	}
	kind := ""
	for from := 0; from < len(words); {
		n, is := v.typeAt(words[from:])
		if n == 0 {
			if kind != "" {
				return "" // other words stand behind it
			}
			from++
			continue
		}
		if kind != "" && is != kind {
			return ""
		}
		kind, from = is, from+n
	}
	return kind
}

// mostDescribed is how much of a description, in bytes, can say what the part is.
const mostDescribed = 200

// leadingWords are the folded words of a text up to the first that holds a digit or
// joins something else to it.
func (v *vocabulary) leadingWords(text string) []string {
	words := strings.Fields(fold(text))
	for i, w := range words {
		if hasDigit(w) || i > 0 && v.words["joint"][w] != nil {
			return words[:i]
		}
	}
	return words
}

// typeAt finds the longest name of a kind of part with which the words begin.
func (v *vocabulary) typeAt(words []string) (n int, kind string) {
	for n := min(len(words), 4); n > 0; n-- {
		if values := v.words["type"][strings.Join(words[:n], " ")]; len(values) == 1 {
			return n, values[0]
		}
	}
	return 0, ""
}

// describesFluid recognises what may stand behind the word coolant: its colour, its
// chemistry, how it is delivered.
func (v *vocabulary) describesFluid(word string) bool {
	for _, list := range []string{"colour", "chemistry", "form", "glycol"} {
		if v.words[list][word] != nil {
			return true
		}
	}
	return false
}
