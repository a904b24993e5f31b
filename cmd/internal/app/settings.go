package app

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/viper"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// SettingsFile is the name of the settings file in the data folder.
const SettingsFile = "fitfill.toml"

// EnvPrefix begins the name of every environment variable: FITFILL_COLDEST
// sets coldest.
const EnvPrefix = "FITFILL"

// Settings are the shop's own habits. Each has a default; the settings file,
// an environment variable and a flag override it, in that order.
type Settings struct {
	Units        units.System
	Coldest      catalog.Stated[units.Temperature]
	Altitude     units.Length
	CapPressure  catalog.Stated[units.Pressure]
	TestsAtHand  []string
	HouseCoolant string
	Vehicles     bool                        // exports may name vehicles and customers without being asked each time
	LabourRate   catalog.Stated[units.Money] // of an hour
	CoolantPrice catalog.Stated[units.Money] // of a litre ready to pour
	ComebackCost catalog.Stated[units.Money] // freight and handling of a part that comes back
}

// settingKey is one setting: its name, its default and what it is for.
type settingKey struct{ name, fallback, about string }

var settingKeys = []settingKey{
	{"units", "metric", "metric or us: the units in which answers are shown"},
	{"length", "", "unit for lengths: mm or in"},
	{"temperature", "", "unit for temperatures: °C or °F"},
	{"pressure", "", "unit for pressures: kPa, bar or psi"},
	{"torque", "", "unit for torques: N·m, lbf·ft or lbf·in"},
	{"volume", "", "unit for volumes: L, US qt or imp qt"},
	{"coldest", "", "coldest expected temperature, such as -25 C"},
	{"altitude", "0 m", "height above sea level in metres or feet, such as 500 m"},
	{"cap_pressure", "", "pressure cap rating where the engine's is not known, such as 15 psi"},
	{"tests_at_hand", "look, label, records, refractometer, ph-strip, jar", "what the shop can test a coolant with"},
	{"house_coolant", "", "number of the coolant that the shop keeps in drums"},
	{"export_vehicles", "no", "yes or no: files written for others may name vehicles and customers"},
	{"labour_rate", "", "what an hour of labour costs the shop, such as 60 EUR"},
	{"coolant_price", "", "what a litre of coolant costs, ready to pour, such as 3 EUR"},
	{"comeback_cost", "", "freight and handling of a part that comes back, such as 5 EUR"},
}

// SettingHelp lists every setting with its default.
func SettingHelp() string {
	var b strings.Builder
	for _, k := range settingKeys {
		fmt.Fprintf(&b, "  %-15s %s", k.name, k.about)
		if k.fallback != "" {
			fmt.Fprintf(&b, " (default %q)", k.fallback)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// LoadSettings reads the settings of the data folder home. overrides are the
// values given as flags, by setting name. An unknown key in the file, or a
// value that cannot be read, is a UsageError that names key and place.
func LoadSettings(home string, overrides map[string]string) (Settings, error) {
	v := viper.New()
	v.SetEnvPrefix(EnvPrefix)
	v.AutomaticEnv()
	for _, k := range settingKeys {
		v.SetDefault(k.name, k.fallback)
	}
	path := filepath.Join(home, SettingsFile)
	v.SetConfigFile(path)
	if err := v.ReadInConfig(); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return Settings{}, fmt.Errorf("read the settings file %s: %w", path, err)
	}
	if err := knownKeys(path, v.AllKeys()); err != nil {
		return Settings{}, err
	}
	for name, value := range overrides {
		v.Set(name, value)
	}
	return parseSettings(v)
}

func knownKeys(path string, keys []string) error {
	var names []string
	for _, k := range settingKeys {
		names = append(names, k.name)
	}
	slices.Sort(keys)
	for _, key := range keys {
		if !slices.Contains(names, key) {
			return &UsageError{Problem: fmt.Sprintf("%s: there is no setting %q", path, key), Hint: nearestHint(key, names, "the settings are "+strings.Join(names, ", "))}
		}
	}
	return nil
}

func parseSettings(v *viper.Viper) (Settings, error) {
	var s Settings
	var err error
	bad := func(name string, err error) error {
		return &UsageError{
			Problem: fmt.Sprintf("setting %s: %v", name, err),
			Hint:    fmt.Sprintf("it comes from a flag, the variable %s_%s or the file %s", EnvPrefix, strings.ToUpper(name), SettingsFile),
		}
	}
	if s.Units, err = units.ParseSystem(v.GetString("units")); err != nil {
		return s, bad("units", err)
	}
	for name, slot := range map[string]*units.Unit{
		"length": &s.Units.Length, "temperature": &s.Units.Temperature, "pressure": &s.Units.Pressure,
		"torque": &s.Units.Torque, "volume": &s.Units.Volume,
	} {
		if text := v.GetString(name); text != "" {
			if *slot, err = units.ParseUnit(text); err != nil {
				return s, bad(name, err)
			}
		}
	}
	if text := v.GetString("coldest"); text != "" {
		t, err := units.ParseTemperature(text, "")
		if err != nil {
			return s, bad("coldest", err)
		}
		s.Coldest = catalog.Say(t, text, catalog.Origin{})
	}
	if s.Altitude, err = ParseAltitude(v.GetString("altitude")); err != nil {
		return s, bad("altitude", err)
	}
	if text := v.GetString("cap_pressure"); text != "" {
		p, err := units.ParsePressure(text, "")
		if err != nil {
			return s, bad("cap_pressure", err)
		}
		s.CapPressure = catalog.Say(p, text, catalog.Origin{})
	}
	for name, slot := range map[string]*catalog.Stated[units.Money]{
		"labour_rate": &s.LabourRate, "coolant_price": &s.CoolantPrice, "comeback_cost": &s.ComebackCost,
	} {
		if text := v.GetString(name); text != "" {
			m, err := units.ParseMoney(text, "")
			if err == nil && m.TenThousandths() < 0 {
				err = errors.New("it is below zero")
			}
			if err != nil {
				return s, bad(name, err)
			}
			*slot = catalog.Say(m, text, catalog.Origin{})
		}
	}
	s.TestsAtHand = list(v.Get("tests_at_hand"))
	s.HouseCoolant = v.GetString("house_coolant")
	switch text := strings.ToLower(strings.TrimSpace(v.GetString("export_vehicles"))); text {
	case "yes", "true":
		s.Vehicles = true
	case "no", "false", "":
	default:
		return s, bad("export_vehicles", fmt.Errorf("%q is neither yes nor no", text))
	}
	return s, nil
}

// list reads a list that may be written as one text with commas, or as a list
// of the settings file.
func list(value any) []string {
	var parts []string
	switch value := value.(type) {
	case string:
		parts = strings.Split(value, ",")
	case []any:
		for _, p := range value {
			parts = append(parts, fmt.Sprint(p))
		}
	}
	var out []string
	for _, p := range parts {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, p)
		}
	}
	return out
}

// ParseAltitude reads a height such as "500 m" or "1640 ft". A bare number is
// metres.
func ParseAltitude(text string) (units.Length, error) {
	number, unit := strings.TrimSpace(text), "m"
	for _, u := range []string{"ft", "m"} {
		if rest, ok := strings.CutSuffix(number, u); ok {
			number, unit = strings.TrimSpace(rest), u
			break
		}
	}
	h, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsNaN(h) || math.IsInf(h, 0) {
		return units.Length{}, fmt.Errorf("%q is not a height: write it like 500 m or 1640 ft", text)
	}
	if unit == "ft" {
		return units.Inches(h * 12), nil
	}
	return units.Millimetres(h * 1000), nil
}

// DefaultHome returns the data folder where neither --home nor FITFILL_HOME
// names one: the platform's usual place for a program's data.
func DefaultHome() (string, error) {
	switch runtime.GOOS {
	case "linux", "freebsd", "openbsd", "netbsd":
		if dir := os.Getenv("XDG_DATA_HOME"); dir != "" {
			return filepath.Join(dir, "fitfill"), nil
		}
		home, err := os.UserHomeDir()
		if err != nil {
			return "", fmt.Errorf("no data folder: name one with --home DIR (%w)", err)
		}
		return filepath.Join(home, ".local", "share", "fitfill"), nil
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("no data folder: name one with --home DIR (%w)", err)
	}
	return filepath.Join(dir, "fitfill"), nil
}
