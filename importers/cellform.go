package importers

import "strings"

// cellForm is what one cell looks like.
type cellForm uint8

const (
	formEmpty   cellForm = iota
	formNothing          // "n/a", "on request": stands in any column
	formWhole
	formDecimal
	formLong // eight digits or more, as in barcodes
	formDate
	formMeasure // a number with a unit or currency
	formCode
	formWords
	forms
)

// formOf says what a filled cell looks like.
func formOf(cell string) cellForm {
	var digits, letters, blanks, points, others int
	for i := range len(cell) {
		switch b := cell[i]; {
		case b >= '0' && b <= '9':
			digits++
		case b == ' ':
			blanks++
		case b == '.' || b == ',':
			points++
		case b >= 'A' && b <= 'Z', b >= 'a' && b <= 'z', b >= 0x80:
			letters++
		default:
			others++
		}
	}
	switch {
	case digits == 0:
		return formWords
	case digits == len(cell) && digits < 8:
		return formWhole
	case digits == len(cell):
		return formLong
	case letters == 0 && digits >= 4 && (points == 2 && others == 0 && fullDatePoints.MatchString(cell) || others >= 2 && fullDate.MatchString(cell)):
		return formDate
	case letters == 0 && points > 0 && others <= 1 && (digitAt(cell, 0) || digitAt(cell, 1)):
		return formDecimal
	case digitAt(cell, 0) && blanks <= 2 && isMeasure(cell):
		return formMeasure
	case blanks == 0:
		return formCode
	}
	return formWords
}

// isMeasure recognises a number with one unit behind it, with or without a blank:
// "82 °C", "5l", "3/4".
func isMeasure(cell string) bool {
	i := numberEnd(cell, 0)
	if i < len(cell) && cell[i] == ' ' {
		i++
	}
	rest := strings.TrimSuffix(cell[i:], ".")
	return rest != "" && strings.IndexFunc(rest, func(r rune) bool {
		return r < 0x80 && (r < 'A' || r > 'Z') && (r < 'a' || r > 'z') && !strings.ContainsRune(`"'%$/`, r)
	}) < 0
}

// kindOfForm puts the forms together that one column may well mix.
var kindOfForm = [forms]cellForm{formWhole: formWhole, formDecimal: formWhole, formMeasure: formWhole,
	formLong: formLong, formDate: formDate, formCode: formCode, formWords: formWords}
