package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What the garage measured and fitted itself stands in the audit with its own
// sheet and line: beside what the sizes refute, and as the finding itself where a
// part came back as not fitting, or was measured otherwise than the list prints
// it. None of it is in the sheet that goes to the supplier.
func TestAuditNamesTheGaragesOwnRows(t *testing.T) {
	home := importTexts(t,
		[3]string{"engines.csv", "--as engines", "family,make,model,years\nKR6,Corvin,Aster,1995-2004\n"},
		[3]string{"varn.csv", "--supplier Varn", "number,type,flange_diameter (mm),make,model,engine\nV-1,thermostat,54.0,Corvin,Aster,KR6\nV-2,thermostat,58.0,Corvin,Aster,KR6\nV-3,hose,,Corvin,Aster,KR6\nV-4,thermostat,53.8,Corvin,Aster,KR6\nV-5,hose,,Corvin,Aster,KR6\n"},
		[3]string{"vehicles.csv", "--as vehicles", "vehicle,engine\nG 7,KR6\nG 8,KR6\n"},
		[3]string{"fitted.csv", "--as fitted", "date,vehicle,number,supplier,measured\n2024-02-01,G 7,V-4,Varn,bore 54.6; flange 53.9\n2024-03-01,G 8,V-2,Varn,flange 53.9\n2024-03-02,G 8,V-5,Varn,\n2024-03-20,G 8,V-3,Varn,\n2024-03-21,G 7,V-5,Varn,\n"},
		[3]string{"returns.csv", "--as returns", "date,supplier,number,quantity,reason,fitted_date\n2024-04-01,Varn,V-3,1,did not fit,2024-03-20\n2024-04-02,Varn,V-5,1,did not fit,2024-03-21\n"})
	code, out, errs := call(t, "--home", home, "--json", "sheets", "audit")
	var a struct {
		Findings []struct {
			Check, Number, Says string
			Lines, Against      []struct {
				Sheet string
				Line  int
			}
			Own []struct {
				Says   string
				Origin []struct {
					Sheet, Text string
					Line        int
				}
			}
		}
	}
	if err := json.Unmarshal([]byte(out), &a); err != nil || code != exitNo {
		t.Fatalf("%d, %v in\n%s%s", code, err, out, errs)
	}
	checks := map[string]string{}
	for _, f := range a.Findings {
		checks[f.Number] += f.Check + "; "
		for _, o := range f.Own {
			for _, from := range o.Origin {
				if from.Line == 0 || from.Text == "" {
					t.Errorf("%s: %q names no line of its own: %+v", f.Number, o.Says, from)
				}
			}
		}
		switch f.Number {
		case "V-2":
			if len(f.Against) == 0 || f.Against[0].Sheet != "fitted.csv" || f.Against[0].Line != 3 || f.Lines[0].Line != 3 {
				t.Errorf("V-2 was measured in fitted.csv line 3: %+v", f)
			}
		case "V-3":
			if len(f.Own) != 1 || f.Own[0].Origin[0].Sheet != "fitted.csv" || f.Own[0].Origin[1].Sheet != "returns.csv" || f.Own[0].Origin[1].Line != 2 {
				t.Errorf("V-3 came back in returns.csv line 2: %+v", f.Own)
			}
		}
	}
	if len(checks) != 2 || checks["V-2"] != "refuted: flange as measured; " || checks["V-3"] != "came back: did not fit; " {
		t.Errorf("found %v", checks) // V-5 came back from one vehicle and stayed in another
	}
	_, out, _ = call(t, "--home", home, "sheets", "audit")
	for _, want := range []string{"Prints a flange of 58.0 mm; one was measured as 53.9 mm.", "Seen here: Fitted here to G 8 (2024-03-01), and stayed. [fitted.csv line 3]", "returns.csv line 2]"} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	file := filepath.Join(t.TempDir(), "back.csv")
	call(t, "--home", home, "sheets", "audit", "--supplier", "Varn", "--out", file)
	sheet, err := os.ReadFile(file)
	if err != nil || strings.Contains(string(sheet), "G 8") || strings.Contains(string(sheet), "fitted.csv") || !strings.Contains(string(sheet), "V-3") {
		t.Errorf("%v, goes to the supplier:\n%s", err, sheet)
	}
}

// A flange that cannot go into the bore that was measured when another part was
// fitted is refuted by that row.
func TestAuditCountsABoreMeasuredWhenAPartWasFitted(t *testing.T) {
	home := importTexts(t,
		[3]string{"varn.csv", "--supplier Varn", "number,type,flange_diameter (mm),engine\nV-1,thermostat,54.0,KR6\nV-2,thermostat,58.0,KR6\n"},
		[3]string{"vehicles.csv", "--as vehicles", "vehicle,engine\nG 7,KR6\n"},
		[3]string{"fitted.csv", "--as fitted", "date,vehicle,number,supplier,measured\n2024-02-01,G 7,V-1,Varn,bore 54.6\n"})
	_, out, _ := call(t, "--home", home, "sheets", "audit")
	if flat := strings.Join(strings.Fields(out), " "); !strings.Contains(flat, "Varn V-2 for KR6 refuted: flange and bore") || !strings.Contains(flat, "against it [fitted.csv line 2") {
		t.Error(out)
	}
}
