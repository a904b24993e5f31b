package cli

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"fitfill/cmd/internal/app"
)

// messyBooks are a year of two suppliers, without the sheet of May, and lines
// that go wrong.
func messyBooks() (purchases, returned string) {
	var bought, back strings.Builder
	bought.WriteString("date,supplier,number,type,quantity,unit_price,document\n")
	back.WriteString("date,supplier,number,quantity,reason,document,note\n")
	for month := 1; month <= 12; month++ {
		for i := range 12 {
			if month == 5 {
				continue
			}
			who, price := []string{"Arbel", "Brunn"}[i%2], "10.00 EUR"
			if i == 3 {
				price = "9.00 GBP"
			}
			fmt.Fprintf(&bought, "2025-%02d-%02d,%s,T-%d,thermostat,2,%s,D%d%d\n", month, 1+i, who, i%2, price, month, i)
			if i < 2 {
				fmt.Fprintf(&back, "2025-%02d-%02d,%s,T-%d,1,leaked,D%d%d,\n", month, 20+i, who, i%2, month, i)
			}
		}
	}
	bought.WriteString(`2025-06-01,Arbel,T-0,thermostat,-2,10.00 EUR,
2025-06-02,Arbel,T-0,thermostat,0,10.00 EUR,
2025-06-03,Arbel,T-9,thermostat,1.5,10.00 EUR,X1
2025-06-03,Arbel,T-9,thermostat,40,10.00 EUR,X2
2025-06-04,Arbel,T-9,thermostat,40,10.00 EUR,X3
`)
	back.WriteString(`2025-08-01,Brunn,T-1,500,leaked,,more than was bought
2024-03-01,Arbel,T-0,1,leaked,,before anything was bought
2025-08-02,Cendrel,T-0,1,leaked,,of nobody on file
2025-08-03,Arbel,T-0,1,smells odd,,a reason nobody sorted
2025-08-04,Arbel,T-0,1,,,no reason
2025-08-05,Arbel,T-0,-1,leaked,,less than nothing
2025-08-06,Brunn,T-1,1,leaked,,twice
2025-08-06,Brunn,T-1,1,leaked,,twice
2031-08-06,Brunn,T-1,1,leaked,,in years to come
`)
	return bought.String(), back.String()
}

// Books as they come: every row ends somewhere with its reason, nothing crashes
// and nothing goes missing.
func TestBooksFullOfMistakes(t *testing.T) {
	run := caller(t)
	purchases, returned := messyBooks()
	run(exitHeld, "import", writeSheet(t, "purchases.csv", purchases), "--as", "purchases", "--set", "fractions=measure")
	run(exitHeld, "import", writeSheet(t, "returns.csv", returned), "--as", "returns", "--set", "minus=undo")
	out := run(exitYes, "suppliers", "--type", "thermostat", "--labour-rate", "50EUR")
	said := strings.Join(strings.Fields(out), " ")
	for _, want := range []string{
		"No purchases are on file for 2025-05", "11 purchases priced in GBP left out", "smells odd", "--table returns_reasons",
		"without a purchase on file", "the figure is provisional", "none bought",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
	read, codes := 0, map[string][]string{}
	for _, who := range []string{"Arbel", "Brunn", "Cendrel"} {
		var a app.SuppliersAnswer
		if err := json.Unmarshal([]byte(run(exitYes, "suppliers", "--json", "--explain", who)), &a); err != nil {
			t.Fatal(err)
		}
		for _, sum := range []app.RowSum{a.Explain.Purchases, a.Explain.Returns} {
			read += sum.Read
			if sum.Read != sum.Used+sum.Flagged+sum.SetAside {
				t.Errorf("%s: %+v does not add up", who, sum)
			}
		}
		for _, r := range a.Explain.Remarks {
			codes[who] = append(codes[who], r.Code)
		}
		if a.Suppliers[len(a.Suppliers)-1].Supplier == "Arbel" {
			t.Errorf("one slip turned Arbel's pieces into lines: %+v", a.Suppliers)
		}
	}
	if want := strings.Count(purchases, "\n") - 1 - 1 + strings.Count(returned, "\n") - 1 - 1; read != want {
		t.Errorf("%d rows told of, %d taken", read, want)
	}
	for who, want := range map[string][]string{
		"Arbel":   {"credit-note-netted", "fractional-quantity", "sale-before-data-start", "reason-unknown", "return-reversed"},
		"Brunn":   {"more-returns-than-sales", "possible-duplicate"},
		"Cendrel": {"sold-by-other-supplier"},
	} {
		for _, c := range want {
			if !slices.Contains(codes[who], c) {
				t.Errorf("%s: %s is missing among %v", who, c, codes[who])
			}
		}
	}
	run(exitYes, "import", writeSheet(t, "ours.csv", "phrase,class\nsmells odd,quality\n"), "--as", "table", "--table", "returns_reasons")
	if out := run(exitYes, "suppliers"); strings.Contains(out, "smells odd") && strings.Contains(out, "nobody has sorted") {
		t.Errorf("the reason was sorted, and is still asked for:\n%s", out)
	}
}
