package returns

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
// is at least 1.
func DesignEffect(units []Unit, suppliers, day int) float64 {
	return designEffect(sorted(units), suppliers, day)
}

// designEffect is DesignEffect of units that stand in order.
func designEffect(units []Unit, suppliers, day int) float64 {
	var clustered, plain float64
	for _, own := range bySupplier(units, suppliers) {
		var n float64
		for i := range own {
			n += own[i].Weight
		}
		c, g := clusterVariance(own, day)
		clustered += n * n * c
		plain += n * n * g
	}
	if plain == 0 {
		return 1
	}
	return max(1, clustered/plain)
}
