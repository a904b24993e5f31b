package importers

import (
	"strings"

	"fitfill/catalog"
)

// evidence is what the values of one column show.
type evidence struct {
	filled  int
	samples []string

	comma, point int // values that only that decimal mark explains
	unclear      int // values such as 1.234, which have two readings
	unclearText  string

	dmy, mdy, anyOrder int
	orderText          string

	bare, withUnit int
}

// study looks at every value of every column once.
func (p *proposal) study() {
	var cells []string
	for i := range p.sheet.Records {
		r := &p.sheet.Records[i]
		if r.Class != ClassData || p.sheet.structure(i) != nil {
			continue
		}
		cells = p.sheet.Cells(i, cells)
		for j, cell := range cells {
			if j >= len(p.columns) {
				break
			}
			if cell == "" {
				continue
			}
			if cell = trim(cell); cell == "" {
				continue
			}
			c := &p.columns[j]
			if len(c.seen.samples) < 3 {
				c.seen.sample(cell)
			}
			c.seen.filled++
			if !c.mapped || c.field.kind == catalog.KindText || c.field.kind == catalog.KindBool {
				continue
			}
			if hasDigit(cell) {
				c.seen.value(c.field.kind, cell)
			}
		}
	}
}

func (e *evidence) sample(cell string) {
	if r := []rune(cell); len(r) > 30 {
		cell = string(r[:30]) + "…"
	}
	for _, s := range e.samples {
		if s == cell {
			return
		}
	}
	e.samples = append(e.samples, strings.Clone(cell))
}

func (e *evidence) examples() string {
	return strings.Join(e.samples, " | ")
}

func (e *evidence) value(kind catalog.Kind, cell string) {
	switch kind {
	case catalog.KindDate:
		e.date(cell)
		return
	case catalog.KindYears:
		return
	}
	strict := kind == catalog.KindMoney || kind == catalog.KindCount
	for rest := cell; ; {
		var number string
		if number, rest = nextNumber(rest); number == "" {
			break
		}
		switch markVote(number, strict) {
		case voteComma:
			e.comma++
		case votePoint:
			e.point++
		case voteUnclear:
			if e.unclear++; e.unclearText == "" {
				e.unclearText = strings.Clone(cell)
			}
		}
	}
	if strings.ContainsFunc(cell, isUnitSign) {
		e.withUnit++
	} else {
		e.bare++
	}
}

func hasDigit(s string) bool {
	for i := range len(s) {
		if s[i] >= '0' && s[i] <= '9' {
			return true
		}
	}
	return false
}

// isUnitSign reports whether the character says that a unit stands with a
// number: any letter, a degree or inch sign, a percent sign.
func isUnitSign(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || strings.ContainsRune(`"″'′%°℃℉`, r)
}
