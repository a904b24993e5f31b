package fit

import (
	"slices"
	"testing"

	"fitfill/catalog"
)

func TestWhereAPartSits(t *testing.T) {
	for text, want := range map[string][]string{
		"RAD HOSE TOP":               {"upper"},
		"Kühlerschlauch unten":       {"lower"},
		"durite radiateur supérieur": {"upper"},
		"heater hose, inlet":         {"heater", "inlet"},
		"radiator hose":              nil,
	} {
		if got := tables(t).Places(text); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", text, got, want)
		}
	}
}

// What is for another place is left out; what says nothing of it, or something
// that does not exclude the place asked for, stays.
func TestElsewhere(t *testing.T) {
	for text, want := range map[string]bool{"upper hose": true, "bypass hose": true, "lower hose": false, "hose": false, "hose at the pump": false, "upper and lower hose, set": false} {
		p := catalog.Part{Description: word(text)}
		if got := tables(t).Elsewhere(&p, []string{"lower"}); got != want {
			t.Errorf("%s: %v", text, got)
		}
		if tables(t).Elsewhere(&p, nil) {
			t.Errorf("%s: no place was asked for", text)
		}
	}
}
