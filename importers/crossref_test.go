package importers

import (
	"strings"
	"testing"
)

func TestNumbersInOneCell(t *testing.T) {
	for cell, want := range map[string]string{
		"4711 001, 4711 002": "4711 001|4711 002", "4711003,4711004": "4711003|4711004", "B-1, B-2,B-3": "B-1|B-2,B-3", "A-1; A-2, A-3": "A-1|A-2|A-3",
		"A-1 | A-2": "A-1|A-2", "A-1/A-2": "A-1/A-2", "53,5x3": "53,5x3", "TH 1,25 X": "TH 1,25 X", "A-1, left": "A-1, left", "A-1": "A-1", "A-1,": "A-1", "A-1, ": "A-1", "": "", ", ": "",
		"11-2233, 44-5566, 77-8899": "11-2233|44-5566|77-8899",
	} {
		if got := strings.Join(splitNumbers(cell), "|"); got != want {
			t.Errorf("%q lists %q, want %q", cell, got, want)
		}
	}
}
