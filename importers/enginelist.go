package importers

import (
	"strings"
	"unicode"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
)

// EnginesList says that cells such as "KV20, KV22" list several engines.
const EnginesList = "list"

// betweenEngines are the marks and words that stand between engines, and in names
// of engines too.
var betweenEngines = pattern.New(`\s*[,/+&]\s*|\s+(?:and|or|und|oder|et|ou|y|e|o)\s+`)

// enginesIn returns the engines that a cell seems to list: two or more that are
// written after one pattern of letters and digits, as "KV20/KV22" and "KV20 and
// RM30" are, and "2.0/16V" is not. Else it returns nothing.
func enginesIn(cell string) []string {
	if !strings.ContainsAny(cell, ",/+&") && strings.Count(cell, " ") < 2 || strings.ContainsAny(cell, ";|") {
		return nil // most cells: no mark, and no word between two others
	}
	at := betweenEngines.FindAllStringIndex(cell, -1)
	if len(at) == 0 {
		return nil
	}
	var engines []string
	from := 0
	for _, a := range append(at, []int{len(cell), len(cell)}) {
		part := trim(cell[from:a[0]])
		if from = a[1]; part == "" && from == len(cell) {
			break // a comma behind the last
		}
		engines = append(engines, part)
	}
	like := codePattern(engines[0])
	if len(engines) < 2 || !strings.Contains(like, "A") || !strings.Contains(like, "9") {
		return nil
	}
	for _, e := range engines[1:] {
		if codePattern(e) != like {
			return nil
		}
	}
	return engines
}

// codePattern writes A for each run of letters and 9 for each run of digits; blanks
// and dashes between them say nothing.
func codePattern(text string) string {
	var b strings.Builder
	var last rune
	for _, r := range text {
		switch {
		case unicode.IsLetter(r):
			r = 'A'
		case unicode.IsDigit(r):
			r = '9'
		case r == ' ' || r == '-':
			last = 0
			continue
		}
		if r != last || r != 'A' && r != '9' {
			b.WriteRune(r)
		}
		last = r
	}
	return b.String()
}

// listedEngines takes engines apart that stand in one entry of a list.
func listedEngines(entries []string) []string {
	var engines []string
	for _, e := range entries {
		if several := enginesIn(e); len(several) > 1 {
			engines = append(engines, several...)
		} else {
			engines = append(engines, e)
		}
	}
	return engines
}

// settleEngines asks whether cells list several engines: nobody who asks for one of
// them finds the part otherwise, and torn names find no part either.
func (p *proposal) settleEngines(c *candidate) {
	if said, _ := p.settingFor(c, "engines"); said != "" {
		c.Engines = said
	}
	if p.kind.kind != catalog.SupplierSheet || c.seen.engineLists == 0 || c.Engines != "" {
		return
	}
	p.askReading(c, "engines", "engines", []string{EnginesList, "one"},
		"In column %q %d cells seem to list several engines, such as %q. Are they several engines (list), or the name of one (one)?", c.Heading, c.seen.engineLists, c.seen.engineText)
}
