package web

import (
	"fmt"
	"net/http"
	"net/url"

	"fitfill/cmd/internal/app"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// mixView is the answer to a top-off.
type mixView struct {
	Verdict  verdict
	Says     string
	Reasons  []finding
	Ask      string
	Circuits []choice
	Before   []string
	Figures  []namedFigure
	Scale    *scale
	Rungs    []rungView
	RungNote string
	Amounts  []choice
	Amount   string
	Carried  []field
	FindOut  []coolant.Settle
	GetHome  string
	Mend     string // how to bring it to its strength
	Own      string // that the garage's own tables count
	Missing  []string
	Findings []finding
	Cautions []string
	Tests    []field
	TestForm []field // carried along by the form of tests
	Looks    []string
	Coldest  string
	Flush    string
	Log      *logForm
	NotKept  string
}

// namedFigure is a number with what it is.
type namedFigure struct {
	Name string
	figure
	PM string
}

// rungView is one step of the ladder.
type rungView struct {
	Verdict verdict
	Amount  figure
	Lead    string
}

// logForm is what is needed to write a filling into the log.
type logForm struct {
	Vehicle, Circuit, What, Volume string
}

// amounts are the top-offs that can be tapped, as a jug shows them.
var amounts = map[bool][]string{false: {"0.25 L", "0.5 L", "1 L", "2 L"}, true: {"0.25 US qt", "0.5 US qt", "1 US qt", "2 US qt"}}

func mixQuestion(q url.Values) app.MixQuestion {
	fill := q.Get("fill")
	if fill == record {
		fill = ""
	}
	return app.MixQuestion{
		Vehicle: q.Get("vehicle"), Engine: q.Get(nameEngine), Circuit: q.Get("circuit"),
		Fill: app.FluidSaid{What: fill, Strength: q.Get("strength")}, Add: app.FluidSaid{What: q.Get("add"), Volume: q.Get("amount")}, Look: q.Get("look"),
		Tests: app.TestsSaid{
			PH: q.Get("ph"), Nitrite: q.Get("nitrite"), Phosphate: q.Get("phosphate"), Silicate: q.Get("silicate"), FreezeReads: q.Get("freeze"),
			Scale: q.Get("scale"), Age: q.Get("age"),
		},
	}
}

func (s *site) bayAnswer(r *http.Request, p *bayPage, c app.BayAnswer) (reply, error) {
	q := r.URL.Query()
	shop, err := s.shop.Tonight(q.Get("coldest"))
	if err != nil {
		return reply{}, err
	}
	a, err := shop.Mix(r.Context(), mixQuestion(q))
	if err != nil {
		return reply{}, err
	}
	u := shop.Settings.Units
	p.Step, p.Title = "answer", app.Capital(a.First)
	v := &mixView{
		Verdict: verdictOf(a.Outcome, a.First), Says: a.Add + " on top of " + a.Fill, Reasons: inShort(findingsOf(a.Reasons())), Ask: inPageWords(a.Ask),
		Figures: figuresOf(shop, a.Result), RungNote: a.LadderNote, Amount: q.Get("amount"), Carried: carried(q, "amount"),
		FindOut: a.Settle, Missing: a.Missing(), Findings: findingsOf(append(a.Findings, a.NotChecked...)), Cautions: a.Cautions, Looks: c.Looks, NotKept: a.NotKept,
		TestForm: carried(q, append([]string{"coldest"}, readingNames...)...),
	}
	for _, says := range a.Before.Says {
		if !said(a.Findings, says) {
			v.Before = append(v.Before, says)
		}
	}
	if a.Ask != "" {
		for _, name := range c.Circuits {
			v.Circuits = append(v.Circuits, choice{Text: name, Href: address("/bay", with(q, "circuit", name))})
		}
	}
	for _, name := range amounts[u.Volume == "US qt"] {
		v.Amounts = append(v.Amounts, choice{Text: name, Href: address("/bay", with(q, "amount", name))})
	}
	for _, name := range readingNames {
		v.Tests = append(v.Tests, field{name, q.Get(name)})
	}
	rungs := a.Rungs()
	for i, step := range rungs {
		lead := "up to"
		switch {
		case len(rungs) == 1 && a.Poured:
			continue
		case len(rungs) == 1:
			lead = "any amount up to"
		case i == len(rungs)-1:
			lead = "more"
		}
		rv := rungView{Verdict: verdictOf(step.Outcome, step.Why), Lead: lead}
		if lead != "more" {
			rv.Amount = volume(u, step.UpTo)
		}
		v.Rungs = append(v.Rungs, rv)
	}
	if a.GetHome != nil {
		v.GetHome = a.GetHome.Says
	}
	if v.Mend = a.Mend; a.Own != nil {
		v.Own = a.Own.Says()
	}
	if cold := shop.Settings.Coldest; cold.Known {
		v.Coldest = cold.Text
		v.Scale = scaleOf(u, a.Result, &cold.Value, c.Running)
	} else {
		v.Scale = scaleOf(u, a.Result, nil, c.Running)
	}
	to := q.Get("add")
	v.Flush = address("/bay/flush", with(q, "add", "", "amount", "", "to", to))
	v.Log = &logForm{c.Vehicle, q.Get("circuit"), to, q.Get("amount")}
	p.Answer = v
	return reply{a, p, ""}, nil
}

// inShort leaves of the places only the first line of a sheet: the titles of
// sources and what was worked out stand behind the reasons in full.
func inShort(list []finding) []finding {
	for i := range list {
		places := list[i].Places
		list[i].Places, list[i].More, list[i].Steps = nil, 0, nil
		for _, p := range places {
			if p.Href != "" {
				list[i].Places = []place{p}
				break
			}
		}
	}
	return list
}

func said(list []compat.Finding, text string) bool {
	for _, f := range list {
		if f.Says == text {
			return true
		}
	}
	return false
}

// figuresOf lists the numbers of the system after the top-off.
func figuresOf(shop *app.Shop, r coolant.Result) []namedFigure {
	u := shop.Settings.Units
	var list []namedFigure
	if r.Strength != nil {
		list = append(list, namedFigure{"strength", figure{Text: fmt.Sprintf("%.0f %%", r.Strength.Value.Percents())}, fmt.Sprintf("±%.0f", r.Strength.PM.Percents())})
	}
	if r.Freeze != nil {
		list = append(list, namedFigure{"freezes at", temperature(u, r.Freeze.Value), plusMinus(u, r.Freeze)})
	}
	if r.BoilOpen != nil {
		list = append(list, namedFigure{"boils open at", temperature(u, r.BoilOpen.Value), plusMinus(u, r.BoilOpen)})
	}
	if r.BoilCapped != nil {
		list = append(list, namedFigure{"boils under the cap, if it holds, at", temperature(u, r.BoilCapped.Value), plusMinus(u, r.BoilCapped)})
	}
	switch {
	case r.Due == coolant.DueNow:
		list = append(list, namedFigure{Name: "change it", figure: figure{Text: "now"}})
	case r.Due == coolant.MaybeDue:
		list = append(list, namedFigure{Name: "change it", figure: figure{Text: "perhaps now"}})
	case r.Months > 0:
		list = append(list, namedFigure{Name: "change it within", figure: figure{Text: app.Plural(r.Months, "month", "months")}})
	}
	return list
}
