package app

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// askWhichEngine is the question that tells the engines apart at the counter,
// the cheapest first: displacement, then fuel, then the model year.
func askWhichEngine(list []EngineMeant) string {
	if len(list) < 2 {
		return ""
	}
	for _, q := range []struct {
		ask string
		of  func(EngineMeant) string
	}{
		{"Which engine size: ", func(e EngineMeant) string { return e.Displacement }},
		{"Which fuel: ", func(e EngineMeant) string { return e.Fuel }},
		{"How many cylinders: ", func(e EngineMeant) string { return strings.Trim(fmt.Sprint(e.Cylinders), "0") }},
	} {
		var values []string
		for _, e := range list {
			if v := q.of(e); v != "" {
				values = addName(values, v)
			}
		}
		if len(values) > mostChoices {
			break
		}
		if len(values) == len(list) || len(values) > 1 && q.ask == "Which engine size: " {
			slices.SortFunc(values, cmp.Compare)
			return q.ask + strings.Join(values, " or ") + "?"
		}
	}
	if len(list) > mostChoices {
		return "Which model, year and engine size?"
	}
	return "Which engine: " + strings.Join(engineNamesOf(list), " or ") + "?"
}

// mostChoices is how many choices a question may name.
const mostChoices = 6

func engineNamesOf(list []EngineMeant) []string {
	var names []string
	for _, e := range list {
		names = append(names, e.Engine)
	}
	return names
}
