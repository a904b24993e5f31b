package sqlite

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestTextTable compares with a map, in memory and out of a scratch file.
func TestTextTable(t *testing.T) {
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		table := &textTable{textStore: textStore{dir: dir}}
		defer table.close()
		long := strings.Repeat("x", rapid.SampledFrom([]int{0, 0, 90_000}).Draw(t, "length"))
		known := map[string]int{}
		var order []string
		for _, n := range rapid.SliceOfN(rapid.IntRange(0, 40), 0, 120).Draw(t, "texts") {
			text := fmt.Sprint(long, n%7*n)
			want, seen := known[text]
			if !seen {
				want = len(order)
				known[text], order = want, append(order, text)
			}
			if got, isNew := table.number(text); got != want || isNew == seen {
				t.Fatalf("%d %v, want %d", got, isNew, want)
			}
		}
		for i, text := range order {
			if got := table.text(i); got != text {
				t.Fatalf("text %d has %d bytes, want %d", i, len(got), len(text))
			}
		}
		if table.len() != len(order) || table.err() != nil {
			t.Fatal(table.len(), table.err())
		}
	})
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Fatal(left, err)
	}
}

// TestTextTableGrows has more texts than the generations hold, and asks for all of them
// again.
func TestTextTableGrows(t *testing.T) {
	table := &textTable{textStore: textStore{dir: t.TempDir()}}
	defer table.close()
	const n = 3*mostHot + 100
	for round := range 3 {
		for i := range n {
			if got, isNew := table.number(fmt.Sprintf("the text of number %d, which is not short", i)); got != i || isNew != (round == 0) {
				t.Fatal(round, i, got, isNew)
			}
		}
	}
	if table.file == nil {
		t.Error("all of it lies in memory")
	}
}

func TestTextTableSaysWhatWentWrong(t *testing.T) {
	table := &textTable{textStore: textStore{dir: t.TempDir() + "/missing"}}
	table.number(strings.Repeat("x", 2*tailBytes))
	if table.err() == nil || !strings.Contains(table.err().Error(), "make room") {
		t.Error(table.err())
	}
}
