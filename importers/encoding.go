package importers

import (
	"bytes"
	"fmt"
	"unicode/utf8"
)

// magics are the first bytes of files that are often sent instead of a text
// sheet, with what they are and what to ask for.
var magics = []struct{ prefix, looks, do string }{
	{"PK\x03\x04", "a spreadsheet workbook (xlsx, ods) or a zip archive", "save the sheet as CSV in UTF-8, or unpack the archive, and import that file"},
	{"PK\x05\x06", "an empty zip archive", "ask the sender for the sheet as CSV"},
	{"\xD0\xCF\x11\xE0", "an old spreadsheet workbook (xls)", "save the sheet as CSV in UTF-8 and import that file"},
	{"\x1F\x8B", "a gzip archive", "unpack it and import the file inside"},
	{"%PDF", "a PDF document", "ask the supplier for the list as CSV: a PDF page has no columns"},
	{"{\\rtf", "a word processor document", "ask the supplier for the list as CSV"},
	{"\x89PNG", "a picture", "ask the supplier for the list as CSV"},
	{"\xFF\xD8\xFF", "a picture", "ask the supplier for the list as CSV"},
}

var (
	markUTF8    = []byte("\xEF\xBB\xBF")
	markUTF32LE = []byte("\xFF\xFE\x00\x00")
	markUTF32BE = []byte("\x00\x00\xFE\xFF")
	markUTF16LE = []byte("\xFF\xFE")
	markUTF16BE = []byte("\xFE\xFF")
)

const saveAsUTF8 = "save or export the sheet as CSV in UTF-8 and import it again"

// textStart returns where the text begins, behind a UTF-8 byte order mark, or
// a sentence about what the file is instead.
func textStart(name string, raw []byte) (int, error) {
	refuse := func(looks, do string) (int, error) {
		return 0, fmt.Errorf("%s looks like %s: %s", name, looks, do)
	}
	switch {
	case len(raw) == 0:
		return 0, fmt.Errorf("%s is empty: export the sheet again", name)
	case len(raw) > maxBytes:
		return 0, fmt.Errorf("%s is larger than %d MiB: split the sheet and import its parts", name, maxBytes>>20)
	}
	for _, m := range magics {
		if bytes.HasPrefix(raw, []byte(m.prefix)) {
			return refuse(m.looks, m.do)
		}
	}
	switch {
	case bytes.HasPrefix(raw, markUTF32LE), bytes.HasPrefix(raw, markUTF32BE):
		return refuse("text in UTF-32", saveAsUTF8)
	case bytes.HasPrefix(raw, markUTF16LE), bytes.HasPrefix(raw, markUTF16BE), zerosEveryOther(raw):
		return refuse(`text in UTF-16 (what spreadsheets call "Unicode text")`, saveAsUTF8)
	}
	start := 0
	if bytes.HasPrefix(raw, markUTF8) {
		start = len(markUTF8)
	}
	text := raw[start:]
	if looksLikePage(text) {
		return refuse("a web page", "ask the supplier for the list as CSV, or open the page and save its table as CSV")
	}
	if !utf8.Valid(text) {
		line := 1 + bytes.Count(text[:firstInvalid(text)], []byte("\n"))
		return refuse(fmt.Sprintf("text in an older encoding, probably Windows-1252 (line %d is not UTF-8)", line), saveAsUTF8)
	}
	if len(bytes.TrimLeft(text, "\r\n \t;,\x1a")) == 0 {
		return 0, fmt.Errorf("%s holds no text: export the sheet again", name)
	}
	return start, nil
}

// zerosEveryOther recognises UTF-16 without a mark: plain letters of it are
// valid UTF-8 with a zero byte beside each letter.
func zerosEveryOther(raw []byte) bool {
	sample := raw[:min(len(raw), 4096)]
	var even, odd int
	for i, b := range sample {
		if b == 0 && i%2 == 0 {
			even++
		} else if b == 0 {
			odd++
		}
	}
	return max(even, odd)*4 > len(sample) && min(even, odd)*8 < max(even, odd)
}

func looksLikePage(text []byte) bool {
	head := bytes.ToLower(bytes.TrimSpace(text[:min(len(text), 512)]))
	for _, p := range []string{"<!doctype", "<html", "<?xml", "<table", "<head", "<body"} {
		if bytes.HasPrefix(head, []byte(p)) {
			return true
		}
	}
	return false
}

func firstInvalid(text []byte) int {
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(text)
}
