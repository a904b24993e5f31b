package importers

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// Settings are what a person fixed for a sheet, by name:
//
//	separator  comma, semicolon, tab, pipe, or the character itself
//	header     the physical line of the heading row
//	encoding   utf-8
//	decimal    comma or point
//	dates      dmy, mdy or ymd
//	unit       the unit of bare numbers; several may stand with commas: "mm,°C"
//	currency   a code of three letters
type Settings map[string]string

var settingNames = []string{"separator", "header", "encoding", "decimal", "dates", "unit", "currency"}

var separators = map[string]byte{
	"comma": ',', ",": ',', "semicolon": ';', ";": ';', "tab": '\t', "\t": '\t', `\t`: '\t', "pipe": '|', "|": '|',
}

func (s Settings) check() error {
	for name, value := range s {
		if !slices.Contains(settingNames, name) {
			return fmt.Errorf("there is no setting %q: the settings are %s", name, strings.Join(settingNames, ", "))
		}
		if err := s.checkValue(name, value); err != nil {
			return err
		}
	}
	return nil
}

func (s Settings) checkValue(name, value string) error {
	ok, want := true, ""
	switch name {
	case "separator":
		_, ok = separators[value]
		want = "comma, semicolon, tab or pipe"
	case "header":
		n, err := strconv.Atoi(value)
		ok, want = err == nil && n > 0, "the number of a line, 1 being the first"
	case "encoding":
		ok, want = slices.Contains([]string{"utf-8", "utf8"}, strings.ToLower(value)), "utf-8"
	case "decimal":
		ok, want = value == Comma || value == Point, "comma or point"
	case "dates":
		ok, want = slices.Contains(dateOrders, value), strings.Join(dateOrders, ", ")
	case "currency":
		ok, want = isCurrencyCode(value), "a code of three capital letters such as EUR"
	case "unit":
		for _, u := range strings.Split(value, ",") {
			if _, err := units.ParseUnit(u); err != nil {
				return fmt.Errorf("setting unit: %w", err)
			}
		}
	}
	if !ok {
		return fmt.Errorf("setting %s cannot be %q: it takes %s", name, value, want)
	}
	return nil
}

// unitFor returns the unit set for quantities of that kind, if any.
func (s Settings) unitFor(kind catalog.Kind) units.Unit {
	if s["unit"] == "" {
		return ""
	}
	for _, text := range strings.Split(s["unit"], ",") {
		if u, err := units.ParseUnit(text); err == nil && measures(u, kind) {
			return u
		}
	}
	return ""
}

func isCurrencyCode(s string) bool {
	return len(s) == 3 && strings.Trim(s, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == ""
}
