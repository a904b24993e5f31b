package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"strings"
	"testing"

	"fitfill/catalog"
)

// A value goes only where it fits: what is null, too large or of another kind is
// an error and never a nought or an empty text.
func TestARowGoesOnlyWhereItFits(t *testing.T) {
	s := newStore(t)
	ctx := context.Background()
	var (
		whole  int64
		number int
		text   string
		data   []byte
		may    sql.NullInt64
		yes    bool
		day    catalog.Date
		says   catalog.Relation
		it     any
	)
	for _, c := range []struct {
		value string
		to    any
		fits  bool
	}{
		{"7", &whole, true}, {"7", &number, true}, {"7", &may, true}, {"1", &yes, true}, {"7", &day, true}, {"7", &it, true},
		{"'x'", &text, true}, {"'same'", &says, true}, {"x'00'", &data, true}, {"NULL", &data, true}, {"NULL", &may, true}, {"NULL", &it, true},
		{"NULL", &whole, false}, {"NULL", &text, false}, {"NULL", &yes, false}, {"NULL", &says, false}, {"NULL", &day, false},
		{"'7'", &whole, false}, {"7", &text, false}, {"7", &says, false}, {"'x'", &may, false}, {"1 << 40", &day, false}, {"'x'", &day, false}, {"1.5", &whole, false},
	} {
		err := s.View(ctx, func(v *View) error { return v.row(ctx, "SELECT "+c.value, nil, c.to) })
		if (err == nil) != c.fits {
			t.Errorf("%s into a %T: %v", c.value, c.to, err)
		}
	}
	// What did not fit left a place alone that cannot tell a null.
	if whole != 7 || number != 7 || !yes || day != 7 || text != "x" || says != catalog.Same || may.Valid || it != nil {
		t.Errorf("kept %d, %d, %v, %d, %q, %q, %v, %v", whole, number, yes, day, text, says, may, it)
	}
	err := s.View(ctx, func(v *View) error { return v.row(ctx, "SELECT 1, 2", nil, &whole) })
	if err == nil || !strings.Contains(err.Error(), "1 places for the 2 columns") {
		t.Errorf("one place for two columns: %v", err)
	}
	err = s.View(ctx, func(v *View) error { return v.row(ctx, "SELECT 1 WHERE 0", nil, &whole) })
	if !errors.Is(err, sql.ErrNoRows) {
		t.Errorf("no row: %v", err)
	}
}

// Two numbers that travel in one come out as they went in.
func TestTwoNumbersTravelInOne(t *testing.T) {
	s := newStore(t)
	ctx := context.Background()
	for _, want := range [][2]int64{{0, 0}, {1, 0}, {0, 1}, {1<<31 - 1, 1<<31 - 1}, {123, 1<<32 - 1}} {
		var packed int64
		err := s.View(ctx, func(v *View) error { return v.row(ctx, "SELECT ? << 32 | ?", []any{want[0], want[1]}, &packed) })
		if high, low := two(packed); err != nil || high != want[0] || low != want[1] {
			t.Errorf("%v came as %d and %d: %v", want, high, low, err)
		}
	}
}
