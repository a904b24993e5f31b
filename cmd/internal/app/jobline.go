package app

import (
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/job"
)

// JobLine is one line of the list. Quantity is in pieces or in litres.
type JobLine struct {
	Role        string           `json:"role"`
	Need        string           `json:"need,omitempty"` // empty: always
	Supplier    string           `json:"supplier,omitempty"`
	Number      string           `json:"number,omitempty"`
	Description string           `json:"description,omitempty"`
	Quantity    float64          `json:"quantity"`
	Unit        string           `json:"unit"`
	Why         string           `json:"why"`
	Outcome     compat.Outcome   `json:"outcome"`
	Findings    []compat.Finding `json:"findings,omitempty"`
	Each        string           `json:"price_each,omitempty"`
	Expected    string           `json:"expected_cost_each,omitempty"` // comebacks counted
	Sum         string           `json:"price,omitempty"`
	Packs       string           `json:"packs,omitempty"`
	Stock       string           `json:"stock,omitempty"`
	StockDate   string           `json:"stock_date,omitempty"`
	Delivery    string           `json:"delivery,omitempty"`
	RunnerUp    *JobRunnerUp     `json:"runner_up,omitempty"`
	Missing     string           `json:"missing,omitempty"`

	sum catalog.Stated[units.Money]
}

// JobRunnerUp is the next best part for a role.
type JobRunnerUp struct {
	Supplier string         `json:"supplier"`
	Number   string         `json:"number"`
	Outcome  compat.Outcome `json:"outcome"`
	First    string         `json:"first"`
	Each     string         `json:"price_each,omitempty"`
	Sum      string         `json:"price,omitempty"` // of as much as the line takes
	Packs    string         `json:"packs,omitempty"`

	Stock     string `json:"stock,omitempty"`
	StockDate string `json:"stock_date,omitempty"`
	Delivery  string `json:"delivery,omitempty"`
}

// Words is the next best part in a line: what as much of it costs, whether it
// is to be had, and its verdict.
func (r JobRunnerUp) Words() string {
	text := r.Number + " of " + r.Supplier
	for _, more := range []string{r.Packs, r.Sum, PartFit{Stock: r.Stock, StockDate: r.StockDate, Delivery: r.Delivery}.Offer()} {
		if more != "" {
			text += "; " + more
		}
	}
	return text + ": " + r.First
}

func jobLine(l job.Line) JobLine {
	out := JobLine{Role: l.Role, Need: l.Need, Quantity: float64(l.Pieces), Unit: "piece", Missing: l.Missing, Why: l.Missing}
	if l.Part == nil {
		return out
	}
	offer := PartFit{Stock: l.Part.Stock.Value, Delivery: l.Part.Delivery.Value}
	offer.priced(l.Part)
	out.Supplier, out.Number, out.Description = l.Part.Supplier, l.Part.Number, l.Part.Description.Value
	out.Outcome, out.Findings = l.Outcome, l.Findings
	out.Why = l.First + "; " + string(l.Ground)
	if l.Expected.Known {
		out.Expected = l.Expected.Value.Rounded().String()
		out.Why += ": " + out.Expected + " each"
	}
	if l.Brings != "" {
		out.Why += "; its " + l.Brings + " is in the bag"
	}
	out.Stock, out.StockDate, out.Delivery = offer.Stock, offer.StockDate, offer.Delivery
	if l.Each.Known {
		out.Each, out.sum = l.Each.Value.Rounded().String(), l.Sum()
		out.Sum = out.sum.Value.Rounded().String()
	}
	if r := l.RunnerUp; r != nil {
		offer := PartFit{Stock: r.Part.Stock.Value, Delivery: r.Part.Delivery.Value}
		offer.priced(r.Part)
		out.RunnerUp = &JobRunnerUp{Supplier: r.Part.Supplier, Number: r.Part.Number, Outcome: r.Outcome, First: r.First, Stock: offer.Stock, StockDate: offer.StockDate, Delivery: offer.Delivery}
		if each := r.Part.PriceEach(); each.Known {
			out.RunnerUp.Each, out.RunnerUp.Sum = each.Value.Rounded().String(), each.Value.Times(int64(l.Pieces)).Rounded().String()
		}
	}
	return out
}

// total adds up what is always needed, and what may be, by currency.
func (a *JobAnswer) total() {
	add := func(sums map[string]units.Money, m units.Money) {
		if was, ok := sums[m.Currency()]; ok {
			m, _ = was.Plus(m)
		}
		sums[m.Currency()] = m
	}
	always, maybe := map[string]units.Money{}, map[string]units.Money{}
	for _, l := range a.Lines {
		switch {
		case l.sum.Known && l.Need == "":
			add(always, l.sum.Value)
		case l.sum.Known:
			add(maybe, l.sum.Value)
		}
	}
	a.Total, a.Maybe = amounts(always), amounts(maybe)
}

func amounts(sums map[string]units.Money) []string {
	out := []string{}
	for _, m := range sums {
		out = append(out, m.Rounded().String())
	}
	slices.Sort(out)
	return out
}
