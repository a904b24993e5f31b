package units

import (
	"strings"

	"fitfill/catalog/pattern"

	"golang.org/x/text/currency"
)

var (
	signInFront = pattern.New(`^(?:US\$|CA\$|C\$|AU\$|A\$|NZ\$|\$|€|£|¥|[A-Za-z]{3})`)
	signBehind  = pattern.New(`(?:US\$|CA\$|C\$|AU\$|A\$|NZ\$|\$|€|£|¥|[A-Za-z]{3})$`)

	signCodes = map[string]string{
		"€": "EUR", "£": "GBP", "US$": "USD", "CA$": "CAD", "C$": "CAD", "AU$": "AUD", "A$": "AUD", "NZ$": "NZD",
	}
)

// takeCurrency takes one sign or code off either end of s and holds it against
// the one found before.
func takeCurrency(s, known string) (string, string, *ParseError) {
	mark := signInFront.FindString(s)
	rest := s[len(mark):]
	if len(mark) == 3 && letter(mark, 2) && letter(rest, 0) {
		return s, known, nil
	}
	if mark == "" {
		if mark = signBehind.FindString(s); mark == "" {
			return s, known, nil
		}
		rest = s[:len(s)-len(mark)]
		if letter(mark, 2) && letter(rest, len(rest)-1) {
			return s, known, nil
		}
	}
	code := mark
	if mark != "$" && mark != "¥" {
		if code = signCodes[mark]; code == "" {
			code = isoCode(mark)
		}
	}
	switch {
	case code == "":
		return s, "", unreadable("has "+mark+", which is not an ISO 4217 currency", "write a code such as EUR, USD or GBP")
	case known == "" || known == code || shares(known, code):
		return strings.Trim(rest, " "), code, nil
	case shares(code, known):
		return strings.Trim(rest, " "), known, nil
	}
	return s, "", unreadable("has two currencies", "write the one that is meant")
}

func letter(s string, i int) bool {
	return i >= 0 && i < len(s) && (s[i]|0x20 >= 'a' && s[i]|0x20 <= 'z')
}

// shares reports whether the sign may stand for the code.
func shares(sign, code string) bool {
	return sign == "$" && strings.HasSuffix(code, "D") || sign == "¥" && (code == "JPY" || code == "CNY")
}

// settleCurrency turns what was found, or nothing, into a code.
func settleCurrency(mark, dflt string) (string, *ParseError) {
	stated := isoCode(dflt)
	switch {
	case mark == "" && dflt != "" && stated == "":
		return "", unreadable("was to be read in "+dflt+", which is not an ISO 4217 currency", "state another currency")
	case mark == "" || shares(mark, stated):
		return stated, nil
	case mark == "$":
		return "USD", nil
	case mark == "¥":
		return "", ambiguous("could be JPY or CNY", "write the currency's code")
	}
	return mark, nil
}

// isoCode returns the code in capitals if ISO 4217 lists it, "" otherwise.
func isoCode(code string) string {
	u, err := currency.ParseISO(code)
	if err != nil || u == currency.XXX {
		return ""
	}
	return u.String()
}
