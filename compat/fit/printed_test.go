package fit

import (
	"regexp"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The numbers of a text are what the pattern of a decimal number finds.
func TestNumbersOfAText(t *testing.T) {
	number := regexp.MustCompile(`\d+(?:[.,]\d+)?|[.,]\d+`)
	rapid.Check(t, func(r *rapid.T) {
		text := rapid.StringMatching(`[0-9.,±/ mØ⁄-]{0,14}`).Draw(r, "text")
		if got, want := slices.Collect(numbersIn(text)), number.FindAllString(text, -1); !slices.Equal(got, want) {
			r.Fatalf("%q: %q, want %q", text, got, want)
		}
		if got, want := firstNumber(text), number.FindString(text); got != want {
			r.Fatalf("%q: first %q, want %q", text, got, want)
		}
	})
}
