package units_test

import (
	"math"
	"testing"

	"fitfill/catalog/units"
)

// 1 in³ is 16.387 064 cm³ exactly (NIST SP 811, appendix B.8), so 232 in³ is
// 3801.8 cm³ and 302 in³ is 4948.9 cm³.
func TestDisplacementNotations(t *testing.T) {
	for _, c := range []struct {
		text string
		dflt units.Unit
		cc   float64
	}{
		{"3.8 L", "", 3800}, {"3,8", "", 3800}, {"3.8-liter", "", 3800}, {"232 cu in", "", 3801.8}, {"232 CID", "", 3801.8}, {"232 ci", "", 3801.8},
		{"232 in3", "", 3801.8}, {"232", units.UnitCubicInch, 3801.8}, {"3802 cc", "", 3802}, {"3802 ccm", "", 3802}, {"3802 cm³", "", 3802}, {"3802", "", 3802},
		{"302 cid", "", 4948.9}, {"345", units.UnitCubicInch, 5653.5}, {"350", units.UnitCubicInch, 5735.5}, {"250", units.UnitCubicCm, 250},
		{"3802", units.UnitLitre, 3802}, {"600", units.UnitCubicInch, 9832.2},
	} {
		v, err := units.ParseDisplacement(c.text, c.dflt)
		if err != nil || math.Abs(v.Litres()*1000-c.cc) > 0.1 {
			t.Errorf("%q: got %v, %v, want %v cc", c.text, v, err, c.cc)
		}
	}
	for _, r := range []refusal{
		{"232", "", units.ErrAmbiguous, "232 cubic inches"}, {"600", "", units.ErrAmbiguous, "600"}, {"50", units.UnitLitre, units.ErrAmbiguous, "50"},
		{"3.8-4.2 L", "", units.ErrUnreadable, "two sizes"}, {"1/2", "", units.ErrUnreadable, "fraction"}, {"0 L", "", units.ErrUnreadable, "no size"},
		{"3,802", "", units.ErrAmbiguous, "3.802 or 3802"}, {"V6", "", units.ErrUnreadable, "no number"},
	} {
		_, err := units.ParseDisplacement(r.text, r.dflt)
		checkRefused(t, r, err)
	}
}

// Coarse pitches of ISO 262; threads per inch as named, 1 in = 25.4 mm; the
// outside diameter of G1/4 is 13.157 mm in ISO 228-1. NPT sizes and the
// numbered inch sizes (ASME B1.20.1, B1.1) are from memory.
func TestThreadNotations(t *testing.T) {
	for _, c := range []struct {
		text                   string
		kind                   units.ThreadKind
		nominal, pitch, length float64
		shown                  string
	}{
		{"M8", units.ThreadMetric, 8, 1.25, 0, "M8x1.25"}, {"M8x1.25", units.ThreadMetric, 8, 1.25, 0, "M8x1.25"}, {"M 8 X 1,25", units.ThreadMetric, 8, 1.25, 0, "M8x1.25"},
		{"M8×30", units.ThreadMetric, 8, 1.25, 30, "M8x1.25x30"}, {"M8-1.25x30", units.ThreadMetric, 8, 1.25, 30, "M8x1.25x30"}, {"M8x1x20 mm", units.ThreadMetric, 8, 1, 20, "M8x1x20"},
		{"M8x1.25-6g", units.ThreadMetric, 8, 1.25, 0, "M8x1.25"}, {"M8x30-8.8", units.ThreadMetric, 8, 1.25, 30, "M8x1.25x30"}, {"M9x1.25", units.ThreadMetric, 9, 1.25, 0, "M9x1.25"},
		{"M12", units.ThreadMetric, 12, 1.75, 0, "M12x1.75"}, {"M12x1.5", units.ThreadMetric, 12, 1.5, 0, "M12x1.5"},
		{"5/16-18", units.ThreadInch, 7.9375, 1.411111, 0, "5/16-18"}, {`5/16"-18 UNC-2A`, units.ThreadInch, 7.9375, 1.411111, 0, "5/16-18"},
		{`1/4-20 UNC x 1-1/4"`, units.ThreadInch, 6.35, 1.27, 31.75, `1/4-20 x 1-1/4"`}, {"1/4-28 UNF", units.ThreadInch, 6.35, 0.907143, 0, "1/4-28"}, {"#10-24", units.ThreadInch, 4.826, 1.058333, 0, "#10-24"},
		{"G1/4", units.ThreadG, 13.157, 1.336842, 0, "G1/4"}, {"R 1/4", units.ThreadR, 13.157, 1.336842, 0, "R1/4"}, {"1/4 NPT", units.ThreadNPT, 13.716, 1.411111, 0, "1/4 NPT"}, {`1/4"-18 NPT`, units.ThreadNPT, 13.716, 1.411111, 0, "1/4 NPT"},
	} {
		got, err := units.ParseThread(c.text)
		if err != nil || got.Kind != c.kind || got.Nominal != units.Millimetres(c.nominal) || got.Pitch != units.Millimetres(c.pitch) ||
			got.Length != units.Millimetres(c.length) || got.Text != c.text || got.String() != c.shown {
			t.Errorf("%q: got %+v shown as %s, %v", c.text, got, got, err)
			continue
		}
		again, err := units.ParseThread(got.String())
		again.Text = got.Text
		if err != nil || again != got {
			t.Errorf("%q printed as %s reads back as %+v, %v", c.text, got, again, err)
		}
	}
	for _, r := range []refusal{
		{"M9", "", units.ErrUnreadable, "no coarse pitch"}, {"M8x3", "", units.ErrUnreadable, "pitch"}, {"M8x30x40", "", units.ErrUnreadable, "pitch"},
		{"M0x1", "", units.ErrUnreadable, "pitch"}, {"M8x0", "", units.ErrUnreadable, "pitch"}, {"5/16", "", units.ErrUnreadable, "without its thread"},
		{"#17-10", "", units.ErrUnreadable, "numbered size"}, {"10-24", "", units.ErrAmbiguous, "#10-24"}, {"G7/16", "", units.ErrUnreadable, "pipe size"}, {"1/4-0", "", units.ErrUnreadable, "threads per inch"},
		{"M8x20-30", "", units.ErrUnreadable, "not a thread"}, {"bolt", "", units.ErrUnreadable, "not a thread"}, {"", "", units.ErrUnreadable, "not a thread"},
		{"7/15-20", "", units.ErrUnreadable, "fraction of an inch"}, {"2/3-10", "", units.ErrUnreadable, "thirds"}, {"5/16-18 x 3-1/0", "", units.ErrUnreadable, ""},
	} {
		_, err := units.ParseThread(r.text)
		checkRefused(t, r, err)
	}
}

// 5/16-18 (7.938 mm, 1.411 mm) goes into an M8x1.25 hole for a turn or two: near,
// and never the same.
func TestNearMissOfInchAndMetricStaysApart(t *testing.T) {
	a, b := parsed(units.ParseThread("5/16-18")), parsed(units.ParseThread("M8x1.25"))
	if a.Nominal == b.Nominal || a.Pitch == b.Pitch || a.Kind == b.Kind {
		t.Errorf("%+v and %+v are taken for one", a, b)
	}
	if got := a.Nominal.Sub(b.Nominal).Abs(); got != units.Millimetres(0.0625) {
		t.Errorf("nominal diameters are %v apart", got)
	}
}
