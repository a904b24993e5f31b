package units

import (
	"fmt"
	"strings"
)

// String prints r as ParseModelYears reads it: "1993-2002", "2004.5-2007",
// "1996", "from 2011", "to 1992"; a range that states nothing is "any year".
func (r YearRange) String() string {
	switch {
	case r.Open():
		return "any year"
	case r.To == 0:
		return "from " + halfText(r.From)
	case r.From == 0:
		return "to " + lastText(r.To)
	case r.To == r.From+2 && r.From%2 == 0, r.To == r.From+1 && r.From%2 != 0:
		return halfText(r.From)
	}
	return halfText(r.From) + "-" + lastText(r.To)
}

func halfText(at int32) string {
	if at%2 != 0 {
		return fmt.Sprintf("%d.5", at/2)
	}
	return fmt.Sprint(at / 2)
}

// lastText undoes lastHalf.
func lastText(to int32) string {
	if to%2 != 0 {
		return halfText(to)
	}
	return fmt.Sprint(to/2 - 1)
}

// String prints r with the months as ISO 8601 writes them: "from 2004-03", "to
// 1999-12", "2004-03 to 2005-06"; a range that states nothing is "any month".
func (r MonthRange) String() string {
	switch {
	case r.Open():
		return "any month"
	case r.To == 0:
		return "from " + monthText(r.From)
	case r.From == 0:
		return "to " + monthText(r.To-1)
	case r.To == r.From+1:
		return monthText(r.From)
	}
	return monthText(r.From) + " to " + monthText(r.To-1)
}

func monthText(at int32) string { return fmt.Sprintf("%04d-%02d", at/12, at%12+1) }

// String prints m as ParseModelYears reads it: "1992-1994, 1996", "built from
// 2004-03". It is empty where m states nothing.
func (m ModelYears) String() string {
	var parts []string
	for _, r := range merged(m.Ranges) {
		parts = append(parts, r.String())
	}
	if !m.Built.Open() {
		parts = append(parts, "built "+m.Built.String())
	}
	return strings.Join(parts, ", ")
}
