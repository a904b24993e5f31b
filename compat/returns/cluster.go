package returns

import "iter"

// ClusterVariance returns two variances of the survival share at day: one that
// lets pieces of one sale line fail together, S²·Σ_c(Σ_{i in c} u_i)², and
// Greenwood's, which does not. u_i is the influence of piece i on ln S:
// −1/(Y − d) on its failure day, plus d/(Y(Y − d)) for every failure day it was
// at risk. With one piece on every line the two are equal. Both are 0 if nobody
// fails, and if all do. Source: "Product-limit survival
// functions with correlated survival times", 1995 (from memory).
func ClusterVariance(units []Unit, day int) (clustered, greenwood float64) {
	return clusterVariance(sorted(units), day)
}

// clusterVariance is ClusterVariance of units that stand in order.
func clusterVariance(units []Unit, day int) (clustered, greenwood float64) {
	steps, cal := curve(units)
	if steps = upTo(steps, day); len(steps) > 0 {
		cal = cal.upTo(steps[len(steps)-1].Day)
	} else {
		cal = calendar{}
	}
	risk := make([]float64, len(steps)+1)
	s := 1.0
	for i, st := range steps {
		if st.Failed >= st.AtRisk {
			return 0, 0
		}
		risk[i+1] = risk[i] + st.Failed/(st.AtRisk*(st.AtRisk-st.Failed))
		s *= 1 - st.Failed/st.AtRisk
	}
	greenwood = s * s * risk[len(steps)]
	line, sum := 0, 0.0
	for i := range units {
		u := &units[i]
		if i == 0 || u.Line != line {
			clustered += sum * sum
			line, sum = u.Line, 0
		}
		if !u.seen() {
			continue
		}
		from, to := cal.span(u)
		influence := risk[to] - risk[from]
		if u.Event && u.Exit <= day {
			influence -= 1 / (steps[to-1].AtRisk - steps[to-1].Failed)
		}
		sum += u.Weight * influence
	}
	return s * s * (clustered + sum*sum), greenwood
}

// DesignEffect returns by how much the clustering of failures on sale lines
// widens the shop's share returned within day days: the ratio of the two
// variances of ClusterVariance, each summed over suppliers with the square of
// the pieces sold, that is for the shop's mixture of suppliers as it stands. It
// is at least 1. A supplier of a single sale line, or one whose pieces all failed,
// shows no clustering of its own however its pieces failed; where two or more failed
// on one line of such a supplier, the ratio is at least that of the failures of each
// line d, squared and summed, to what chance makes of them: Σd²/Σ(np(1−p) + n²p²)
// for lines of n pieces in a shop whose share of failures is p (binomial
// distribution). A verdict must not hang on one row.
func DesignEffect(units []Unit, suppliers, day int) float64 {
	return designEffect(sorted(units), suppliers, day)
}

// designEffect is DesignEffect of units that stand in order.
func designEffect(units []Unit, suppliers, day int) float64 {
	var clustered, plain float64
	hidden := false
	by := bySupplier(units, suppliers)
	for _, own := range by {
		hidden = hidden || hides(own, day)
		var n float64
		for i := range own {
			n += own[i].Weight
		}
		c, g := clusterVariance(own, day)
		clustered += n * n * c
		plain += n * n * g
	}
	effect := 1.0
	if plain > 0 {
		effect = max(effect, clustered/plain)
	}
	if hidden {
		effect = max(effect, together(by, day))
	}
	return effect
}

// lineOfSale is how many pieces of a sale line were watched, and how many failed.
type lineOfSale struct{ pieces, failed float64 }

// linesOfSale yields the sale lines of one supplier, whose units stand in order.
func linesOfSale(own []Unit, day int) iter.Seq[lineOfSale] {
	return func(yield func(lineOfSale) bool) {
		var l lineOfSale
		for i := range own {
			u := &own[i]
			if i > 0 && u.Line != own[i-1].Line {
				if !yield(l) {
					return
				}
				l = lineOfSale{}
			}
			if !u.seen() {
				continue
			}
			l.pieces += u.Weight
			if u.Event && u.Exit <= day {
				l.failed += u.Weight
			}
		}
		if len(own) > 0 {
			yield(l)
		}
	}
}

// hides reports whether two or more pieces of a line failed at a supplier whose own
// variance cannot show that they failed together.
func hides(own []Unit, day int) bool {
	lines, most, held := 0, 0.0, 0.0
	for l := range linesOfSale(own, day) {
		lines++
		most, held = max(most, l.failed), held+l.pieces-l.failed
	}
	return most >= 2 && (lines == 1 || held == 0)
}

// together is how much more often than by chance pieces of one line failed together.
func together(suppliers [][]Unit, day int) float64 {
	var pieces, failed, squares, chance float64
	for _, own := range suppliers {
		for l := range linesOfSale(own, day) {
			pieces, failed, squares = pieces+l.pieces, failed+l.failed, squares+l.failed*l.failed
		}
	}
	p := failed / pieces
	for _, own := range suppliers {
		for l := range linesOfSale(own, day) {
			chance += l.pieces*p*(1-p) + l.pieces*l.pieces*p*p
		}
	}
	return squares / chance
}
