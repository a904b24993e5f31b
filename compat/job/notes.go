package job

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Phase says when in a job a note counts.
type Phase string

// The phases of a job, in their order.
const (
	First     Phase = "first"     // before anything is bought
	Out       Phase = "out"       // while it comes apart
	In        Phase = "in"        // while it goes together
	Fill      Phase = "fill"      // filling and bleeding
	After     Phase = "after"     // before the car is handed over
	Overheats Phase = "overheats" // if it overheats after the job
)

var phases = []Phase{First, Out, In, Fill, After, Overheats}

// Compare orders phases as they follow one another.
func (p Phase) Compare(q Phase) int { return slices.Index(phases, p) - slices.Index(phases, q) }

// Note is one sentence for the person who does the job.
type Note struct {
	Phase  Phase             `json:"phase"`
	Text   string            `json:"text"`
	Grade  compat.Grade      `json:"grade"`
	Origin []compat.Evidence `json:"origin"`
}

type note struct {
	jobs   []string
	phase  Phase
	when   []string
	says   string
	origin compat.Evidence
}

// conditions are what a note's column when may name.
var conditions = []string{
	"opens", "clamps", "monitor", "air-bleed", "several-thermostats",
	"side-unknown", "bleed-screws", "bleed-nose-up", "bleed-vacuum", "bleed-driven-pump", "bleed-unknown", "bleed-note",
	"drained", "drained-unknown",
}

func (t *Tables) readNotes(ref catalog.Tables) error {
	rows, err := ref.Table("job_notes")
	if err != nil {
		return err
	}
	for _, r := range rows {
		n := note{jobs: list(r.Get("jobs")), phase: Phase(r.Get("phase")), says: r.Get("says"), origin: compat.Cite(r)}
		if !slices.Contains(phases, n.phase) || n.says == "" {
			return fmt.Errorf("table job_notes, line %d: it needs a sentence and one of the phases %v", r.Line, phases)
		}
		for _, id := range n.jobs {
			if id != "*" && t.find(id) == nil {
				return fmt.Errorf("table job_notes, line %d: %q is not in table jobs", r.Line, id)
			}
		}
		if when := r.Get("when"); when != "" {
			n.when = strings.Split(when, "+")
		}
		for _, w := range n.when {
			if !slices.Contains(conditions, w) {
				return fmt.Errorf("table job_notes, line %d: %q is no condition: %s", r.Line, w, strings.Join(conditions, ", "))
			}
		}
		t.notes = append(t.notes, n)
	}
	return nil
}

// Notes returns what has to be minded on a job, phase by phase.
func (t *Tables) Notes(j Job, e *catalog.EngineFamily, drained catalog.Stated[units.Volume], thermostats int, show units.System) []Note {
	holds := t.holding(j, e, drained, thermostats)
	fill := strings.NewReplacer("{bleed_note}", e.BleedNote.Value, "{drained}", show.FormatVolume(drained.Value))
	var out []Note
	for _, p := range phases {
		for _, n := range t.notes {
			if n.phase != p || !slices.Contains(n.jobs, "*") && !slices.Contains(n.jobs, j.ID) {
				continue
			}
			if slices.ContainsFunc(n.when, func(w string) bool { return !holds[w] }) {
				continue
			}
			made := Note{Phase: p, Text: fill.Replace(n.says), Grade: gradeOf(n.origin), Origin: []compat.Evidence{n.origin}}
			if slices.Contains(n.when, "bleed-note") {
				made.Origin = append(made.Origin, compat.From(e.BleedNote.Origin))
			}
			out = append(out, made)
		}
	}
	return out
}

func gradeOf(e compat.Evidence) compat.Grade {
	switch catalog.Mark(e.Mark) {
	case catalog.FromMemory:
		return compat.FromMemory
	case catalog.Read:
		return compat.Standard
	}
	return compat.CommonPractice
}

// holding works out which conditions hold.
func (t *Tables) holding(j Job, e *catalog.EngineFamily, drained catalog.Stated[units.Volume], thermostats int) map[string]bool {
	clamps := slices.ContainsFunc(j.Roles, func(r Role) bool { return r.Type == "clamp" })
	side := catalog.Fold(e.ThermostatSide.Value)
	holds := map[string]bool{
		"opens": j.Opens, "clamps": clamps, "monitor": e.WarmUpMonitor.Value, "air-bleed": e.AirBleed.Value,
		"several-thermostats": thermostats > 1,
		"side-unknown":        !strings.Contains(side, "inlet") && !strings.Contains(side, "outlet"),
		"drained":             drained.Known, "drained-unknown": !drained.Known,
		"bleed-note": e.BleedNote.Known && e.BleedNote.Value != "",
	}
	way := "bleed-" + strings.ReplaceAll(strings.TrimSpace(strings.ToLower(e.Bleed.Value)), " ", "-")
	if !e.Bleed.Known || !slices.Contains(conditions, way) {
		way = "bleed-unknown"
	}
	holds[way] = true
	return holds
}
