package catalog

import (
	"testing"

	"pgregory.net/rapid"
)

func TestFoldingOfASCIIIsThatOfAnyText(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		text := rapid.OneOf(
			rapid.StringMatching(`[ -~\t\n]{0,20}`), rapid.StringMatching(`[a-z0-9]{1,6}( [a-z0-9]{1,6}){0,12}`),
			rapid.StringMatching(`[A-Za-z ./ßÄé\x{00a0}K-]{0,80}`), rapid.String(),
		).Draw(r, "text")
		if got, want := Fold(text), foldAny(text); got != want {
			r.Fatalf("%q: %q, want %q", text, got, want)
		}
	})
}

func BenchmarkFold(b *testing.B) {
	for _, text := range []string{"Trade House 01", "trade house 01", "Kühler Süd"} {
		b.Run(text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Fold(text)
			}
		})
	}
}
