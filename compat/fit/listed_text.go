package fit

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
)

// copied says which suppliers' rows are one statement.
func copied(rows []row) string {
	by := map[int][]string{}
	for _, r := range rows {
		if r.state <= open && !slices.Contains(by[r.group], r.supplier) {
			by[r.group] = append(by[r.group], r.supplier)
		}
	}
	var said []string
	for _, names := range by {
		if len(names) > 1 {
			slices.Sort(names)
			said = append(said, fmt.Sprintf("The lists of %s carry the same rows and count once.", strings.Join(names, " and ")))
		}
	}
	slices.Sort(said)
	return strings.Join(said, " ")
}

// alike counts the rows at the head of a list that are one supplier's and read
// the same.
func alike(rows []row) int {
	n := 1
	for n < len(rows) && rows[n].supplier == rows[0].supplier && rows[n].reading == rows[0].reading &&
		rows[n].group == rows[0].group && rows[n].Condition == rows[0].Condition && rows[n].Answered == rows[0].Answered {
		n++
	}
	return n
}

// mostNamed is how many rows a sentence names; the sheet lines name them all.
const mostNamed = 3

func describeAll(rows []row) string {
	var named []string
	for _, r := range rows {
		named = addOnce(named, describe(r.Fitment))
	}
	return enumerated(named, "; ")
}

// inWords writes "Quillmar, Ostrel and 2 more".
func inWords(names []string) string { return enumerated(names, ", ") }

func enumerated(named []string, between string) string {
	if more := len(named) - mostNamed; more > 0 {
		named = append(named[:mostNamed:mostNamed], fmt.Sprintf("%d more", more))
	}
	if len(named) == 1 {
		return named[0]
	}
	return strings.Join(named[:len(named)-1], between) + " and " + named[len(named)-1]
}

func addOnce(list []string, text string) []string {
	if slices.Contains(list, text) {
		return list
	}
	return append(list, text)
}

func describe(f *catalog.Fitment) string {
	var parts []string
	for _, p := range []string{f.Make, f.Model, f.Engine} {
		if p = strings.TrimSpace(p); p != "" {
			parts = append(parts, p)
		}
	}
	text := strings.Join(parts, " ")
	if f.YearsText != "" {
		text += ", " + strings.TrimSpace(f.YearsText)
	}
	if f.VIN8 != "" {
		text += ", VIN " + f.VIN8
	}
	if f.Resolved != nil {
		text += " (taken for " + f.Resolved.Family + ")"
	}
	return text
}

func orGarage(supplier string) string {
	if supplier == "" {
		return "The garage"
	}
	return supplier
}

// howRead says that a note is read as the garage answered about it.
func howRead(a *catalog.NoteAnswer) string {
	if a == nil {
		return ""
	}
	return fmt.Sprintf(" (%s, as you said on %s)", NoteMeaning(*a), a.Day)
}

// NoteMeaning words what an answer about a note means.
func NoteMeaning(a catalog.NoteAnswer) string {
	switch a.Means {
	case catalog.NoteOnly:
		return "only for " + a.Words
	case catalog.NoteExcept:
		return "not for " + a.Words
	}
	return "harmless"
}
