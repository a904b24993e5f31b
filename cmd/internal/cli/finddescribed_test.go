package cli

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

type hitsJSON struct {
	Total int
	Hits  []struct{ Number, Outcome, Why string }
}

func (a hitsJSON) of(number string) string {
	for _, h := range a.Hits {
		if h.Number == number {
			return h.Outcome
		}
	}
	return "not shown"
}

func askFind(t *testing.T, home string, args ...string) hitsJSON {
	t.Helper()
	_, out, errs := call(t, append([]string{"--home", home, "--json", "find"}, args...)...)
	var a hitsJSON
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatalf("%v in\n%s%s", err, out, errs)
	}
	return a
}

// A list that only describes an engine ("3.4 V6 '93-02 exc. HD") means the family
// that the garage's sheet of engines has so: its parts are found with the engine
// as they are in `fit`, with the same verdict.
func TestFindShowsPartsWhoseListOnlyDescribesTheEngine(t *testing.T) {
	home := t.TempDir()
	engines := "family,make,model,years,displacement,cylinders\nCRV34,Corvin,Aster,1993-2002,3.4 L,6\nCRV28,Corvin,Aster,1993-2002,2.8 L,6\n"
	for i := range 7 { // more engines of the make than are judged in one answer
		engines += fmt.Sprintf("CRV1%d,Corvin,Bellow,1993-2002,1.%d L,4\n", i, i)
	}
	for _, c := range [][]string{
		{write(t, "engines.csv", engines), "--as", "engines"},
		{write(t, "varn.csv", "number,type,description,make,model,years,engine\n"+
			"TX-3401,thermostat,Thermostat 82,Corvin,Aster,,\"3.4 V6 '93-02 exc. HD\"\nTX-3402,thermostat,Thermostat 82,Corvin,Aster,,\"3.4 V6 '93-02\"\n"+
			"TX-2801,thermostat,Thermostat 82,Corvin,Aster,,2.8 V6\nTX-3403,hose,Radiator hose,Corvin,Aster,1993-2002,CRV34\n"), "--supplier", "Varn"},
	} {
		if code, out, errs := call(t, append([]string{"--home", home, "import"}, c...)...); code != exitYes {
			t.Fatalf("%s: %d\n%s%s", filepath.Base(c[0]), code, out, errs)
		}
	}
	for _, words := range [][]string{{"thermostat", "--engine", "CRV34"}, {"thermostat CRV34"}, {"thermostat Aster 3.4"}, {"TX-34", "--engine", "CRV34"}, {"340 CRV34"}} {
		a := askFind(t, home, words...)
		if a.of("TX-3401") != "caution" || a.of("TX-3402") != "yes" {
			t.Errorf("%v: TX-3401 %s, TX-3402 %s, of %d", words, a.of("TX-3401"), a.of("TX-3402"), a.Total)
		}
		if got := a.of("TX-2801"); got != "not shown" {
			t.Errorf("%v: the thermostat of the 2.8 is %s", words, got)
		}
	}
	// Half a number finds parts for any engine: those of another one are said to be none of this one's.
	a := askFind(t, home, "TX-", "--engine", "CRV34")
	if a.Total != 4 || a.of("TX-2801") != "cannot-say" || a.Hits[len(a.Hits)-1].Number != "TX-2801" || !strings.Contains(a.Hits[3].Why, "not listed for CRV34") {
		t.Errorf("TX-: %+v", a)
	}
	_, out, _ := call(t, "--home", home, "find", "TX-", "--engine", "CRV34")
	if !strings.HasPrefix(out, "4 parts; for CRV34: 2 fit, 1 should fit, 1 cannot say") {
		t.Error(out)
	}
	// More engines than are judged: they are all found to choose from.
	var numbers []string
	for _, h := range askFind(t, home, "thermostat", "Corvin").Hits {
		numbers = append(numbers, h.Number)
	}
	if slices.Sort(numbers); !slices.Equal(numbers, []string{"TX-2801", "TX-3401", "TX-3402"}) {
		t.Errorf("thermostats of the make: %v", numbers)
	}
}
