package web

import (
	"fmt"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

// finding is one reason as the page shows it.
type finding struct {
	Mark, Class string
	Says        string
	Grade       string
	Places      []place
	More        int // places that are not shown
	Steps       []string
}

// place is where a finding comes from: a line of a sheet that can be opened, or
// a source by its title.
type place struct{ Text, Href string }

// mostPlaces is how many places stand beside a finding.
const mostPlaces = 3

func findingsOf(list []compat.Finding) []finding {
	var out []finding
	for _, f := range list {
		v := finding{Mark: app.Marks[f.Outcome], Class: classes[f.Outcome], Says: inPageWords(f.Says), Grade: string(f.Grade), Steps: f.Steps}
		if f.NotChecked {
			v.Mark, v.Class = "–", "open"
			if f.Missing != "" || f.Grade == "" {
				v.Says = "Not checked: " + v.Says
			}
		}
		v.Places, v.More = placesOf(f.Origin)
		out = append(out, v)
	}
	return out
}

func placesOf(list []compat.Evidence) (places []place, more int) {
	seen := map[place]bool{}
	for _, e := range list {
		p := placeOf(e)
		if p.Text == "" || seen[p] {
			continue
		}
		seen[p] = true
		if len(places) == mostPlaces {
			more++
			continue
		}
		places = append(places, p)
	}
	return places, more
}

func placeOf(e compat.Evidence) place {
	switch {
	case e.Sheet != "" && e.Line == 0: // said or measured just now
		return place{Text: e.Sheet + ": " + e.Text}
	case e.Sheet != "" && e.SHA256 == "":
		return place{Text: fmt.Sprintf("%s, entry %d", e.Sheet, e.Line)}
	case e.Sheet != "":
		return place{fmt.Sprintf("%s line %d", e.Sheet, e.Line), lineAddress(e.SHA256, e.Line)}
	case e.Mark == string(compat.FromMemory):
		return place{Text: e.Title + ", from memory"}
	}
	return place{Text: e.Title}
}

// hashShown is how much of a file's hash stands in an address.
const hashShown = 12

// lineAddress is where a line of a sheet is shown as it was read.
func lineAddress(sha256 string, line int) string {
	return fmt.Sprintf("/sheet/%s/line/%d", sha256[:min(hashShown, len(sha256))], line)
}

// heldRow is a held row about something that was asked for.
type heldRow struct{ Says, Where string }

func heldRows(list []app.HeldNote) []heldRow {
	var out []heldRow
	for _, h := range list {
		out = append(out, heldRow{fmt.Sprintf("A row about %s is held back: %s", h.Number, h.Reason), fmt.Sprintf("%s line %d", h.Sheet, h.Line)})
	}
	return out
}
