package app

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"fitfill/compat/returns"
)

// Rivals sets two suppliers' parts of one type against each other in money.
type Rivals struct {
	Type     string `json:"type"`
	Currency string `json:"currency"`
	Cheap    Rival  `json:"cheaper"`
	Dear     Rival  `json:"dearer"`

	PriceGap    float64   `json:"price_gap"`
	PerComeback *float64  `json:"per_comeback"`
	BreakEven   *Estimate `json:"break_even_gap"` // how much dearer the dearer one may be
	DearCheaper *float64  `json:"p_dearer_cheaper_overall"`
	// AllowedOneIn: the cheaper one pays while fewer than one in so many more of
	// its pieces come back; 0 = whatever comes back.
	AllowedOneIn float64   `json:"pays_below_one_more_in"`
	MorePct      *Estimate `json:"more_back_pct"` // comes back more often, by the shop's own count
	Word         string    `json:"word"`

	CheapWorse *float64  `json:"p_cheaper_fails_more"` // null where they share too little to compare
	LevelAt    *EvenCost `json:"level_at_comeback_of"` // null where no price or nothing to compare
	NoMoney    string    `json:"no_cost,omitempty"`    // what to state so that it is told in money
	Says       []string  `json:"says"`                 // the answer in words, first line first

	Comeback *Comeback `json:"comeback"`
}

// Rival is one side of a comparison.
type Rival struct {
	Supplier string    `json:"supplier"`
	Price    float64   `json:"price"`
	Failed   int       `json:"observed_failures"`
	Cost     *Estimate `json:"cost_per_job"`
	BackPct  *Estimate `json:"back_pct"`
}

// rivals compares two suppliers' parts: of the type asked for, else of the type
// that both sold most of.
func (st *supplierStudy) rivals(names [2]string, money pricing) (*Rivals, error) {
	var at [2]int
	for i, n := range names {
		s, err := st.supplierNamed(n)
		if err != nil {
			return nil, err
		}
		at[i] = s
	}
	if at[0] == at[1] {
		return nil, &UsageError{Problem: fmt.Sprintf("%s and %s are one supplier", names[0], names[1]), Hint: "name two, such as --compare A B"}
	}
	if money.off != "" && !money.unstated {
		return nil, &UsageError{Problem: "what a comeback costs is not known", Hint: money.off}
	}
	g := st.commonType(at)
	if st.q.Type != "" {
		g = st.typeIndex(st.q.Type)
	}
	if g < 0 {
		return nil, &UsageError{Problem: fmt.Sprintf("no part type was bought from both %s and %s", names[0], names[1]), Hint: "there is nothing to compare; see: fitfill suppliers"}
	}
	name := st.ledger.PartTypes[g]
	money.forBoth(at, g)
	if money.unstated {
		return st.rivalRates(at, g, money), nil
	}
	var cost [2]returns.PartCost
	for i, s := range at {
		c, _, ok := money.partCost(st, s, g)
		if !ok {
			if !money.anyPrice(s, g) {
				return nil, &UsageError{
					Problem: fmt.Sprintf("no price of a %s from %s is on file", name, st.ledger.Suppliers[s]),
					Hint:    "the sheet of purchases needs the columns unit_price and currency",
				}
			}
			money.off = strings.TrimSuffix(money.noPrice(st, at, g), ".")
			return st.rivalRates(at, g, money), nil
		}
		cost[i] = c
	}
	r := &Rivals{Type: name, Currency: money.currency, Comeback: money.comeback(st, name)}
	d, ok := st.overall.Duel(at[0], at[1], g, RateDays, cost[0], cost[1], st.settings)
	if !ok {
		d = bareDuel(at, cost)
	} else {
		level := estimate(d.Level.Gap, 2)
		p := round(d.DearCheaper, 4)
		r.BreakEven, r.DearCheaper = &level, &p
		cheapCost, dearCost := estimate(d.CheapCost, 2), estimate(d.DearCost, 2)
		r.Cheap.Cost, r.Dear.Cost = &cheapCost, &dearCost
		r.tellRates(d)
	}
	price := map[int]float64{at[0]: cost[0].Price, at[1]: cost[1].Price}
	r.Cheap.Supplier, r.Dear.Supplier = st.ledger.Suppliers[d.Cheap], st.ledger.Suppliers[d.Dear]
	r.Cheap.Price, r.Dear.Price = round(price[d.Cheap], 4), round(price[d.Dear], 4)
	perComeback := round(d.PerFailure, 2)
	r.PriceGap, r.PerComeback = round(d.Saves, 2), &perComeback
	if d.Allowed > 0 && d.Allowed < 1 {
		r.AllowedOneIn = round(1/d.Allowed, 1)
	}
	r.Cheap.Failed, r.Dear.Failed, r.Word = int(math.Round(d.CheapFailed)), int(math.Round(d.DearFailed)), string(d.Word)
	r.Says = r.words(d, ok)
	return r, nil
}

// bareDuel is what can be said where nothing ever failed: the prices alone.
func bareDuel(at [2]int, cost [2]returns.PartCost) returns.Duel {
	if cost[0].Price > cost[1].Price {
		at[0], at[1], cost[0], cost[1] = at[1], at[0], cost[1], cost[0]
	}
	d := returns.Duel{Cheap: at[0], Dear: at[1], Saves: cost[1].Price - cost[0].Price, PerFailure: cost[0].PerFailure, Allowed: math.Inf(1), Word: returns.TooFewToTell}
	if d.PerFailure > 0 {
		d.Allowed = d.Saves / d.PerFailure
	}
	return d
}

func percent(iv returns.Interval) returns.Interval {
	return returns.Interval{Est: iv.Est * 100, Low: iv.Low * 100, High: iv.High * 100}
}

// commonType returns the part type of which the smaller seller of the two sold
// most; −1 if none was bought from both.
func (st *supplierStudy) commonType(at [2]int) int {
	sold := map[int][2]int{}
	for _, t := range st.ledger.Tallies {
		for i, s := range at {
			if t.Supplier == s {
				n := sold[t.PartType]
				n[i] += t.Sold
				sold[t.PartType] = n
			}
		}
	}
	best, most := -1, 0
	for g := range st.ledger.PartTypes {
		if n := min(sold[g][0], sold[g][1]); n > most {
			best, most = g, n
		}
	}
	return best
}

// mostInFirstLine is how long a first line may be.
const mostInFirstLine = 60

// fitFirstLine returns the line, or the other where it is too long for a first
// line.
func fitFirstLine(line, shorter string) string {
	if utf8.RuneCountInString(line) > mostInFirstLine {
		return shorter
	}
	return line
}

// words puts the comparison into sentences, the answer first.
func (r *Rivals) words(d returns.Duel, told bool) []string {
	in100 := int(math.Round(100 * d.DearCheaper))
	saves := fmt.Sprintf("%s saves %s", r.Cheap.Supplier, r.money(d.Saves))
	var out []string
	switch {
	case d.Word == returns.CostsMore:
		out = append(out, saves+" and costs more in the end")
	case d.Word == returns.LeansMore:
		out = append(out, saves+"; probably costs more in the end")
	case d.Word == returns.Pays:
		out = append(out, saves+" and pays")
	case d.Word == returns.LeansPays:
		out = append(out, saves+" and probably pays")
	case d.Saves == 0:
		out = append(out, "Same price: too few failures to tell them apart")
	case d.Allowed >= 1:
		out = append(out, saves+", more than a comeback costs")
	default:
		out = append(out, fmt.Sprintf("%s; pays if under 1 in %.0f more fail", saves, 1/d.Allowed))
	}
	out[0] = fitFirstLine(out[0], strings.Replace(out[0], r.Cheap.Supplier, "The cheaper one", 1))
	out = append(out, fmt.Sprintf("A comeback of the part costs you %s, the price of the new part aside.", r.money(d.PerFailure)))
	if !told {
		return append(out, "Nothing has come back faulty yet: your own count cannot tell them apart.")
	}
	count := fmt.Sprintf("%d of %s's and %d of %s's have failed: your own count allows from %s to %s of %s's",
		r.Cheap.Failed, r.Cheap.Supplier, r.Dear.Failed, r.Dear.Supplier, more(d.More.Low), more(d.More.High), r.Cheap.Supplier)
	if d.Word == returns.TooFewToTell {
		count += ", too wide to settle it"
	}
	return append(out, count+".", fmt.Sprintf("They are level at a price gap of %s (%.2f to %s is possible), against %s now. That %s is cheaper in the end: %d in 100.",
		r.money(d.Level.Gap.Est), d.Level.Gap.Low, r.money(d.Level.Gap.High), r.money(d.Saves), r.Dear.Supplier, in100))
}

// more words a difference in what comes back.
func more(share float64) string {
	if share < 0 {
		return fmt.Sprintf("%.1f in 100 fewer", -100*share)
	}
	return fmt.Sprintf("%.1f in 100 more", 100*share)
}
