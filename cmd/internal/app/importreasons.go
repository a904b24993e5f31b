package app

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fitfill/importers"
)

// noteReasons says which reasons of returns nobody has sorted yet, and how to sort
// them: until then they count in no figure. The reasons come with their first
// lines.
func (s *Shop) noteReasons(reasons map[string]int, a *ImportAnswer) error {
	if len(reasons) == 0 {
		return nil
	}
	_, sorted, err := s.returnTables(SuppliersQuestion{})
	if err != nil {
		return err
	}
	if first, ok := reasons[""]; ok {
		a.Notes = append(a.Notes, importers.FileNote{Code: "no-reason", Line: first,
			Text: "some returns state no reason: they count as come back and against nobody"})
	}
	var unknown []string
	for reason := range reasons {
		if _, _, ok := sorted.Class(reason); !ok && reason != "" {
			unknown = append(unknown, reason)
		}
	}
	if len(unknown) == 0 {
		return nil
	}
	slices.SortFunc(unknown, func(x, y string) int { return cmp.Compare(reasons[x], reasons[y]) })
	first := reasons[unknown[0]]
	shown := make([]string, len(unknown))
	for i, reason := range unknown {
		shown[i] = fmt.Sprintf("%q (line %d)", reason, reasons[reason])
	}
	a.Notes = append(a.Notes, importers.FileNote{Code: "reasons", Line: first, Text: fmt.Sprintf(
		"nobody has sorted %s yet, and they count in no figure of suppliers: %s. %s", Plural(len(unknown), "reason", "reasons"), strings.Join(shown, ", "), howToSort())})
	return nil
}
