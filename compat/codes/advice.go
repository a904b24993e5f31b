package codes

import (
	"cmp"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Check is one thing to look at, with what it would find.
type Check struct {
	Name    string            `json:"check"`
	Do      string            `json:"do"`
	Minutes float64           `json:"minutes"`
	Cold    bool              `json:"engine_cold,omitempty"`
	Finds   string            `json:"finds"`
	Part    string            `json:"part,omitempty"`      // type of the part that may follow
	Share   float64           `json:"share_pct,omitempty"` // how often it is the cause, of a hundred such codes: our own judgement
	Origin  []compat.Evidence `json:"origin"`
}

// Advice is what to make of a code before anything is sold.
type Advice struct {
	Code       string            `json:"code"`
	Scope      Scope             `json:"scope"`
	Known      bool              `json:"known"` // the code is one of cooling and on file
	Meaning    string            `json:"meaning,omitempty"`
	Thermostat string            `json:"thermostat,omitempty"`  // likely, possible or unlikely
	NoPartYet  bool              `json:"no_part_yet,omitempty"` // a circuit code: the part is unlikely
	Checks     []Check           `json:"checks"`
	Minutes    float64           `json:"minutes"`
	Parts      []string          `json:"parts"` // types that may follow, the likeliest first
	Cautions   []string          `json:"cautions"`
	Origin     []compat.Evidence `json:"origin"`

	// Threshold is the temperature that the warm-up monitor waits for.
	Threshold catalog.Stated[units.Temperature] `json:"-"`
	// TooCold says that the stamp of what was fitted explains the code alone.
	TooCold bool `json:"fitted_stamp_explains_it,omitempty"`
}

// For returns what to check for a code: the level first, then the checks by
// minutes over likelihood, so that the quick and likely come before the slow.
//
// The warm-up monitor's threshold is the engine's regulating temperature less
// 20 °F: 13 CCR 1968.2 (e)(10). A stamp fitted below it explains P0128 by
// itself. Both are known only as far as the rating and the stamp are.
func (t *Tables) For(c Code, rating, stamp catalog.Stated[units.Temperature]) Advice {
	a := Advice{Code: c.Text, Scope: c.Scope(), Checks: []Check{}, Parts: []string{}, Cautions: []string{}}
	m, known := t.meanings[c.Text]
	if !known {
		return a
	}
	a.Known, a.Meaning, a.Thermostat, a.NoPartYet = true, m.says, m.thermostat, m.circuit
	a.Origin = []compat.Evidence{compat.Cite(m.row)}
	t.addChecks(&a, c.Text, m.group)
	a.Cautions = t.warn(a.Checks)
	if m.group == warmUp && rating.Known {
		limit := rating.Value.Add(t.margin.Neg())
		a.Threshold = catalog.Say(limit, rating.Text, rating.Origin)
		a.TooCold = stamp.Known && stamp.Value.Compare(limit) < 0
		a.Origin = append(a.Origin, t.rule, compat.From(rating.Origin))
	}
	return a
}

// warmUp is the group of the codes that the warm-up monitor stores.
const warmUp = "warm-up"

func (t *Tables) addChecks(a *Advice, code, group string) {
	weight := map[string]float64{}
	for _, from := range [][]cause{t.causes[code], t.causes[group]} {
		for _, c := range from {
			k := t.checks[c.check]
			if slices.ContainsFunc(a.Checks, func(have Check) bool { return have.Name == k.id }) {
				continue // the code's own row comes before its group's
			}
			a.Checks = append(a.Checks, Check{k.id, k.do, k.minutes, k.cold, c.says, c.part, c.share, []compat.Evidence{compat.Cite(k.row), compat.Cite(c.row)}})
			a.Minutes += k.minutes
			if c.part != "" {
				weight[c.part] += c.share
			}
		}
	}
	slices.SortStableFunc(a.Checks, func(x, y Check) int {
		return cmp.Or(-compareBool(x.Name == levelCheck, y.Name == levelCheck), cmp.Compare(x.cost(), y.cost()))
	})
	for _, k := range a.Checks {
		if k.Part != "" && !slices.Contains(a.Parts, k.Part) {
			a.Parts = append(a.Parts, k.Part)
		}
	}
	slices.SortStableFunc(a.Parts, func(x, y string) int { return cmp.Compare(weight[y], weight[x]) })
}

// cost is what a check takes for what it finds: minutes over likelihood. The
// table counts whole minutes, and what it gives none is done within one: even
// so it is not worth more than a likely fault that one look shows.
func (c Check) cost() float64 { return max(1, c.Minutes) / c.Share }

func compareBool(x, y bool) int {
	switch {
	case x && !y:
		return 1
	case y && !x:
		return -1
	}
	return 0
}

// warn returns the cautions that the checks call for.
func (t *Tables) warn(checks []Check) []string {
	var list []string
	for _, w := range []struct {
		key string
		on  func(Check) bool
	}{
		{"cold", func(c Check) bool { return c.Cold }},
		{"fan", func(c Check) bool { return c.Name == "fan-stands" || c.Name == "fan-runs" || c.Part == "fan" }},
		{"manual", func(Check) bool { return true }},
	} {
		if slices.ContainsFunc(checks, w.on) {
			list = append(list, t.cautions[w.key].Get("says"))
		}
	}
	return list
}

// First orders several codes of one car: those of circuits come first, since
// what a broken wire says of the temperature is worth nothing.
func First(list []Advice) {
	slices.SortStableFunc(list, func(a, b Advice) int { return -compareBool(a.NoPartYet, b.NoPartYet) })
}
