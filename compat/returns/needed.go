package returns

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fitfill/catalog"
)

// Power is one row of the table of how often a bad supplier is called: among so
// many of equal size, one of them failing Ratio times as often.
type Power struct {
	Ratio     float64
	Suppliers float64
	Usual     float64 // failures that the others have each
	Called    float64 // share of shops in which it is called worse
}

// NewPowers reads the table of simulated shops. Failures in all are spread as
// R + K − 1 equal parts, so each of the others has the K + R − 1st of them.
func NewPowers(rows []catalog.RefRow) ([]Power, error) {
	var out []Power
	for _, r := range rows {
		var v [4]float64
		for i, column := range []string{"rate_ratio", "suppliers", "failures_in_all", "called"} {
			var err error
			if v[i], err = r.Float(column); err != nil {
				return nil, err
			}
			if !(v[i] > 0) {
				return nil, fmt.Errorf("table %s, line %d: %s must be above zero", r.Table, r.Line, column)
			}
		}
		out = append(out, Power{Ratio: v[0], Suppliers: v[1], Usual: v[2] / (v[1] - 1 + v[0]), Called: v[3]})
	}
	slices.SortFunc(out, func(a, b Power) int {
		return cmp.Or(cmp.Compare(a.Suppliers, b.Suppliers), cmp.Compare(a.Ratio, b.Ratio), cmp.Compare(a.Usual, b.Usual))
	})
	return out, nil
}

// Needed is how much must be seen of a supplier before a rate is told apart.
type Needed struct {
	Ratio   float64 // of the rate that would be called
	Usual   float64 // failures that its pieces must have had in prospect
	Pieces  int     // about so many pieces, in tens, at the rate of its own part types and ages
	HasSeen float64 // failures in prospect so far: expected
}

// PiecesNeeded returns the smallest row of the table in which at least share of
// the shops call a supplier of the ratio, for the number of suppliers nearest to
// the table's. It is false where no row does, or where nothing was expected of
// the supplier yet.
func PiecesNeeded(table []Power, suppliers int, ratio, share, expected float64, sold int) (Needed, bool) {
	var nearest float64
	for _, p := range table {
		if d := math.Abs(p.Suppliers - float64(suppliers)); nearest == 0 || d < math.Abs(nearest-float64(suppliers)) {
			nearest = p.Suppliers
		}
	}
	if expected <= 0 {
		return Needed{}, false
	}
	for _, p := range table {
		if p.Suppliers == nearest && p.Ratio == ratio && p.Called >= share {
			return Needed{Ratio: ratio, Usual: p.Usual, Pieces: int(math.Ceil(p.Usual/expected*float64(sold)/10) * 10), HasSeen: expected}, true
		}
	}
	return Needed{}, false
}
