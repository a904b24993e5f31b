package sqlite

import (
	"bytes"
	"errors"
	"io"
	"slices"
	"strings"
	"testing"
)

// Blocks that are read piece by piece are those of the whole file, wherever a
// piece ends: inside a line end, inside a line longer than several pieces, at the
// last byte.
func TestBlocksOfPiecesAreThoseOfTheFile(t *testing.T) {
	long := strings.Repeat("x", 3*readAtOnce)
	for _, raw := range []string{
		"", "one line", "one line\n", strings.Repeat("\r\r\n", readAtOnce), strings.Repeat("a\r\r\n", readAtOnce), strings.Repeat("ab\r\n", readAtOnce),
		strings.Repeat("\r", readAtOnce+1), strings.Repeat("row\n", 1000) + long + "\n" + strings.Repeat("row\r\n", 1000) + long,
		strings.Repeat("y", readAtOnce-1) + "\r\nend", strings.Repeat("y", readAtOnce) + "\n",
	} {
		var got [][]byte
		next := 1
		err := eachBlock(strings.NewReader(raw), func(first int, block []byte) error {
			if first != next {
				t.Errorf("a block begins on line %d instead of %d", first, next)
			}
			next += linesPerBlock
			got = append(got, bytes.Clone(block))
			return nil
		})
		if want := splitLines([]byte(raw)); err != nil || !slices.EqualFunc(want, got, bytes.Equal) {
			t.Errorf("%d bytes: %d blocks instead of %d (%v)", len(raw), len(got), len(want), err)
		}
	}
	short := io.NewSectionReader(strings.NewReader("short"), 0, 50)
	if err := eachBlock(short, func(int, []byte) error { return nil }); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("a file that became shorter: %v", err)
	}
}
