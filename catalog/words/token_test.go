package words

import (
	"regexp"
	"testing"

	"pgregory.net/rapid"
)

// letterDash says the same as an expression of package regexp, which takes longer to
// compile than a whole query to read.
var letterDash = regexp.MustCompile(`^\p{L}+(-\p{L}+)+$`)

func TestWordsThatDashesJoin(t *testing.T) {
	for word, want := range map[string]bool{
		"water-pump": true, "o-ring": true, "Dicht-ring-satz": true, "kühler-schlauch": true, "pump": false, "QM-1062": false, "a-": false, "-a": false, "a--b": false, "-": false, "": false, "3-way": false, "a-\xff": false,
	} {
		if got := dashed(word); got != want || got != letterDash.MatchString(word) {
			t.Errorf("%q: %v, want %v", word, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.OneOf(rapid.StringMatching(`[a-cøÄ1-]{0,7}`), rapid.String(), rapid.StringMatching(`\p{L}{1,3}-\p{L}{1,3}(-\p{M}?\p{L})?`)).Draw(t, "word")
		if got, want := dashed(word), letterDash.MatchString(word); got != want {
			t.Fatalf("%q: %v, want %v", word, got, want)
		}
	})
}
