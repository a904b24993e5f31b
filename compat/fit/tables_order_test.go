package fit

import (
	"io/fs"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// consistent names the test that holds each table together. A new table needs
// one before it is shipped.
var consistent = map[string]string{
	"fit_as568": "TestAS568MillimetresAreInchesTimes25point4", "fit_iso3601_sizes": "TestISOSizesRise", "fit_jis_b2401": "TestJISDiametersFollowTheirNumbers",
	"fit_squeeze_bands": "TestBandsLieInOrder", "fit_gland_metric": "TestMetricGlandsRise", "fit_limits": "TestLimitsLieInOrder",
	"fit_thermostat_ratings": "TestStampsAreOneRatingInBothUnits", "fit_elastomers": "TestElastomerTableIsConsistent", "fit_coolant_columns": "TestElastomerTableIsConsistent",
	"fit_coolant_words": "TestElastomerTableIsConsistent", "fit_clamp_sizes": "TestClampTable", "fit_saturation": "TestSaturationTableFollowsIF97",
	"fit_bolt_classes": "TestStrongerClassesBearMore", "fit_bolt_limits": "TestBoltLimitsLieInOrder", "fit_bolt_notes": "TestEveryWarningIsThereOnce",
	"fit_cap_stamps": "TestStampsOfCapsDoNotOverlap", "fit_evidence_weights": "TestWeightsLieInOrder", "fit_iso3601_tolerance": "TestTolerancesRiseWithTheSection",
	"fit_note_words": "TestNoWordMeansTwoThings", "fit_thermostat_words": "TestNoWordMeansTwoThings", "fit_sockets": "TestALargerThreadHasALargerHead",
	"fit_d2000": "TestLettersOfD2000Rise", "fit_hose_classes": "TestHoseClasses", "fit_stretch": "TestSectionLossIsOneCurve", "fit_thread_materials": "TestThreadMaterialsAreInOrder",
	"fit_thread_limits": "TestThreadLimitsFollowTheirStandards",
}

func TestEveryTableIsHeldTogether(t *testing.T) {
	names, err := fs.Glob(os.DirFS("../../data"), "fit_*.csv")
	if err != nil || len(names) == 0 {
		t.Fatalf("%v, %d tables", err, len(names))
	}
	tests := ""
	files, _ := fs.Glob(os.DirFS("."), "*_test.go")
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		tests += string(text)
	}
	for _, n := range names {
		table := strings.TrimSuffix(n, ".csv")
		if name := consistent[table]; name == "" || !strings.Contains(tests, "func "+name+"(") {
			t.Errorf("no test holds table %s together", table)
		}
	}
}

// ISO 898-1 and SAE J429: the proof strength rises with the class, and lies
// below the tensile strength that the first figure of a metric class stands for
// (in hundreds of MPa).
func TestStrongerClassesBearMore(t *testing.T) {
	last, assumed := map[string]float64{}, map[string]int{}
	for _, r := range reference(t, "fit_bolt_classes") {
		system, proof := r.Get("system"), number(t, r, "proof")
		if proof <= last[system] {
			t.Errorf("line %d: class %s bears no more than the one before", r.Line, r.Get("class"))
		}
		last[system] = proof
		if r.Get("assumed") != "" {
			assumed[system]++
		}
		if hundreds, _, ok := strings.Cut(r.Get("class"), "."); ok && system == "metric" && proof >= 100*decimal(hundreds) {
			t.Errorf("line %d: class %s bears more than it breaks at", r.Line, r.Get("class"))
		}
		if want := map[string]string{"metric": "MPa", "inch": "ksi"}[system]; r.Get("unit") != want {
			t.Errorf("line %d: unit %s", r.Line, r.Get("unit"))
		}
	}
	for system, n := range map[string]int{"metric": 1, "inch": 1} {
		if assumed[system] != n {
			t.Errorf("%d classes of %s bolts are assumed where the head is not marked", assumed[system], system)
		}
	}
}

func TestBoltLimitsLieInOrder(t *testing.T) {
	l := tables(t).bolts.limits
	if !(0 < l.of(kLow) && l.of(kLow) < l.of(kHigh) && l.of(kHigh) < 1) {
		t.Error("torque factors")
	}
	if !(0 < l.of(clampLowShare) && l.of(clampLowShare) < l.of(clampHighShare) && l.of(clampHighShare) < 1) {
		t.Error("shares of the proof load")
	}
	if s := l.of(pulloutShare); !(s > 0.33 && s < 0.5) { // NASA RP-1228: between a third and perfect mating, a half
		t.Errorf("share of the cylinder in a pull-out: %g", s)
	}
}

func TestEveryWarningIsThereOnce(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range reference(t, "fit_bolt_notes") {
		if seen[r.Get("when")] || r.Get("says") == "" {
			t.Errorf("line %d: %q", r.Line, r.Get("when"))
		}
		seen[r.Get("when")] = true
	}
	if !seen["always"] || !strings.Contains(tables(t).TorqueWarning(), "maker's manual") {
		t.Error("nothing defers to the maker's manual")
	}
}

// A bare figure on a cap is read in one unit only, and what the units of two
// ranges come to overlaps: caps of all three are of one kind.
func TestStampsOfCapsDoNotOverlap(t *testing.T) {
	last, low, high := 0.0, map[string]float64{}, map[string]float64{}
	to := map[string]func(float64) units.Pressure{"bar": units.Bars, "psi": units.PSI, "kPa": units.Kilopascals}
	for _, r := range reference(t, "fit_cap_stamps") {
		from, upTo, unit := number(t, r, "from"), number(t, r, "to"), r.Get("unit")
		if from <= last || upTo <= from || to[unit] == nil {
			t.Fatalf("line %d: %g to %g %s", r.Line, from, upTo, unit)
		}
		last = upTo
		low[unit], high[unit] = to[unit](from).Kilopascals(), to[unit](upTo).Kilopascals()
	}
	for a := range to {
		for b := range to {
			if low[a] >= high[b] {
				t.Errorf("no cap could be stamped in %s as well as in %s", a, b)
			}
		}
	}
}

// The order of the evidence: what was seen here counts more than what is said,
// a direct list more than a cross-reference, one step more than two.
func TestWeightsLieInOrder(t *testing.T) {
	w := tables(t).weights
	for _, rising := range [][]string{
		{weightAgainst, weightCameBack, weightDoubt, weightCrossTwo, weightUnsettled, weightCrossOne, weightListing, weightFitted},
		{weightDoubt, weightSizesSome, weightSizesAll, weightFitted}, {weightDoubt, weightOldPart, weightFitted},
	} {
		for i := range rising[1:] {
			if w[rising[i]] >= w[rising[i+1]] {
				t.Errorf("%s does not count less than %s", rising[i], rising[i+1])
			}
		}
	}
}

// ISO 3601-1, class B: thicker rings have wider tolerances.
func TestTolerancesRiseWithTheSection(t *testing.T) {
	section, tol := 0.0, 0.0
	for _, r := range reference(t, "fit_iso3601_tolerance") {
		if r.Get("kind") != "section" {
			continue
		}
		if number(t, r, "section_upto_mm") <= section || number(t, r, "tol_mm") <= tol {
			t.Errorf("line %d falls", r.Line)
		}
		section, tol = number(t, r, "section_upto_mm"), number(t, r, "tol_mm")
	}
}

func TestNoWordMeansTwoThings(t *testing.T) {
	apart := [][]string{{"harmless", "exclusion"}, {"harmless", "limiting"}, {"harmless", "qualifier"}, {"exclusion", "limiting"}, {"qualifier", "fuel"}, {"limiting", "qualifier"}}
	kinds := map[string][]string{}
	for _, r := range reference(t, "fit_note_words") {
		for _, w := range strings.Split(r.Get("words"), "|") {
			words := catalog.Fold(w)
			if words == "" || words != w || slices.Contains(kinds[r.Get("kind")], words) {
				t.Errorf("line %d: %q stands there twice, or not as it is compared", r.Line, w)
			}
			kinds[r.Get("kind")] = append(kinds[r.Get("kind")], words)
		}
	}
	for _, w := range kinds["apart"] {
		if !slices.Contains(kinds["place"], w) {
			t.Errorf("%q keeps parts apart and is no place", w)
		}
	}
	for _, pair := range apart {
		for _, w := range kinds[pair[0]] {
			if slices.Contains(kinds[pair[1]], w) {
				t.Errorf("%q is %s and %s", w, pair[0], pair[1])
			}
		}
	}
	seen := map[string]string{}
	for _, r := range reference(t, "fit_thermostat_words") {
		for _, w := range strings.Split(r.Get("words"), "|") {
			if seen[w] != "" {
				t.Errorf("%q is %s and %s", w, seen[w], r.Get("kind"))
			}
			seen[w] = r.Get("kind")
		}
	}
}

// Heads of one standard grow with their threads, and a head is wider than its
// thread.
func TestALargerThreadHasALargerHead(t *testing.T) {
	type head struct{ across, thread float64 }
	by := map[string][]head{}
	for _, r := range reference(t, "fit_sockets") {
		th := thread(t, r.Get("thread"))
		across := decimal(r.Get("size"))
		if a, b, ok := strings.Cut(r.Get("size"), "/"); ok {
			across = decimal(a) / decimal(b)
		}
		if r.Get("unit") == "in" {
			across = units.Inches(across).Millimetres()
		}
		key := r.Get("standard") + r.Get("drive")
		by[key] = append(by[key], head{across, th.Nominal.Millimetres()})
		if r.Get("drive") != "hexagon socket" && across <= th.Nominal.Millimetres() {
			t.Errorf("line %d: a head of %g mm on a thread of %g mm", r.Line, across, th.Nominal.Millimetres())
		}
	}
	for key, list := range by {
		slices.SortFunc(list, func(a, b head) int { return int(math.Copysign(1, a.across-b.across)) })
		for i := range list[1:] {
			if list[i].thread >= list[i+1].thread {
				t.Errorf("%s: %g mm across takes %g mm, %g mm takes %g mm", key, list[i].across, list[i].thread, list[i+1].across, list[i+1].thread)
			}
		}
	}
}

// The pieces of the curve of section loss meet, and it rises.
func TestSectionLossIsOneCurve(t *testing.T) {
	th := tables(t).thinning
	for i := range th.pieces[1:] {
		a, b := th.pieces[i], th.pieces[i+1]
		if a.to != b.from {
			t.Errorf("the pieces leave a gap from %g to %g", a.to, b.from)
		}
		at := func(p thinPiece, s float64) float64 { return p.c0 + p.c1*s + p.c2*s*s }
		pctClose(t, "where the pieces meet", at(a, a.to), at(b, b.from), 0.005)
	}
	last := -1.0
	for s := 0.0; s <= 25; s += 0.25 {
		if l := th.loss(s, 40, 3.53); l < last {
			t.Errorf("a stretch of %g %% takes less than one of %g %%", s, s-0.25)
		} else {
			last = l
		}
	}
}

// Published: an engagement of two diameters in aluminium, 1.25 in iron; the
// weakest alloy is no stronger than the usual one.
func TestThreadMaterialsAreInOrder(t *testing.T) {
	soft := map[string]float64{}
	for _, r := range reference(t, "fit_thread_materials") {
		soft[r.Get("name")] = number(t, r, "engagement_d")
		if r.Get("shear_mpa") != "" && number(t, r, "shear_low_mpa") > number(t, r, "shear_mpa") {
			t.Errorf("line %d: the weakest is the strongest", r.Line)
		}
	}
	if soft["cast aluminium"] != 2 || soft["iron or steel"] != 1.25 {
		t.Errorf("engagements %v", soft)
	}
}
