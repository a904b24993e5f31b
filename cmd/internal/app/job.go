package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/codes"
	"fitfill/compat/fit"
	"fitfill/compat/job"
)

// JobQuestion asks for everything that a job on an engine takes.
type JobQuestion struct {
	Engine, Job string
	Take        []string // role=NUMBER: a part that is wanted for a role
	Vehicle     FitQuestion
	Fill        FluidSaid // what is in it; empty: the engine's own coolant
	Add         string    // coolant that is wanted; empty: the best on file
	Drained     string    // what came out; empty: what the engine's sheet says
	Rounds      bool      // the old coolant is to come out: with rinses
}

// JobAnswer is the list: parts, fluids, and what has to be minded.
type JobAnswer struct {
	Engine   string        `json:"engine"`
	Vehicle  string        `json:"vehicle,omitempty"`
	Job      string        `json:"job"`
	Title    string        `json:"title"`
	Lines    []JobLine     `json:"lines"`
	Problems []string      `json:"problems,omitempty"`
	Total    []string      `json:"total"`
	Maybe    []string      `json:"total_of_what_may_be_needed,omitempty"`
	Notes    []job.Note    `json:"notes"`
	Torque   *TorqueAnswer `json:"torque,omitempty"`
	First    []string      `json:"checks_first"`
	Cautions []string      `json:"cautions"`
	Next     *NextQuestion `json:"next,omitempty"` // to be asked before anything is fetched
	Hint     string        `json:"hint,omitempty"`
	TellWith []string      `json:"tell_with,omitempty"` // flags that take what nobody has said yet
	NotKept  string        `json:"not_kept,omitempty"`  // why the list is not on record as said
	Own      *OwnNote      `json:"own_tables,omitempty"`
}

// Outcome is what the list comes to: the worst of its lines, where a line that
// nothing fills leaves it open.
func (a JobAnswer) Outcome() compat.Outcome {
	worst := compat.Yes
	for _, l := range a.Lines {
		if l.Need == "" && l.Outcome.Worse(worst) {
			worst = l.Outcome
		}
	}
	if len(a.Problems) > 0 {
		worst = compat.Worst(worst, compat.Caution)
	}
	return worst
}

// Job puts everything that a job takes on one list.
func (s *Shop) Job(ctx context.Context, q JobQuestion) (JobAnswer, error) {
	a := JobAnswer{Own: s.ownNote("job")}
	j, known := s.job().Find(q.Job)
	if !known {
		names := s.job().Jobs()
		if q.Job == "" {
			return a, &UsageError{Problem: "which job?", Hint: "the jobs are " + strings.Join(names, ", ")}
		}
		return a, &UsageError{Problem: fmt.Sprintf("there is no job %q", q.Job), Hint: nearestHint(q.Job, names, "the jobs are "+strings.Join(names, ", "))}
	}
	go s.fit() // read while the catalogue is being read
	go s.coolant()
	q.Vehicle.Engine = q.Engine
	ask, err := s.readAsked(q.Vehicle)
	if err != nil {
		return a, err
	}
	take, err := readTake(j, q.Take)
	if err != nil {
		return a, err
	}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		var told FitAnswer
		if err := s.fitSaid(ctx, v, &q.Vehicle, &ask); err != nil { // a VIN or a mark tells more than the engine
			return err
		}
		q.Engine = q.Vehicle.Engine
		if err := s.fitVehicle(ctx, v, &q.Vehicle, &ask, &told); err != nil {
			return err
		}
		if q.Engine == "" {
			q.Engine = q.Vehicle.Engine
		}
		keys, family, err := s.engineSaid(ctx, v, q.Engine)
		if err != nil {
			return err
		}
		a = JobAnswer{Engine: family.Family, Vehicle: told.Vehicle, Job: j.ID, Title: j.Title, Lines: []JobLine{}, Notes: []job.Note{}, First: []string{}, Cautions: []string{}}
		if ask.measured.Engine.HoseOutside.Known { // then it was measured where the job is
			j.Roles = slices.Clone(j.Roles)
			for i := range j.Roles {
				j.Roles[i].Measure = ""
			}
		}
		p := jobParts{shop: s, ask: ask, keys: keys, family: &family, take: take, lines: map[int64][]catalog.Fitment{}}
		if err := p.gather(ctx, v, j); err != nil {
			return err
		}
		parts, problems := s.job().Parts(job.Question{Engine: &family, Job: j, Candidates: p.roles, Take: take, Together: p.together})
		if other := notOfLetter(&family, ask.VIN8); other != "" {
			problems = append([]string{other}, problems...)
		}
		a.Problems, a.Next = problems, p.next
		thermostats := 0
		for _, l := range parts {
			a.Lines = append(a.Lines, jobLine(l))
			if l.Part != nil && l.Part.Type.Value == fit.Thermostat {
				thermostats = l.Pieces
				a.Notes = append(a.Notes, direction(l.Findings)...)
			}
		}
		drained := catalog.Stated[units.Volume]{}
		if j.Opens {
			if drained, err = s.jobFluids(ctx, v, q, j, &family, &a); err != nil {
				return err
			}
		}
		if len(a.Cautions) == 0 { // no coolant was judged, and it is hot and poisonous all the same
			a.Cautions = s.coolant().Cautions(&family)
		}
		a.Notes = append(a.Notes, s.job().Notes(j, &family, drained, thermostats, s.Settings.Units)...)
		slices.SortStableFunc(a.Notes, func(x, y job.Note) int { return x.Phase.Compare(y.Phase) })
		for _, n := range a.Notes {
			if n.Phase == job.First {
				a.First = append(a.First, n.Text)
			}
		}
		if err := s.codeFirst(j, &family, &a); err != nil {
			return err
		}
		if slices.ContainsFunc(j.Roles, func(r job.Role) bool { return r.Type == "bolt" }) {
			if a.Torque, err = s.torque(ctx, v, ask, family, []string{fit.Thermostat}); err != nil {
				return err
			}
		}
		a.total()
		if !s.Settings.LabourRate.Known {
			a.Hint = "Comebacks are not counted until labour_rate is set: what an hour costs the shop."
		}
		for i := range a.Lines {
			if err := fillTexts(ctx, v, a.Lines[i].Findings); err != nil {
				return err
			}
		}
		return nil
	})
	if err == nil && a.Vehicle != "" {
		a.NotKept = s.Said(ctx, saidJob(a))
	}
	return a, err
}

// codeFirst puts in front what to check for the trouble code that sends people
// to this job.
func (s *Shop) codeFirst(j job.Job, family *catalog.EngineFamily, a *JobAnswer) error {
	if j.Code == "" {
		return nil
	}
	code, err := codes.Parse(j.Code)
	if err != nil {
		return err
	}
	tab, err := codes.NewTables(s.ref)
	if err != nil {
		return err
	}
	d := tab.For(code, family.OpeningTemp, catalog.Stated[units.Temperature]{})
	if !d.Known {
		return nil
	}
	var checks []string
	for _, c := range d.Checks {
		checks = append(checks, c.Do)
	}
	a.First = append(checks, a.First...)
	note := job.Note{Phase: job.First, Grade: compat.CommonPractice, Origin: d.Origin,
		Text: fmt.Sprintf("With code %s: %s: fitfill checks %s --engine %s", code.Text, codeSays(d), code.Text, family.Family)}
	a.Notes = append([]job.Note{note}, a.Notes...)
	return nil
}

// saidJob turns the parts on a list into what was said.
func saidJob(a JobAnswer) []catalog.Said {
	var list []catalog.Said
	for _, l := range a.Lines {
		if l.Number == "" || l.Need != "" {
			continue // nobody was told to take it
		}
		p := PartFit{Supplier: l.Supplier, Number: l.Number, Findings: l.Findings}
		list = append(list, catalog.Said{
			Vehicle: a.Vehicle, Question: "job " + a.Engine + " " + a.Job, Number: l.Number, Supplier: l.Supplier, How: catalog.SaidListed,
			Outcome: l.Outcome.String(), First: l.Why, Listing: listingOf(p),
		})
	}
	return list
}

// readTake reads "seal=QM-2038".
func readTake(j job.Job, said []string) (map[string]string, error) {
	take := map[string]string{}
	var roles []string
	for _, r := range j.Roles {
		roles = append(roles, r.Name)
	}
	for _, t := range said {
		role, number, ok := strings.Cut(t, "=")
		role = strings.ToLower(strings.TrimSpace(role))
		if !ok || strings.TrimSpace(number) == "" || !slices.Contains(roles, role) {
			return nil, &UsageError{Problem: fmt.Sprintf("--take %q names no place on this list", t), Hint: "write it like --take " + roles[0] + "=NUMBER; the places are " + strings.Join(roles, ", ")}
		}
		take[role] = strings.TrimSpace(number)
	}
	return take, nil
}

// direction takes from a thermostat's verdict which way round it goes in.
func direction(findings []compat.Finding) []job.Note {
	for _, f := range findings {
		if f.Check == fit.Direction {
			return []job.Note{{Phase: job.In, Text: f.Says, Grade: f.Grade, Origin: f.Origin}}
		}
	}
	return nil
}
