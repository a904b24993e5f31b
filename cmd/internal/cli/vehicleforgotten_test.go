package cli

import (
	"regexp"
	"strings"
	"testing"
)

// W 7-K and its VIN, in any spelling.
var traceOfW7 = regexp.MustCompile(`(?i)(^|[^\pL\pN])W[^\pL\pN\r\n]{0,2}7[^\pL\pN\r\n]{0,2}K($|[^\pL\pN])|Z0XBR30T6W1000777`)

// A later sheet that names a forgotten vehicle states the events that are on file
// already, each once, and the mark does not come back with it.
func TestALaterSheetDoesNotBringAForgottenVehicleBack(t *testing.T) {
	home := t.TempDir()
	load := func(want int, name, as, text string) map[string]any {
		t.Helper()
		return answer(t, home, want, "import", writeSheet(t, name, text), "--as", as)
	}
	const (
		bought  = "date,supplier,number,type,quantity,document,vehicle\n"
		january = "2026-01-05,Ostrel,T-1,thermostat,2,J1,W7K\n2026-01-05,Ostrel,T-1,thermostat,2,J1,W7K\n2026-01-06,Ostrel,T-1,thermostat,1,for W-7-K,A 1\n2026-01-07,Ostrel,T-1,thermostat,1,J3,A 1\n"
		poured  = "date,vehicle,chemistry,volume (L),note\n"
		filled  = "2026-01-05,W 7-K,oat,4,W 7 K ran hot\n2026-01-06,A 1,oat,3,\n"
		owned   = "vehicle,vin,engine\nW 7-K,Z0XBR30T6W1000777,TKV38\nA 1,,TKV38\n"
	)
	load(0, "january.csv", "purchases", bought+january)
	load(0, "returned.csv", "returns", "date,supplier,number,quantity,reason,document,note\n2026-01-20,Ostrel,T-1,1,leaked,J1,out of W7K\n")
	load(0, "poured.csv", "fills", poured+filled)
	load(0, "owned.csv", "vehicles", owned)
	answer(t, home, 0, "vehicle", "forget", "W 7-K", "--yes")
	sold := func() float64 { t.Helper(); return supplierScore(t, home, "Ostrel")["sold"].(float64) }
	if got := sold(); got != 6 {
		t.Fatalf("%g sold after forgetting, want 6", got)
	}

	// The same rows in a longer sheet, and one that is new.
	a := load(0, "quarter.csv", "purchases", bought+january+"2026-02-01,Ostrel,T-1,thermostat,3,J4,w7k\n")
	notes := jsonText(t, a["notes"])
	if !strings.Contains(notes, "forgotten-vehicle") || !strings.Contains(notes, "kept without its mark, as forgotten 1") || traceOfW7.MatchString(notes) {
		t.Errorf("notes: %s", notes)
	}
	load(0, "returned2.csv", "returns", "date,supplier,number,quantity,reason,document,note\n2026-01-20,Ostrel,T-1,1,leaked,J1,out of W7K\n2026-02-01,Ostrel,T-1,1,leaked,J3,\n")
	load(0, "poured2.csv", "fills", poured+filled+"2026-02-02,W7K,oat,1,\n")
	load(0, "owned2.csv", "vehicles", owned)
	if card := answer(t, home, 0, "vehicle", "show", "forgotten 1"); len(card["fills"].([]any)) != 2 || card["vin"] != "" {
		t.Errorf("its history: %v", card)
	}
	answer(t, home, 4, "vehicle", "show", "W7K")

	if found := traceOfW7.FindAllString(everyText(t, home), -1); len(found) > 0 {
		t.Errorf("traces: %q", found)
	}
	if got := sold(); got != 9 {
		t.Errorf("%g sold, want the 6 and the 3 that are new", got)
	}
	if faulty := supplierScore(t, home, "Ostrel")["faulty"].(float64); faulty != 2 {
		t.Errorf("%g faulty, want the one that both sheets tell of and the new one", faulty)
	}
	if code, out, errs := call(t, "--home", home, "doctor"); code != 0 {
		t.Errorf("doctor ended with %d:\n%s%s", code, out, errs)
	}

	// The file as it was is known by what is kept of it.
	if a := load(0, "quarter.csv", "purchases", bought+january+"2026-02-01,Ostrel,T-1,thermostat,3,J4,w7k\n"); a["status"] != "unchanged" {
		t.Errorf("the same file again: %v", a["status"])
	}
	// Who writes the vehicle down again has it as a new one.
	answer(t, home, 0, "vehicle", "add", "W 7-K")
	load(0, "march.csv", "purchases", bought+"2026-03-03,Ostrel,T-1,thermostat,1,J9,W7K\n")
	answer(t, home, 0, "vehicle", "show", "W7K")
}
