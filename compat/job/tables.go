package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Tables holds the jobs with their roles and notes.
type Tables struct {
	jobs  []Job
	notes []note

	strength, spare units.Percent
	strengthOrigin  compat.Evidence
	spareOrigin     compat.Evidence
}

// Job is one job with the roles that have to be filled.
type Job struct {
	ID    string
	Title string
	Opens bool   // the coolant circuit is opened: coolant is lost and has to go back in
	Some  bool   // only what runs out is lost, not what the tap lets out
	Code  string // trouble code that sends people to this job, if one does
	Roles []Role
	words []string
}

// Role is one place on the list.
type Role struct {
	Name   string
	Type   string   // part type that fills it
	Words  []string // of which a part's text has to hold one, where the type alone does not tell
	Count  int      // pieces; 0 where the engine's bolts give it
	Need   string   // the condition under which it is needed; empty: always
	GoesOn string   // the role that it has to go together with

	// Measure is the size that has to be taken on the car, because the one on file
	// is of another place; empty: what is on file is of this one.
	Measure string
}

// MeasureFirst says what has to be measured before a part can be chosen.
func (r Role) MeasureFirst() string {
	return "measure " + r.Measure + " first: only another hose's size is on file"
}

// NewTables reads the tables job* of a reference. Errors name the table, the
// line and what is wrong with it.
func NewTables(ref catalog.Tables) (*Tables, error) {
	t := &Tables{}
	for _, read := range []func(catalog.Tables) error{t.readJobs, t.readRoles, t.readNotes, t.readLimits} {
		if err := read(ref); err != nil {
			return nil, fmt.Errorf("reading the job tables: %w", err)
		}
	}
	return t, nil
}

func (t *Tables) readJobs(ref catalog.Tables) error {
	rows, err := ref.Table("jobs")
	if err != nil {
		return err
	}
	for _, r := range rows {
		j := Job{ID: r.Get("job"), Title: r.Get("title"), Opens: r.Get("opens") != "no", Some: r.Get("opens") == "some", Code: r.Get("code"), words: list(r.Get("words"))}
		if j.ID == "" || j.Title == "" || t.find(j.ID) != nil {
			return fmt.Errorf("table jobs, line %d: every job needs a name of its own and a title", r.Line)
		}
		t.jobs = append(t.jobs, j)
	}
	return nil
}

func (t *Tables) readRoles(ref catalog.Tables) error {
	rows, err := ref.Table("job_roles")
	if err != nil {
		return err
	}
	for _, r := range rows {
		j := t.find(r.Get("job"))
		if j == nil {
			return fmt.Errorf("table job_roles, line %d: %q is not in table jobs", r.Line, r.Get("job"))
		}
		role := Role{Name: r.Get("role"), Type: r.Get("type"), Words: list(r.Get("words")), Need: r.Get("need"), GoesOn: r.Get("goes_on"), Measure: r.Get("measure")}
		if count := r.Get("count"); count != "bolts" {
			if role.Count, err = strconv.Atoi(count); err != nil || role.Count < 1 {
				return fmt.Errorf("table job_roles, line %d: count %q is neither a number of pieces nor the word bolts", r.Line, count)
			}
		}
		if role.Name == "" || role.Type == "" || j.has(role.Name) {
			return fmt.Errorf("table job_roles, line %d: every role of a job needs a name of its own and a type", r.Line)
		}
		j.Roles = append(j.Roles, role)
	}
	for _, j := range t.jobs {
		for _, r := range j.Roles {
			if r.GoesOn != "" && !j.has(r.GoesOn) {
				return fmt.Errorf("table job_roles: %s of %s goes on %s, which the job has not", r.Name, j.ID, r.GoesOn)
			}
			if j.role(r.GoesOn).GoesOn != "" {
				return fmt.Errorf("table job_roles: %s of %s goes on %s, which goes on another part itself: only sets of two are chosen together", r.Name, j.ID, r.GoesOn)
			}
		}
	}
	return nil
}

func (t *Tables) readLimits(ref catalog.Tables) error {
	rows, err := ref.Table("job_limits")
	if err != nil {
		return err
	}
	for _, r := range rows {
		v, err := r.Float("value")
		if err != nil {
			return err
		}
		switch r.Get("name") {
		case "strength":
			t.strength, t.strengthOrigin = units.Percents(v), compat.Cite(r)
		case "spare":
			t.spare, t.spareOrigin = units.Percents(v), compat.Cite(r)
		default:
			return fmt.Errorf("table job_limits, line %d: nothing uses %q", r.Line, r.Get("name"))
		}
	}
	if t.strengthOrigin == (compat.Evidence{}) || t.spareOrigin == (compat.Evidence{}) {
		return fmt.Errorf("table job_limits lacks strength or spare")
	}
	return nil
}

// Find returns the job that a word or phrase means.
func (t *Tables) Find(said string) (Job, bool) {
	said = catalog.Fold(said)
	for _, j := range t.jobs {
		if catalog.Fold(j.ID) == said || catalog.Fold(j.Title) == said || slices.ContainsFunc(j.words, func(w string) bool { return catalog.Fold(w) == said }) {
			return j, true
		}
	}
	return Job{}, false
}

// Jobs returns the names of all jobs, in the order of the table.
func (t *Tables) Jobs() []string {
	names := make([]string, len(t.jobs))
	for i, j := range t.jobs {
		names[i] = j.ID
	}
	return names
}

// Spare is what to have ready beyond what came out, where the capacity of a
// system is not on file.
func (t *Tables) Spare() units.Percent { return t.spare }

// Strength is what a system is filled to where nothing on file says so.
func (t *Tables) Strength() units.Percent { return t.strength }

func (t *Tables) find(id string) *Job {
	for i := range t.jobs {
		if t.jobs[i].ID == id {
			return &t.jobs[i]
		}
	}
	return nil
}

func (j *Job) has(role string) bool { return j.role(role).Name != "" }

// role returns the role of that name, an empty one if the job has none.
func (j *Job) role(name string) Role {
	for _, r := range j.Roles {
		if r.Name == name {
			return r
		}
	}
	return Role{}
}

// list splits the several words of a cell.
func list(cell string) []string {
	if cell == "" {
		return nil
	}
	words := strings.Split(cell, "|")
	for i := range words {
		words[i] = strings.TrimSpace(words[i])
	}
	return words
}
