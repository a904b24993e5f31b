package importers

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
)

// The reference tables that this package reads.
const (
	headingsTable = "import_headings"
	wordsTable    = "import_words"
)

// vocabulary is the tables in the form in which they are looked up.
type vocabulary struct {
	headings map[catalog.SheetKind]map[string]string // folded heading -> field
	any      map[string]bool                         // every folded heading of any kind
	words    map[string]map[string][]string          // word list -> folded word -> values
	closed   map[string]bool                         // lists whose unknown words hold the row

	limits     limits
	lookalikes map[rune]string
}

// newVocabulary reads the tables. Several headings or words of one row stand
// with "|" between them, several kinds or lists with a space. The word "*" says
// what happens to words that are not listed: "hold" or "keep".
func newVocabulary(ref catalog.Reference) (*vocabulary, error) {
	v := &vocabulary{
		headings: map[catalog.SheetKind]map[string]string{}, any: map[string]bool{},
		words: map[string]map[string][]string{}, closed: map[string]bool{},
	}
	var err error
	if v.limits, err = readLimits(ref); err != nil {
		return nil, err
	}
	if v.lookalikes, err = readLookalikes(ref); err != nil {
		return nil, err
	}
	if err := v.readWords(ref); err != nil {
		return nil, err
	}
	rows, err := ref.Table(headingsTable)
	if err != nil {
		return nil, err
	}
	for _, k := range kinds() {
		v.headings[k.kind] = map[string]string{}
		for _, f := range k.fields {
			v.addHeading(k.kind, v.headingKey(f.name), f.name)
		}
	}
	for _, row := range rows {
		if err := v.readHeadings(row); err != nil {
			return nil, err
		}
	}
	return v, nil
}

// readHeadings adds the headings of one row to the kinds that it names and that
// have its field.
func (v *vocabulary) readHeadings(row catalog.RefRow) error {
	field, named := row.Get("field"), strings.Fields(row.Get("kind"))
	var keys []string
	for _, h := range strings.Split(row.Get("heading"), "|") {
		keys = append(keys, v.headingKey(h))
	}
	for _, name := range named {
		k := specOf(catalog.SheetKind(name))
		if k == nil {
			return fmt.Errorf("table %s, line %d: there is no kind of sheet called %q", headingsTable, row.Line, name)
		}
		if _, ok := k.field(field); !ok {
			return fmt.Errorf("table %s, line %d: a %s sheet has no field %q", headingsTable, row.Line, name, field)
		}
		for _, key := range keys {
			if old := v.headings[k.kind][key]; old != "" && old != field {
				return fmt.Errorf("table %s, line %d: heading %q of a %s sheet already means %s", headingsTable, row.Line, key, k.kind, old)
			}
			v.addHeading(k.kind, key, field)
		}
	}
	return nil
}

func (v *vocabulary) readWords(ref catalog.Reference) error {
	rows, err := ref.Table(wordsTable)
	if err != nil {
		return err
	}
	for _, row := range rows {
		for _, list := range strings.Fields(row.Get("field")) {
			if row.Get("word") == "*" {
				v.closed[list] = row.Get("value") == "hold"
				continue
			}
			if v.words[list] == nil {
				v.words[list] = map[string][]string{}
			}
			for _, w := range strings.Split(row.Get("word"), "|") {
				key := wordKey(w)
				values := strings.Split(row.Get("value"), "|")
				if old, ok := v.words[list][key]; ok && !slices.Equal(old, values) {
					return fmt.Errorf("table %s, line %d: the word %q of %s already means %s", wordsTable, row.Line, w, list, strings.Join(old, " or "))
				}
				v.words[list][key] = values
			}
		}
	}
	return nil
}

// wordKey folds a word; a word of signs alone ("✓", "+") stays as it is.
func wordKey(word string) string {
	if k := fold(word); k != "" {
		return k
	}
	return trim(word)
}

func (v *vocabulary) addHeading(kind catalog.SheetKind, key, field string) {
	v.headings[kind][key] = field
	v.any[key] = true
}

// headingKey folds a heading and writes its short forms out ("Part #" and
// "Part Nr." become the same key).
func (v *vocabulary) headingKey(heading string) string {
	tokens := strings.Fields(fold(strings.ReplaceAll(heading, "Ø", " diameter ")))
	for i, t := range tokens {
		if full := v.words["heading_token"][t]; len(full) > 0 {
			tokens[i] = full[0]
		}
	}
	return strings.Join(tokens, " ")
}

// knownHeadings counts the distinct cells that are headings of any kind of
// sheet.
func (v *vocabulary) knownHeadings(cells []string) int {
	seen := map[string]bool{}
	for _, c := range cells {
		if len(c) > maxHeading || trim(c) == "" {
			continue
		}
		for _, base := range headingBases(c) {
			if key := v.headingKey(base); v.any[key] {
				seen[key] = true
				break
			}
		}
	}
	return len(seen)
}

// maxHeading is the length beyond which a cell is a sentence, not a heading.
const maxHeading = 80
