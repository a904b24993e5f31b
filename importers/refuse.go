package importers

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

// magics are the first bytes of files that are often sent instead of a text
// sheet, with what they are and what to ask for.
var magics = []struct{ prefix, looks, do string }{
	{"\xD0\xCF\x11\xE0", "an old workbook (xls), or one locked with a password", "open it, take off the password and save it as xlsx"},
	{"\x09\x08\x10\x00", "a very old workbook (xls)", "save it as xlsx"},
	{"%PDF", "a PDF document", "ask the supplier for the list as CSV: a PDF page has no columns"},
	{"{\\rtf", "a word processor document", askForCSV},
	{"\x89PNG", "a picture", askForCSV},
	{"\xFF\xD8\xFF", "a picture", askForCSV},
	{"GIF8", "a picture", askForCSV},
	{"II*\x00", "a picture", askForCSV},
	{"MM\x00*", "a picture", askForCSV},
	{"7z\xBC\xAF\x27\x1C", "a 7z archive", unpackFirst},
	{"Rar!\x1A\x07", "a rar archive", unpackFirst},
	{"BZh", "a bzip2 archive", unpackFirst},
	{"\xFD7zXZ\x00", "an xz archive", unpackFirst},
	{"\x28\xB5\x2F\xFD", "a zstd archive", unpackFirst},
	{"SQLite format 3\x00", "a database", askForCSV},
	{"PAR1", "a Parquet file", askForCSV},
}

const (
	askForCSV   = "ask the supplier for the list as CSV"
	unpackFirst = "unpack it and import the sheet inside"
	zipMagic    = "PK\x03\x04"
	emptyZip    = "PK\x05\x06"
	gzipMagic   = "\x1F\x8B"
)

// refuseOther names a file that is no text sheet by its first bytes.
func refuseOther(name string, raw []byte) error {
	if len(raw) == 0 {
		return fmt.Errorf("%s is empty: export the sheet again", name)
	}
	for _, m := range magics {
		if bytes.HasPrefix(raw, []byte(m.prefix)) {
			return looksLike(name, m.looks, m.do)
		}
	}
	return nil
}

// refuseText names text that is no sheet: a page, a JSON document, nothing.
func refuseText(name string, t *text) error {
	text := t.head(headBytes)
	head := string(bytes.ToLower(bytes.TrimSpace(text[:min(len(text), 512)])))
	for _, p := range []string{"<!doctype", "<html", "<table", "<head", "<body"} {
		if strings.HasPrefix(head, p) {
			return looksLike(name, "a web page", "ask the supplier for the list as CSV, or open the page and save its table as CSV")
		}
	}
	switch {
	case isBinary(text):
		return looksLike(name, "a program or another file that is no text", askForCSV)
	case strings.HasPrefix(head, "<?xml"):
		return looksLike(name, "an XML document", askForCSV)
	case isJSON(head):
		return looksLike(name, "a JSON document", askForCSV)
	case t.isBlank():
		return fmt.Errorf("%s holds no text: export the sheet again", name)
	}
	return nil
}

// isBlank reports whether a text holds nothing but blanks, separators and quotes.
func (t *text) isBlank() bool {
	blank := true
	t.pass(0, func(piece []byte) bool {
		blank = len(bytes.TrimLeft(piece, "\r\n \t;,|\"\x1a\x00")) == 0
		return blank
	})
	return blank
}

// headBytes is how much of a file shows what it is.
const headBytes = 4096

// isBinary reports whether a twentieth of the characters or more are control
// characters, which text holds by accident at most. UTF-16 is decoded before.
func isBinary(text []byte) bool {
	controls, all := 0, 0
	for len(text) > 0 {
		r, n := utf8.DecodeRune(text)
		text = text[n:]
		if all++; r < ' ' && !strings.ContainsRune("\t\n\v\f\r\x1a", r) || r == 0x7F || r >= 0x80 && r < 0xA0 {
			controls++
		}
	}
	return controls > 1 && controls*20 >= all
}

// refuseProse names running text: lines of several words in one column, under no
// known heading.
func (s *Sheet) refuseProse(voc *vocabulary, settings Settings) error {
	if len(s.Header) > 1 || settings["separator"] != "" || settings["header"] != "" || voc.knownHeadings(s.Header) > 0 {
		return nil
	}
	words, lines := 0, 0
	for i := range s.records.n {
		if text := s.content(i); len(bytes.TrimSpace(text)) > 0 {
			lines++
			words += len(bytes.Fields(text))
		}
	}
	if words < 3*lines {
		return nil
	}
	return fmt.Errorf("%s looks like running text: no separator cuts its lines into columns; %s, or name the separator with --set separator", s.Name, askForCSV)
}

func isJSON(head string) bool {
	rest, ok := strings.CutPrefix(head, "[")
	rest = strings.TrimSpace(rest)
	if ok && rest != "" && (rest[0] == '{' || rest[0] == '[') {
		return true
	}
	rest, ok = strings.CutPrefix(head, "{")
	rest = strings.TrimSpace(rest)
	return ok && rest != "" && (rest[0] == '"' || rest[0] == '}')
}

func looksLike(name, looks, do string) error {
	return fmt.Errorf("%s looks like %s: %s", name, looks, do)
}
