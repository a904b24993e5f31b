package units

import (
	"strings"
	"unicode"
)

// maxText is the longest text a parse function looks at, in bytes. No
// statement of one quantity comes near it; a longer cell is a remark.
const maxText = 200

var vulgarFractions = map[rune]string{
	'½': "1/2", '¼': "1/4", '¾': "3/4", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8", '⅓': "1/3", '⅔': "2/3",
}

// clean folds what spreadsheets and typesetters put in place of plain
// characters: odd spaces, invisible marks, dashes, minus signs, full-width
// forms, printed fractions, primes and quotes. Values are not folded by NFKC,
// because that turns "54²" into 542.
func clean(text string) string {
	var b strings.Builder
	var last rune
	for _, r := range text {
		if r >= 0xFF01 && r <= 0xFF5E {
			r -= 0xFEE0
		}
		if f, ok := vulgarFractions[r]; ok {
			if last >= '0' && last <= '9' {
				b.WriteByte(' ')
			}
			b.WriteString(f)
			last = r
			continue
		}
		if s := fold(r); s != "" {
			b.WriteString(s)
			last = rune(s[len(s)-1])
		}
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(b.String(), "''", `"`)), " ")
}

func fold(r rune) string {
	switch {
	case r >= 0x200B && r <= 0x200D, r == 0x2060, r == 0xFEFF, r == 0x00AD:
		return ""
	case unicode.IsSpace(r):
		return " "
	case r >= 0x2010 && r <= 0x2015, r == 0x2212, r == 0xFE63:
		return "-"
	}
	switch r {
	case 'º', '˚':
		return "°"
	case '℃':
		return "°C"
	case '℉':
		return "°F"
	case '’', '‘', '′', 'ʼ', '´', '`':
		return "'"
	case '″', '“', '”', '„', '‟':
		return `"`
	case '×', '✕':
		return "x"
	case '⋅', '∙', '•', '‧', '*':
		return "·"
	case '²':
		return "^2"
	case '³':
		return "^3"
	case '⁄', '∕':
		return "/"
	case '…':
		return ".."
	case 'ø', '⌀':
		return "Ø"
	}
	return string(r)
}
