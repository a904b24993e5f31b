package importers

import (
	"fmt"
	"strings"

	"fitfill/catalog/pattern"
)

var (
	sheetErrors = []string{"#N/A", "#NV", "#REF!", "#DIV/0!", "#VALUE!", "#WERT!", "#NAME?", "#NUM!", "#NULL!", "#BEZUG!", "#SPILL!"}
	hyperlink   = pattern.New(`(?is)^=\s*HYPERLINK\(\s*"(?:[^"]|"")*"\s*[,;]\s*"((?:[^"]|"")*)"\s*\)$`)
	wrapped     = pattern.New(`(?s)^="((?:[^"]|"")*)"$`)
)

// undamaged recognises what spreadsheets leave in any cell: error words, columns
// that were too narrow, formulas, control characters. It returns the text
// behind a ="…" wrapper, which is there to protect zeros (common practice), and
// the label of a link where that is written out; the note says so. What is left
// can still be a damaged part number.
func undamaged(cell string) (text, note string, p *problem) {
	if cell[0] == '=' {
		for code, shape := range map[string]*pattern.Pattern{"formula-text": wrapped, "formula-link": hyperlink} {
			if m := shape.FindStringSubmatch(cell); m != nil {
				if text = trim(strings.ReplaceAll(m[1], `""`, `"`)); text == "" || text[0] == '=' {
					break
				}
				text, _, p = undamaged(text)
				return text, code, p
			}
		}
		if cell == `=""` {
			return "", "formula-text", nil
		}
		return "", "", &problem{code: "formula", why: "the cell holds a formula instead of its value: export the sheet as values"}
	}
	if cell[0] == '#' {
		if strings.Trim(cell, "#") == "" && len(cell) > 1 {
			return "", "", &problem{code: "sheet-error", why: "the spreadsheet's column was too narrow and wrote " + cell + ": widen it and export again"}
		}
		if cell == lostText {
			return "", "", &problem{code: "text-lost", why: "the workbook has lost the text of this cell: ask for the list again"}
		}
		for _, e := range sheetErrors {
			if strings.EqualFold(cell, e) {
				return "", "", &problem{code: "sheet-error", why: e + " is a spreadsheet's error, not a value: correct the formula and export again"}
			}
		}
	}
	for i := range len(cell) {
		if b := cell[i]; b < ' ' && b != '\n' && b != '\r' && b != '\t' || b == 0x7F {
			return "", "", &problem{code: "control-char", why: fmt.Sprintf("the cell holds the control character %U: ask for a clean export", rune(b))}
		}
	}
	return cell, "", nil
}
