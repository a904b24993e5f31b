package returns_test

import (
	"testing"

	"fitfill/compat/returns"
	"fitfill/data"
)

// What each reason comes to is common practice of the trade.
func TestReasonsAreSortedByFaultAndNeverGuessed(t *testing.T) {
	ref, err := data.Reference()
	if err != nil {
		t.Fatal(err)
	}
	rows, err := ref.Table("returns_reasons")
	if err != nil {
		t.Fatal(err)
	}
	table, err := returns.NewReasons(rows)
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]returns.Class{
		"Faulty":                             returns.QualityFailure,
		"leaks at the neck":                  returns.QualityFailure,
		"stuck-open after 3 weeks":           returns.QualityFailure,
		"DOA":                                returns.DeadOnArrival,
		"wrong part supplied":                returns.SupplyError,
		"did not fit":                        returns.SupplyError,
		"it doesn't fit":                     returns.SupplyError,
		"passt nicht":                        returns.SupplyError,
		"Dichtung undicht":                   returns.QualityFailure,
		"falsch bestellt":                    returns.Neutral,
		"customer changed mind":              returns.Neutral,
		"ordered wrong":                      returns.Neutral,
		"core":                               returns.Core,
		"":                                   returns.UnknownReason,
		"see letter":                         returns.UnknownReason,
		"encore":                             returns.UnknownReason,
		"not needed, car was not faulty":     returns.Neutral,
		"broken in box, carton looked fine":  returns.DeadOnArrival,
		"faulty (customer says: changed it)": returns.QualityFailure,
	} {
		if got, _, _ := table.Class(text); got != want {
			t.Errorf("%q comes to %v, want %v", text, got, want)
		}
	}
}
