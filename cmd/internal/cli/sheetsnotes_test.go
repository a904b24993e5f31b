package cli

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

type notesJSON struct {
	Notes []struct {
		Note, Kind, Means string
		Rows              int
		Open              bool
	}
	Texts, Rows int
	OpenTexts   int `json:"open_texts"`
	OpenRows    int `json:"open_rows"`
}

func askNotes(t *testing.T, home, supplier string) (a notesJSON) {
	t.Helper()
	code, out, errs := call(t, "--home", home, "--json", "sheets", "notes", supplier)
	if err := json.Unmarshal([]byte(out), &a); err != nil || code != exitYes {
		t.Fatalf("exit code %d, %v in\n%s%s", code, err, out, errs)
	}
	return a
}

// writeNotes writes a supplier's list whose notes are given, one row each.
func writeNotes(t *testing.T, name string, notes []string) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("number,type,description,price (EUR),make,model,years,engine,Remarks\n")
	for i, n := range notes {
		fmt.Fprintf(&b, "TX-%04d,thermostat,thermostat,12.50,Corvin,Almer,1995-2004,CV34,%q\n", i, n)
	}
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// A list of 380 notes that nobody understands is twelve texts with twelve
// answers, and they hold for the next list too.
func TestTwelveAnswersSettleHundredsOfNotes(t *testing.T) {
	var notes []string
	for i := range 380 {
		notes = append(notes, fmt.Sprintf("only with loom %c", 'A'+i%12))
	}
	home := t.TempDir()
	code, out, errs := call(t, "--home", home, "import", writeNotes(t, "varn.csv", notes), "--supplier", "Varn")
	if code != exitYes || !strings.Contains(out, "380 notes not understood: 12 texts") {
		t.Fatalf("exit code %d\n%s%s", code, out, errs)
	}
	a := askNotes(t, home, "Varn")
	if a.OpenTexts != 12 || a.OpenRows != 380 {
		t.Fatalf("%d texts on %d rows are open", a.OpenTexts, a.OpenRows)
	}
	if code, _, _ := call(t, "--home", home, "fit", "CV34", "--part", "TX-0000"); code != exitNo {
		t.Errorf("a note that nobody answered does not condition the answer: exit code %d", code)
	}
	for _, n := range a.Notes {
		if code, out, errs := call(t, "--home", home, "sheets", "notes", "Varn", n.Note[len("only "):], "--harmless"); code != exitYes {
			t.Fatalf("exit code %d\n%s%s", code, out, errs)
		}
	}
	if a = askNotes(t, home, "Varn"); a.OpenTexts != 0 || a.Texts != 12 {
		t.Errorf("after twelve answers %d of %d texts are open", a.OpenTexts, a.Texts)
	}
	if code, out, _ := call(t, "--home", home, "fit", "CV34", "--part", "TX-0000"); code != exitYes || !strings.Contains(out, "as you said on") {
		t.Errorf("exit code %d\n%s", code, out)
	}
	next := append(notes[1:], "only with loom Z")
	if code, out, errs := call(t, "--home", home, "import", writeNotes(t, "varn2.csv", next), "--supplier", "Varn", "--accept", "replaces", "--accept", "fit"); code != exitYes || !strings.Contains(out, "1 note not understood: 1 text") {
		t.Errorf("the next list: exit code %d\n%s%s", code, out, errs)
	}
	if code, _, _ := call(t, "--home", home, "sheets", "notes", "Varn", "loom A", "--forget"); code != exitYes {
		t.Errorf("forgetting ended with %d", code)
	}
	if a = askNotes(t, home, "Varn"); a.OpenTexts != 2 {
		t.Errorf("after forgetting one, %d are open", a.OpenTexts)
	}
}

func TestAnswersAboutNotesThatMeanNothing(t *testing.T) {
	home := t.TempDir()
	call(t, "--home", home, "import", writeNotes(t, "varn.csv", []string{"only with loom A", "only with loom B"}), "--supplier", "Varn")
	for _, tc := range []struct {
		args []string
		want string
	}{
		{[]string{"Varn", "loom", "--harmless"}, "2 notes of Varn"},
		{[]string{"Varn", "wing", "--harmless"}, "--all"},
		{[]string{"Varn", "loom A"}, "one of --harmless"},
		{[]string{"Varn", "loom A", "--harmless", "--only", "A/C"}, "one thing"},
		{[]string{"Varn", "loom A", "--only", "--"}, "names nothing"},
		{[]string{"Varn", "loom A", "--forget"}, "nothing was answered"},
		{[]string{"Varn", "--harmless"}, "one note"},
		{[]string{"Vran", "loom A", "--harmless"}, `"Varn"`},
	} {
		code, _, errs := call(t, append([]string{"--home", home, "sheets", "notes"}, tc.args...)...)
		if code != exitUsage || !strings.Contains(errs, tc.want) {
			t.Errorf("%v: exit code %d, no %q in %s", tc.args, code, tc.want, errs)
		}
	}
}
