package importers

import (
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Whatever stands between its digits, a number keeps all of them, in their order.
func TestFrameKeepsTheDigits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var code strings.Builder
		places := 0
		for range rapid.IntRange(1, 6).Draw(t, "parts") {
			if rapid.Bool().Draw(t, "words") {
				code.WriteString(`"` + rapid.StringMatching(`[A-Z]{1,3}`).Draw(t, "text") + `"`)
				continue
			}
			n := rapid.IntRange(1, 4).Draw(t, "places")
			code.WriteString(strings.Repeat("0", n))
			places += n
		}
		if places == 0 {
			code.WriteString("0")
			places = 1
		}
		s := readShape(code.String())
		number := strconv.Itoa(rapid.IntRange(0, 1<<31).Draw(t, "number"))
		want := strings.Repeat("0", max(0, places-len(number))) + number
		shown := number
		if s.frame != nil {
			shown = s.frame.shown(number)
		} else {
			want = number
		}
		digits := strings.Map(func(r rune) rune {
			if r >= '0' && r <= '9' {
				return r
			}
			return -1
		}, shown)
		if digits != want {
			t.Fatalf("%s shows %s as %q, want its digits to be %s", code.String(), number, shown, want)
		}
	})
}
