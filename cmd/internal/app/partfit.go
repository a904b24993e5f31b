package app

import (
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

// PartFit is the verdict on one part.
type PartFit struct {
	Supplier    string           `json:"supplier"`
	Number      string           `json:"number"`
	Type        string           `json:"type"`
	Description string           `json:"description"`
	Place       string           `json:"place,omitempty"` // where it sits, by its description: lower
	Outcome     compat.Outcome   `json:"outcome"`
	First       string           `json:"first"`
	Faulty      bool             `json:"faulty,omitempty"` // the piece in hand failed its test: it may be the right part all the same
	Findings    []compat.Finding `json:"findings"`
	Price       string           `json:"price,omitempty"`
	Stock       string           `json:"stock,omitempty"`
	StockDate   string           `json:"stock_date,omitempty"`
	Delivery    string           `json:"delivery,omitempty"`
	Ask         []string         `json:"ask"`
	AnswerWith  []string         `json:"answer_with,omitempty"` // the flag that takes each answer, empty where looking settles it
	Superseded  *Superseded      `json:"superseded,omitempty"`  // what became of the number

	part *catalog.Part // large, and answers are moved about while they are put in order
}

func (p *PartFit) priced(part *catalog.Part) {
	if part.Price.Known {
		p.Price = part.Price.Value.String()
		if per := part.PricePer.Value; per != "" && per != "each" {
			p.Price += " per " + per
		}
	}
	if part.StockDate.Known {
		p.StockDate = part.StockDate.Value.String()
	}
}

// Offer says what the part costs and who has it when, with the day on which
// that was stated.
func (p PartFit) Offer() string {
	parts := Supply(p.Stock, p.Delivery, p.StockDate)
	if p.Price != "" {
		parts = append([]string{p.Price}, parts...)
	}
	return strings.Join(parts, "; ")
}

// Supply says who has a part when, in the sheet's own words, with the day on which
// that was stated; what the sheet does not say is left out.
func Supply(stock, delivery, date string) []string {
	var parts []string
	for _, p := range []struct{ label, word, value string }{{"stock ", "stock", stock}, {"delivery ", "deliver", delivery}, {"as of ", "as of", date}} {
		said := strings.ToLower(p.value)
		switch {
		case said == "":
		case strings.Contains(said, p.word), strings.HasPrefix(said, "no "): // "in stock", "no longer made"
			parts = append(parts, p.value)
		default:
			parts = append(parts, p.label+p.value)
		}
	}
	return parts
}
