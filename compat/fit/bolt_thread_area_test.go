package fit

import (
	"math"
	"strings"
	"testing"

	"fitfill/catalog/units"
	"fitfill/compat"
)

// Shear area of an internal thread (ASME B1.1, appendix B; FED-STD-H28): M8 of
// 16 mm with the limits 7.760 (6g) and 7.348 (6H) of ISO 965-2 is 269.3 mm², and
// at 185 MPa, die-cast aluminium, holds at most 49.8 kN.
func TestTheAreaThatAThreadStripsAlong(t *testing.T) {
	area, known := tables(t).StripArea(thread(t, "M8"), units.Millimetres(16))
	if !known {
		t.Fatal("M8 has no limits of size")
	}
	pctClose(t, "area", area, 269.3, 0.2)
	pctClose(t, "ceiling", area*185/1000, 49.8, 0.05)
	if _, known := tables(t).StripArea(thread(t, "M3"), units.Millimetres(6)); known {
		t.Error("a thread that is not in the table has an area")
	}
}

// ISO 965-1: es = -(15 + 11·P) µm and Td = 180·P^⅔ - 3.15/√P µm for 6g, and
// TD2 = 1.32·90·P^0.4·d^0.1 µm for 6H with d the geometric mean of its range of
// diameters, each rounded to a preferred number. ASME B1.1: an allowance of 0.3·T
// and a tolerance of 0.06·P^⅔ for the major diameter of 2A, 1.3·T for the pitch
// diameter of 2B, with T = 0.0015·(D^⅓ + LE^½) + 0.015·P^⅔ and LE = D, in inches.
func TestThreadLimitsFollowTheirStandards(t *testing.T) {
	for _, r := range reference(t, "fit_thread_limits") {
		th := thread(t, r.Get("thread"))
		d, p := th.Nominal.Millimetres(), th.Pitch.Millimetres()
		major, pitch, tolerance := 0.0, 0.0, 0.011 // a step of the preferred numbers
		if th.Kind == units.ThreadMetric {
			low := 2.8
			for low*2 < d {
				low *= 2
			}
			major = d - (15+11*p+180*math.Pow(p, 2./3)-3.15/math.Sqrt(p))/1000
			pitch = pitchDiameter(th) + 1.32*90*math.Pow(p, 0.4)*math.Pow(low*math.Sqrt2, 0.1)/1000
		} else {
			in, pin := d/25.4, p/25.4
			tol := 0.0015*(math.Cbrt(in)+math.Sqrt(in)) + 0.015*math.Pow(pin, 2./3)
			major, pitch = 25.4*(in-0.3*tol-0.06*math.Pow(pin, 2./3)), pitchDiameter(th)+25.4*1.3*tol
			tolerance = 0.0002 * 25.4
		}
		limit := tables(t).bolts.threads[sizeOf(th)]
		if got := limit.majorMin.Millimetres(); math.Abs(got-major) > tolerance {
			t.Errorf("line %d: %s has a least major diameter of %.4f mm, by its standard %.4f", r.Line, th.Text, got, major)
		}
		if got := limit.pitchMax.Millimetres(); math.Abs(got-pitch) > tolerance {
			t.Errorf("line %d: %s has a greatest pitch diameter of %.4f mm, by its standard %.4f", r.Line, th.Text, got, pitch)
		}
		l := units.Millimetres(2 * d)
		if area, _ := tables(t).StripArea(th, l); tables(t).PullOut(th, l, 1) >= area/1000 {
			t.Errorf("%s is sure to hold more than it can", th.Text)
		}
	}
}

// Between what a thread is sure to hold (NASA RP-1228, a third of the cylinder)
// and its ceiling a figure is too much and may strip it; past the ceiling, or
// past what the bolt bears, it is surely wrong. M8 in 8 mm of die-cast aluminium
// of 190 MPa holds 11.4 kN for sure, 25.6 kN at most; an 8.8 bears 21.2 kN.
func TestWhatMayStripAndWhatSurelyDoes(t *testing.T) {
	for torque, want := range map[string]string{"25 N·m": "is sure to hold 11.4 kN only", "36 N·m": "surely wrong"} {
		b := bolt("M8", "8.8", torque)
		b.Into, b.Engaged = word("cast aluminium"), length("8", 8, own("8"))
		v := tables(t).JudgeTorque(b)
		if v.Outcome != compat.No || !torqueSays(v, want) {
			t.Errorf("%s: %s, %+v", torque, v.First, v.Findings[0])
		}
		if steps := strings.Join(v.Findings[0].Steps, "\n"); !strings.Contains(steps, "no such thread holds more than 3.1416 x 8.0 / 1.25 x 7.760") {
			t.Errorf("%s: no way to the ceiling:\n%s", torque, steps)
		}
	}
}
