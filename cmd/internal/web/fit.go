package web

import (
	"net/http"
	"strings"

	"fitfill/cmd/internal/app"
)

// fitPage is every part of a type judged for the engine on the bench.
type fitPage struct {
	frame
	Type    string
	Bench   *bench
	Hits    []hit
	Ask     *asking
	Hint    string
	Held    []heldRow
	Torque  *torque
	NotKept string // why the answer is not on the vehicle's record
	Back    string
	List    *list
}

func (*fitPage) template() string { return "fit" }

// torque is what is on file about the bolts of the housing.
type torque struct {
	Verdict  verdict
	By       string
	Warning  string
	Findings []finding
}

func torqueOf(t *app.TorqueAnswer) *torque {
	if t == nil {
		return nil
	}
	return &torque{verdictOf(t.Outcome, t.First), t.By, t.Warning, findingsOf(t.Findings)}
}

func askFit(s *site, r *http.Request) (reply, error) {
	q := r.URL.Query()
	on := benchOf(q)
	if on.Engine == "" && on.Vehicle == "" {
		return reply{}, &app.UsageError{Problem: "for which engine?", Hint: "put one on the bench at the Counter"}
	}
	on.Type, on.Part, on.Supplier = q.Get("type"), strings.TrimSpace(q.Get(namePart)), q.Get("supplier")
	a, err := s.shop.Fit(r.Context(), on)
	if err != nil {
		return reply{}, err
	}
	p := &fitPage{
		frame: frame{Title: app.Capital(nonEmpty(a.Type, "parts")) + " for " + a.Engine, Door: "counter"}, Type: nonEmpty(a.Type, "parts"),
		Bench: benchView(r, a.Engine), Hint: sentence(inPageWords(a.Hint)), Held: heldRows(a.Waiting), Torque: torqueOf(a.Torque),
		Back: address("/counter", onBench(q)), List: listOf(q), NotKept: a.NotKept,
	}
	if a.Vehicle != "" {
		p.Title += ", " + a.Vehicle
	}
	for _, f := range a.Answers {
		h := hitOfFit(f)
		h.judged(r, f)
		h.listable(r, "/fit")
		p.Hits = append(p.Hits, h)
	}
	if a.Next != nil {
		ask := askingOf(r, a.Next.Ask, a.Next.AnswerWith, settlesWords(a.Next))
		p.Ask = &ask
	}
	return reply{a, p, ""}, nil
}

func nonEmpty(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}
