package cli

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// importTexts imports sheets given as text, by file name and what they are.
func importTexts(t *testing.T, sheets ...[3]string) string {
	t.Helper()
	home := t.TempDir()
	for _, s := range sheets {
		path := filepath.Join(t.TempDir(), s[0])
		if err := os.WriteFile(path, []byte(s[2]), 0o644); err != nil {
			t.Fatal(err)
		}
		args := append([]string{"--home", home, "import", path}, strings.Fields(s[1])...)
		if code, out, errs := call(t, args...); code != exitYes && code != exitHeld {
			t.Fatalf("%s: exit code %d\n%s%s", s[0], code, out, errs)
		}
	}
	return home
}

const chainEngines = "family,opening_temp (°C),housing_bore (mm),seat_depth (mm),seal_form,warm_up_monitor\n" +
	"KR6,82,54.8,1.7,flat,yes\n"

const chainList = `number,type,opening_temp (°C),flange_diameter (mm),flange_thickness (mm),make,model,years,engine,replaces,replaced_by,other_supplier,other_number
T-100,thermostat,82,54.0,1.6,Corvin,Aster,1992-2004,KR6,,T-200,,
T-200,thermostat,82,54.0,1.6,,,,,,T-300,,
T-300,thermostat,82,54.0,2.6,,,,,T-099,,,
T-400,thermostat,82,54.0,1.6,Corvin,Aster,1992-2004,KR6,,T-401,,
T-401,thermostat,82,54.0,1.6,,,,,,T-400,,
T-500,thermostat,82,54.0,1.6,Corvin,Aster,1992-2004,KR6,,no longer available,,
T-600,thermostat,82,54.0,1.6,Corvin,Aster,1992-2004,KR6,,,Varn,V-1
`

const chainOthers = `number,type,opening_temp (°C),flange_diameter (mm),other_supplier,other_number
V-1,thermostat,,,Kemmel,T-600
V-2,thermostat,82,54.0,Varn,V-1
V-3,thermostat,92,54.0,Varn,V-2
`

func TestAnOldNumberLeadsToTheNewest(t *testing.T) {
	home := importTexts(t, [3]string{"engines.csv", "--as engines", chainEngines}, [3]string{"kemmel.csv", "--supplier Kemmel", chainList}, [3]string{"varn.csv", "--supplier Varn", chainOthers})
	ask := func(args ...string) (int, string) {
		code, out, errs := call(t, append([]string{"--home", home}, args...)...)
		return code, out + errs
	}
	for _, tc := range []struct {
		args string
		exit int
		text []string
	}{
		{"fit KR6 --part T-100", exitYes, []string{"Replaced by T-300 of Kemmel (T-100 → T-200 → T-300).", "T-300: supersession only: check the flange thickness", "flange thickness 2.6 mm, the old one 1.6 mm"}},
		{"find T-100", exitYes, []string{"Replaced by T-300 of Kemmel (T-100 → T-200 → T-300)."}},
		{"fit KR6 --part T-300", exitNo, []string{"replaces T-100 of Kemmel, which is listed, by way of T-200 of Kemmel", "Its own sizes count"}},
		{"fit KR6 --part T-099", exitCannotSay, []string{"T-300 of Kemmel replaces it (kemmel.csv line 4); try: fitfill fit KR6 --part T-300"}},
		{"find T-099", exitYes, []string{"replaces T-099 (kemmel.csv line 4): T-300"}},
		{"fit KR6 --part T-400", exitYes, []string{"run in a circle (T-400 → T-401 → T-400)"}},
		{"fit KR6 --part T-500", exitYes, []string{"The sheet says of it: no longer available."}},
		{"fit KR6 --part V-2", exitNo, []string{"leads to T-600 of Kemmel, which is listed, in 2 steps by way of V-1 of Varn"}},
		{"fit KR6 --part V-1 --all", exitNo, []string{"cannot all be right"}},
	} {
		code, out := ask(strings.Fields(tc.args)...)
		flat := strings.Join(strings.Fields(out), " ")
		if code != tc.exit {
			t.Errorf("%s: exit code %d, want %d\n%s", tc.args, code, tc.exit, out)
		}
		for _, text := range tc.text {
			if !strings.Contains(flat, text) {
				t.Errorf("%s: no %q in\n%s", tc.args, text, out)
			}
		}
	}
	_, out := ask("--json", "fit", "KR6", "--part", "T-100")
	var a struct {
		Answers []struct {
			Superseded struct {
				Newest []struct {
					Number, Outcome string
					Changed         []string
				}
				Origin []struct{ Line int }
			}
		}
	}
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	if s := a.Answers[0].Superseded; len(s.Newest) != 1 || s.Newest[0].Number != "T-300" || s.Newest[0].Outcome != "caution" || len(s.Newest[0].Changed) != 1 || len(s.Origin) != 2 {
		t.Errorf("superseded: %+v", s)
	}
}
