package app

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fitfill/catalog/units"
)

func writeSettings(t *testing.T, text string) string {
	t.Helper()
	home := t.TempDir()
	if err := os.WriteFile(filepath.Join(home, SettingsFile), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return home
}

// A flag beats a variable, a variable beats the file, the file beats the
// default.
func TestWhichSettingCounts(t *testing.T) {
	for name, tc := range map[string]struct {
		file, env, flag string
		want            float64 // coldest in °C
		known           bool
	}{
		"default: not stated":      {"", "", "", 0, false},
		"file":                     {`coldest = "-10 C"`, "", "", -10, true},
		"variable over file":       {`coldest = "-10 C"`, "-20 C", "", -20, true},
		"flag over variable":       {`coldest = "-10 C"`, "-20 C", "-30 C", -30, true},
		"flag over file":           {`coldest = "-10 C"`, "", "-30 C", -30, true},
		"variable without a file":  {"", "-4 F", "", -20, true},
		"flag over default, alone": {"", "", "5 F", -15, true},
	} {
		t.Run(name, func(t *testing.T) {
			home := writeSettings(t, tc.file)
			if tc.env != "" {
				t.Setenv("FITFILL_COLDEST", tc.env)
			}
			over := map[string]string{}
			if tc.flag != "" {
				over["coldest"] = tc.flag
			}
			s, err := LoadSettings(home, over)
			if err != nil {
				t.Fatal(err)
			}
			if s.Coldest.Known != tc.known || s.Coldest.Value != units.Celsius(tc.want) {
				t.Errorf("coldest is %v (%v), want %v", s.Coldest.Value, s.Coldest.Known, tc.want)
			}
		})
	}
}

func TestEverySettingIsSeenAsAVariable(t *testing.T) {
	for key, value := range map[string]string{
		"units": "furlongs", "length": "cubit", "temperature": "warm", "pressure": "stone", "torque": "horse", "volume": "bucket",
		"coldest": "cold", "altitude": "high", "cap_pressure": "strong",
		"labour_rate": "dear", "coolant_price": "wet", "comeback_cost": "-5 EUR",
	} {
		t.Run(key, func(t *testing.T) {
			t.Setenv("FITFILL_"+strings.ToUpper(key), value)
			if _, err := LoadSettings(t.TempDir(), nil); err == nil || !strings.Contains(err.Error(), key) {
				t.Errorf("%s=%s gave %v", key, value, err)
			}
		})
	}
	t.Setenv("FITFILL_TESTS_AT_HAND", "label, jar")
	t.Setenv("FITFILL_HOUSE_COOLANT", "PR-1")
	s, err := LoadSettings(t.TempDir(), nil)
	if err != nil || len(s.TestsAtHand) != 2 || s.HouseCoolant != "PR-1" {
		t.Errorf("got %v, %q, %v", s.TestsAtHand, s.HouseCoolant, err)
	}
}

func TestAnUnknownKeyIsAnErrorWithTheNearestName(t *testing.T) {
	home := writeSettings(t, `coldst = "-10 C"`)
	_, err := LoadSettings(home, nil)
	var usage *UsageError
	if !errors.As(err, &usage) || !strings.Contains(usage.Problem, `"coldst"`) || !strings.Contains(usage.Hint, `"coldest"`) {
		t.Errorf("got %v", err)
	}
}

func TestABrokenSettingsFileIsNamed(t *testing.T) {
	home := writeSettings(t, `coldest = `)
	if _, err := LoadSettings(home, nil); err == nil || !strings.Contains(err.Error(), SettingsFile) {
		t.Errorf("got %v", err)
	}
}

func TestUnitsAreSetTogetherOrOneByOne(t *testing.T) {
	s, err := LoadSettings(writeSettings(t, "units = \"us\"\ntemperature = \"°C\""), nil)
	if err != nil {
		t.Fatal(err)
	}
	want := units.US
	want.Temperature = units.UnitCelsius
	if s.Units != want {
		t.Errorf("got %+v", s.Units)
	}
}

func TestAltitudes(t *testing.T) {
	for text, want := range map[string]units.Length{
		"500 m": units.Millimetres(500_000), "500": units.Millimetres(500_000), "1000ft": units.Millimetres(304_800), "-10 m": units.Millimetres(-10_000),
	} {
		if got, err := ParseAltitude(text); err != nil || got != want {
			t.Errorf("%q is %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "high", "1,000 m", "5 km", "3 0 m"} {
		if got, err := ParseAltitude(text); err == nil {
			t.Errorf("%q was read as %v", text, got)
		}
	}
}

func TestNearest(t *testing.T) {
	names := []string{"coldest", "altitude", "units"}
	for text, want := range map[string]string{"coldes": "coldest", "cold": "", "unit": "units", "attitude": "altitude", "ALTITUDE": "altitude", "": "", "pressure": ""} {
		if got := Nearest(text, names); got != want {
			t.Errorf("nearest to %q is %q, want %q", text, got, want)
		}
	}
	if got := Nearest("x", nil); got != "" {
		t.Errorf("of no names %q", got)
	}
}

func TestNamesThatMayBeOneSupplier(t *testing.T) {
	for _, tc := range []struct {
		a, b string
		same bool
	}{
		{"Ostrel", "Ostrell", true}, {"Ostrel", "Ostrel Parts", true}, {"Quillmar & Sons", "quillmar", true}, {"Ostrel", "Quillmar", false},
		{"Depot 1", "Depot 2", false}, {"Ostrel", "Ostrel 2", false}, {"Ox", "Oy", false},
	} {
		if nearlySame(tc.a, tc.b) != tc.same || nearlySame(tc.b, tc.a) != tc.same {
			t.Errorf("%q and %q: want %v", tc.a, tc.b, tc.same)
		}
	}
}
