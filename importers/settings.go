package importers

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// Settings are what a person fixed for a sheet, by name:
//
//	sheet      the name of one sheet of a zip archive or of a workbook
//	hidden     take or leave: what is to become of a workbook's hidden rows and columns
//	merged     once or repeat: whether a merged value stands in each cell of its area
//	encoding   utf-8, utf-16le, utf-16be, windows-1252, windows-1250, iso-8859-2, dos-850, macroman ...
//	separator  comma, semicolon, tab, pipe, comma-space, or the character itself
//	quote      double, single or none
//	escape     doubled or backslash: how a quote stands inside a quoted cell
//	header     the physical line of the heading row, two of them ("3-4") for a heading of several rows, none
//	rows       lines that are rows although they look like a section or a total: "12,15-18"
//	sections   the field that lines such as "Thermostats" between the rows fill for the rows below
//	types      description: what a part is (thermostat, seal ...) is read from its description
//	tail       trimmed or hold: what rows that end before the last heading are
//	decimal    comma or point
//	dates      dmy, mdy or ymd
//	unit       the unit of bare numbers; several may stand with commas: "mm,°C"
//	currency   a code of three letters
//	per        for how many pieces a price is: each, a number, litre or pack
//
// Those about values may be said of one column alone, with its heading behind a
// colon: "decimal:Net price". That goes before what the column's values show.
//
// and the limits limit-file, limit-unpacked, limit-ratio, limit-entries,
// limit-line, limit-field, limit-columns, limit-rows and limit-minutes, in bytes
// ("64KiB") or pieces. An encoding is only needed for a file that is not UTF-8 or UTF-16.
type Settings map[string]string

var settingNames = []string{"sheet", "hidden", "merged", "encoding", "separator", "quote", "escape", "header", "rows", "sections", "types", "tail", "decimal", "dates", "unit", "currency", "per"}

func init() {
	for _, size := range sizeSettings {
		settingNames = append(settingNames, size.name)
	}
}

var separators = map[string]string{
	"comma": ",", ",": ",", "semicolon": ";", ";": ";", "tab": "\t", "\t": "\t", `\t`: "\t", "pipe": "|", "|": "|",
	"comma-space": ", ", ", ": ", ",
}

func (s Settings) check() error {
	for _, full := range slices.Sorted(maps.Keys(s)) {
		name, heading, ofColumn := strings.Cut(full, ":")
		value := s[full]
		switch {
		case !slices.Contains(settingNames, name):
			return fmt.Errorf("there is no setting %q: the settings are %s", name, strings.Join(settingNames, ", "))
		case ofColumn && !slices.Contains(columnSettings, name):
			return fmt.Errorf("setting %s is about the whole sheet: of one column may be set %s", name, strings.Join(columnSettings, ", "))
		case ofColumn && trim(heading) == "":
			return fmt.Errorf("setting %s: write the heading of the column behind the colon, as in --set %s:\"Their heading\"=%s", name, name, value)
		}
		if err := s.checkValue(name, value); err != nil {
			return err
		}
	}
	return nil
}

// wordSettings are the settings that take one of a few words.
var wordSettings = map[string][]string{
	"quote": {"double", "single", "none"}, "escape": {"doubled", "backslash"}, "tail": {"trimmed", "hold"},
	"types": {"description"}, "hidden": {"take", "leave"}, "merged": {"once", "repeat"},
	"decimal": {Comma, Point}, "dates": dateOrders,
}

func (s Settings) checkValue(name, value string) error {
	ok, want := true, ""
	if words := wordSettings[name]; words != nil {
		ok, want = slices.Contains(words, value), strings.Join(words, " or ")
	}
	switch name {
	case "separator":
		_, ok = separators[value]
		want = "comma, semicolon, tab, pipe or comma-space"
	case "header":
		_, _, ok = headerLines(value)
		want = "the number of a line, 1 being the first, two numbers (3-4) for a heading of several rows, or none"
	case "rows":
		_, ok = lineSpans(value)
		want = "lines and stretches of lines, such as 12,15-18"
	case "encoding":
		ok, want = encodingKey(value) != "", strings.Join(encodingNames(), ", ")
	case "per":
		ok = value == "each" || value == "litre" || value == "pack" || strings.Trim(value, "0123456789") == "" && len(value) < 7 && strings.TrimLeft(value, "0") == value && value != ""
		want = "each, litre, pack or a number of pieces"
	case "currency":
		ok, want = isCurrencyCode(value), "a code of three capital letters such as EUR"
	case "unit":
		for _, u := range strings.Split(value, ",") {
			if _, err := units.ParseUnit(u); err != nil {
				return fmt.Errorf("setting unit: %w", err)
			}
		}
	}
	for _, size := range sizeSettings {
		if size.name == name {
			_, ok = parseSize(value)
			want = "a whole number of " + size.says + "; KiB, MiB or GiB may stand behind it"
		}
	}
	if !ok {
		return fmt.Errorf("setting %s cannot be %q: it takes %s", name, value, want)
	}
	return nil
}

// headerLines reads the setting "header"; none gives 0 and 0.
func headerLines(text string) (first, last int, ok bool) {
	if text == "none" {
		return 0, 0, true
	}
	a, b, two := strings.Cut(text, "-")
	first, err := strconv.Atoi(a)
	if last = first; two && err == nil {
		last, err = strconv.Atoi(b)
	}
	return first, last, err == nil && first > 0 && first <= last && last-first < maxHeadingRows
}

// columnSettings may be said of one column.
var columnSettings = []string{"decimal", "dates", "unit", "currency", "per", "percent", "arrows", "pairs", "point-zero", "pad", "fractions", "minus", "engines"}

// ofColumn returns what was said of one column, else what was said of the sheet.
func (s Settings) ofColumn(name, heading string) (value string, own bool) {
	if v, ok := s[name+":"+heading]; ok {
		return v, true
	}
	for full, v := range s {
		if n, h, two := strings.Cut(full, ":"); two && n == name && fold(h) == fold(heading) && fold(h) != "" {
			return v, true
		}
	}
	return s[name], false
}

// unitIn returns the first of several units that quantities of that kind have.
func unitIn(texts string, kind catalog.Kind) units.Unit {
	if texts == "" {
		return ""
	}
	for _, text := range strings.Split(texts, ",") {
		if u, err := units.ParseUnit(text); err == nil && measures(u, kind) {
			return u
		}
	}
	return ""
}

// Lasting returns the settings that hold for the supplier's next sheet too:
// numbers of lines do not.
func (s Settings) Lasting() Settings {
	s = maps.Clone(s)
	delete(s, "rows")
	return s
}

func isCurrencyCode(s string) bool {
	return len(s) == 3 && strings.Trim(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
}
