package importers

import (
	"strings"
	"testing"
)

func TestFilesThatAreNoTextSheetAreNamed(t *testing.T) {
	ref := reference(t)
	for name, tc := range map[string]struct{ raw, want string }{
		"empty":        {"", "is empty"},
		"blank":        {"\r\n;;\r\n", "holds no text"},
		"workbook":     {"PK\x03\x04rest", "damaged or cut zip archive"},
		"old workbook": {"\xD0\xCF\x11\xE0\xA1\xB1", "old workbook (xls), or one locked"},
		"gzip":         {"\x1F\x8B\x08\x00", "damaged gzip archive"},
		"picture":      {"\x89PNG\r\n", "a picture"},
		"json":         {"[ {\"part\": 1}]", "a JSON document"},
		"xml":          {"<?xml version=\"1.0\"?><list/>", "an XML document"},
		"pdf":          {"%PDF-1.4", "PDF"},
		"page":         {"\xEF\xBB\xBF \n<!DOCTYPE html><table>", "web page"},
		"program":      {"\x7fELF\x01\x02\x03rest", "no text"},
		"running text": {"Read this first.\nThe list is in the other file.\nPrices are net, as ever.\n", "running text"},
		"utf-32":       {"\xFF\xFE\x00\x00a\x00\x00\x00", "UTF-32"},
	} {
		_, err := Open(ref, "list.csv", []byte(tc.raw), nil)
		if err == nil || !strings.Contains(err.Error(), tc.want) || !strings.HasPrefix(err.Error(), "list.csv") {
			t.Errorf("%s: %v, want a sentence with %q", name, err, tc.want)
		}
	}
}

func TestTheSeparatorIsTheOneOfMostRows(t *testing.T) {
	ref := reference(t)
	rows := func(line string, n int) string { return strings.Repeat(line+"\n", n) }
	for name, tc := range map[string]struct {
		raw  string
		want rune
		set  Settings
	}{
		"decimal commas in every row": {"Part;Description;Price;Unit\n" + rows("A;Hose;12,50;L", 20), ';', nil},
		"one bad row":                 {"a,b,c\n" + rows("1,2,3", 20) + "1;2;3;4;5\n", ',', nil},
		"commas in the text":          {"a\tb\tc\n" + rows("hose, upper, long\t2\t3", 9) + rows("x\ty\tz", 4), '\t', nil},
		"pipe":                        {"a|b|c\n" + rows("1|2|3", 4), '|', nil},
		"one column":                  {"Part No\nA-1\nA-2\n", ',', nil},
		"hint":                        {"sep=;\nnumber;price\nA,1;5\nA,2;6\nA,3;7\n", ';', nil},
		"setting":                     {"a,b,c\n1,2,3\n", ';', Settings{"separator": "semicolon"}},
	} {
		s, err := Open(ref, "list.csv", []byte(tc.raw), tc.set)
		if err != nil {
			t.Fatal(err)
		}
		if s.Delimiter != tc.want {
			t.Errorf("%s: separator %q, want %q", name, s.Delimiter, tc.want)
		}
		if name == "hint" && (s.HeaderLine != 2 || s.Rows() != 3) {
			t.Errorf("the hint is not a row: heading on line %d, %d rows", s.HeaderLine, s.Rows())
		}
	}
}

func TestTheHeadingRowIsFoundBelowTitles(t *testing.T) {
	ref := reference(t)
	for name, tc := range map[string]struct {
		raw  string
		line int
		set  Settings
	}{
		"first row":          {"number,price\nA-1,5\n", 1, nil},
		"unknown headings":   {"foo,bar\nA-1,5\n", 1, nil},
		"titles":             {"Price list\nvalid from March\n\nPart No,Price\nA-1,5\nA-2,6\n", 4, nil},
		"titles, no known":   {"Price list\nfoo,bar\nA-1,5\nA-2,6\n", 2, nil},
		"said by the person": {"number,price\nfoo,bar\nA-1,5\n", 2, Settings{"header": "2"}},
		"byte order mark":    {"\xEF\xBB\xBF\"Part No\" ,Price\nA-1,5\n", 1, nil},
	} {
		s, err := Open(ref, "list.csv", []byte(tc.raw), tc.set)
		if err != nil {
			t.Fatal(err)
		}
		if s.HeaderLine != tc.line {
			t.Errorf("%s: heading on line %d, want %d", name, s.HeaderLine, tc.line)
		}
	}
	if _, err := Open(ref, "list.csv", []byte("a,b\n"), Settings{"header": "9"}); err == nil || !strings.Contains(err.Error(), "no line 9") {
		t.Errorf("a heading line behind the end gave %v", err)
	}
}

func TestSettingsThatDoNotExistAreRefused(t *testing.T) {
	ref := reference(t)
	for _, set := range []Settings{
		{"delimiter": ";"}, {"separator": "dot"}, {"header": "0"}, {"encoding": "klingon"}, {"limit-line": "-1"}, {"quote": "x"}, {"header": "3-9"}, {"decimal": ","},
		{"dates": "dym"}, {"unit": "furlong"}, {"currency": "euro"},
	} {
		if _, err := Open(ref, "list.csv", []byte("number\nA\n"), set); err == nil {
			t.Errorf("%v was taken", set)
		}
	}
	all := Settings{"separator": "tab", "header": "1", "encoding": "CP1250", "limit-line": "64KiB", "quote": "double", "decimal": Comma, "dates": "ymd", "unit": "mm,°C,psi", "currency": "EUR"}
	if _, err := Open(ref, "list.csv", []byte("number\nA\n"), all); err != nil {
		t.Error(err)
	}
}
