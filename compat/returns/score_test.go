package returns_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fitfill/compat/returns"
)

// p.adjust(p, "BH") of R 4.2.2; the first set is that of "Controlling the false
// discovery rate", 1995 (from memory).
func TestFalseDiscoveryAgainstR(t *testing.T) {
	p, want := map[string][]float64{}, map[string][]float64{}
	others := map[string][][2]float64{}
	for _, r := range published(t, "false-discovery.csv") {
		if n := int(r.num(t, "i")); n != len(p[r.text("set")])+1 {
			t.Fatalf("%s: number %d out of order", r.text("set"), n)
		}
		p[r.text("set")] = append(p[r.text("set")], r.num(t, "p"))
		want[r.text("set")] = append(want[r.text("set")], r.num(t, "bh"))
		others[r.text("set")] = append(others[r.text("set")], [2]float64{r.num(t, "holm"), r.num(t, "by")})
	}
	for set := range p {
		for i, q := range returns.FalseDiscovery(p[set]) {
			near(t, fmt.Sprint(set, i), q, want[set][i], exact)
			h, y := holm(p[set])[i], yekutieli(p[set])[i]
			near(t, fmt.Sprint(set, i, " holm"), h, others[set][i][0], exact)
			near(t, fmt.Sprint(set, i, " BY"), y, others[set][i][1], exact)
			if q > h || q > y {
				t.Errorf("%s %d: q %g, by the stricter ones %g and %g", set, i, q, h, y)
			}
		}
	}
}

// coxph with a gaussian frailty, survdiff, qgamma, pbinom and p.adjust of R
// 4.2.2 on the invented shop.
func TestScoreOfTheShopAgainstR(t *testing.T) {
	set := settings(t)
	set.DesignEffectFrom = 1e9 // R's figures take pieces as independent
	l := returns.Match(shop(t), set)
	c := map[string]returns.Comparison{}
	for suffix, s0 := range map[string]float64{"": 1, "_s0_0.5": 0.5, "_s0_2.0": 2} {
		s := set
		s.Spread = s0
		var err error
		if c[suffix], err = returns.Compare(l.Units, len(l.Suppliers), s); err != nil {
			t.Fatal(err)
		}
	}
	fits, err := c[""].Table.FitGrid(set.TauStep, set.TauMax)
	if err != nil {
		t.Fatal(err)
	}
	fitOf := func(section string) returns.Fit {
		tau := section[strings.Index(section, "tau")+3:]
		i := slices.IndexFunc(fits, func(f returns.Fit) bool { return fmt.Sprintf("%.2f", f.Tau) == tau+"0" })
		return fits[i]
	}
	index := func(name string) int { return slices.Index(l.Suppliers, name) }
	weights := returns.Believe(fits, 1).Weights
	checked := 0
	for _, r := range published(t, "shop-score.csv") {
		section, item := r.text("section"), r.text("item")
		base, suffix := section, ""
		if at := strings.Index(section, "_s0_"); at >= 0 {
			base, suffix = section[:at], section[at:]
		}
		cmp := c[suffix]
		var st returns.Standing
		if i := index(item); i >= 0 {
			st = cmp.Standings[i]
		}
		var got float64
		tol := exact
		switch {
		case base == "units":
			got = float64(l.Total(index(item)).Sold)
		case base == "events365":
			got = st.Observed
		case base == "events_by_type":
			for s := range l.Suppliers {
				o, _ := cmp.Table.ByType(s, slices.Index(l.PartTypes, item))
				got += o
			}
		case base == "logrank_E":
			got = st.Expected
		case base == "O_over_E":
			got = st.Ratio.Est
		case base == "garwood_lo":
			got = st.Ratio.Low
		case base == "garwood_hi":
			got = st.Ratio.High
		case base == "logrank_chisq":
			got = cmp.Global.ChiSquare
		case strings.HasPrefix(base, "b_tau"):
			got, tol = fitOf(base).B[index(item)], 1e-8
		case strings.HasPrefix(base, "V_tau"):
			a, b, _ := strings.Cut(item, " | ")
			got, tol = fitOf(base).V.At(index(a), index(b)), 1e-8
		case strings.HasPrefix(base, "laplace_L"):
			got = fitOf(base).LogL
		case base == "tau_weight":
			got = weights[slices.IndexFunc(fits, func(f returns.Fit) bool { return fmt.Sprintf("%.2f", f.Tau) == item })]
		case base == "rr_median":
			got = st.Relative.Est
		case base == "rr_lo":
			got = st.Relative.Low
		case base == "rr_hi":
			got = st.Relative.High
		case base == "P_worse_than_rest":
			got = st.WorseThanRest
		case base == "P_row_worse_than_col":
			a, b, _ := strings.Cut(item, " > ")
			got = pairOf(cmp, index(a), index(b))
		case base == "expected_rank":
			got = st.ExpectedRank
		case base == "binomial_midp_worse_than_rest":
			got = st.Second.P
		case base == "binomial_midp_BH_q":
			got = st.Second.Q
		default:
			t.Fatalf("no check for %s", section)
		}
		near(t, section+" "+item, got, r.num(t, "value"), tol)
		checked++
	}
	if checked < 200 {
		t.Errorf("only %d figures checked", checked)
	}
}

func pairOf(c returns.Comparison, a, b int) float64 {
	for _, p := range c.Pairs {
		switch {
		case p.A == a && p.B == b:
			return p.AWorse
		case p.A == b && p.B == a:
			return 1 - p.AWorse
		}
	}
	return -1
}

func TestWordsOfTheShop(t *testing.T) {
	set := settings(t)
	rep, err := returns.Judge(returns.Match(shop(t), set), set)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]returns.Word{
		"Alder Supply": returns.LeaningBetter, "Brindle Parts": returns.NotTold, "Corvane Trade": returns.LeaningBetter,
		"Dunmore Direct": returns.Worse, "Eskdale Stores": returns.NotTold,
	}
	for _, s := range rep.Suppliers {
		if s.Standing.Word != want[s.Name] {
			t.Errorf("%s: %s, want %s", s.Name, s.Standing.Word, want[s.Name])
		}
	}
}
