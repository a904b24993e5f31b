package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fitfill/cmd/internal/app"
)

func TestADecisionOffersEveryWayOfItsCommand(t *testing.T) {
	for name, tc := range map[string]struct {
		choices []string
		command string
		want    []answer
	}{
		"a field or set aside": {
			[]string{"price", "deposit", "ignore"}, `--map price="Netto EUR" or --ignore "Netto EUR"`,
			[]answer{{"price", `--map "price"="Netto EUR"`, true}, {"deposit", `--map "deposit"="Netto EUR"`, false}, {"ignore", `--ignore "Netto EUR"`, false}},
		},
		"nothing proposed": {
			[]string{"price", "ignore"}, `--ignore "Netto" or --map FIELD="Netto"`,
			[]answer{{"price", `--map "price"="Netto"`, false}, {"ignore", `--ignore "Netto"`, true}},
		},
		"which column, or none": {
			[]string{"Nr", "Code", "none"}, `--map number="Nr" or --map number="Code" or --accept missing-column`,
			[]answer{{"Nr", `--map "number"="Nr"`, true}, {"Code", `--map "number"="Code"`, false}, {"none", "--accept missing-column", false}},
		},
		"another column, or go on": {
			[]string{"Nr", "Preis", "go on"}, `--accept swapped-columns or --map price="HEADING"`,
			[]answer{{"go on", "--accept swapped-columns", true}},
		},
		"fill up, or hold": {
			[]string{"9", "hold"}, "--set pad=9 or --accept lost-zeros",
			[]answer{{"9", `--set "pad"="9"`, true}, {"hold", "--accept lost-zeros", false}},
		},
		"a setting of one column": {
			[]string{"mm", "in"}, `--set unit:"Weite innen"=mm or --set unit:"Weite innen"=in`,
			[]answer{{"mm", `--set "unit:Weite innen"="mm"`, true}, {"in", `--set "unit:Weite innen"="in"`, false}},
		},
		"a kind of sheet": {
			[]string{"supplier", "engines"}, "--as supplier", []answer{{"supplier", `--as "supplier"`, true}, {"engines", `--as "engines"`, false}},
		},
		"in place of, or beside": {
			[]string{"replaces", "beside"}, "--accept replaces or --accept beside",
			[]answer{{"replaces", "--accept replaces", true}, {"beside", "--accept beside", false}},
		},
	} {
		t.Run(name, func(t *testing.T) {
			got := decisionOf(app.OpenQuestion{Choices: tc.choices, Command: tc.command}).Answers
			if name == "another column, or go on" {
				got = nil // below: every heading is an answer too
				for _, a := range decisionOf(app.OpenQuestion{Choices: tc.choices, Command: tc.command}).Answers {
					if a.Text == "go on" {
						got = append(got, a)
					} else if a.Says != `--map "price"="`+a.Text+`"` {
						t.Errorf("%s says %s", a.Text, a.Says)
					}
				}
			}
			if diff := cmp.Diff(tc.want, got); diff != "" {
				t.Error(diff)
			}
			for _, a := range got {
				if len(toldIn(a.Says)) != 1 {
					t.Errorf("%q cannot be read again", a.Says)
				}
			}
		})
	}
}

// Two columns of a sheet are open, and each answer says another thing to the
// import: all of them are taken at once.
func TestAllAnswersAboutASheetAreTaken(t *testing.T) {
	shop, server := emptyShop(t)
	g := upload(t, server, "/office/import", "odd.csv", "number,type,description,Blorp,Fnord\nX-1,thermostat,thermostat 82,10.00,red\nX-2,thermostat,thermostat 88,11.00,blue\n", "supplier", "Newby")
	hasAll(t, "the questions", text(g.body), "Nothing was changed", "Blorp", "Fnord")
	form := url.Values{"id": {between(g.body, `name="id" value="`, `"`)}, "do": {"take"}, "answer": {`--map "price"="Blorp" --set "currency"="EUR"`, `--ignore "Fnord"`}}
	if g = post(t, server, "/office/decide", form); g.status != http.StatusOK || !strings.Contains(text(g.body), "It is in use.") {
		t.Fatalf("status %d: %s", g.status, text(g.body))
	}
	found, err := shop.Find(t.Context(), app.FindQuestion{Words: "X-1", Limit: 1})
	if err != nil || len(found.Hits) != 1 || found.Hits[0].Price != "10.00 EUR" {
		t.Errorf("%+v, %v", found.Hits, err)
	}
}
