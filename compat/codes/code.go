package codes

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
)

// Scope says who defines a code.
type Scope string

// The scopes.
const (
	ByStandard Scope = "standard"     // defined by SAE J2012 / ISO 15031-6
	ByMaker    Scope = "maker"        // defined by the vehicle's maker
	Elsewhere  Scope = "other system" // chassis, body, network, or nothing of cooling
)

// Code is a trouble code, such as P0128, with the failure type byte that some
// testers add after a dash.
type Code struct {
	Text    string // P0128
	Failure string // 00, where the tester gave one
}

// shape is SAE J2012: the system, who defines it, three hexadecimal digits;
// and the failure type of two hexadecimal digits (J2012 digital annex).
var shape = pattern.New(`^([PCBU][0-3][0-9A-F]{3})(?:-?([0-9A-F]{2}))?$`)

// withoutZero is a code whose second digit was left out.
var withoutZero = pattern.New(`^([PCBU])([1-9][0-9A-F]{2})$`)

// Parse reads a trouble code; capitals, spaces and dashes do not matter. The
// error says what the shape is.
func Parse(text string) (Code, error) {
	m := shape.FindStringSubmatch(strings.ToUpper(strings.Join(strings.Fields(text), "")))
	if m == nil {
		hint := ""
		if short := withoutZero.FindStringSubmatch(catalog.Key(text)); short != nil {
			hint = fmt.Sprintf(": %s0%s is meant, perhaps", short[1], short[2])
		}
		return Code{}, fmt.Errorf("%q is no trouble code: a letter P, C, B or U and four digits, such as P0128%s", text, hint)
	}
	return Code{m[1], m[2]}, nil
}

// Scope returns who defines the code: the second digit is 0 or 2 where the
// standard does, 1 where the maker does; of P3 the upper part is the
// standard's (SAE J2012).
func (c Code) Scope() Scope {
	switch {
	case c.Text[0] != 'P':
		return Elsewhere
	case c.Text[1] == '1', c.Text[1] == '3' && c.Text[2] < '4':
		return ByMaker
	case c.Text[1] == '3': // cylinder deactivation; no code of cooling stands there
		return Elsewhere
	}
	return ByStandard
}
