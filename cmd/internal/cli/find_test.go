package cli

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"
)

// said is one sentence of testdata/find/queries.csv.
type said struct{ half, query, readAs, engines, types, first string }

func saidAtTheCounter(t *testing.T) []said {
	t.Helper()
	file, err := os.Open("../../../testdata/find/queries.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var list []said
	for _, r := range rows[1:] {
		list = append(list, said{r[0], r[1], r[2], r[3], r[4], r[5]})
	}
	return list
}

type foundJSON struct {
	ReadAs  string `json:"read_as"`
	Types   []string
	Engines []struct{ Engine string }
	Total   int
	Hits    []struct{ Number, Why string }
	Nearest []struct{ Number string }
}

// misses says what an answer got wrong.
func (s said) misses(a foundJSON) (wrong []string) {
	var engines []string
	for _, e := range a.Engines {
		engines = append(engines, e.Engine)
	}
	slices.Sort(engines)
	types := slices.Clone(a.Types)
	slices.Sort(types)
	wantTypes := strings.Fields(s.types)
	slices.Sort(wantTypes)
	if a.ReadAs != s.readAs {
		wrong = append(wrong, "read as "+a.ReadAs)
	}
	if strings.Join(engines, " ") != s.engines {
		wrong = append(wrong, "engines "+strings.Join(engines, " "))
	}
	if !slices.Equal(types, wantTypes) {
		wrong = append(wrong, "types "+strings.Join(types, " "))
	}
	first := "none"
	switch {
	case len(a.Hits) > 0:
		first = a.Hits[0].Number
	case len(a.Nearest) > 0:
		first = "~" + a.Nearest[0].Number
	}
	if s.first != "" && !slices.Contains(strings.Split(s.first, "|"), first) {
		wrong = append(wrong, "first "+first)
	}
	return wrong
}

// The sentences of the first half may be tuned on; those of the second are read
// by this test only, and it names none of them.
func TestWhatIsSaidAtTheCounterIsUnderstood(t *testing.T) {
	home := demoHome(t)
	right, all := map[string]int{}, map[string]int{}
	for _, s := range saidAtTheCounter(t) {
		_, out, errs := call(t, append([]string{"--home", home, "--json", "find", "--"}, strings.Fields(s.query)...)...)
		var a foundJSON
		if err := json.Unmarshal([]byte(out), &a); err != nil {
			t.Fatalf("%q: %v in\n%s%s", s.query, err, out, errs)
		}
		wrong := s.misses(a)
		all[s.half]++
		if len(wrong) == 0 {
			right[s.half]++
		} else if s.half == "first" {
			t.Errorf("%q: %s; want %s, %s, %s, %s", s.query, strings.Join(wrong, ", "), s.readAs, s.engines, s.types, s.first)
		}
		for _, h := range a.Hits {
			if h.Why == "" {
				t.Errorf("%q: %s does not say why it is there", s.query, h.Number)
			}
		}
	}
	t.Logf("right: %d of %d in the first half, %d of %d in the second", right["first"], all["first"], right["second"], all["second"])
	if got, want := right["second"]*100, all["second"]*leastRight; got < want {
		t.Errorf("second half: %d of %d sentences are understood, at least %d %% must be", right["second"], all["second"], leastRight)
	}
}

// leastRight is the share in per cent of the second half that must be
// understood.
const leastRight = 95
