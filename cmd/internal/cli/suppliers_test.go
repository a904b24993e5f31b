package cli

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"fitfill/cmd/internal/app"
)

// ask runs a command on the demo garage and reads its JSON.
func ask[T any](t *testing.T, args ...string) T {
	t.Helper()
	code, out, errs := call(t, append([]string{"--home", demoHome(t), "--json"}, args...)...)
	var v T
	if err := json.Unmarshal([]byte(out), &v); code != exitYes || err != nil {
		t.Fatalf("%v: exit code %d, %v\n%s%s", args, code, err, out, errs)
	}
	return v
}

func TestRowsBehindASuppliersFigures(t *testing.T) {
	for _, name := range []string{"Ostrel", "GVT Handel", "Tessimor"} {
		a := ask[app.SuppliersAnswer](t, "suppliers", "--explain", name)
		x := a.Explain
		var score app.SupplierScore
		for _, s := range a.Suppliers {
			if s.Supplier == x.Supplier {
				score = s
			}
		}
		for what, sum := range map[string]app.RowSum{"purchases": x.Purchases, "returns": x.Returns} {
			if sum.Read == 0 || sum.Read != sum.Used+sum.Flagged+sum.SetAside {
				t.Errorf("%s, %s: the rows do not add up: %+v", name, what, sum)
			}
		}
		faulty, listed := 0, 0
		for _, r := range x.Back {
			if r.At.Sheet == "" || r.At.Line == 0 {
				t.Errorf("%s: a row without a place: %+v", name, r)
			}
			if r.CountedAs == app.CountedAs[0] {
				for _, b := range r.From {
					faulty += b.Pieces
				}
			}
		}
		for _, n := range x.Counts {
			listed += n
		}
		if faulty != score.Faulty || listed != x.Returns.Read || len(x.Back) != listed || len(x.SetAside) != x.Purchases.SetAside {
			t.Errorf("%s: %d faulty pieces listed, %d counted; %d of %d returns sorted", name, faulty, score.Faulty, listed, x.Returns.Read)
		}
		sold, observed := 0, 0
		for _, n := range x.ByType {
			sold, observed = sold+n.Sold, observed+n.Observed
		}
		if sold != score.Sold || observed != score.Observed {
			t.Errorf("%s: by type %d sold and %d faulty, in all %d and %d", name, sold, observed, score.Sold, score.Observed)
		}
	}
	_, out, _ := call(t, "--home", demoHome(t), "suppliers", "--explain", "Tessimor")
	for _, want := range []string{"returns.csv:297", "purchases.csv:", "Purchases set aside", "lies after the last day", "seal"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

func TestTwoSuppliersInMoney(t *testing.T) {
	compare := func(args ...string) *app.Rivals {
		return ask[app.SuppliersAnswer](t, append([]string{"suppliers", "--type", "thermostat", "--labour-rate", "60EUR", "--compare"}, args...)...).Compare
	}
	one, other := compare("Ostrel", "Quillmar"), compare("Quillmar", "Ostrel")
	if one.Cheap != other.Cheap && one.Cheap.Supplier != other.Cheap.Supplier || one.PriceGap != other.PriceGap || one.Says[0] != other.Says[0] {
		t.Errorf("the order of the names changes the answer: %+v, %+v", one, other)
	}
	if one.Cheap.Supplier != "Ostrel" || one.PriceGap != 8.7 || *one.PerComeback != 90 || one.Comeback.Hours != 1.5 || one.AllowedOneIn < 10 || one.AllowedOneIn > 11 {
		t.Errorf("%+v", one)
	}
	if gap := one.BreakEven; !(gap.Low < gap.Est && gap.Est < gap.High) || one.Cheap.Cost.Est <= one.Cheap.Price {
		t.Errorf("%+v", one)
	}
	few := compare("Ferrowick", "Quillmar")
	if few.Word != "too few to tell" || !strings.Contains(few.Says[0], "pays if under 1 in 16 more fail") || !strings.Contains(few.Says[2], "your own count allows") {
		t.Errorf("%+v", few)
	}
	for _, r := range []*app.Rivals{one, few} {
		if len([]rune(r.Says[0])) > 60 {
			t.Errorf("first line too long: %s", r.Says[0])
		}
	}
	_, out, _ := call(t, "--home", demoHome(t), "suppliers", "--type", "thermostat", "--labour-rate", "60EUR", "--compare", "Ostrel", "Quillmar")
	if !strings.HasPrefix(out, one.Says[0]+"\n") || !strings.Contains(out, "level at a price gap of") {
		t.Errorf("got\n%s", out)
	}
	for _, s := range ask[app.SuppliersAnswer](t, "suppliers", "--type", "seal", "--labour-rate", "60EUR").Suppliers {
		if c := s.CostPerJob; c == nil || c.Type != "seal" || c.Low > c.Est || c.High < c.Est || c.Low < c.Price {
			t.Errorf("%s: %+v", s.Supplier, c)
		}
	}
}

func TestTwoSuppliersWithoutALabourRate(t *testing.T) {
	compare := func(args ...string) *app.Rivals {
		return ask[app.SuppliersAnswer](t, append([]string{"suppliers", "--compare"}, args...)...).Compare
	}
	worse, few, good := compare("Ostrel", "Quillmar"), compare("Ferrowick", "Quillmar"), compare("Tessimor", "Grauvelt")
	for _, r := range []*app.Rivals{worse, few, good} {
		if r.Comeback != nil || r.PerComeback != nil || r.BreakEven != nil || !strings.Contains(r.NoMoney, "labour_rate") {
			t.Errorf("money told that nobody stated: %+v", r)
		}
		for _, side := range []app.Rival{r.Cheap, r.Dear} {
			if b := side.BackPct; b == nil || !(b.Low < b.Est && b.Est < b.High) || side.Cost != nil {
				t.Errorf("%+v", side)
			}
		}
		if r.CheapWorse == nil || len([]rune(r.Says[0])) > 60 || !strings.Contains(r.Says[len(r.Says)-1], "--labour-rate 60EUR") {
			t.Errorf("%+v", r)
		}
	}
	if *worse.CheapWorse < 0.99 || worse.Word != "worse" || worse.LevelAt == nil || !strings.Contains(worse.Says[0], "Ostrel saves 8.70 EUR; pays below 92.02 EUR a comeback") {
		t.Errorf("%+v", worse)
	}
	// With the labour rate at which they are level, the price gap is the level one.
	hours := 1.5
	rate := fmt.Sprintf("%.2fEUR", *worse.LevelAt.Est/hours)
	priced := ask[app.SuppliersAnswer](t, "suppliers", "--compare", "Ostrel", "Quillmar", "--labour-rate", rate).Compare
	if gap := priced.BreakEven.Est; math.Abs(gap-priced.PriceGap) > 0.03 {
		t.Errorf("at %s an hour they are level at a gap of %.2f, not at %.2f", rate, gap, priced.PriceGap)
	}
	if few.Word != "too few to tell" || !strings.Contains(few.Says[0], "too few failed") {
		t.Errorf("%+v", few)
	}
	if good.LevelAt == nil || good.LevelAt.Est != nil || good.LevelAt.Low == nil {
		t.Errorf("%+v", good.LevelAt)
	}
	_, out, _ := call(t, "--home", demoHome(t), "suppliers", "--compare", "Ostrel", "Quillmar")
	for _, want := range []string{"That Ostrel's fail more often: over 99 in 100", "If 1 in 20 more of Ostrel's fail", "% faulty in a year", "--labour-rate 60EUR"} {
		if !strings.Contains(unwrapped(out), want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	if strings.Contains(out, "with comebacks paid") {
		t.Errorf("a column without figures:\n%s", out)
	}
	// Parts whose price is on no sheet are compared by what came back alone.
	pumps := ask[app.SuppliersAnswer](t, "suppliers", "--type", "pump", "--compare", "Ostrel", "Quillmar").Compare
	if pumps.LevelAt != nil || !strings.Contains(strings.Join(pumps.Says, " "), "unit_price") {
		t.Errorf("%+v", pumps)
	}
}

func TestWhatChangedSinceADay(t *testing.T) {
	const day = "2025-07-01"
	now := ask[app.SuppliersAnswer](t, "suppliers", "--since", day)
	then := ask[app.SuppliersAnswer](t, "suppliers", "--as-of", "2025-06-30")
	old := map[string]app.SupplierScore{}
	for _, s := range then.Suppliers {
		old[s.Supplier] = s
	}
	for _, s := range now.Suppliers {
		if s.Then == nil || s.Then.Sold == 0 {
			if _, known := old[s.Supplier]; known {
				t.Errorf("%s was known before %s", s.Supplier, day)
			}
			continue
		}
		was := old[s.Supplier]
		if s.Then.Words != was.Words || s.Then.Sold != was.Sold || s.Then.Observed != was.Observed {
			t.Errorf("%s: then %+v, asked for that day %+v", s.Supplier, s.Then, was)
		}
		if f := s.Trend.Before.Faulty + s.Trend.After.Faulty; int(f+0.5) != s.Observed {
			t.Errorf("%s: %.1f faulty before and since, %d in all", s.Supplier, f, s.Observed)
		}
	}
	_, out, _ := call(t, "--home", demoHome(t), "suppliers", "--since", day)
	for _, want := range []string{"What changed from " + day, "Ferrowick is new", "times as often"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

func TestEmptyDrumsAndGoodPartsAreNotFailures(t *testing.T) {
	counted := func(supplier string, line int) string {
		for _, r := range ask[app.SuppliersAnswer](t, "suppliers", "--explain", supplier).Explain.Back {
			if r.At.Line == line {
				return r.CountedAs
			}
		}
		t.Errorf("%s: line %d is not listed", supplier, line)
		return ""
	}
	if got := counted("Pindle & Rook", 280); got != "not their fault" {
		t.Errorf("drums back for their deposit: %q", got)
	}
	good := 0
	for _, line := range []int{223, 227, 228, 230, 233, 234, 240, 245} {
		if counted("Quillmar", line) == "not confirmed by a test" {
			good++
		}
	}
	if good != 5 {
		t.Errorf("%d of eight thermostats found sound", good)
	}
	_, out, _ := call(t, "--home", demoHome(t), "suppliers", "--type", "thermostat")
	if text := strings.Join(strings.Fields(out), " "); !strings.Contains(text, "5 not confirmed by a test") || !strings.Contains(text, "with those not confirmed 20 faulty") {
		t.Errorf("got\n%s", out)
	}
}
