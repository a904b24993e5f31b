package cli

import (
	"slices"
	"strings"
	"testing"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

// A part that one list alone speaks for shows how often that supplier erred; one
// that was measured does not.
func TestAnAnswerOnOneListShowsTheSuppliersRecord(t *testing.T) {
	record := func(args ...string) (app.PartFit, *compat.Finding) {
		p := ask[app.FitAnswer](t, append([]string{"fit"}, args...)...).Answers[0]
		i := slices.IndexFunc(p.Findings, func(f compat.Finding) bool { return f.Check == "listing-record" })
		if i < 0 {
			return p, nil
		}
		return p, &p.Findings[i]
	}
	p, f := record("VSD19", "--part", "QM-1519", "--year", "2005")
	if f == nil || p.Outcome != compat.Yes || !strings.Contains(f.Says, "rests on Quillmar's list alone") || !strings.Contains(f.Says, "11 of 949 pieces") || len(f.Origin) != 11 {
		t.Errorf("one list, nothing measured: %+v", f)
	}
	for _, s := range ask[app.SuppliersAnswer](t, "suppliers").Suppliers {
		if s.Supplier == "Quillmar" && (s.SupplyErrors != 11 || s.SupplyPct.Est != 1.16) {
			t.Errorf("the comparison of suppliers says %d, %+v", s.SupplyErrors, s.SupplyPct)
		}
	}
	if _, f := record("TKV38", "--part", "OS1955"); f != nil {
		t.Errorf("measured, and yet: %s", f.Says)
	}
}
