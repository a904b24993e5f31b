package importers

import (
	"slices"
	"strings"
	"testing"
)

// The list that help prints names every setting, and what it says of the words one
// takes is what is taken.
func TestEverySettingIsListed(t *testing.T) {
	listed := []string{}
	for _, s := range ReadingSettings() {
		listed = append(listed, s.Name)
		words := strings.Split(s.Takes, "|")
		if strings.ToLower(words[0]) != words[0] || s.Name == "per" {
			continue // a name, a number, a code
		}
		for _, w := range words {
			if err := (Settings{s.Name: w}).checkMeaning(); err != nil {
				t.Error(err)
			}
		}
		takes := wordSettings[s.Name]
		if takes == nil {
			takes = meaningSettings[s.Name]
		}
		if !slices.Equal(takes, words) {
			t.Errorf("%s takes %v, and the list says %v", s.Name, takes, words)
		}
	}
	for _, name := range settingNames {
		if !strings.HasPrefix(name, "limit-") && !slices.Contains(listed, name) {
			t.Errorf("%s is not listed", name)
		}
	}
	for _, name := range listed {
		if !slices.Contains(settingNames, name) {
			t.Errorf("there is no setting %s", name)
		}
	}
}
