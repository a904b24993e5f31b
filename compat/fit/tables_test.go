package fit

import (
	"math"
	"strconv"
	"strings"
	"sync"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/data"
)

var tablesOnce = sync.OnceValues(func() (*Tables, error) {
	ref, err := data.Reference()
	if err != nil {
		return nil, err
	}
	return NewTables(ref)
})

func tables(t testing.TB) *Tables {
	t.Helper()
	tab, err := tablesOnce()
	if err != nil {
		t.Fatal(err)
	}
	return tab
}

func reference(t *testing.T, table string) []catalog.RefRow {
	t.Helper()
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	rows, err := ref.Table(table)
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func number(t *testing.T, r catalog.RefRow, column string) float64 {
	t.Helper()
	v, err := r.Float(column)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func roundTo(v float64, decimals int) float64 {
	p := math.Pow10(decimals)
	return math.Round(v*p+1e-9) / p
}

func TestAS568MillimetresAreInchesTimes25point4(t *testing.T) {
	for _, r := range reference(t, "fit_as568") {
		for _, pair := range [][2]string{{"id_in", "id_mm"}, {"id_tol_in", "id_tol_mm"}, {"section_in", "section_mm"}, {"section_tol_in", "section_tol_mm"}} {
			in, mm := number(t, r, pair[0]), number(t, r, pair[1])
			if want := roundTo(units.Inches(in).Millimetres(), 2); math.Abs(want-mm) > 0.0051 {
				t.Errorf("line %d: %s %g in is %g mm, the table has %g", r.Line, pair[0], in, want, mm)
			}
		}
	}
}

// The pattern of SAE AS568: inside a series the inner diameter rises with the
// dash number and the section stays, but for -001 to -003.
func TestAS568RisesInsideASeries(t *testing.T) {
	last, series, section := 0.0, byte(0), ""
	for _, r := range reference(t, "fit_as568") {
		dash, id := r.Get("dash"), number(t, r, "id_in")
		if len(dash) != 3 {
			t.Fatalf("line %d: %q is not a dash number", r.Line, dash)
		}
		if dash[0] != series {
			series, last, section = dash[0], 0, ""
		}
		if id <= last {
			t.Errorf("line %d: -%s is no larger than the size before it", r.Line, dash)
		}
		if s := r.Get("section_in"); series != '9' && dash > "003" {
			if section != "" && s != section {
				t.Errorf("line %d: -%s has section %s in a series of %s", r.Line, dash, s, section)
			}
			section = s
		}
		last = id
	}
}

// SAE AS568 steps: sixteenths, then eighths, then quarters of an inch.
func TestAS568StepsAreFractionsOfAnInch(t *testing.T) {
	var prev catalog.RefRow
	for _, r := range reference(t, "fit_as568") {
		if prev.Cells != nil && r.Get("dash")[0] == prev.Get("dash")[0] && r.Get("dash") > "006" && r.Get("dash")[0] != '9' && r.Get("dash") > "103" {
			step := number(t, r, "id_in") - number(t, prev, "id_in")
			off := math.Inf(1)
			for _, s := range []float64{1. / 32, 1. / 16, 1. / 8, 1. / 4} {
				off = min(off, math.Abs(step-s))
			}
			if off > 0.0016 {
				t.Errorf("line %d: -%s is %.3f in larger than the size before it", r.Line, r.Get("dash"), step)
			}
		}
		prev = r
	}
}

func TestAS568WideToleranceNote(t *testing.T) {
	for _, d := range []string{"228", "229", "230", "231"} {
		r, err := tables(t).Ring("-" + d)
		if err != nil || r.Note == "" || r.InnerTol != units.Millimetres(0.61) {
			t.Errorf("-%s: %v, note %q, tolerance %v mm", d, err, r.Note, r.InnerTol.Millimetres())
		}
	}
}

// JIS B 2401: the inner diameter is the number less 0.2 (P3 to P22), 0.3 (P22A
// to P50), 0.4 (P48A to P150), 0.5 (P150A on), 0.6 (G25 to G145), 0.7 (G150 on).
func TestJISDiametersFollowTheirNumbers(t *testing.T) {
	less := map[string]float64{"P1.9": 0.2, "P2.4": 0.2, "P3.5": 0.3, "P5.7": 0.4, "P8.4": 0.5, "G3.1": 0.6, "G5.7": 0.7}
	seen := map[string]bool{}
	for _, r := range reference(t, "fit_jis_b2401") {
		name := r.Get("designation")
		n, err := strconv.ParseFloat(strings.Trim(name, "PGA"), 64)
		if err != nil || seen[name] {
			t.Fatalf("line %d: %q", r.Line, name)
		}
		seen[name] = true
		want, ok := less[r.Get("series")+r.Get("section_mm")]
		if !ok || math.Abs(n-want-number(t, r, "id_mm")) > 1e-9 {
			t.Errorf("line %d: %s has inner diameter %s", r.Line, name, r.Get("id_mm"))
		}
	}
}

func TestISOSizesRise(t *testing.T) {
	last, section := 0.0, 0.0
	for _, r := range reference(t, "fit_iso3601_sizes") {
		id, w := number(t, r, "id_mm"), number(t, r, "section_mm")
		if w < section || w == section && id <= last {
			t.Errorf("line %d: %g x %g does not rise", r.Line, id, w)
		}
		last, section = id, w
	}
}

func TestBandsLieInOrder(t *testing.T) {
	for _, r := range reference(t, "fit_squeeze_bands") {
		if number(t, r, "squeeze_low_pct") >= number(t, r, "squeeze_high_pct") || number(t, r, "depth_low_in") >= number(t, r, "depth_high_in") {
			t.Errorf("line %d: low is not below high", r.Line)
		}
		if mm := roundTo(units.Inches(number(t, r, "section_in")).Millimetres(), 2); math.Abs(mm-number(t, r, "section_mm")) > 0.0051 {
			t.Errorf("line %d: section in millimetres", r.Line)
		}
	}
}

func TestMetricGlandsRise(t *testing.T) {
	var last [3]float64
	for _, r := range reference(t, "fit_gland_metric") {
		now := [3]float64{number(t, r, "section_mm"), number(t, r, "depth_mm"), number(t, r, "width_face_mm")}
		for i := range now {
			if now[i] < last[i] {
				t.Errorf("line %d falls", r.Line)
			}
		}
		if now[1] >= now[0] || now[2] <= now[0] || number(t, r, "width_radial_mm") > now[2] {
			t.Errorf("line %d: the groove is not shallower and wider than its ring", r.Line)
		}
		last = now
	}
}

func TestLimitsLieInOrder(t *testing.T) {
	l := tables(t).limits
	for _, rising := range [][]string{
		{flangeClearanceLow, flangeClearanceHigh, flangeLoose, flangeLost}, {ratingSame, ratingConflict, fullOpenLow, fullOpenHigh},
		{squeezeNoMin, squeezeLowRadial, squeezeLowAxial, squeezeHigh, squeezeNoMax}, {fillNominal, fillHotDoubt, fillHotNo},
		{stretchSlack, stretchDoubt, stretchNo}, {crushLow, crushHigh, crushNoMax}, {housingExpansion, rubberExpansion},
	} {
		for i := range rising[1:] {
			if l.of(rising[i]) >= l.of(rising[i+1]) {
				t.Errorf("%s is not below %s", rising[i], rising[i+1])
			}
		}
	}
	if mm := l.of(printedFraction); math.Abs(mm-0.396875) > 1e-9 {
		t.Errorf("1/64 in came out as %g mm", mm)
	}
	if d := units.FahrenheitDegrees(20).Kelvins(); math.Abs(d-l.of(monitorMargin)) > 0.001 {
		t.Errorf("20 °F is %g K, the table has %g", d, l.of(monitorMargin))
	}
}

func TestStampsAreOneRatingInBothUnits(t *testing.T) {
	for _, r := range reference(t, "fit_thermostat_ratings") {
		c := units.Celsius(number(t, r, "stamp_c"))
		for _, f := range strings.Split(r.Get("stamp_f"), "|") {
			if f == "" {
				continue
			}
			v, err := strconv.ParseFloat(f, 64)
			if err != nil || !tables(t).sameRating(c, units.Fahrenheit(v)) {
				t.Errorf("line %d: %s °F beside %s °C", r.Line, f, r.Get("stamp_c"))
			}
		}
		if r.Get("open_low_c") != "" {
			half := tables(t).limits.of(stampHalfBand)
			if number(t, r, "open_high_c")-c.Celsius() != half || c.Celsius()-number(t, r, "open_low_c") != half {
				t.Errorf("line %d: the stamp is not the middle of its band", r.Line)
			}
		}
	}
}

func TestElastomerTableIsConsistent(t *testing.T) {
	e := tables(t).elastomers
	for _, r := range reference(t, "fit_elastomers") {
		if number(t, r, "service_min_c") >= number(t, r, "service_max_c") {
			t.Errorf("line %d: service range", r.Line)
		}
		for _, column := range []string{"silicate", "organic"} {
			if _, ok := e.words[r.Get(column)]; !ok {
				t.Errorf("line %d: the word %q has no meaning on file", r.Line, r.Get(column))
			}
		}
		if s := r.Get("stands_for"); s != "" {
			same, ok := e.find(s)
			mine, _ := e.find(r.Get("material"))
			if !ok || same.hotWater != mine.hotWater || same.silicate != mine.silicate {
				t.Errorf("line %d does not agree with %s", r.Line, s)
			}
		}
	}
	for chemistry, columns := range e.columns {
		for _, c := range columns {
			if c != "silicate" && c != "organic" {
				t.Errorf("chemistry %s names the column %q", chemistry, c)
			}
		}
	}
}

func TestNewTablesNamesWhatIsMissing(t *testing.T) {
	full, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	for _, table := range []string{"fit_limits", "fit_as568", "fit_jis_b2401", "fit_iso3601_sizes", "fit_iso3601_tolerance", "fit_stretch", "fit_squeeze_bands", "fit_gland_metric", "fit_elastomers", "fit_coolant_columns", "fit_coolant_words", "fit_thermostat_ratings", "fit_note_words", "fit_evidence_weights"} {
		ref := catalog.Reference{}
		for k, v := range full {
			if k != table {
				ref[k] = v
			}
		}
		if _, err := NewTables(ref); err == nil || !strings.Contains(err.Error(), table) {
			t.Errorf("without %s: %v", table, err)
		}
	}
	ref := catalog.Reference{}
	for k, v := range full {
		ref[k] = v
	}
	ref["fit_limits"] = ref["fit_limits"][1:]
	if _, err := NewTables(ref); err == nil || !strings.Contains(err.Error(), flangeClearanceLow) {
		t.Errorf("without the first limit: %v", err)
	}
}

func TestOverriddenLimitCitesTheGaragesSheet(t *testing.T) {
	full, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	ref := catalog.Reference{}
	for k, v := range full {
		ref[k] = v
	}
	rows := append([]catalog.RefRow(nil), full["fit_limits"]...)
	rows[0].Own = catalog.Origin{Sheet: "our limits.csv", Line: 2}
	ref["fit_limits"] = rows
	tab, err := NewTables(ref)
	if err != nil {
		t.Fatal(err)
	}
	if got := tab.limits.cite(flangeClearanceLow); len(got) != 1 || got[0] != (compat.Evidence{Sheet: "our limits.csv", Line: 2}) {
		t.Errorf("cites %+v", got)
	}
}
