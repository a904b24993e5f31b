package cli

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
)

type fitJSON struct {
	Answers []struct {
		Number, Outcome, First string
		Faulty                 bool
		Ask                    []string
		AnswerWith             []string `json:"answer_with"`
	}
	Next *struct {
		Ask        string
		AnswerWith string `json:"answer_with"`
		Doubtful   int
		Left       float64
	}
}

func askFit(t *testing.T, args ...string) (int, fitJSON) {
	t.Helper()
	code, out, errs := call(t, append([]string{"--home", demoHome(t), "--json", "fit"}, args...)...)
	var a fitJSON
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatalf("%v in\n%s%s", err, out, errs)
	}
	return code, a
}

func (a fitJSON) of(number string) string {
	for _, p := range a.Answers {
		if p.Number == number {
			return p.Outcome
		}
	}
	return ""
}

// The engine had one rating to 2005 and another from 2006: the year is asked
// first, and its answer narrows the list.
func TestAnswersNarrowTheList(t *testing.T) {
	_, a := askFit(t, "ODL20", "--type", "thermostat")
	if a.Next == nil || a.Next.AnswerWith != "--year" || a.Next.Left > 1.5 || a.Next.Doubtful < 6 {
		t.Fatalf("asks %+v", a.Next)
	}
	_, a = askFit(t, "ODL20", "--type", "thermostat", "--year", "2004")
	if a.of("QM-1120") != "yes" || a.of("QM-1121") == "yes" {
		t.Errorf("of 2004: %s is for to 2005, %s for from 2006", a.of("QM-1120"), a.of("QM-1121"))
	}
	_, a = askFit(t, "ODL20", "--type", "thermostat", "--year", "2007")
	if a.of("QM-1120") == "yes" || a.of("QM-1121") != "yes" {
		t.Errorf("of 2007: %s is for to 2005, %s for from 2006", a.of("QM-1120"), a.of("QM-1121"))
	}
}

func TestWhatIsMeasuredComesBeforeWhatIsPrinted(t *testing.T) {
	if code, _ := askFit(t, "TKV38", "--part", "OS1954", "--year", "1996"); code != exitNo {
		t.Errorf("a flange of 2-3/16 in goes into 54.8 mm: exit code %d", code)
	}
	if code, a := askFit(t, "TKV38", "--part", "OS1954", "--year", "1996", "--measured", "flange 53.9 mm"); code != exitYes {
		t.Errorf("measured 53.9 mm: exit code %d, %+v", code, a)
	}
	if code, _ := askFit(t, "TKV38", "--part", "OS1955", "--measured", "bore 53.0 mm"); code != exitNo {
		t.Error("the measured bore does not count")
	}
	_, a := askFit(t, "TKV50", "--type", "thermostat", "--measured", "flange 60.0 mm") // of the old part
	for _, p := range a.Answers {
		if p.Outcome == "yes" {
			t.Errorf("%s fits where the old flange was 60.0 mm: %s", p.Number, p.First)
		}
	}
}

// An engine that was not made in the year that was said may be another one.
func TestAYearThatTheEngineWasNotMadeIn(t *testing.T) {
	for year, want := range map[string]bool{"2010": true, "1990": true, "1996": false, "2005": false} {
		_, out, _ := call(t, "--home", demoHome(t), "fit", "TKV38", "--type", "thermostat", "--year", year)
		if got := strings.Contains(strings.Join(strings.Fields(out), " "), year+" is not one of its years"); got != want {
			t.Errorf("%s: %s", year, out)
		}
	}
}

// A piece that opens 6 K below its stamp in the bath is faulty, and so it is
// called: it is the right part all the same. How the measurement is worded
// changes nothing.
func TestAPieceThatFailsTheBathIsCalledFaulty(t *testing.T) {
	for _, words := range []string{"opens 84 C", "opened at 84 C"} {
		code, a := askFit(t, "TKV38", "--part", "QM-1038", "--measured", words, "--measured", "stamp 90 C")
		if code != exitNo || len(a.Answers) != 1 || !a.Answers[0].Faulty || a.Answers[0].First != "faulty: opened at 84 °C, stamped 90 °C" {
			t.Errorf("%s: exit code %d, %+v", words, code, a.Answers)
		}
	}
	code, out, _ := call(t, "--home", demoHome(t), "fit", "TKV38", "--part", "QM-1038", "--measured", "opens 84 C")
	if code != exitNo || !strings.Contains(out, "faulty: opened at 84 °C, listed as 90 °C") || strings.Contains(out, "does not fit") || !strings.Contains(out, "stamped on the thermostat in hand") {
		t.Errorf("exit code %d: %s", code, out)
	}
	if _, a := askFit(t, "TKV38", "--part", "QM-1038", "--measured", "opens 91 C"); a.of("QM-1038") != "yes" || a.Answers[0].Faulty {
		t.Errorf("it opens on its stamp: %+v", a.Answers)
	}
}

func TestAnswersThatCannotBeRead(t *testing.T) {
	for args, want := range map[string]string{
		"--year 04":                      "four digits",
		"--year 2004.7":                  "2004.5",
		"--built 2004":                   "--built 2004-03",
		"--displacement big":             "3.8 L",
		"--displacement 3.0L":            "fitfill fit TKV30",
		"--measured flange":              "flange 53.9 mm",
		"--measured nose=3mm":            "ring section",
		"--measured stamp=130":           "--measured",
		"--vin8 TT":                      "one letter",
		"--measured bore=5mm --year 999": "four digits",
	} {
		code, _, errs := call(t, append([]string{"--home", demoHome(t), "fit", "TKV38"}, strings.Fields(args)...)...)
		if code != exitUsage || !strings.Contains(errs, want) {
			t.Errorf("%s: exit code %d, no %q in %s", args, code, want, errs)
		}
	}
}

// A ring of 37.7 x 3.5 mm by calliper may be AS568-222 (SAE AS568), P38 (JIS B
// 2401) or 37.5 x 3.55 (ISO 3601-1).
func TestAMeasuredRingIsNamed(t *testing.T) {
	code, out, _ := call(t, "--home", demoHome(t), "--json", "fit", "--measured", "ring 3.5 x 37.7 mm")
	var a struct {
		Rings []struct {
			Ring      string
			SectionMM float64 `json:"section_mm"`
		}
	}
	if err := json.Unmarshal([]byte(out), &a); err != nil || code != exitYes {
		t.Fatalf("exit code %d, %v in %s", code, err, out)
	}
	var got []string
	for _, r := range a.Rings {
		got = append(got, r.Ring)
	}
	for _, want := range []string{"AS568-222", "JIS B 2401 P38", "ISO 3601-1 37.5x3.55"} {
		if !slices.Contains(got, want) {
			t.Errorf("%s is missing from %v", want, got)
		}
	}
	if code, _, errs := call(t, "--home", demoHome(t), "fit"); code != exitUsage || !strings.Contains(errs, "--measured \"ring") {
		t.Errorf("without an engine: exit code %d, %s", code, errs)
	}
	if code, _, _ := call(t, "--home", demoHome(t), "fit", "--measured", "ring 41 x 9"); code != exitCannotSay {
		t.Errorf("a ring of no standard: exit code %d", code)
	}
	if code, out, _ := call(t, "--home", demoHome(t), "fit", "ODL16", "--type", "seal", "--measured", "ring 56.7 x 3.5"); code != exitYes || !strings.Contains(out, "AS568-228") {
		t.Errorf("with an engine: exit code %d\n%s", code, out)
	}
}

// A lower hose is asked for: the upper one goes into the same engine and into
// the wrong place.
func TestAHoseIsForOnePlace(t *testing.T) {
	for _, said := range []string{"lower hose", "bottom rad hose", "hose, lower"} {
		_, a := askFit(t, "TKV38", "--type", said)
		for _, number := range []string{"OS H38L", "GV 30-038", "QM-3039", "TS-3039"} {
			if a.of(number) != "yes" {
				t.Errorf("%s: %s is %q", said, number, a.of(number))
			}
		}
		for _, number := range []string{"OS H38U", "QM-3038", "TS-3038"} {
			if a.of(number) != "" {
				t.Errorf("%s: %s is for the upper end, and %q", said, number, a.of(number))
			}
		}
	}
	if _, a := askFit(t, "TKV38", "--type", "lower hose", "--part", "OS H38U"); a.of("OS H38U") != "yes" {
		t.Errorf("asked for by its number: %q", a.of("OS H38U"))
	}
	_, out, _ := call(t, "--home", demoHome(t), "fit", "TKV38", "--type", "hose")
	for _, want := range []string{"Ostrel, upper", "Ostrel, lower", "Grauvelt, lower"} {
		if !strings.Contains(out, want) {
			t.Errorf("does not say %q:\n%s", want, out)
		}
	}
}
