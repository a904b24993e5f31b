package importers

import (
	"strings"

	"fitfill/catalog"
)

const lookalikesTable = "import_lookalikes"

// readLookalikes reads which letters of other alphabets print like Latin ones.
func readLookalikes(ref catalog.Reference) (map[rune]string, error) {
	rows, err := ref.Table(lookalikesTable)
	if err != nil {
		return nil, err
	}
	m := map[rune]string{}
	for _, row := range rows {
		for _, r := range row.Get("letter") {
			m[r] = row.Get("latin")
		}
	}
	return m, nil
}

// latin writes a number with the Latin letters that it looks like.
func (v *vocabulary) latin(number string) string {
	var b strings.Builder
	for _, r := range number {
		if l, ok := v.lookalikes[r]; ok {
			b.WriteString(l)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}
