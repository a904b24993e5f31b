package main

import (
	"fmt"
	"strconv"
	"testing"

	"fitfill/compat"
)

// worldSeeds are the worlds of the test: seeds that no rule and no limit was
// tuned on.
var worldSeeds = []string{"6140927", "88172645", "2024113"}

// What is asked of the answers about a world.
const (
	mostCannotSay = 0.02 // of all pairs that a list names
	leastYes      = 0.95 // of the right pairs that nothing but wrong rows of others speak against
	leastFound    = 0.95 // of the planted errors that the sheets themselves can show
)

// worldTruth is what is true of a world, and what its sheets can show of it.
type worldTruth struct {
	class, kind map[string]string // by part and type, by family and type; by part
	supplier    map[string]string
	measured    map[string]bool // families whose housing the garage has measured
	listed      map[pair]bool   // pairs that a list names, with whether they are right
	onFamily    map[[2]string][]string
	errors      []row
}

func readWorld(t *testing.T, files map[string][]byte) worldTruth {
	t.Helper()
	w := worldTruth{map[string]string{}, map[string]string{}, map[string]string{}, map[string]bool{}, map[pair]bool{}, map[[2]string][]string{}, nil}
	for _, r := range tableOf(t, files["classes.csv"]) {
		w.class[r["name"]+"/"+r["type"]] = r["class"]
		if r["of"] == "part" {
			w.kind[r["name"]], w.supplier[r["name"]] = r["type"], r["supplier"]
		}
	}
	for _, r := range tableOf(t, files["engines.csv"]) {
		w.measured[r["family"]] = r["housing_bore (mm)"] != ""
	}
	for _, r := range tableOf(t, files["truth.csv"]) {
		k := pair{r["number"], r["family"]}
		if _, again := w.listed[k]; !again {
			on := [2]string{k.family, w.kind[k.number]}
			w.onFamily[on] = append(w.onFamily[on], k.number)
		}
		w.listed[k] = r["fits"] == "yes"
	}
	w.errors = tableOf(t, files["errors.csv"])
	return w
}

// size is the part of a class that a sheet states as a figure: of a hose its
// bore without its shape, of a thermostat its flange without its rating.
func (w worldTruth) size(t *testing.T, name, kind string) int {
	class, err := strconv.Atoi(w.class[name+"/"+kind])
	if err != nil {
		t.Fatal(err)
	}
	s, err := readSizes()
	if err != nil {
		t.Fatal(err)
	}
	switch kind {
	case kindNames[hose]:
		return class / hoseShapes
	case kindNames[thermostat]:
		return class / len(s.ratings)
	}
	return class
}

func (w worldTruth) rating(t *testing.T, name string) int {
	class, _ := strconv.Atoi(w.class[name+"/"+kindNames[thermostat]])
	s, err := readSizes()
	if err != nil {
		t.Fatal(err)
	}
	return class % len(s.ratings)
}

// refutable reports whether the sheets hold a fact that shows a wrong pair to be
// wrong: the garage's own fact of the engine differs from the part's, or the
// parts that the other suppliers list for the engine are right, all of them, and
// differ from it in a figure. Nothing in any sheet tells two hoses of one bore
// apart, nor a part that one list alone names for an engine nobody has measured.
func (w worldTruth) refutable(t *testing.T, k pair) bool {
	kind := w.kind[k.number]
	switch kind {
	case kindNames[radiatorCap], kindNames[coolant]: // every engine's own are on file
		return true
	case kindNames[thermostat]:
		if w.rating(t, k.number) != w.rating(t, k.family) {
			return true
		}
	}
	if w.size(t, k.number, kind) == w.size(t, k.family, kind) {
		return false
	}
	if w.measured[k.family] && kind != kindNames[hose] {
		return true
	}
	right := false
	for _, other := range w.onFamily[[2]string{k.family, kind}] {
		if w.supplier[other] == w.supplier[k.number] {
			continue
		}
		if !w.listed[pair{other, k.family}] {
			return false
		}
		right = true
	}
	return right
}

// worldScore is how the answers of a world compare with its truth.
type worldScore struct {
	listed, cannotSay  int
	right, rightYes    int
	wrong, falseYes    int // that the sheets refute
	unshown, unshownOK int // wrong, and no sheet can show it; answered yes
	planted, found     int // errors that the sheets can show
	silent             int // errors that they cannot
	told, falselyTold  int // lines that the audit names, and those of them that are right
	worst              []string
}

func score(t *testing.T, w worldTruth, a worldAnswers) (s worldScore) {
	doubted := map[pair]bool{} // right parts of which a row is wrong
	for _, e := range w.errors {
		if e["kind"] == "years" || e["kind"] == "mangled" {
			doubted[pair{e["number"], e["family"]}] = true
		}
	}
	for k, right := range w.listed {
		got, answered := a.verdict[k]
		if !answered && doubted[k] {
			continue // every row of the pair is held
		}
		s.listed++
		if !answered || got == compat.CannotSay {
			s.cannotSay++
		}
		switch {
		case right && !doubted[k]:
			s.right++
			if got == compat.Yes {
				s.rightYes++
			}
		case right:
		case !w.refutable(t, k):
			s.unshown++
			if got == compat.Yes {
				s.unshownOK++
			}
		default:
			s.wrong++
			if got == compat.Yes {
				s.falseYes++
				s.worst = append(s.worst, fmt.Sprintf("%s %s fits %s", w.kind[k.number], k.number, k.family))
			}
		}
	}
	planted := map[string]bool{}
	for _, e := range w.errors {
		planted[e["sheet"]+":"+e["line"]] = true
	}
	for line := range a.found {
		s.told++
		if !planted[line] {
			s.falselyTold++
		}
	}
	for _, e := range w.errors {
		shown := e["kind"] == "years" || e["kind"] == "mangled" || w.refutable(t, pair{e["number"], e["family"]})
		found := a.found[e["sheet"]+":"+e["line"]]
		switch {
		case shown && found:
			s.planted, s.found = s.planted+1, s.found+1
		case shown:
			s.planted++
			s.worst = append(s.worst, fmt.Sprintf("%s line %s: %s of %s %s not found", e["sheet"], e["line"], e["kind"], w.kind[e["number"]], e["number"]))
		default:
			s.silent++
		}
	}
	return s
}

// wanting says what a score lacks.
func (s worldScore) wanting() (out []string) {
	share := func(n, of int) float64 { return float64(n) / float64(max(of, 1)) }
	if s.falseYes > 0 {
		out = append(out, fmt.Sprintf("%d of %d wrong parts that the sheets refute are said to fit", s.falseYes, s.wrong))
	}
	if c := share(s.cannotSay, s.listed); c > mostCannotSay {
		out = append(out, fmt.Sprintf("cannot say on %d of %d listed pairs", s.cannotSay, s.listed))
	}
	if y := share(s.rightYes, s.right); y < leastYes {
		out = append(out, fmt.Sprintf("only %d of %d right parts are said to fit", s.rightYes, s.right))
	}
	if f := share(s.found, s.planted); f < leastFound {
		out = append(out, fmt.Sprintf("only %d of %d planted errors are found", s.found, s.planted))
	}
	return out
}

// On worlds that nothing was tuned on: no part fits that the sheets refute, hardly
// a question stays open where the facts are there, and the planted errors are
// found. A wrong listing that nothing in any sheet contradicts is believed: the
// answer says that it rests on one list and is not measured.
func TestAnswersAboutGeneratedWorlds(t *testing.T) {
	for _, seed := range worldSeeds {
		t.Run(seed, func(t *testing.T) {
			files := makeWorld(t, "--seed", seed, "--families", "45", "--parts", "500", "--fitments", "3300", "--suppliers", "6", "--purchases", "60", "--errors", "5")
			truth := readWorld(t, files)
			answers := answersOf(t, files, truthOf(t, files).Suppliers, tableOf(t, files["engines.csv"]))
			s := score(t, truth, answers)
			t.Logf("%d listed pairs, %d cannot say; %d right, %d said to fit; %d wrong that the sheets refute, %d said to fit; %d wrong that no sheet shows, %d said to fit by one list; %d of %d planted errors found, %d that no sheet shows; of %d lines named %d are right",
				s.listed, s.cannotSay, s.right, s.rightYes, s.wrong, s.falseYes, s.unshown, s.unshownOK, s.found, s.planted, s.silent, s.told, s.falselyTold)
			for _, w := range s.wanting() {
				t.Error(w)
			}
			if t.Failed() {
				for _, w := range s.worst[:min(20, len(s.worst))] {
					t.Log(w)
				}
			}
			if s.wrong < 30 || s.right < 1000 || s.planted < 100 {
				t.Errorf("too little to judge by: %+v", s)
			}
			spoil(t, truth, answers)
		})
	}
}

// spoil makes answers wrong one by one: the score has to see each.
func spoil(t *testing.T, w worldTruth, a worldAnswers) {
	t.Helper()
	clean := score(t, w, a)
	for k, right := range w.listed {
		if right || !w.refutable(t, k) || a.verdict[k] == compat.Yes {
			continue
		}
		was := a.verdict[k]
		a.verdict[k] = compat.Yes
		if s := score(t, w, a); s.falseYes != clean.falseYes+1 || len(s.wanting()) == 0 {
			t.Errorf("a wrong part that is said to fit goes unseen: %+v", k)
		}
		a.verdict[k] = was
		break
	}
	a.found = map[string]bool{}
	for k := range a.verdict {
		a.verdict[k] = compat.CannotSay
	}
	if s := score(t, w, a); s.found != 0 || len(s.wanting()) != 3 {
		t.Errorf("answers that say nothing lack only %q", s.wanting())
	}
}
