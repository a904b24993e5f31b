package importers

import (
	"fmt"
	"strings"

	"fitfill/catalog"
)

// ReadCorrected reads a sheet that WriteHeld wrote and a person corrected. Each
// row takes the place of the row that its reference names and goes the way of
// ReadWith: what is right now is emitted under the line of the original sheet,
// what is still wrong is held under that line. It must agree with the rest of the
// original sheet as any row must. References that are not of this sheet or stand
// twice are held under the line of the corrections. Of the Report, RowsRead and
// RowsSkipped count rows of the corrections.
func ReadCorrected(ref catalog.Reference, corrections, original *Sheet, m Mapping, opt Options, emit func(catalog.SheetRow) error) (Report, error) {
	if err := m.fits(original); err != nil {
		return Report{}, err
	}
	columns, err := correctedColumns(corrections, original)
	if err != nil {
		return Report{}, err
	}
	r := &reading{src: &source{Sheet: original, fixed: map[int][]string{}}, mapping: m, opt: opt, emit: emit, records: len(original.Records)}
	r.only = func(i int) bool { _, ok := r.src.fixed[i]; return ok }
	lines := r.collectFixed(corrections, columns)
	if err := r.run(ref); err != nil {
		return r.report, err
	}
	for i := range r.report.Held {
		h := &r.report.Held[i]
		if k, ok := lines[h.Line]; ok && h.Raw == original.Text(k) {
			h.Reason += " (as corrected)"
		}
	}
	r.report.RowsRead = corrections.Rows()
	return r.close()
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

// collectFixed reads the corrected cells of every row and holds what has no
// place. It returns the original record by line.
func (r *reading) collectFixed(corrections *Sheet, columns []int) map[int]int {
	refs := map[string]int{} // how often each stands
	var cells []string
	each := func(do func(i int, ref string, cells []string)) {
		for i := range corrections.Records {
			if rec := &corrections.Records[i]; rec.Class == ClassData && corrections.structure(i) == nil {
				cells = corrections.Cells(i, cells)
				do(i, trim(cells[0]), cells)
			}
		}
	}
	for i := range corrections.Records {
		rec := &corrections.Records[i]
		switch p := corrections.structure(i); {
		case rec.Class == ClassTitle || rec.Class == ClassHeading:
		case rec.Class != ClassData:
			r.report.RowsSkipped++
			r.report.Skipped = append(r.report.Skipped, Skip{int(rec.Line), rec.Class.String()})
		case p != nil:
			r.holdCorrection(corrections, i, p)
		}
	}
	each(func(_ int, ref string, _ []string) { refs[ref]++ })
	lines := map[int]int{}
	each(func(i int, ref string, cells []string) {
		record, ok := r.recordOf(ref)
		switch {
		case !ok:
			r.holdCorrection(corrections, i, &problem{code: "ref-unknown", why: fmt.Sprintf(
				"the reference %q names no row of %s: leave the references as they were written", ref, r.src.Name)})
		case refs[ref] > 1:
			r.holdCorrection(corrections, i, &problem{code: "ref-twice", why: fmt.Sprintf(
				"the reference %q stands on more than one row: keep one row for each", ref)})
		default:
			fixed := make([]string, len(r.src.Header))
			for j, c := range cells {
				switch at := columns[j:]; {
				case len(at) == 0:
				case at[0] >= 0:
					fixed[at[0]] = strings.Clone(Unguard(c))
				case j > 1:
					fixed = append(fixed, strings.Clone(Unguard(c))) // still beyond the last heading
				}
			}
			r.src.fixed[record] = fixed
			lines[int(r.src.Records[record].Line)] = record
		}
	})
	return lines
}

// recordOf finds the record that a reference names.
func (r *reading) recordOf(ref string) (int, bool) {
	_, rest, _ := strings.Cut(ref, "-")
	number, _, _ := strings.Cut(rest, "-")
	line, ok := scaled(number, 0)
	if !ok {
		return 0, false
	}
	i, ok := r.src.recordOn(int(line))
	return i, ok && rowRef(r.src.Sheet, i) == ref && r.src.Records[i].Class == ClassData
}

func (r *reading) holdCorrection(corrections *Sheet, i int, p *problem) {
	raw := corrections.Text(i)
	r.report.Held = append(r.report.Held, catalog.HeldRow{
		Line: int(corrections.Records[i].Line), Code: p.code, Reason: p.why, Raw: raw, Text: raw,
	})
}
