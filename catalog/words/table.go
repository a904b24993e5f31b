package words

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"fitfill/catalog"
)

// entry is one meaning of a phrase.
type entry struct {
	kind, value string
	any         []string // the phrases of the same row
}

// Limits are how near a part's size must come to the size that was said, and
// where a bare rating stops being one scale. They come from a table.
type Limits struct {
	LengthWhole, LengthExact, LengthInch float64 // mm
	Rating                               float64 // K
	Pressure                             float64 // kPa
	Volume                               float64 // per cent
	CelsiusLow, CelsiusHigh              float64
	FahrenheitLow, FahrenheitHigh        float64
}

// Table is the vocabulary of the counter.
type Table struct {
	phrases map[string][]entry
	numbers map[string]int
	latin   map[rune]rune
	limits  Limits

	// IsCode reports whether a text has the shape of a trouble code.
	IsCode func(string) bool
}

// mostWords is how many words a phrase or a name may have.
const mostWords = 4

// usualPhrases is about how many phrases the tables have.
const usualPhrases = 900

// NewTable reads the phrases of the table find_words, the part types of
// import_words and the look-alikes of import_lookalikes. Errors name the table
// and the line.
func NewTable(ref catalog.Tables, l Limits) (*Table, error) {
	t := &Table{phrases: make(map[string][]entry, usualPhrases), numbers: map[string]int{}, latin: map[rune]rune{}, limits: l, IsCode: func(string) bool { return false }}
	rows, err := ref.Table("find_words")
	if err != nil {
		return nil, err
	}
	for _, r := range rows {
		if err := t.add(r, r.Get("kind"), r.Get("words")); err != nil {
			return nil, err
		}
	}
	if rows, err = ref.Table("import_words"); err != nil {
		return nil, err
	}
	for _, r := range rows {
		if r.Get("field") == "type" && r.Get("word") != "*" && r.Get("value") != "other" {
			if err := t.add(r, "type", r.Get("word")+"|"+r.Get("value")); err != nil {
				return nil, err
			}
		}
	}
	if rows, err = ref.Table("import_lookalikes"); err != nil {
		return nil, err
	}
	for _, r := range rows {
		from, to := []rune(r.Get("letter")), []rune(r.Get("latin"))
		if len(from) != 1 || len(to) != 1 {
			continue
		}
		t.latin[from[0]] = to[0]
	}
	return t, nil
}

func (t *Table) add(r catalog.RefRow, kind, phrases string) error {
	any := strings.Split(phrases, "|")
	for _, p := range any {
		key := Fold(p)
		if key == "" || strings.Count(key, " ") >= mostWords {
			return fmt.Errorf("table %s, line %d: %q is no phrase of up to %d words", r.Table, r.Line, p, mostWords)
		}
		if kind == "number" {
			n, err := strconv.Atoi(r.Get("value"))
			if err != nil {
				return fmt.Errorf("table %s, line %d: %q is no number", r.Table, r.Line, r.Get("value"))
			}
			t.numbers[key] = n
			continue
		}
		same := func(e entry) bool { return e.kind == kind && e.value == r.Get("value") }
		if !slices.ContainsFunc(t.phrases[key], same) {
			t.phrases[key] = append(t.phrases[key], entry{kind, r.Get("value"), any})
		}
	}
	return nil
}

// Fold folds a phrase for comparison, German umlauts to their vowel as
// the sheets' own words have them.
func Fold(text string) string {
	folded := catalog.Fold(text)
	for i := range len(folded) {
		if folded[i] >= utf8.RuneSelf {
			return umlauts.Replace(folded)
		}
	}
	return folded
}

var umlauts = strings.NewReplacer("ä", "a", "ö", "o", "ü", "u", "ß", "ss", "é", "e", "è", "e")

// Phrases returns every single word of the vocabulary that carries a meaning,
// for spelling.
func (t *Table) Phrases() []string {
	var list []string
	for p, entries := range t.phrases {
		if !strings.Contains(p, " ") && len(p) > 3 && entries[0].kind != "filler" {
			list = append(list, p)
		}
	}
	slices.Sort(list)
	return list
}
