package cli

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"fitfill/cmd/internal/app"
)

// twoCurrencies are the books of a year: Arbel and Brunn are paid in euros, Cendrel
// and Dorle in pounds, and most is bought in euros.
func twoCurrencies() (purchases, returned string) {
	var bought, back strings.Builder
	bought.WriteString("date,supplier,number,type,quantity,unit_price,document\n")
	back.WriteString("date,supplier,number,quantity,reason,document\n")
	who := []struct {
		name, price string
		pieces      int
	}{{"Arbel", "10.00 EUR", 5}, {"Brunn", "8.00 EUR", 5}, {"Cendrel", "9.00 GBP", 4}, {"Dorle", "6.00 GBP", 4}}
	for month := 1; month <= 12; month++ {
		for i, w := range who {
			for k := range w.pieces {
				fmt.Fprintf(&bought, "2025-%02d-%02d,%s,T-%d,thermostat,2,%s,D%d-%d-%d\n", month, 1+k, w.name, i, w.price, month, i, k)
			}
			if i%2 == 1 || month%4 == 0 {
				fmt.Fprintf(&back, "2025-%02d-%02d,%s,T-%d,1,leaked,D%d-%d-0\n", month, 20+i, w.name, i, month, i)
			}
		}
	}
	return bought.String(), back.String()
}

func TestSuppliersPaidInTwoCurrencies(t *testing.T) {
	run := caller(t)
	purchases, returned := twoCurrencies()
	run(exitYes, "import", writeSheet(t, "purchases.csv", purchases), "--as", "purchases")
	run(exitYes, "import", writeSheet(t, "returns.csv", returned), "--as", "returns")
	compare := func(a, b string, more ...string) *app.Rivals {
		var got app.SuppliersAnswer
		if err := json.Unmarshal([]byte(run(exitYes, append([]string{"suppliers", "--json", "--type", "thermostat", "--compare", a, b}, more...)...)), &got); err != nil {
			t.Fatal(err)
		}
		return got.Compare
	}
	for _, tc := range []struct {
		a, b, rate, currency, says string
		gap                        float64
	}{
		{"Arbel", "Brunn", "", "EUR", "Brunn saves 2.00 EUR", 2},
		{"Arbel", "Brunn", "60EUR", "EUR", "A comeback of the part costs you", 2},
		{"Cendrel", "Dorle", "", "GBP", "Dorle saves 3.00 GBP", 3},
		{"Cendrel", "Dorle", "60EUR", "GBP", "stated in EUR and both are paid in GBP: --labour-rate 60GBP", 3},
		{"Arbel", "Dorle", "", "EUR", "Arbel's prices are in EUR, Dorle's prices are in GBP: no rate of exchange", 0},
		{"Arbel", "Dorle", "60EUR", "EUR", "Arbel's prices are in EUR, Dorle's prices are in GBP: no rate of exchange", 0},
	} {
		var more []string
		if tc.rate != "" {
			more = []string{"--labour-rate", tc.rate}
		}
		r := compare(tc.a, tc.b, more...)
		said := strings.Join(r.Says, " ")
		if r.Currency != tc.currency || r.PriceGap != tc.gap || !strings.Contains(said, tc.says) || strings.Contains(said, "unit_price") {
			t.Errorf("%s and %s at %q: %+v", tc.a, tc.b, tc.rate, r)
		}
		if tc.gap == 0 && strings.Contains(said, "labour_rate") {
			t.Errorf("asks for a rate that would not help: %s", said)
		}
	}
}

// A day before all books is no empty table.
func TestSuppliersBeforeTheBooks(t *testing.T) {
	run := caller(t)
	purchases, returned := twoCurrencies()
	run(exitYes, "import", writeSheet(t, "purchases.csv", purchases), "--as", "purchases")
	old := writeSheet(t, "old.csv", "date,supplier,number,quantity,reason\n2024-05-05,Arbel,T-0,1,leaked\n")
	run(exitYes, "import", old, "--as", "returns")
	if out := run(exitUsage, "suppliers", "--json"); !strings.Contains(out, "the returns on file end on 2024-05-05, before the first purchase of 2025-01-01") {
		t.Error(out)
	}
	run(exitYes, "import", writeSheet(t, "returns.csv", returned), "--as", "returns")
	if out := run(exitUsage, "suppliers", "--json", "--as-of", "2024-12-31"); !strings.Contains(out, "nothing was bought up to 2024-12-31: the first purchase on file is of 2025-01-01") {
		t.Error(out)
	}
	run(exitYes, "suppliers", "--as-of", "2025-01-01")
}

// What nobody sorted is named from the day on which it stands, and what nobody
// wrote down is no reason to be sorted.
func TestReasonsNobodySortedByTheirDay(t *testing.T) {
	run := caller(t)
	purchases, returned := twoCurrencies()
	run(exitYes, "import", writeSheet(t, "purchases.csv", purchases), "--as", "purchases")
	out := run(exitYes, "import", writeSheet(t, "returns.csv", returned+"2025-06-01,Arbel,T-0,1,whistles,\n2025-07-01,Arbel,T-0,1,,\n"), "--as", "returns")
	if text := strings.Join(strings.Fields(out), " "); !strings.Contains(text, `has sorted 1 reason yet`) || !strings.Contains(text, "some returns state no reason") {
		t.Error(out)
	}
	for day, want := range map[string]string{"2025-05-31": "[]", "2025-08-01": `["whistles"]`} {
		var got struct {
			Unmapped json.RawMessage `json:"reasons_not_known"`
		}
		if err := json.Unmarshal([]byte(run(exitYes, "suppliers", "--json", "--as-of", day)), &got); err != nil {
			t.Fatal(err)
		}
		if text := strings.Join(strings.Fields(string(got.Unmapped)), ""); text != want {
			t.Errorf("%s: %s, want %s", day, text, want)
		}
	}
}
