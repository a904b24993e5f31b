package fit

import (
	"errors"
	"math"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

func mmClose(t *testing.T, what string, got units.Length, want, tol float64) {
	t.Helper()
	if math.Abs(got.Millimetres()-want) > tol {
		t.Errorf("%s is %.4f mm, want %.4f", what, got.Millimetres(), want)
	}
}

// SAE AS568 (class A of ISO 3601-1) and JIS B 2401.
func TestRingDesignations(t *testing.T) {
	for _, c := range []struct {
		text                      string
		inner, tol, section, wTol float64 // 0: not stated in the source
	}{
		{"AS568-010", 6.07, 0.13, 1.78, 0.08},
		{"AS568-014", 12.42, 0.13, 1.78, 0.08},
		{"AS568-050", 133.07, 0.94, 1.78, 0},
		{"AS568-112", 12.37, 0.13, 2.62, 0.08},
		{"AS568-151", 75.87, 0, 2.62, 0},
		{"AS568-214", 24.99, 0.25, 3.53, 0.10},
		{"AS568-222", 37.69, 0.38, 3.53, 0.10},
		{"-222", 37.69, 0.38, 3.53, 0.10},
		{"222", 37.69, 0.38, 3.53, 0.10},
		{"as 568A-222", 37.69, 0.38, 3.53, 0.10},
		{"2-222", 37.69, 0.38, 3.53, 0.10},
		{"AS568-225", 47.22, 0.46, 3.53, 0},
		{"AS568-325", 37.47, 0.38, 5.33, 0.13},
		{"O-ring-ISO3601-1-014A-12,42x1,78-N", 12.42, 0.13, 1.78, 0.08},
		{"P10A", 9.8, 0, 2.4, 0},
		{"P38", 37.7, 0, 3.5, 0.10},
		{"JIS B2401 P38", 37.7, 0, 3.5, 0},
		{"P48A", 47.6, 0, 5.7, 0},
		{"G60", 59.4, 0, 3.1, 0},
		{"P22", 21.8, 0, 2.4, 0},
		{"P22A", 21.7, 0, 3.5, 0},
		{"p-38", 37.7, 0, 3.5, 0},
		{"37.7x3.5", 37.7, 0, 3.5, 0.10},
		{"37,7 × 3,5 mm", 37.7, 0, 3.5, 0.10},
		{"1.484 x .139", 37.6936, 0, 3.5306, 0},
		{`1.484" x .139"`, 37.6936, 0, 3.5306, 0},
	} {
		r, err := tables(t).Ring(c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		mmClose(t, c.text+" inner", r.Inner, c.inner, 0.005)
		mmClose(t, c.text+" section", r.Section, c.section, 0.005)
		if c.tol != 0 {
			mmClose(t, c.text+" inner tolerance", r.InnerTol, c.tol, 0.005)
		}
		if c.wTol != 0 {
			mmClose(t, c.text+" section tolerance", r.SectionTol, c.wTol, 0.005)
		}
		if len(r.Origin) == 0 {
			t.Errorf("%q cites nothing", c.text)
		}
	}
	in, err := tables(t).Ring("AS568-010")
	if err != nil || roundTo(in.Inner.Inches(), 3) != 0.239 || roundTo(in.Section.Inches(), 3) != 0.070 {
		t.Errorf("AS568-010 in inches: %v %v (%v)", in.Inner.Inches(), in.Section.Inches(), err)
	}
	tol, err := tables(t).Ring("AS568-225")
	if err != nil || roundTo(tol.InnerTol.Inches(), 3) != 0.018 {
		t.Errorf("AS568-225 tolerance: %v in (%v)", tol.InnerTol.Inches(), err)
	}
}

func TestRingRefusesWhatItDoesNotKnow(t *testing.T) {
	for _, text := range []string{"", "AS568-999", "P23", "P47", "3.5x37.7", "large", "37.7", "G61A"} {
		if _, err := tables(t).Ring(text); !errors.Is(err, ErrRing) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// ISO 3601-1:2012, class B, equation A.1.
func TestClassBTolerance(t *testing.T) {
	for inner, want := range map[float64]float64{10: 0.19, 25: 0.30, 50: 0.48, 100: 0.82} {
		r := tables(t).rings.general3601(units.Millimetres(inner), units.Millimetres(3.5))
		mmClose(t, "tolerance", r.InnerTol, want, 0.005)
	}
}

func TestMeasuredRingToCandidates(t *testing.T) {
	got := map[string]bool{}
	for _, r := range tables(t).RingsLike(mm("37.7", 37.7), mm("3.5", 3.5)) {
		got[r.Name] = true
	}
	want := []string{"AS568-222", "JIS B 2401 P38", "ISO 3601-1 37.5x3.55"}
	for _, w := range want {
		if !got[w] {
			t.Errorf("%s is missing from %v", w, got)
		}
	}
	if len(got) != len(want) {
		t.Errorf("candidates %v, want %v", got, want)
	}
}

func mm(text string, v float64) catalog.Stated[units.Length] {
	return catalog.Say(units.Millimetres(v), text, catalog.Origin{Sheet: "engines.csv", Line: 2, Text: text})
}

func TestPrintedDigits(t *testing.T) {
	for _, c := range []struct {
		text   string
		mm     float64
		lo, hi float64
	}{
		{"54", 54, 53.5, 54.5},
		{"54.0", 54, 53.95, 54.05},
		{"54,0 mm", 54, 53.95, 54.05},
		{"Ø54", 54, 53.5, 54.5},
		{"5.4 cm", 54, 53.5, 54.5},
		{"2-1/8 in", 53.975, 53.578125, 54.371875},
		{"2⅛\"", 53.975, 53.578125, 54.371875},
		{"2.125", 53.975, 53.9623, 53.9877},
		{".139", 3.5306, 3.5179, 3.5433},
		{"53.6 ±0.1", 53.6, 53.5, 53.7},
		{"53.6 +/-0.1", 53.6, 53.5, 53.7},
		{"54.0 +0.2/0", 54, 54, 54.2},
		{"54.0 +0.2 -0.1", 54, 53.9, 54.2},
		{"54.0 (2-1/8)", 54, 53.603125, 54.396875}, // a fraction anywhere: the wider
		{"", 54, 53.5, 54.5},
		{"", 53.6, 53.55, 53.65},
	} {
		s := tables(t).printed(mm(c.text, c.mm)).span()
		if math.Abs(s.lo-c.lo) > 1e-4 || math.Abs(s.hi-c.hi) > 1e-4 {
			t.Errorf("%q: %.4f to %.4f, want %.4f to %.4f", c.text, s.lo, s.hi, c.lo, c.hi)
		}
	}
}
