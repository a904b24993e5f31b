package job_test

import (
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/job"
	"fitfill/data"
)

func lineOf(t *testing.T, q job.Question, role string) job.Line {
	t.Helper()
	lines, _ := tables(t).Parts(q)
	for _, l := range lines {
		if l.Role == role {
			return l
		}
	}
	t.Fatalf("no line for %s in %+v", role, lines)
	return job.Line{}
}

// An engine with two thermostats takes two seals, and both are paid for.
func TestPiecesOfASetGoTogether(t *testing.T) {
	two := fits(part("A1", "thermostat", 10))
	two.Pieces = 2
	q := question(t, []job.Candidate{two}, []job.Candidate{fits(part("S-A1", "seal", 3))})
	if l := lineOf(t, q, "thermostat"); l.Pieces != 2 || l.Sum().Value != units.MoneyOf(200000, "EUR") {
		t.Errorf("thermostats: %d for %v, want 2 for 20", l.Pieces, l.Sum().Value)
	}
	if l := lineOf(t, q, "seal"); l.Pieces != 2 || l.Sum().Value != units.MoneyOf(60000, "EUR") {
		t.Errorf("seals: %d for %v, want 2 for 6", l.Pieces, l.Sum().Value)
	}
	more := fits(part("S-A1", "seal", 3))
	more.Pieces = 3
	q = question(t, []job.Candidate{fits(part("A1", "thermostat", 10))}, []job.Candidate{more})
	if l := lineOf(t, q, "thermostat"); l.Pieces != 3 {
		t.Errorf("three seals go on %d thermostats", l.Pieces)
	}
}

func TestBoltsAreCountedByTheEngine(t *testing.T) {
	q := question(t, nil, nil)
	q.Engine = &catalog.EngineFamily{
		BoltCount:  catalog.Say(catalog.CountOf(3000), "3", catalog.Origin{}),
		BoltThread: catalog.Say("M6", "M6", catalog.Origin{}),
		BoltClass:  catalog.Say("8.8", "8.8", catalog.Origin{}),
	}
	l := lineOf(t, q, "bolts")
	if l.Pieces != 3 || !strings.Contains(l.Missing, "M6, class 8.8") {
		t.Errorf("%d bolts, %q", l.Pieces, l.Missing)
	}
	if l := lineOf(t, q, "clamps"); l.Pieces != 2 {
		t.Errorf("%d clamps, the table says 2", l.Pieces)
	}
}

func TestWhyNothingFillsARole(t *testing.T) {
	no := job.Candidate{Part: part("N", "thermostat", 1), Outcome: compat.No}
	unknown := job.Candidate{Part: part("U", "thermostat", 1)}
	for want, cands := range map[string][]job.Candidate{
		"no sheet lists one": nil, "the one in the sheets": {no}, "none of the 2": {no, unknown},
	} {
		if l := lineOf(t, question(t, cands, nil), "thermostat"); l.Part != nil || !strings.Contains(l.Missing, want) {
			t.Errorf("%+v: want %q", l, want)
		}
	}
}

// Of parts that fit alike the cheaper one is taken where all prices are in one
// currency; one that has no price comes last.
func TestWhatDecidesBetweenPartsThatFitAlike(t *testing.T) {
	dollars := part("D", "thermostat", 0)
	dollars.Price = catalog.Say(units.MoneyOf(10000, "USD"), "", catalog.Origin{})
	dear, cheap, free := fits(part("X", "thermostat", 9)), fits(part("Y", "thermostat", 5)), fits(part("Z", "thermostat", 0))
	doubtful := job.Candidate{Part: part("C", "thermostat", 1), Outcome: compat.Caution}
	for name, tc := range map[string]struct {
		cands  []job.Candidate
		want   string
		ground job.Ground
	}{
		"the only one":            {[]job.Candidate{dear}, "X", job.OnlyOne},
		"the cheaper":             {[]job.Candidate{dear, cheap}, "Y", job.ByPrice},
		"no price comes last":     {[]job.Candidate{free, dear}, "X", job.ByPrice},
		"two currencies":          {[]job.Candidate{dear, fits(dollars)}, "X", job.ByEvidence},
		"no prices at all":        {[]job.Candidate{free, fits(part("W", "thermostat", 0))}, "Z", job.ByEvidence},
		"a doubtful one beside":   {[]job.Candidate{doubtful, dear}, "X", job.OnlyOne},
		"a doubtful one and two":  {[]job.Candidate{doubtful, dear, cheap}, "Y", job.ByPrice},
		"doubtful ones only":      {[]job.Candidate{{Part: part("E", "thermostat", 4), Outcome: compat.Caution}, doubtful}, "C", job.ByPrice},
		"one in doubt":            {[]job.Candidate{doubtful}, "C", job.OnlyDoubt},
		"listed and in doubt":     {[]job.Candidate{doubtful, {Part: part("L", "thermostat", 99), Outcome: compat.Caution, Listed: true}}, "L", job.ByEvidence},
		"one comeback cost alone": {[]job.Candidate{dear, {Part: cheap.Part, Outcome: compat.Yes, Expected: catalog.Say(units.MoneyOf(1, "EUR"), "", catalog.Origin{})}}, "Y", job.ByPrice},
	} {
		if l := lineOf(t, question(t, tc.cands, nil), "thermostat"); l.Part.Number != tc.want || l.Ground != tc.ground {
			t.Errorf("%s: %s, %s; want %s, %s", name, l.Part.Number, l.Ground, tc.want, tc.ground)
		}
	}
}

// A bottle of half strength takes twice as much: 10 L, 5 L drained of plain water,
// 25 % wanted out of a bottle of 50 %: 5 L of it. Computed.
func TestRefillFromAWeakerBottle(t *testing.T) {
	pct := units.Percents
	r := job.Refilled(litres(10), litres(6), pct(0), pct(25), pct(50), false)
	if r.Bottle != litres(5) || r.Water != litres(1) || r.Ends != pct(25) || r.DrainMore || r.WaterOnly {
		t.Errorf("%+v; want 5 L of the bottle and 1 L of water", r)
	}
	if r := job.Refilled(litres(10), litres(5), pct(0), pct(25), pct(50), false); r.DrainMore || r.Bottle != litres(5) {
		t.Errorf("%+v; 5 L reach it exactly", r)
	}
}

func notesOf(t *testing.T, job string, e *catalog.EngineFamily, drained catalog.Stated[units.Volume], thermostats int) string {
	t.Helper()
	j, ok := tables(t).Find(job)
	if !ok {
		t.Fatalf("no job is called %s", job)
	}
	var all []string
	for _, n := range tables(t).Notes(j, e, drained, thermostats, units.System{}) {
		all = append(all, n.Text)
		if len(n.Origin) == 0 || n.Grade == "" {
			t.Errorf("%q has no source", n.Text)
		}
	}
	return strings.Join(all, "\n")
}

func TestNotesDependOnTheEngineAndTheJob(t *testing.T) {
	none := catalog.Stated[units.Volume]{}
	if text := notesOf(t, "thermostat", &catalog.EngineFamily{}, none, 1); strings.Contains(text, "change all of them") {
		t.Error("one thermostat, and all are to be changed")
	}
	if text := notesOf(t, "thermostat", &catalog.EngineFamily{}, none, 2); !strings.Contains(text, "change all of them") {
		t.Error("two thermostats, and only one is to be changed")
	}
	if text := notesOf(t, "sensor", &catalog.EngineFamily{}, none, 2); strings.Contains(text, "change all of them") {
		t.Error("a sensor, and the thermostats are to be changed")
	}
	at := catalog.Origin{Sheet: "engines.csv", Line: 4}
	e := &catalog.EngineFamily{BleedNote: catalog.Say("open both valves", "open both valves", at)}
	j, _ := tables(t).Find("thermostat")
	found := false
	for _, n := range tables(t).Notes(j, e, none, 1, units.System{}) {
		if strings.Contains(n.Text, "open both valves") {
			found = len(n.Origin) == 2 && n.Origin[1] == compat.From(at)
		}
	}
	if !found {
		t.Error("the engine's own note on bleeding is not told with its line")
	}
	if strings.Contains(notesOf(t, "thermostat", &catalog.EngineFamily{}, none, 1), "{") {
		t.Error("a place of a note is not filled in")
	}
}

func TestPhasesFollowOneAnother(t *testing.T) {
	order := []job.Phase{job.First, job.Out, job.In, job.Fill, job.After, job.Overheats}
	for i, p := range order {
		for k, q := range order {
			if got := p.Compare(q); got < 0 != (i < k) || got > 0 != (i > k) {
				t.Errorf("%s against %s: %d", p, q, got)
			}
		}
	}
}

// A garage's own table of roles may be wrong in ways that the program's is not.
func TestRolesThatCannotBeAreRefused(t *testing.T) {
	for want, row := range map[string]map[string]string{
		"which the job has not":      {"job": "cap", "role": "x", "type": "x", "count": "1", "goes_on": "y"},
		"goes on another part":       {"job": "thermostat", "role": "x", "type": "x", "count": "1", "goes_on": "seal"},
		"neither a number":           {"job": "cap", "role": "x", "type": "x", "count": "0"},
		"a name of its own":          {"job": "cap", "role": "cap", "type": "cap", "count": "1"},
		"is not in table jobs":       {"job": "nothing", "role": "x", "type": "x", "count": "1"},
		"a name of its own and a ty": {"job": "cap", "role": "x", "count": "1"},
	} {
		ref, err := data.Reference()
		if err != nil {
			t.Fatal(err)
		}
		with := catalog.Reference{}
		for name, rows := range ref {
			with[name] = rows
		}
		r := with["job_roles"][0]
		r.Cells = row
		with["job_roles"] = append(append([]catalog.RefRow{}, with["job_roles"]...), r)
		if _, err := job.NewTables(with); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v: %v, want %q", row, err, want)
		}
	}
}
