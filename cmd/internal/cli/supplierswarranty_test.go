package cli

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"fitfill/cmd/internal/app"
)

// warrantyBooks are two suppliers of one part type: Arbel's parts fail late,
// Brunn's early, and every return names its purchase.
func warrantyBooks() (purchases, returned string) {
	bought, back := "date,supplier,number,type,quantity,document\n", "date,supplier,number,quantity,reason,document\n"
	for _, doc := range []string{"a1", "a2", "a3", "a4", "a5", "a6"} {
		bought += "2023-01-10,Arbel,T-1,thermostat,20," + doc + "\n2023-01-10,Brunn,T-2,thermostat,20,b" + doc[1:] + "\n"
		back += "2023-09-10,Arbel,T-1,1,leaked," + doc + "\n2023-02-10,Brunn,T-2,1,leaked,b" + doc[1:] + "\n"
	}
	return bought + "2025-06-01,Brunn,T-2,thermostat,1,c1\n", back + "2025-06-01,Brunn,T-2,1,changed mind,c1\n"
}

// Beyond its warranty a supplier's parts are not watched: what fails later is
// listed and counts for nothing, and the share of a year cannot be told.
func TestASuppliersWarrantyEndsTheWatch(t *testing.T) {
	run := caller(t)
	purchases, returned := warrantyBooks()
	run(exitYes, "import", writeSheet(t, "purchases.csv", purchases), "--as", "purchases")
	run(exitYes, "import", writeSheet(t, "returns.csv", returned), "--as", "returns")
	look := func() map[string]app.SupplierScore {
		t.Helper()
		var a app.SuppliersAnswer
		if err := json.Unmarshal([]byte(run(exitYes, "suppliers", "--json")), &a); err != nil {
			t.Fatal(err)
		}
		out := map[string]app.SupplierScore{}
		for _, s := range a.Suppliers {
			out[s.Supplier] = s
		}
		return out
	}
	if s := look()["Arbel"]; s.Faulty != 6 || s.RatePct == nil || s.WarrantyDays != nil {
		t.Errorf("without a warranty: %+v", s)
	}
	own := func(text string) {
		t.Helper()
		run(exitYes, "import", writeSheet(t, "warranties.csv", text), "--as", "table", "--table", "returns_warranties")
	}
	own("supplier,days\nARBEL,180\nNobody,30\n")
	by := look()
	if s := by["Arbel"]; s.Faulty != 0 || s.AfterWarranty != 6 || s.RatePct != nil || s.WarrantyDays == nil || *s.WarrantyDays != 180 ||
		!slices.ContainsFunc(s.Within, func(w app.Within) bool {
			return w.Days == 365 && strings.HasPrefix(w.Note, "not observable") && w.Est == nil
		}) ||
		!slices.ContainsFunc(s.Within, func(w app.Within) bool { return w.Days == 90 && w.Est != nil }) {
		t.Errorf("180 days: %+v", s)
	}
	if s := by["Brunn"]; s.Faulty != 6 || s.WarrantyDays != nil {
		t.Errorf("the other supplier: %+v", s)
	}
	text := run(exitYes, "suppliers", "--days", "365")
	for _, want := range []string{"warranty 180 days", "taken back for 180 days only", "6 faulty after that", "Nothing was bought from these", "Nobody (warranties.csv line 3)", "within 365 days not observable"} {
		if !strings.Contains(unwrapped(text), want) {
			t.Errorf("%q is missing:\n%s", want, text)
		}
	}

	// The last day of a warranty still counts; the row of a type goes before that
	// of the supplier, and both before what is said of any.
	own("supplier,part_type,days\nany,,30\nArbel,,30\nArbel,Thermostat,243\n")
	by = look()
	if s := by["Arbel"]; s.Faulty != 6 || *s.WarrantyDays != 243 {
		t.Errorf("243 days for the type: %+v", s)
	}
	if s := by["Brunn"]; s.Faulty != 0 || *s.WarrantyDays != 30 {
		t.Errorf("30 days for any: %+v", s)
	}
	for _, wrong := range []string{"Arbel,half a year", "Arbel,0", ",30", "Arbel,30\narbel,40"} {
		run(exitUsage, "import", writeSheet(t, "warranties.csv", "supplier,days\n"+wrong+"\n"), "--as", "table", "--table", "returns_warranties")
	}
}

func unwrapped(text string) string { return strings.Join(strings.Fields(text), " ") }

// Where no paper names the purchase, --explain says what hangs on taking the
// oldest one.
func TestExplainSaysWhatHangsOnTheOldestPurchase(t *testing.T) {
	a := ask[app.SuppliersAnswer](t, "suppliers", "--explain", "Ostrel", "--type", "hose")
	m := a.Explain.Matching
	if m == nil || m.GuessedPct != 18.1 || len(m.Changes) == 0 {
		t.Fatalf("%+v", m)
	}
	for _, c := range m.Changes {
		if c.Group == c.GroupNewest && c.Words == c.WordsNewest {
			t.Errorf("no change: %+v", c)
		}
		if i := slices.IndexFunc(a.Suppliers, func(s app.SupplierScore) bool { return s.Supplier == c.Supplier }); i < 0 || a.Suppliers[i].Group != c.Group || a.Suppliers[i].Words != c.Words {
			t.Errorf("not as the comparison says: %+v", c)
		}
	}
	_, out, _ := call(t, "--home", demoHome(t), "suppliers", "--explain", "Ostrel", "--type", "hose")
	if !strings.Contains(unwrapped(out), "No paper says which purchase 18 in 100 of the pieces back are of") {
		t.Errorf("not said:\n%s", out)
	}
	run := caller(t)
	purchases, returned := warrantyBooks()
	run(exitYes, "import", writeSheet(t, "purchases.csv", purchases), "--as", "purchases")
	run(exitYes, "import", writeSheet(t, "returns.csv", returned), "--as", "returns")
	if out := run(exitYes, "suppliers", "--explain", "Arbel"); strings.Contains(out, "No paper says") {
		t.Errorf("every return names its purchase:\n%s", out)
	}
}
