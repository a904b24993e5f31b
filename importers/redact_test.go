package importers_test

import (
	"strings"
	"testing"

	"fitfill/data"
	"fitfill/importers"
)

// Rows that edit leaves alone stay byte for byte; the others keep their lines,
// whatever their quotes, line ends and encoding.
func TestRedactKeepsTheRows(t *testing.T) {
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct{ raw, want string }{
		"plain":       {"date,vehicle,note\n2026-01-02,D 01,low\n2026-01-03,D 02,low\n", "date,vehicle,note\n2026-01-02,gone,low\n2026-01-03,D 02,low\n"},
		"quoted":      {"date,vehicle,note\r\n\"2026-01-02\",\"D 01\",\"a \"\"big\"\" leak\"\r\n\"2026-01-03\",\"D 02\",\"x\"\r\n", "date,vehicle,note\r\n\"2026-01-02\",\"gone\",\"a \"\"big\"\" leak\"\r\n\"2026-01-03\",\"D 02\",\"x\"\r\n"},
		"two lines":   {"date,vehicle,note\n2026-01-02,D 01,\"low\nagain\"\n2026-01-03,D 02,x\n", "date,vehicle,note\n\"2026-01-02\",\"gone\",\"low\nagain\"\n2026-01-03,D 02,x\n"},
		"byte mark":   {"\xEF\xBB\xBFdate;vehicle;note\n2026-01-02;D 01;low\n", "\xEF\xBB\xBFdate;vehicle;note\n2026-01-02;gone;low\n"},
		"old letters": {"date;vehicle;note\n2026-01-02;D 01;k\xfchl\n2026-01-03;D 02;k\xfchl\n", "date;vehicle;note\n2026-01-02;gone;kühl\n2026-01-03;D 02;kühl\n"},
	} {
		s, err := importers.Open(ref, "fills.csv", []byte(c.raw), importers.Settings{"encoding": "windows-1252"})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		text, lines, err := importers.Redact(s, func(cells []string) bool {
			if len(cells) < 2 || cells[1] != "D 01" {
				return false
			}
			cells[1] = "gone"
			return true
		})
		if err != nil || string(text) != c.want || len(lines) != 1 || lines[0] != 2 {
			t.Errorf("%s: %v, lines %v\n%q\nwant\n%q", name, err, lines, text, c.want)
		}
	}
}

// An edit that would move rows to other lines is refused.
func TestRedactRefusesToMoveRows(t *testing.T) {
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	s, err := importers.Open(ref, "fills.csv", []byte("date,vehicle,note\n2026-01-02,D 01,low\n2026-01-03,D 02,x\n"), nil)
	if err != nil {
		t.Fatal(err)
	}
	_, _, err = importers.Redact(s, func(cells []string) bool {
		cells[1] = strings.Replace(cells[1], "D 01", "a\nb", 1)
		return cells[1] == "a\nb"
	})
	if err == nil {
		t.Error("rows on other lines were let through")
	}
}
