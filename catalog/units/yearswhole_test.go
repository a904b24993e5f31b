package units

import (
	"fmt"
	"reflect"
	"testing"
)

// What is read by itself for speed must be read as the whole grammar reads it.
func TestWholeYearsAreReadAsTheGrammarReadsThem(t *testing.T) {
	texts := []string{"0000", "1879", "1880", "2099", "2100", "9999", "1999-", "-1999", "1999-04", "199-2004", "1999-204", "1999/2004", "1999 2004", "1999\u20132004", "199a", "1999-200x", "+999", "1999-+004", "\u0661\u0669\u0669\u0669"}
	for from := 1875; from <= 2105; from += 3 {
		texts = append(texts, fmt.Sprint(from))
		for last := from - 2; last <= 2105; last += 7 {
			texts = append(texts, fmt.Sprintf("%d-%d", from, last))
		}
	}
	taken := 0
	for _, text := range texts {
		got, ok := wholeYears(text)
		if !ok {
			continue
		}
		taken++
		want, perr := readYears(cleanYears(text), YearOptions{})
		if perr != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %+v, the grammar has %+v, %v", text, got, want, perr)
		}
	}
	if taken < 1000 {
		t.Errorf("only %d of %d texts were read", taken, len(texts))
	}
}

func BenchmarkParseModelYears(b *testing.B) {
	for _, text := range []string{"1999", "1992-2004", "92-04"} {
		b.Run(text, func(b *testing.B) {
			for b.Loop() {
				if _, err := ParseModelYears(text); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
