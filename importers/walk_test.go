package importers

import (
	"testing"

	"pgregory.net/rapid"
)

// cellByCell reads a line as walk does, with one look at each character.
func cellByCell(line []byte, delim, quote byte) (width int, fault Fault) {
	for pos := 0; ; pos++ {
		width++
		if pos < len(line) && line[pos] == quote {
			for pos++; ; pos++ {
				if pos >= len(line) {
					return 0, QuoteOpen
				}
				if line[pos] != quote {
					continue
				}
				if pos+1 >= len(line) || line[pos+1] != quote {
					break
				}
				pos++
			}
			for pos++; pos < len(line) && line[pos] == ' '; pos++ {
			}
			if pos < len(line) && line[pos] != delim {
				return 0, QuoteStray
			}
		}
		for pos < len(line) && line[pos] != delim {
			pos++
		}
		if pos >= len(line) {
			return width, NoFault
		}
	}
}

// TestWalkByStretches compares whole stretches of cells without quotes with one look at
// each character; marks of inches stand inside cells.
func TestWalkByStretches(t *testing.T) {
	sign := rapid.SampledFrom([]rune(`ab;;"" ,`))
	quoted := 0
	rapid.Check(t, func(t *rapid.T) {
		line := []byte(rapid.StringOfN(sign, 0, 40, -1).Draw(t, "line"))
		sp := newSplitter(line, Dialect{Delimiter: ";", Quote: '"'}, 0, usualLimits())
		width, fault := cellByCell(line, ';', '"')
		got := sp.walk(line, 0, len(line))
		if got.fault != fault || got.width != width || fault == NoFault && got.stop != len(line) {
			t.Fatalf("%q: %+v, want %d cells, %q", line, got, width, fault.Code())
		}
		if fault == NoFault && width > 1 {
			quoted++
		}
	})
	if quoted == 0 {
		t.Fatal("no line was read")
	}
}
