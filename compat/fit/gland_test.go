package fit

import (
	"math"
	"testing"

	"fitfill/catalog/units"
)

func pctClose(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) { // NaN is not close
		t.Errorf("%s is %.4f, want %.4f ±%g", what, got, want, tol)
	}
}

func inch(v float64) float64 { return units.Inches(v).Millimetres() }

// A seal maker's published gland tables, static radial and axial, inch: the
// least and most squeeze at the ends of section and depth.
func TestPublishedGlandSqueezes(t *testing.T) {
	for _, c := range []struct {
		name                       string
		w, tol, shallow, deep      float64
		least, most, inLow, inHigh float64
	}{
		{".070 radial", 0.070, 0.003, 0.050, 0.055, 17.9, 31.5, 0.012, 0.023},
		{".070 axial", 0.070, 0.003, 0.049, 0.054, 19.4, 32.9, 0.013, 0.024},
		{".103 radial", 0.103, 0.003, 0.080, 0.086, 14.0, 24.5, 0.014, 0.026},
		{".103 axial", 0.103, 0.003, 0.075, 0.081, 19.0, 29.2, 0.019, 0.031},
		{".139 radial", 0.139, 0.004, 0.110, 0.116, 14.1, 23.1, 0.019, 0.033},
		{".139 axial", 0.139, 0.004, 0.100, 0.108, 20.0, 30.1, 0.027, 0.043},
		{".210 radial", 0.210, 0.005, 0.170, 0.176, 14.1, 20.9, 0.029, 0.045},
		{".210 axial", 0.210, 0.005, 0.155, 0.165, 19.5, 27.9, 0.040, 0.060},
		{".275 radial", 0.275, 0.006, 0.225, 0.235, 12.6, 19.9, 0.034, 0.056},
		{".275 axial", 0.275, 0.006, 0.205, 0.215, 20.1, 27.0, 0.054, 0.076},
	} {
		w := around(inch(c.w), inch(c.tol), inch(c.tol))
		s := tables(t).squeeze(gland{section: w, inner: exactly(inch(2)), height: span{inch(c.shallow), inch(c.deep)}})
		pctClose(t, c.name+" least", s.squeeze.lo, c.least, 0.1)
		pctClose(t, c.name+" most", s.squeeze.hi, c.most, 0.1)
		pctClose(t, c.name+" least in", (w.lo-inch(c.deep))/inch(1), c.inLow, 0.0005)
		pctClose(t, c.name+" most in", (w.hi-inch(c.shallow))/inch(1), c.inHigh, 0.0005)
	}
}

// The shipped bands are those squeezes, rounded to whole per cent.
func TestBandsAgreeWithTheirDepths(t *testing.T) {
	for _, r := range reference(t, "fit_squeeze_bands") {
		w, tol := number(t, r, "section_in"), number(t, r, "section_tol_in")
		low := 100 * (w - tol - number(t, r, "depth_high_in")) / (w - tol)
		high := 100 * (w + tol - number(t, r, "depth_low_in")) / (w + tol)
		pctClose(t, "low", low, number(t, r, "squeeze_low_pct"), 0.55)
		pctClose(t, "high", high, number(t, r, "squeeze_high_pct"), 0.55)
	}
}

// Section loss by stretch: equations of ISO 3601-2 and of the handbooks.
func TestSectionLoss(t *testing.T) {
	th := &tables(t).thinning
	const d1, w = 37.69, 3.53
	for s, want := range map[float64]float64{1: 0.97, 2: 1.73, 3: 2.29, 5: 3.395, 10: 6.00, 0: 0, -2: 0} {
		pctClose(t, "loss", th.loss(s, d1, w), want, 0.005)
	}
	pctClose(t, "just below 3 %", th.loss(3-1e-9, d1, w), 2.290, 0.005)
	pctClose(t, "just above 3 %", th.loss(3+1e-9, d1, w), 2.289, 0.005)
	pctClose(t, "stocky -006 at 5 %", th.loss(5, 2.90, 1.78), 2.16, 0.02)
	pctClose(t, "constant volume at 2 %", volumeLoss(1020, 1000, 0.001), 0.985, 0.01)
}

// Worked stacks, recomputed with a pocket calculator (common practice): an
// AS568-222 on a plug with groove 38.40 -0.05/0 in a bore 44.00 +0.06/0.
func TestPlugGland(t *testing.T) {
	ring, err := tables(t).Ring("-222")
	if err != nil {
		t.Fatal(err)
	}
	g := plugGland(ring.innerSpan(), ring.sectionSpan(), span{38.35, 38.40}, span{44.00, 44.06})
	s := tables(t).squeeze(g)
	pctClose(t, "stretch least", s.stretch.lo, 0.74, 0.1)
	pctClose(t, "stretch middle", stretch(g.over.nom(), g.inner.nom()), 1.82, 0.1)
	pctClose(t, "stretch most", s.stretch.hi, 2.92, 0.1)
	pctClose(t, "height least", g.height.lo, 2.800, 0.0005)
	pctClose(t, "height most", g.height.hi, 2.855, 0.0005)
	pctClose(t, "squeeze least", s.squeeze.lo, 14.8, 0.1)
	pctClose(t, "squeeze middle", s.nominal, 18.6, 0.1)
	pctClose(t, "squeeze most", s.squeeze.hi, 22.3, 0.1)
	pctClose(t, "statistical", s.rss, 2.4, 0.1)

	g.play = span{0.06, 0.13} // plug 43.80 to 43.88, fully to one side
	off := tables(t).squeeze(g)
	pctClose(t, "off-centre least", off.squeeze.lo, 11.0, 0.1)
	pctClose(t, "off-centre most", off.squeeze.hi, 24.0, 0.1)
}

func TestFaceGlandAndFill(t *testing.T) {
	ring, err := tables(t).Ring("-222")
	if err != nil {
		t.Fatal(err)
	}
	g := gland{inner: ring.innerSpan(), section: ring.sectionSpan(), height: span{2.60, 2.70}, width: span{4.80, 5.00}}
	s := tables(t).squeeze(g)
	pctClose(t, "least", s.squeeze.lo, 21.3, 0.1)
	pctClose(t, "middle", s.nominal, 24.9, 0.1)
	pctClose(t, "most", s.squeeze.hi, 28.4, 0.1)
	between, nominal := g.fill()
	pctClose(t, "fill least", between.lo, 68.4, 0.1)
	pctClose(t, "fill", nominal, 75.4, 0.1)
	pctClose(t, "fill most", between.hi, 82.9, 0.1)
	pctClose(t, "hot", tables(t).hot(between.hi, 0), 86.0, 0.1)
	pctClose(t, "hot and swollen", tables(t).hot(between.hi, tables(t).limits.of(swellShare)), 90.1, 0.1)
}

// ASTM D395 method B: 40 % compression set on 3.53 mm squeezed to 2.65 mm.
func TestAfterSet(t *testing.T) {
	h, left, q := afterSet(3.53, 2.65, 40)
	pctClose(t, "height", h, 3.178, 0.005)
	pctClose(t, "left", left, 0.528, 0.005)
	pctClose(t, "squeeze", q, 15.0, 0.05)
}

// Rings of the wrong section in a groove 2.70 ±0.05 deep and 4.8 wide.
func TestWrongSection(t *testing.T) {
	for w, want := range map[float64][2]float64{3.50: {19.1, 26.4}, 3.55: {20.3, 27.4}, 3.00: {5.5, 14.2}, 4.00: {29.5, 35.4}} {
		r := tables(t).rings.general3601(units.Millimetres(37.7), units.Millimetres(w))
		s := tables(t).squeeze(gland{inner: r.innerSpan(), section: r.sectionSpan(), height: span{2.65, 2.75}})
		pctClose(t, "least", s.squeeze.lo, want[0], 0.1)
		pctClose(t, "most", s.squeeze.hi, want[1], 0.1)
	}
	g := gland{section: exactly(4.00), width: exactly(4.8), height: exactly(2.70)}
	_, fill := g.fill()
	pctClose(t, "fill", fill, 97.0, 0.1)
	pctClose(t, "hot fill", tables(t).hot(fill, 0), 100.6, 0.1)
}

func TestEdgeRingCrush(t *testing.T) {
	c, nominal, half := crush(span{5.05, 5.35}, span{4.00, 4.20})
	pctClose(t, "least", c.lo, 16.8, 0.1)
	pctClose(t, "middle", nominal, 21.2, 0.1)
	pctClose(t, "most", c.hi, 25.2, 0.1)
	// By hand: 100 x 4.10/5.20² x 0.15 = 2.27 and 100/5.20 x 0.10 = 1.92.
	pctClose(t, "statistical", half, math.Hypot(2.27, 1.92), 0.02)
	proud := span{1.55, 1.65}.minus(span{1.45, 1.55})
	pctClose(t, "proud least", proud.lo, 0, 0.001)
	pctClose(t, "proud most", proud.hi, 0.20, 0.001)
}

// A seal maker's metric gland page and an O-ring handbook's published gland
// table (common practice): squeeze and fill at nominal sizes.
func TestHandbookGrooves(t *testing.T) {
	for _, c := range []struct{ w, depth, width, squeeze, fill float64 }{
		{3.53, 2.70, 4.8, 23.5, 75.5},
		{1.78, 1.27, 2.36, 28.7, 83.0},
		{6.99, 5.74, 9.53, 17.9, 70.2},
	} {
		g := gland{inner: exactly(40), section: exactly(c.w), height: exactly(c.depth), width: exactly(c.width)}
		_, fill := g.fill()
		pctClose(t, "squeeze", tables(t).squeeze(g).nominal, c.squeeze, 0.1)
		pctClose(t, "fill", fill, c.fill, 0.1)
	}
}

// A flange 53.6 ±0.1 in a bore 54.0 +0.2/0 has 0.15 to 0.35 mm per side.
func TestFlangeClearance(t *testing.T) {
	tab := tables(t)
	c := tab.printed(mm("54.0 +0.2/0", 54)).span().minus(tab.printed(mm("53.6 ±0.1", 53.6)).span()).times(0.5)
	pctClose(t, "least", c.lo, 0.15, 0.001)
	pctClose(t, "most", c.hi, 0.35, 0.001)
}

// A seal maker's published elastomer table.
func TestElastomersInWaterOilAndSteam(t *testing.T) {
	tab := tables(t)
	for _, c := range []struct {
		material string
		at       float64
		want     bool
	}{{"EPDM-P", 140, true}, {"NBR", 110, false}, {"FKM", 100, false}, {"VMQ", 110, false}} {
		if got, known := tab.StandsHotWater(c.material, units.Celsius(c.at)); got != c.want || !known {
			t.Errorf("%s in water of %g °C: %v", c.material, c.at, got)
		}
	}
	for m, want := range map[string]bool{"EPDM": false, "NBR": true} {
		if got, known := tab.StandsOil(m); got != want || !known {
			t.Errorf("%s in mineral oil: %v", m, got)
		}
	}
	for m, want := range map[string]bool{"EPDM-P": true, "EPDM-S": false, "HNBR": false} {
		if got, known := tab.StandsSteam(m, units.Celsius(160)); got != want || !known {
			t.Errorf("%s in steam of 160 °C: %v", m, got)
		}
	}
	// ASTM D1418 / ISO 1629 names and their trade spellings, from memory.
	for name, want := range map[string]string{"nitrile": "NBR", "FPM": "FKM", "silicone": "VMQ", "EPR": "EPDM", "NBR 70": "NBR", "Silicone rubber": "VMQ", "EPDM peroxide": "EPDM-P"} {
		if got, known := tab.Material(name); got != want || !known {
			t.Errorf("%q is %s, want %s", name, got, want)
		}
	}
	if got, known := tab.Material("unobtainium"); known || got != "unobtainium" {
		t.Errorf("an unknown name became %q", got)
	}
}

// 13 CCR 1968.2 (e)(10): within 20 °F of the regulating temperature.
func TestMonitorThreshold(t *testing.T) {
	tab := tables(t)
	pctClose(t, "stamp 82", tab.MonitorThreshold(units.Celsius(82)).Celsius(), 70.9, 0.05)
	pctClose(t, "stamp 195 °F", tab.MonitorThreshold(units.Fahrenheit(195)).Celsius(), 79.4, 0.05)
	if units.Fahrenheit(160).Compare(tab.MonitorThreshold(units.Fahrenheit(195))) >= 0 {
		t.Error("160 °F where 195 °F belongs should lie below the monitor's threshold")
	}
}

// A section between two of a table takes the row that lies nearer.
func TestTheNearestRowOfATableIsTaken(t *testing.T) {
	tab := tables(t)
	for section, want := range map[float64]float64{1.0: 1.78, 2.0: 1.78, 2.3: 2.62, 3.0: 2.62, 3.2: 3.53, 5.0: 5.33, 6.3: 6.99, 9.0: 6.99} {
		for _, axial := range []bool{true, false} {
			if b := tab.band(section, axial); b.section != want || b.axial != axial {
				t.Errorf("section %g, axial %v: the band of %g, axial %v; want %g", section, axial, b.section, b.axial, want)
			}
		}
	}
	for section, want := range map[float64]float64{1.0: 1.78, 1.86: 1.90, 2.3: 2.40, 2.7: 2.62, 3.08: 3.10, 3.52: 3.53, 4.4: 4.00, 4.6: 5.00, 9.0: 6.99} {
		if g := tab.groove(section); g.section != want {
			t.Errorf("section %g: the groove of %g, want %g", section, g.section, want)
		}
	}
}
