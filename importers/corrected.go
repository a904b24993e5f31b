package importers

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog"
)

// Corrected are the rows of a sheet as a person corrected them.
type Corrected struct {
	// Rows holds the cells of each corrected row in the order of the sheet's own
	// columns, by the line on which the row starts. Rows that came back as they
	// were are not among them.
	Rows map[int][]string
	// Strays are rows of the corrections that answer no row of the sheet, or one
	// that another row answers too. Their lines are those of the corrections.
	Strays []catalog.HeldRow
}

// Corrections reads a sheet that WriteHeld wrote and a person corrected. Each
// row answers the row that its reference names; ReadWith puts it in its place.
// Corrections of another sheet and missing columns are errors.
func Corrections(corrections, original *Sheet) (Corrected, error) {
	columns, err := correctedColumns(corrections, original)
	if err != nil {
		return Corrected{}, err
	}
	c := Corrected{Rows: map[int][]string{}}
	refs := map[string]int{}
	for i := range corrections.records.n {
		if corrections.records.class(i) == ClassData {
			refs[trim(corrections.cell(i, 0))]++
		}
	}
	var cells []string
	for i := range corrections.records.n {
		if corrections.records.class(i) != ClassData {
			continue
		}
		if p := corrections.structure(i); p != nil {
			c.stray(corrections, i, p)
			continue
		}
		cells = corrections.Cells(i, cells)
		ref := trim(cells[0])
		record, ok := original.recordOf(ref)
		switch {
		case !ok:
			c.stray(corrections, i, &problem{code: "ref-unknown", why: fmt.Sprintf(
				"the reference %q names no row of %s: leave the references as they were written", ref, original.Name)})
		case refs[ref] > 1:
			c.stray(corrections, i, &problem{code: "ref-twice", why: fmt.Sprintf(
				"the reference %q stands on more than one row: keep one row for each", ref)})
		default:
			if fixed := correctedCells(cells, columns, len(original.Header)); !sameCells(fixed, original.Cells(record, nil)) {
				c.Rows[original.records.lineOf(record)] = fixed
			}
		}
	}
	return c, nil
}

// correctedColumns finds for each column of the corrections the column of the
// original, which goes by the same name; −1 for those without.
func correctedColumns(corrections, original *Sheet) ([]int, error) {
	if !IsCorrection(corrections) {
		return nil, fmt.Errorf("%s does not start with the columns %q and %q: write out the held rows and correct that file", corrections.Name, RefHeading, ProblemHeading)
	}
	columns := make([]int, len(corrections.Header))
	place := map[string]int{}
	for j := range corrections.Header {
		columns[j] = -1
		place[Unguard(corrections.Header[j])] = j
	}
	for i := range original.Header {
		name := original.columnName(i)
		j, ok := place[name]
		if !ok {
			return nil, fmt.Errorf("%s has no column %q: keep all columns of the held rows as they were", corrections.Name, name)
		}
		columns[j] = i
	}
	return columns, nil
}

// correctedCells puts the cells of a corrected row into the order of the
// original's columns; those behind its last heading stay there.
func correctedCells(cells []string, columns []int, width int) []string {
	fixed := make([]string, width)
	for j, c := range cells {
		switch {
		case j >= len(columns):
		case columns[j] >= 0:
			fixed[columns[j]] = strings.Clone(Unguard(c))
		case j > 1:
			fixed = append(fixed, strings.Clone(Unguard(c)))
		}
	}
	return fixed
}

// sameCells compares two rows; empty cells at the end do not count.
func sameCells(a, b []string) bool {
	for i := range max(len(a), len(b)) {
		var x, y string
		if i < len(a) {
			x = a[i]
		}
		if i < len(b) {
			y = b[i]
		}
		if trim(x) != trim(y) {
			return false
		}
	}
	return true
}

// recordOf finds the record that a reference names.
func (s *Sheet) recordOf(ref string) (int, bool) {
	_, rest, _ := strings.Cut(ref, "-")
	number, _, _ := strings.Cut(rest, "-")
	line, ok := scaled(number, 0)
	if !ok {
		return 0, false
	}
	i, ok := s.RecordOn(int(line))
	return i, ok && rowRef(s, i) == ref && s.records.class(i) == ClassData
}

func (c *Corrected) stray(corrections *Sheet, i int, p *problem) {
	raw := corrections.Text(i)
	c.Strays = append(c.Strays, catalog.HeldRow{
		Line: corrections.records.lineOf(i), Code: p.code, Reason: p.why, Raw: raw, Text: raw,
	})
}

// CorrectedSheets returns the beginnings of the SHA-256 digests of the sheets
// that corrections refer to, sorted.
func CorrectedSheets(corrections *Sheet) []string {
	found := map[string]bool{}
	for i := range corrections.records.n {
		if corrections.records.class(i) == ClassData {
			if digest, _, ok := strings.Cut(trim(corrections.cell(i, 0)), "-"); ok && len(digest) == refDigest {
				found[digest] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(found))
}

// replace puts corrected rows in place of the sheet's own.
func (s *source) replace(rows map[int][]string) error {
	s.fixed = make(map[int][]string, len(rows))
	for line, cells := range rows {
		i, ok := s.RecordOn(line)
		if !ok || s.records.class(i) != ClassData {
			return fmt.Errorf("no row of %s starts on line %d, and it is to be corrected: fetch the held rows of that sheet again", s.Name, line)
		}
		s.fixed[i] = cells
	}
	return nil
}
