package fit

import (
	"math"

	"fitfill/catalog"
	"fitfill/compat"
)

// thinning holds the equations for the section that a ring loses when it is
// stretched over a groove.
type thinning struct {
	pieces []thinPiece
	stocky struct{ upTo, a, b float64 }
	origin []compat.Evidence
}

type thinPiece struct{ from, to, c0, c1, c2 float64 }

func newThinning(ref catalog.Tables) (thinning, error) {
	rows, err := ref.Table("fit_stretch")
	if err != nil {
		return thinning{}, err
	}
	var t thinning
	for _, row := range rows {
		if row.Get("kind") == "stocky" {
			v, err := floats(row, "ratio_upto", "a", "b")
			if err != nil {
				return thinning{}, err
			}
			t.stocky.upTo, t.stocky.a, t.stocky.b = v[0], v[1], v[2]
		} else {
			v, err := floats(row, "from_pct", "to_pct", "c0", "c1", "c2")
			if err != nil {
				return thinning{}, err
			}
			t.pieces = append(t.pieces, thinPiece{v[0], v[1], v[2], v[3], v[4]})
		}
		t.origin = cite(t.origin, compat.Cite(row))
	}
	return t, nil
}

// stretch returns by how much a ring of inner diameter d1 is stretched over a
// groove of diameter groove: 100·(Dg − d1)/d1, in per cent; negative where the
// ring is slack.
func stretch(groove, d1 float64) float64 { return 100 * (groove - d1) / d1 }

// loss returns the section lost to a stretch of s per cent, in per cent of the
// section: 0.01 + 1.06·s − 0.10·s² up to 3 %, 0.56 + 0.59·s − 0.0046·s² above
// (ISO 3601-2 and the handbooks); rings with d1/W ≤ 2.95 by
// 100x/(315·e^(−d1/W) + 165 + 100x) with x = s/100. No stretch loses nothing;
// beyond the last piece its end stands.
func (t *thinning) loss(s, d1, w float64) float64 {
	if s <= 0 {
		return 0
	}
	if d1/w <= t.stocky.upTo {
		return 100 * s / (t.stocky.a*math.Exp(-d1/w) + t.stocky.b + s)
	}
	last := 0.0
	for _, p := range t.pieces {
		at := math.Min(s, p.to)
		last = p.c0 + p.c1*at + p.c2*at*at
		if s <= p.to {
			break
		}
	}
	return last
}

// volumeLoss returns the section lost when the rubber keeps its volume:
// 100·(1 − √((d1 + W)/(Dg + W))), in per cent.
func volumeLoss(groove, d1, w float64) float64 {
	return 100 * (1 - math.Sqrt((d1+w)/(groove+w)))
}
