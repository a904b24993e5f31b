package app

import (
	"strings"
	"testing"
)

func TestSupplyInTheSheetsWords(t *testing.T) {
	for _, c := range []struct{ stock, delivery, date, want string }{
		{"12", "2 days", "2026-03-02", "stock 12, delivery 2 days, as of 2026-03-02"},
		{"In stock", "delivered by van at noon", "", "In stock, delivered by van at noon"},
		{"", "", "", ""}, {"", "24 h", "", "delivery 24 h"},
		{"0", "no longer made", "2026-03-02", "stock 0, no longer made, as of 2026-03-02"},
	} {
		if got := strings.Join(Supply(c.stock, c.delivery, c.date), ", "); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
