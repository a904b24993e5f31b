package units

import (
	"fmt"
	"reflect"
	"testing"
)

// Years that are read at sight read as they do by the patterns.
func TestPlainYearsReadAsAllOthers(t *testing.T) {
	read := func(text string) {
		r, ok := plainYears(text)
		for _, o := range []YearOptions{{}, {Pair: PairMonthYear}, {Pair: PairYears}} {
			want, perr := readStretch(text, o)
			if ok && (perr != nil || !reflect.DeepEqual(want, ModelYears{Ranges: []YearRange{r}})) {
				t.Errorf("%q: %v, the patterns read %v, %v", text, r, want, perr)
			}
			if !ok && perr == nil && len(text) > 4 && want.Built.Open() {
				t.Errorf("%q is left to the patterns", text)
			}
		}
	}
	for a := firstYear - 3; a <= lastYear+3; a += 3 {
		read(fmt.Sprint(a))
		for b := firstYear - 2; b <= lastYear+3; b += 7 {
			read(fmt.Sprintf("%d-%d", a, b))
		}
	}
	for _, other := range []string{"", "92", "1992-04", "1992/2004", "19a2-2004", "1992-200x", "1992-2004 ", "'1992", "1992+2004", "١٩٩٢"} {
		if r, ok := plainYears(other); ok {
			t.Errorf("%q: %v", other, r)
		}
	}
}
