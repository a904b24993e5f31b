package app

import (
	"strings"
	"testing"
)

// Held rows of every shape are kept with the text that stands in the file, and
// the commit and the doctor both find them there.
func TestHeldRowsOfEveryShapeAreKeptAsTheyStandInTheFile(t *testing.T) {
	const head = "number;type;price (EUR)\n"
	long := strings.Repeat("x", 3<<20)
	for name, tc := range map[string]struct {
		raw      string
		settings map[string]string
		held     int
	}{
		"a mark before a held first row":  {"\xEF\xBB\xBF3-Oct;thermostat;5,00\nA-1;thermostat;5,00\nA-2;cap;6,00\n", map[string]string{"header": "none"}, 1},
		"the end-of-file character":       {head + "A-1;cap;5,00\n3-Oct;cap;5,00\x1a\x1a", nil, 1},
		"an endless line":                 {head + "A-1;cap;5,00\n" + long + ";cap;5,00\nA-2;cap;6,00\n", nil, 1},
		"an endless line of broken bytes": {head + "A-1;cap;5,00\nA-\xfc" + long + ";cap;5,00\nA-2;cap;6,00\n", map[string]string{"encoding": "utf-8"}, 1},
		"a line of another encoding":      {head + "A-1;cap;5,00\n\xdc-7;Geh\xe4use;5,00\nA-2;Gehäuse;6,00\n", map[string]string{"encoding": "utf-8"}, 1},
		"an undefined byte":               {head + "A-1;cap;5,00\nA-\x81;Geh\x8duse;5,00\nA-2;Gehäuse;6,00\n", map[string]string{"encoding": "utf-8"}, 1},
		"only broken bytes":               {head + "A-1;Gehäuse;5,00\n\xfc\xe4\xf6\nA-2;cap;6,00\n", map[string]string{"encoding": "utf-8"}, 1},
		"a zero byte":                     {head + "A-1;cap;5,00\nA-\x002;cap;6,00\nA-3;cap;7,00\n", nil, 1},
		"a quote over lines":              {head + "A-1;cap;5,00\nA-2;\"cap;6,00\nA-3;cap;7,00\nA-4;x\";7,00\n", nil, 1},
		"blanks around":                   {head + "A-1;cap;5,00\n   3-Oct ; cap ; 6,00  \nA-3;cap;7,00\n", nil, 1},
		"line separators that are text":   {head + "A-1;cap;5,00\n3-Oct;cap\u2028\u0085;6,00\nA-3;cap;7,00\n", nil, 1},
		"CR CR LF":                        {strings.ReplaceAll(head+"A-1;cap;5,00\n3-Oct;cap;6,00\nA-3;cap;7,00\n", "\n", "\r\r\n"), nil, 1},
		"CR alone":                        {strings.ReplaceAll(head+"A-1;cap;5,00\n3-Oct;cap;6,00\nA-3;cap;7,00\n", "\n", "\r"), nil, 1},
		"UTF-16":                          {wide(head + "A-1;Gehäuse;5,00\n3-Oct;Gehäuse;6,00\nA-3;cap;7,00\n"), nil, 1},
		"half a letter at the end":        {head + "A-1;cap;5,00\n3-Oct;Geh\xc3", map[string]string{"encoding": "utf-8"}, 1},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := garage(t)
			q := ImportQuestion{Name: "list.csv", Raw: []byte(tc.raw), Supplier: "Ostrel", Settings: tc.settings}
			if tc.settings["header"] == "none" {
				q.Maps = map[string]string{"number": "A", "type": "B", "price": "C"}
			}
			if tc.settings == nil {
				q.Settings = map[string]string{}
			}
			q.Settings["currency"] = "EUR"
			a := s.mustImport(t, q, Imported)
			if a.RowsHeld != tc.held {
				t.Errorf("%d rows held, want %d: %+v", a.RowsHeld, tc.held, a.Held)
			}
			s.mustBeSound(t)
		})
	}
}

// wide writes text in UTF-16 with a byte order mark.
func wide(text string) string {
	b := []byte{0xff, 0xfe}
	for _, r := range text {
		b = append(b, byte(r), byte(r>>8))
	}
	return string(b)
}
