package returns_test

import (
	"testing"

	"fitfill/catalog"
	"fitfill/compat/returns"
)

func TestHowOftenASupplierErred(t *testing.T) {
	b := returns.Books{
		AsOf:  date(t, "2025-12-31"),
		Sales: []returns.Sale{sold(t, 1, "2025-01-10", 20, nil), sold(t, 2, "2025-02-10", 5, nil), sold(t, 3, "2025-03-10", -1, nil)},
		Returns: []returns.Return{
			back(t, 1, "2025-02-01", 2, returns.SupplyError, nil), back(t, 2, "2025-02-03", 1, returns.QualityFailure, nil),
			back(t, 3, "2025-02-05", -1, returns.SupplyError, nil),
		},
	}
	got := returns.Records(b, 0.95)
	if len(got) != 1 || got[0].Sold != 24 || got[0].Wrong != 1 || got[0].Share != returns.MidP(1, 24, 0.95) {
		t.Errorf("%+v", got)
	}
	b.Returns[0].Quantity = catalog.CountOf(90_000)
	if got := returns.Records(b, 0.95)[0]; got.Share.Low != 0 || got.Share.High != 1 {
		t.Errorf("more back than sold: %+v", got)
	}
}
