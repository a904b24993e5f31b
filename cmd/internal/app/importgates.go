package app

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// Two of the gates.
const (
	gateFewer = "fewer-rows"
	gateHeld  = "held-rows"
)

// gates are the thresholds beyond which a sheet waits for a person.
type gates map[string]map[string]float64

func newGates(ref catalog.Reference) (gates, error) {
	rows, err := ref.Table("import_gates")
	if err != nil {
		return nil, err
	}
	g := gates{}
	for _, r := range rows {
		v, err := r.Float("value")
		if err != nil {
			return nil, err
		}
		name := r.Get("gate")
		if g[name] == nil {
			g[name] = map[string]float64{}
		}
		g[name][r.Get("field")] = v
	}
	for _, want := range [][2]string{{gateFewer, ""}, {"missing-parts", ""}, {"prices", "low"}, {"prices", "high"}, {gateHeld, "share"}, {gateHeld, "rows"}, {gateHeld, "most"}} {
		if _, ok := g[want[0]][want[1]]; !ok {
			return nil, fmt.Errorf("reference table import_gates: the row %s %s is missing", want[0], want[1])
		}
	}
	return g, nil
}

// names lists what --accept takes.
func (g gates) names() []string {
	names := append([]string{acceptSupplier, acceptReplaces, acceptBeside, acceptStrays}, importerGates...)
	for name := range g {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// importerGates are the questions about a sheet's columns that "go on" answers.
var importerGates = []string{"missing-column", "swapped-columns", "lost-zeros"}

// The words by which a person says whether a sheet takes the place of an earlier
// one or stands beside it.
const (
	acceptReplaces = "replaces"
	acceptBeside   = "beside"
)

// placeOf reads what was accepted about earlier sheets in doubt.
func placeOf(accepted []string) sqlite.Place {
	switch {
	case slices.Contains(accepted, acceptBeside):
		return sqlite.Beside
	case slices.Contains(accepted, acceptReplaces):
		return sqlite.Replaces
	}
	return sqlite.Undecided
}

// doubts asks about earlier sheets whose place the staged one may take.
func doubts(list []sqlite.Doubt) []OpenQuestion {
	var open []OpenQuestion
	for _, d := range list {
		open = append(open, OpenQuestion{
			Code: askPlace, Question: fmt.Sprintf("Does it take the place of %s of %s? %s.", d.Name, d.ImportedAt[:len("2006-01-02")], Capital(d.Why)),
			Choices: []string{acceptReplaces, acceptBeside},
			Command: "--accept " + acceptReplaces + " or --accept " + acceptBeside,
		})
	}
	return open
}

// fired returns the gates that a staged sheet runs into, with what a person
// has to know to decide.
func (g gates) fired(a *ImportAnswer, before int, c sqlite.Compared) []OpenQuestion {
	var open []OpenQuestion
	ask := func(gate, format string, args ...any) {
		open = append(open, OpenQuestion{
			Code: gate, Question: fmt.Sprintf(format, args...), Choices: []string{"accept", "drop"}, Gate: gate, Command: "--accept " + gate,
		})
	}
	// Blank lines, sections and totals are no rows here: neither do they stand for
	// parts that are gone, nor are they missed.
	now := a.RowsTaken + a.RowsHeld
	if before > 0 && float64(now) < g[gateFewer][""]*float64(before) {
		ask(gateFewer, "It has %d rows where the last one had %d. Is it whole?", now, before)
	}
	if c.Before > 0 && float64(len(c.Withdrawn)) > g["missing-parts"][""]*float64(c.Before) {
		ask("missing-parts", "%d of %d parts are no longer listed, among them %s. Are they gone?", len(c.Withdrawn), c.Before, firstOf(c.Withdrawn))
	}
	if m, ok := medianRatio(c.Prices); ok && (m < g["prices"]["low"] || m > g["prices"]["high"]) {
		ask("prices", "Of the prices that move, the middle one is %.2f times the last (%s). Is the price column right?", m, exampleMove(c.Prices, m))
	}
	if h := g[gateHeld]; a.RowsTaken == 0 && a.RowsHeld > 0 {
		ask(gateHeld, "None of its %d rows can be taken, the first for: %s. Take it in all the same, to put the rows right?", a.RowsHeld, a.Held[0].Reason)
	} else if float64(a.RowsHeld) > h["most"] || float64(a.RowsHeld) > h["share"]*float64(now) && float64(a.RowsHeld) > h["rows"] {
		ask(gateHeld, "%d of %d rows would be held back, the first for: %s. Take the others all the same?", a.RowsHeld, now, a.Held[0].Reason)
	}
	for _, gate := range []string{"chemistry", "fit"} {
		var parts []string
		for field, limit := range g[gate] {
			if n := c.Fields[field]; n > 0 && float64(n) >= limit {
				parts = append(parts, fmt.Sprintf("%s of %s", field, Plural(n, "part", "parts")))
			}
		}
		slices.Sort(parts)
		if len(parts) > 0 {
			ask(gate, "It changes %s, such as %s. Do you trust the new list?", strings.Join(parts, ", "), exampleChange(c.Changes, g[gate]))
		}
	}
	return open
}

func firstOf(numbers []string) string {
	const most = 3
	text := strings.Join(numbers[:min(most, len(numbers))], ", ")
	if len(numbers) > most {
		text += " ..."
	}
	return text
}

// medianRatio is the middle of new price by old price; there must be some.
func medianRatio(moves []sqlite.PriceMove) (float64, bool) {
	var ratios []float64
	for _, m := range moves {
		if m.Old > 0 && m.New > 0 {
			ratios = append(ratios, float64(m.New)/float64(m.Old))
		}
	}
	if len(ratios) == 0 {
		return 0, false
	}
	slices.Sort(ratios)
	return ratios[(len(ratios)-1)/2], true // as the report of changes says it
}

func exampleMove(moves []sqlite.PriceMove, median float64) string {
	best := moves[0]
	for _, m := range moves {
		if m.Old > 0 && near(m, median) < near(best, median) {
			best = m
		}
	}
	return fmt.Sprintf("%s: %.2f to %.2f", best.Number, float64(best.Old)/1e4, float64(best.New)/1e4)
}

func near(m sqlite.PriceMove, ratio float64) float64 {
	d := float64(m.New)/float64(max(m.Old, 1)) - ratio
	return max(d, -d)
}

func exampleChange(changes []sqlite.FieldChange, fields map[string]float64) string {
	for _, c := range changes {
		if _, ok := fields[c.Field]; !ok {
			continue
		}
		switch {
		case c.Old == "":
			return fmt.Sprintf("%s, now %s %s", c.Number, c.Field, strings.TrimSpace(c.New))
		case c.New == "":
			return fmt.Sprintf("%s, no longer %s %s", c.Number, c.Field, strings.TrimSpace(c.Old))
		}
		return fmt.Sprintf("%s, %s from %s to %s", c.Number, c.Field, c.Old, c.New)
	}
	return "none shown"
}

// Limits lists what one file may make an import do at most.
func Limits() []importers.SizeSetting { return importers.SizeSettings() }

// ReadingSettings lists the settings that say how a sheet is read.
func ReadingSettings() []importers.ReadingSetting { return importers.ReadingSettings() }
