package returns_test

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// rowRead is what no test has read of a row yet.
type rowRead struct {
	line   int
	unread map[string]bool
}

// notedTables are the rows of every table that a test has read, by file name.
var notedTables = map[string][]rowRead{}

// notedTable returns the notes of a table, the same each time that it is read.
func notedTable(name string, records [][]string) []rowRead {
	if notedTables[name] == nil {
		for i, rec := range records[1:] {
			unread := map[string]bool{}
			for c, h := range records[0] {
				if rec[c] != "" && h != "how" && !noFigure[name+" "+h] { // h is the call that gave the row
					unread[h] = true
				}
			}
			notedTables[name] = append(notedTables[name], rowRead{i + 2, unread})
		}
	}
	return notedTables[name]
}

// noFigure are columns of the invented shop's sheets on which no figure rests.
var noFigure = map[string]bool{"shop-sales.csv unit_price": true, "shop-returns.csv return_id": true}

// readElsewhere are tables that the tests of a plain run do not read.
var readElsewhere = map[string]string{
	"calibration.csv": "printed beside the figures of the whole study, which takes an hour: .ci/calibrate",
}

// TestMain fails a run of all tests that leaves a figure of testdata/returns
// unread: a published table is met row by row and column by column, or not at
// all.
func TestMain(m *testing.M) {
	code := m.Run()
	chosen := func(name string) bool { f := flag.Lookup(name); return f != nil && f.Value.String() != "" }
	if code == 0 && !chosen("test.run") && !chosen("test.skip") && !chosen("test.list") && *fullRuns == 0 {
		if unread := unreadCells(); len(unread) > 0 {
			fmt.Printf("--- FAIL: no test reads these figures of testdata/returns:\n%s\n", strings.Join(unread, "\n"))
			code = 1
		}
	}
	os.Exit(code)
}

// unreadCells lists what no test has read, by file, line and column.
func unreadCells() (out []string) {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "returns", "*.csv"))
	if err != nil || len(files) == 0 {
		return []string{fmt.Sprintf("no tables found: %v", err)}
	}
	for _, f := range files {
		name := filepath.Base(f)
		if readElsewhere[name] != "" {
			continue
		}
		rows, read := notedTables[name]
		if !read {
			out = append(out, name)
		}
		for _, r := range rows {
			if len(r.unread) > 0 {
				out = append(out, fmt.Sprintf("%s line %d: %s", name, r.line, strings.Join(slices.Sorted(maps.Keys(r.unread)), ", ")))
			}
		}
	}
	return out
}
