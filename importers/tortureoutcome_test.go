package importers

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// outcome sums an inspection up in the four columns of the table.
func outcome(in Inspection) []string {
	var classes, held, ask, notes []string
	for c, n := range in.Counts.Classes {
		classes = append(classes, fmt.Sprintf("%s %d", c, n))
	}
	slices.Sort(classes)
	for h := range in.Held() {
		held = append(held, fmt.Sprintf("%d %s", h.Line, h.Code))
	}
	for _, q := range in.Accepted {
		ask = append(ask, q.Code)
	}
	for _, n := range in.Notes {
		notes = append(notes, n.Code)
	}
	return []string{strings.Join(classes, ", "), strings.Join(held, ", "), strings.Join(ask, ", "), strings.Join(notes, ", ")}
}

// linesOf is what must not change: class, verdict and lines of every span, and
// the cells, line ends inside them aside.
func linesOf(in Inspection) (lines []string) {
	for span := range in.Sheet.Spans(nil) {
		lines = append(lines, fmt.Sprintf("%d-%d %s %s %s", span.FirstLine, span.LastLine, span.Class, span.Verdict, span.Reason))
	}
	ends := strings.NewReplacer("\r\r\n", "\n", "\r\n", "\n", "\r", "\n")
	for line, cells := range in.rows(true) {
		lines = append(lines, fmt.Sprintf("%d %q", line, ends.Replace(strings.Join(cells, "\x00"))))
	}
	return lines
}

// describeInspection is the text of a golden file: how the sheet was read, its
// ledger with like neighbours in one line, and its first rows.
func describeInspection(in Inspection) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s\nheading on line %d: %s\n%s\n", in.Sheet.Encoding, in.Sheet.Dialect, in.Sheet.HeaderLine, strings.Join(in.Header, " | "), in.Sentence())
	last, from, n := "", 0, 0
	flush := func(to int) {
		if n > 0 {
			fmt.Fprintf(&b, "lines %d-%d: %d× %s\n", from, to, n, last)
		}
	}
	end := 0
	for span := range in.Sheet.Spans(nil) {
		if text := strings.TrimSpace(span.Class + " " + span.Verdict + " " + span.Reason); text != last {
			flush(end)
			last, from, n = text, span.FirstLine, 0
		}
		n++
		end = span.LastLine
	}
	flush(end)
	shown := 0
	for line, cells := range in.Rows() {
		if shown++; shown > 6 && line != 900 {
			continue
		}
		text, _ := json.Marshal(cells)
		fmt.Fprintf(&b, "%d %s\n", line, text)
	}
	for h := range in.Held() {
		fmt.Fprintf(&b, "held %d: %s\n", h.Line, h.Reason)
	}
	for _, q := range in.Accepted {
		fmt.Fprintf(&b, "asked: %s [%s]\n", q.Question, q.Command)
	}
	for _, note := range in.Notes {
		fmt.Fprintf(&b, "noted: %s\n", note.Text)
	}
	return b.String()
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join(tortureDir, name+".golden")
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got); d != "" {
		t.Errorf("golden file (-want +got):\n%s", d)
	}
}
