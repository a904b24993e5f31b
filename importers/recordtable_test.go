package importers

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// The table gives back what went in, whatever the records look like: longer than
// 16 bits hold, over many lines, in more shapes than have a number.
func TestRecordTableKeepsEveryRecord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom([]int{1, 15, 17, 1023, 1025, 2100}).Draw(t, "n")
		widths := rapid.SampledFrom([]int{1, 3, 700}).Draw(t, "widths")
		var table recordTable
		var want []Record
		off, line := int64(0), uint32(1)
		next := rapid.Uint32().Draw(t, "seed")
		for range n {
			next = next*1664525 + 1013904223 // Numerical Recipes' generator, from memory
			r := Record{Offset: off, Line: line, Length: next >> 25, Lines: 1, Width: uint16(next>>8) % uint16(widths)}
			switch next >> 20 % 50 {
			case 0:
				r.Length = longRecord + next>>24
			case 1:
				r.Lines = uint16(next>>16) | 1
			case 2:
				r.Note = QuoteSpaced
			case 3:
				r.Fault = QuoteStray
			}
			table.add(r)
			want = append(want, r)
			off, line = off+int64(r.Length), line+uint32(r.Lines)
		}
		for i := range want {
			switch i % 7 {
			case 0:
				table.setClass(i, ClassSection)
				want[i].Class = ClassSection
			case 1:
				table.setFault(i, ShiftedCells)
				want[i].Fault = ShiftedCells
			case 2:
				table.addNote(i, ExtraEmpty)
				want[i].Note |= ExtraEmpty
			}
		}
		table.lengthen(3)
		want[n-1].Length += 3
		for i, r := range want {
			if d := cmp.Diff(r, table.at(i)); d != "" {
				t.Fatalf("record %d of %d (-want +got):\n%s", i, n, d)
			}
			if k, ok := table.on(int(r.Line)); !ok || k != i || table.lastLine(i) != r.LastLine() || table.isRow(i) != (r.Class == ClassData && r.Fault == NoFault) {
				t.Fatalf("record %d is not what it says: %+v", i, r)
			}
			if k, ok := table.on(int(r.Line) + 1); ok && (k != i+1 || r.Lines > 1) {
				t.Fatalf("line %d is inside record %d", r.Line+1, i)
			}
		}
	})
}
