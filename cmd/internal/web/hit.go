package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/cmd/internal/app"
	"fitfill/compat"
)

// hit is a part in a list, with its verdict where an engine is on the bench.
type hit struct {
	Number, Supplier string
	What             string
	Price, Offer     string
	Pack             string
	Verdict          *verdict
	Reason           *finding // the one that decides
	Findings         []finding
	Asks             []asking
	Became           string // what became of the number
	Newer            []newer
	Matched          string  // how it was found
	Lines            []place // lines of sheets that state it
	Add              string  // address with the part on the list
	Listed           bool    // it is on the list
	Off              string  // address with the list without it
}

// newer is a part that took another one's place.
type newer struct {
	Says, Href string
}

// hitOfFound shows a part that was found.
func hitOfFound(h app.Hit, u units.System) hit {
	v := hit{Number: h.Number, Supplier: h.Supplier, What: what(h.Type, h.Description), Price: h.Price, Pack: h.Pack(u), Matched: h.Why}
	if h.Price != "" && h.PricePer != "" && h.PricePer != "each" {
		v.Price += " per " + h.PricePer
	}
	v.Offer = strings.Join(app.Supply(h.Stock, h.Delivery, h.StockDate), ", ")
	if h.Outcome != nil { // judged for the engine that the words name
		judged := verdictOf(*h.Outcome, h.Why)
		v.Verdict, v.Matched = &judged, ""
	}
	v.Lines, _ = placesOf(statedIn(h.Part))
	return v
}

// hitOfFit shows a part that was judged.
func hitOfFit(p app.PartFit) hit {
	return hit{Number: p.Number, Supplier: p.Supplier, What: what(p.Type, p.Description), Price: p.Price, Offer: strings.Join(app.Supply(p.Stock, p.Delivery, p.StockDate), ", ")}
}

// what names a part by its description, with its type where that does not say it.
func what(partType, description string) string {
	switch {
	case description == "":
		return partType
	case partType == "" || strings.Contains(strings.ToLower(description), strings.ToLower(partType)):
		return description
	}
	return partType + ": " + description
}

// judged puts the verdict on a part beside it.
func (h *hit) judged(r *http.Request, p app.PartFit) {
	v := verdictOf(p.Outcome, p.First)
	h.Verdict = &v
	h.Findings = findingsOf(p.Findings)
	for i, f := range p.Findings {
		if f.Outcome == p.Outcome && !f.NotChecked {
			h.Reason = &h.Findings[i]
			break
		}
	}
	for i, text := range p.Ask {
		flag := ""
		if i < len(p.AnswerWith) {
			flag = p.AnswerWith[i]
		}
		h.Asks = append(h.Asks, askingOf(r, text, flag, ""))
	}
	h.became(r, p.Superseded)
}

func (h *hit) became(r *http.Request, s *app.Superseded) {
	if s == nil {
		return
	}
	h.Became = s.Says
	h.Newer = nil
	for _, n := range s.Newest {
		says := n.Number + " of " + n.Supplier
		if n.First != "" {
			says += ": " + n.First
		}
		if len(n.Changed) > 0 {
			says += " (" + strings.Join(n.Changed, "; ") + ")"
		}
		h.Newer = append(h.Newer, newer{says, address("/counter", with(onBench(r.URL.Query()), "q", n.Number))})
	}
}

// statedIn lists the lines that state a part, each once.
func statedIn(p *catalog.Part) []compat.Evidence {
	var list []compat.Evidence
	for _, o := range []catalog.Origin{p.Price.Origin, p.Description.Origin, p.Type.Origin, p.Stock.Origin, p.OpeningTemp.Origin} {
		if o.Known() && !slices.ContainsFunc(list, func(e compat.Evidence) bool { return e.SHA256 == o.SHA256 && e.Line == o.Line }) {
			list = append(list, compat.From(o))
		}
	}
	return list
}

// The job list of a page stands in its address: NUMBER of SUPPLIER, one each.
const ofSupplier = " of "

func listEntry(number, supplier string) string { return number + ofSupplier + supplier }

// listable says whether a part is on the list of the page, else where it is.
func (h *hit) listable(r *http.Request, path string) {
	q, entry := r.URL.Query(), listEntry(h.Number, h.Supplier)
	if slices.Contains(q[nameList], entry) {
		h.Listed = true
		return
	}
	more := with(q)
	more[nameList] = append(slices.Clone(q[nameList]), entry)
	h.Add = address(path, more)
}

// list is the job list of the page.
type list struct {
	Count int
	Href  string
}

func listOf(q url.Values) *list {
	n := len(filled(q[nameList]))
	if n == 0 && q.Get(nameEngine) == "" {
		return nil
	}
	return &list{n, address("/job", onBench(q))}
}

// settlesWords says what an answer to a question is good for.
func settlesWords(n *app.NextQuestion) string {
	switch {
	case n.Left == 0 && n.Doubtful == 1:
		return "then it is clear"
	case n.Left == 0:
		return fmt.Sprintf("then all %d in doubt are clear", n.Doubtful)
	case float64(n.Doubtful)-n.Left < 1:
		return "may clear up one"
	}
	return fmt.Sprintf("clears up about %.0f of the %d in doubt", float64(n.Doubtful)-n.Left, n.Doubtful)
}
