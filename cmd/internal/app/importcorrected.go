package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// acceptStrays is the word after --accept that leaves out corrected rows which
// answer no held row.
const acceptStrays = "without-strays"

// amendment makes a sheet take its own place with corrected rows.
type amendment struct {
	of          int64        // the sheet as it stands
	sha256      string       // of the file with the corrections; empty where none came
	source      string       // its name
	fresh       map[int]bool // lines that it corrects
	corrections []sqlite.Correction
}

// amendmentOf keeps what was corrected in a sheet when the same file is read
// once more.
func (s *Shop) amendmentOf(ctx context.Context, of int64) (*amendment, error) {
	am := &amendment{of: of}
	err := s.store.View(ctx, func(v *sqlite.View) (err error) {
		am.corrections, err = v.Corrections(ctx, of)
		return err
	})
	return am, err
}

// rows are the corrected rows by line.
func (am *amendment) rows() map[int][]string {
	if am == nil {
		return nil
	}
	rows := map[int][]string{}
	for _, c := range am.corrections {
		rows[c.Line] = c.Cells
	}
	return rows
}

// note says what the file with the corrections brought.
func (am *amendment) note(taken []sqlite.Correction) string {
	n := 0
	for _, c := range taken {
		if am.fresh[c.Line] {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return Plural(n, "row", "rows") + " from " + am.source
}

// taken leaves out the corrections of rows that are still wrong.
func (am *amendment) taken(held []catalog.HeldRow) []sqlite.Correction {
	return slices.DeleteFunc(slices.Clone(am.corrections), func(c sqlite.Correction) bool {
		return slices.ContainsFunc(held, func(h catalog.HeldRow) bool { return h.Line == c.Line })
	})
}

// importCorrections puts corrected rows into the sheet that they come from. The
// sheet is read as a whole once more, so that the corrected rows have to agree
// with all others as any row must.
func (s *Shop) importCorrections(ctx context.Context, q ImportQuestion, corrections *importers.Sheet, known []sqlite.SheetRecord, g gates, a *ImportAnswer) error {
	of, err := correctedSheet(q, corrections, known, a)
	if err != nil {
		return err
	}
	for _, o := range corrections.Questions() {
		a.Open = append(a.Open, openQuestion(o))
	}
	if len(a.Open) > 0 {
		return s.waitForDecision(ctx, q, corrections.SHA256, a)
	}
	a.Sheet, a.Supplier, a.Kind = of.Name, of.Supplier, of.Kind
	kept, err := s.reopen(ctx, of)
	if err != nil {
		return err
	}
	defer kept.Close()
	original, mapping := kept.Sheet, kept.mapping
	corrected, err := importers.Corrections(corrections, original)
	if err != nil {
		return &UsageError{Problem: err.Error(), Hint: fmt.Sprintf("fitfill held --sheet %d --out FILE.csv writes them anew", of.ID)}
	}
	if n := len(corrected.Strays); n > 0 && !slices.Contains(q.Accept, acceptStrays) {
		first := corrected.Strays[0]
		a.Open = append(a.Open, OpenQuestion{
			Code: acceptStrays, Question: fmt.Sprintf("%s of %s cannot be placed, the first on line %d: %s. Go on without?", Plural(n, "row", "rows"), corrections.Name, first.Line, first.Reason),
			Choices: []string{"accept", "drop"}, Gate: acceptStrays, Command: "--accept " + acceptStrays,
		})
		return s.waitForDecision(ctx, q, corrections.SHA256, a)
	}
	am, err := s.amendmentOf(ctx, of.ID)
	if err != nil {
		return err
	}
	am.sha256 = corrections.SHA256
	am.merge(corrected.Rows, corrections.Name, s.timestamp())
	if len(corrected.Rows) == 0 {
		a.unchanged(of)
		return nil
	}
	opt := importers.Options{}
	if opt.Known, opt.KnownNumbers, err = s.knownNumbers(ctx, *a); err != nil {
		return err
	}
	return s.stage(ctx, q, original, mapping, opt, of.Mapping, g, am, a)
}

// merge adds corrections; a later one of the same row counts.
func (am *amendment) merge(rows map[int][]string, source, at string) {
	am.source, am.fresh = source, map[int]bool{}
	for line, cells := range rows {
		am.fresh[line] = true
		am.corrections = slices.DeleteFunc(am.corrections, func(c sqlite.Correction) bool { return c.Line == line })
		am.corrections = append(am.corrections, sqlite.Correction{Line: line, Cells: cells, Source: source, At: at})
	}
	slices.SortFunc(am.corrections, func(a, b sqlite.Correction) int { return a.Line - b.Line })
}

// correctedSheet finds the sheet in use that corrections refer to. One file
// imported for two suppliers is a question.
func correctedSheet(q ImportQuestion, corrections *importers.Sheet, known []sqlite.SheetRecord, a *ImportAnswer) (sqlite.SheetRecord, error) {
	const anew = "write the held rows of a sheet in use anew: fitfill held --out FILE.csv"
	digests := importers.CorrectedSheets(corrections)
	if len(digests) != 1 {
		return sqlite.SheetRecord{}, &UsageError{
			Problem: fmt.Sprintf("the references in %s name %s", corrections.Name, Plural(len(digests), "sheet", "sheets")),
			Hint:    "a file of corrections is for one sheet: " + anew,
		}
	}
	var found []sqlite.SheetRecord
	for _, k := range known {
		if strings.HasPrefix(k.SHA256, digests[0]) && (q.Supplier == "" || catalog.Fold(q.Supplier) == catalog.Fold(k.Supplier)) {
			found = append(found, k)
		}
	}
	switch len(found) {
	case 0:
		return sqlite.SheetRecord{}, &UsageError{Problem: fmt.Sprintf("%s corrects a sheet that is not in use: it was replaced or taken back", corrections.Name), Hint: anew}
	case 1:
		return found[0], nil
	}
	o := OpenQuestion{Code: askWhoseSheet, Question: fmt.Sprintf("The sheet that %s corrects was imported for several suppliers. Which one?", corrections.Name)}
	var flags []string
	for _, k := range found {
		o.Choices, flags = append(o.Choices, k.Supplier), append(flags, fmt.Sprintf("--supplier %q", k.Supplier))
	}
	o.Command = strings.Join(flags, " or ")
	a.Open = append(a.Open, o)
	return sqlite.SheetRecord{}, nil
}

// asCorrections reads a file anew whose first line is that of a file of
// corrections, where the heading was looked for further down.
func (s *Shop) asCorrections(sheet *importers.Sheet, q ImportQuestion, r *sheetReader) (*importers.Sheet, error) {
	if importers.IsCorrection(sheet) || sheet.Len() == 0 {
		return sheet, nil
	}
	first := sheet.Cells(0, nil)
	if len(first) < 2 || first[0] != importers.RefHeading || first[1] != importers.ProblemHeading {
		return sheet, nil
	}
	return r.open(merged(q.Settings, map[string]string{"header": "1"}))
}
