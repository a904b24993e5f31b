package importers

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
)

// askedSheet is a sheet that makes one question, and the supplier's next sheet.
type askedSheet struct {
	kind      catalog.SheetKind
	raw, next string
	opt       func() Options
	forgotten bool // the answer is about this one sheet, and asked again of the next
}

func askedSheets() map[string]askedSheet {
	many := func(n int, head, row string) string {
		var b strings.Builder
		b.WriteString(head)
		for i := range n {
			b.WriteString(strings.ReplaceAll(row, "#", fmt.Sprintf("%02d", i)))
		}
		return b.String()
	}
	onceMore := func(head, row string) askedSheet {
		return askedSheet{raw: many(9, head, row), next: many(8, head, row)}
	}
	savedOf := func(raw string, numbers ...string) func() Options {
		return func() Options {
			o := onFile(numbers...)
			s, err := openSheet(lastVocabulary.voc, "list.csv", []byte(raw), nil)
			if err != nil {
				panic(err)
			}
			m := suggestWith(lastVocabulary.voc, specOf(catalog.SupplierSheet), s, o).Mapping
			o.Saved = &m
			return o
		}
	}
	var numbers []string
	for i := range 40 {
		numbers = append(numbers, fmt.Sprintf("KV-%02d", i))
	}
	sheets := map[string]askedSheet{
		"encoding":      onceMore("Part;Text\n", "K-#;Geh\xe4use\n"),
		"twice-encoded": onceMore("Part;Text\n", "K-#;GehÃ¤use\n"),
		"separator":     {raw: "x, y; z\na, b; c\nd, e; f\n", next: "x, y; z\na, b; c\ng, h; i\n"},
		"quotes":        onceMore("Part\tBrand\tPrice\n", "A-#\t\"\t2.00\n"),
		"no-heading":    onceMore("", "K-#;5.00;cap\n"),
		"heading-rows":  {raw: ";;Price;\nPart No;Description;net;list\nA-1;Cap;5;6\n", next: ";;Price;\nPart No;Description;net;list\nA-2;Cap;5;6\n"},
		"tail":          {raw: "Part;Price;Pieces;Remark\nA-1;1,00;2;new\nA-2;2,00;3\nA-3;3,00\n", next: "Part;Price;Pieces;Remark\nA-1;1,00;2;new\nA-2;2,50;3\nA-3;3,50\n"},
		"engines":       {raw: "Part;Type;Engine\nA-1;cap;KV20/KV22\nA-2;cap;KV20\n", next: "Part;Type;Engine\nA-1;cap;KV20/KV22\nA-3;cap;KV20\n"},
		"minus": {kind: catalog.ReturnsSheet, raw: "Date;Supplier;Part;Reason;Pieces\n2026-01-05;Ostrel;A-1;leaks;-1\n2026-01-06;Ostrel;A-2;leaks;-2\n",
			next: "Date;Supplier;Part;Reason;Pieces\n2026-02-05;Ostrel;A-1;leaks;-1\n"},
		"double":     onceMore("Part;Price;Price\n", "K-#;5.5;6.5\n"),
		"column":     onceMore("Part;Rack\n", "K-#;A#\n"),
		"required":   onceMore("Foo;Price\n", "aluminium;5.00\n"),
		"decimal":    onceMore("Part;Price EUR\n", "K-#;1.234\n"),
		"dates":      onceMore("Part;Stock as of\n", "K-#;03/04/2026\n"),
		"arrows":     onceMore("Part;Years\n", "K-#;>92\n"),
		"pairs":      onceMore("Part;Years\n", "K-#;03/04\n"),
		"point-zero": onceMore("Part;Text\n", "47#.0;cap\n"),
		"percent":    onceMore("Part;Strength\n", "K-#;0.5\n"),
		"unit":       onceMore("Part;Flange\n", "K-#;54.0\n"),
		"fractions":  {kind: catalog.PurchasesSheet, raw: "Date;Supplier;Number;Quantity\n2026-01-02;Ostrel;P-1;1,5\n", next: "Date;Supplier;Number;Quantity\n2026-01-03;Ostrel;P-1;2,5\n"},
		"price-basis": {raw: "Part;Price per 100 m\nK-1;5.00\n", next: "Part;Price per 100 m\nK-1;6.00\n",
			opt: func() Options { return Options{Maps: map[string]string{"price": "Price per 100 m"}} }},
		"lost-zeros": {raw: "Part;Text\n4711;cap\n4712;cap\n", next: "Part;Text\n4711;cap\n4712;hose\n", forgotten: true,
			opt: func() Options { return onFile("0004711", "0004712") }},
		"swapped-columns": {raw: many(40, "Part;Replaced by;Price\n", "ZZ-#;KV-#;5.5\n"), forgotten: true,
			opt: savedOf(many(40, "Part;Replaced by;Price\n", "KV-#;ZZ-#;5.5\n"), numbers...)},
		"missing-column": {raw: many(9, "Part;Text\n", "KV-#;cap\n"), forgotten: true,
			opt: savedOf(many(9, "Part;Text;Price\n", "KV-#;cap;5.5\n"), numbers...)},
	}
	for code, a := range sheets {
		if a.kind == "" {
			a.kind = catalog.SupplierSheet
		}
		if a.opt == nil {
			a.opt = func() Options { return Options{} }
		}
		sheets[code] = a
	}
	return sheets
}

// noAnswers are questions that no choice of flags answers: a flag has to be written
// otherwise.
var noAnswers = []string{"setting", "no-kind", "no-field", "no-column"}

// elsewhere are questions whose test stands with what asks them.
var elsewhere = map[string]string{"hidden": "xlsx_test.go", "merged": "xlsx_test.go"}

var askCall = regexp.MustCompile(`\.ask(?:Reading)?\((?:c, )?"([a-z-]+)"`)

func askedCodes(t *testing.T) (codes []string) {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range askCall.FindAllStringSubmatch(string(text), -1) {
			if !slices.Contains(codes, m[1]) {
				codes = append(codes, m[1])
			}
		}
	}
	return codes
}

// said adds the flags of one answer, as a shell would read them.
func said(o Options, flags string) Options {
	o.Maps, o.Settings, o.Accept, o.Ignore = maps.Clone(o.Maps), maps.Clone(o.Settings), slices.Clone(o.Accept), slices.Clone(o.Ignore)
	if o.Maps == nil {
		o.Maps = map[string]string{}
	}
	if o.Settings == nil {
		o.Settings = Settings{}
	}
	name, value, _ := strings.Cut(strings.TrimPrefix(flags, "--"), " ")
	value = strings.NewReplacer(`\\`, `\`, `\"`, `"`, `"`, "").Replace(value)
	before, after, _ := strings.Cut(value, "=")
	if strings.Contains(before, ":") {
		at := strings.LastIndex(value, "=")
		before, after = value[:at], value[at+1:]
	}
	switch name {
	case "map":
		o.Maps[before] = after
	case "set":
		o.Settings[before] = after
	case "ignore":
		o.Ignore = append(o.Ignore, value)
	case "accept":
		o.Accept = append(o.Accept, value)
	}
	return o
}

// asksOf opens and maps a sheet and returns its questions by code, and the mapping.
func asksOf(t *testing.T, kind catalog.SheetKind, raw string, o Options) (map[string]Question, Mapping) {
	t.Helper()
	settings := Settings{}
	if o.Saved != nil {
		maps.Copy(settings, o.Saved.Settings.Lasting())
	}
	maps.Copy(settings, o.Settings)
	s, err := Open(reference(t), "list.csv", []byte(raw), settings)
	if err != nil {
		t.Fatalf("%q with %v: %v", raw, settings, err)
	}
	p := Suggest(reference(t), kind, s, o)
	asked := map[string]Question{}
	for _, q := range append(s.Questions(), p.Questions...) {
		asked[q.Code] = q
	}
	return asked, p.Mapping
}

// Every question prints the flags that answer it, one for each choice; each of them
// settles it, and what is not about one sheet alone is not asked of the next.
func TestEveryQuestionIsSettledByTheCommandItPrints(t *testing.T) {
	if _, err := vocabularyOf(reference(t)); err != nil {
		t.Fatal(err)
	}
	sheets := askedSheets()
	for _, code := range askedCodes(t) {
		if _, ok := sheets[code]; !ok && elsewhere[code] == "" && !slices.Contains(noAnswers, code) {
			t.Errorf("no sheet asks the question %s", code)
		}
	}
	for code, a := range sheets {
		o := a.opt()
		asked, _ := asksOf(t, a.kind, a.raw, o)
		q, ok := asked[code]
		if !ok {
			t.Errorf("%s is not asked, but %+v", code, asked)
			continue
		}
		answers := 0
		for flags := range strings.SplitSeq(q.Command, " or ") {
			if strings.Contains(flags, "FIELD") || strings.Contains(flags, "HEADING") {
				continue
			}
			answers++
			with := said(o, flags)
			again, m := asksOf(t, a.kind, a.raw, with)
			if _, still := again[code]; still {
				t.Errorf("%s: %s does not settle it: %+v", code, flags, again[code])
			}
			if a.forgotten || a.next == "" {
				continue
			}
			next := o
			next.Saved, next.Maps = &m, nil
			again, _ = asksOf(t, a.kind, a.next, next)
			if _, still := again[code]; still {
				t.Errorf("%s: %s is forgotten: the next sheet asks %+v", code, flags, again[code])
			}
		}
		if answers == 0 {
			t.Errorf("%s: no flag answers it in %q", code, q.Command)
		}
	}
}
