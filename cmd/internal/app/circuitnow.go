package app

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// CircuitNow is one circuit of a vehicle as its log says that it is.
type CircuitNow struct {
	Circuit  string
	Asks     string          // what the engine asks for
	Holds    []coolant.Share // of the concentrate; empty where the log does not tell
	Before   coolant.Before  // the judgement on it as it is
	Strength *units.Percent
	Freeze   *units.Temperature
	Loss     *coolant.Loss
	Refill   string // air or spill of the last refill
	State    string // all that in a line
	Last     *FillLine
}

// Says are the things to mind, the worst first.
func (n CircuitNow) Says() []string {
	var says []string
	if n.Refill != "" {
		says = append(says, n.Refill)
	}
	if n.Loss != nil && n.Loss.Outcome != compat.Yes {
		says = append(says, n.Loss.Says)
	}
	if n.Before.Outcome != compat.Yes {
		says = append(says, n.Before.Says...)
	}
	return says
}

// state words what is in there: chemistry with its shares, strength, freezing.
func (s *Shop) state(n CircuitNow) string {
	var parts []string
	for _, h := range n.Holds {
		part := s.coolant().Name(h.Chemistry)
		if len(n.Holds) > 1 {
			part = fmt.Sprintf("%.0f %% %s", h.Percent.Percents(), cmp.Or(map[string]string{"unknown": "not known"}[h.Chemistry], part))
		}
		parts = append(parts, part)
	}
	text := cmp.Or(strings.Join(parts, ", "), "not known what")
	if n.Strength != nil {
		text += fmt.Sprintf("; about %.0f %% strong", n.Strength.Percents())
	} else {
		text += "; strength not known"
	}
	if n.Freeze != nil {
		text += ", freezes at about " + s.Settings.Units.FormatTemperature(*n.Freeze)
	}
	return text
}

// MarshalJSON writes litres, degrees Celsius and vol %.
func (n CircuitNow) MarshalJSON() ([]byte, error) {
	type share struct {
		Chemistry string  `json:"chemistry"`
		Percent   float64 `json:"share_pct"`
	}
	out := struct {
		Circuit  string         `json:"circuit"`
		Asks     string         `json:"asks_for"`
		State    string         `json:"state"`
		Holds    []share        `json:"holds"`
		Strength *float64       `json:"strength_vol_pct"`
		Freeze   *float64       `json:"freeze_c"`
		Outcome  compat.Outcome `json:"outcome"`
		Loss     *lossFigures   `json:"loss"`
		Last     *FillLine      `json:"last_fill"`
		Says     []string       `json:"says"`
	}{Circuit: n.Circuit, Loss: figuresOf(n.Loss), Asks: n.Asks, State: n.State, Holds: []share{}, Outcome: n.Before.Outcome, Last: n.Last, Says: append([]string{}, n.Says()...)}
	for _, h := range n.Holds {
		out.Holds = append(out.Holds, share{h.Chemistry, h.Percent.Percents()})
	}
	if n.Strength != nil {
		p := n.Strength.Percents()
		out.Strength = &p
	}
	if n.Freeze != nil {
		c := n.Freeze.Celsius()
		out.Freeze = &c
	}
	return json.Marshal(out)
}

// lossFigures is a loss in the keys and units of JSON.
type lossFigures struct {
	Outcome compat.Outcome `json:"outcome"`
	TopOffs int            `json:"top_offs"`
	Poured  float64        `json:"poured_l"`
	From    string         `json:"from"`
	To      string         `json:"to"`
	PerYear *float64       `json:"per_year_l"`
	Low     *float64       `json:"per_year_l_low"`
	High    *float64       `json:"per_year_l_high"`
	Sealed  bool           `json:"sealed"`
	Says    string         `json:"says"`
}

func figuresOf(l *coolant.Loss) *lossFigures {
	if l == nil {
		return nil
	}
	litres := func(v *units.Volume) *float64 {
		if v == nil {
			return nil
		}
		x := v.Litres()
		return &x
	}
	return &lossFigures{l.Outcome, l.Tops, l.Poured.Litres(), l.From.String(), l.To.String(), litres(l.PerYear), litres(l.Low), litres(l.High), l.Sealed, l.Says}
}

// circuitsNow works out the state of every circuit that a vehicle has or that
// its log names.
func (s *Shop) circuitsNow(ctx context.Context, v *sqlite.View, car catalog.Vehicle, fills []catalog.Fill) ([]CircuitNow, error) {
	var names []string
	add := func(name string) {
		if !slices.ContainsFunc(names, func(n string) bool { return catalog.Fold(n) == catalog.Fold(name) }) {
			names = append(names, name)
		}
	}
	family, err := familyOf(ctx, v, car.Engine)
	if err != nil {
		return nil, err
	}
	if family != nil {
		for _, c := range family.Circuits {
			add(c.Name)
		}
	}
	for _, f := range fills {
		add(circuitOf(f))
	}
	list := []CircuitNow{}
	for _, name := range names {
		n, err := s.circuitNow(ctx, v, car, name, fills)
		if err != nil {
			return nil, err
		}
		list = append(list, n)
	}
	return list, nil
}

func circuitOf(f catalog.Fill) string {
	if f.Circuit == "" {
		return catalog.DefaultCircuit
	}
	return f.Circuit
}

// familyOf returns the engine's family, nil where none is on file.
func familyOf(ctx context.Context, v *sqlite.View, engine string) (*catalog.EngineFamily, error) {
	if engine == "" {
		return nil, nil
	}
	_, family, err := engineKeys(ctx, v, engine)
	var unknown *UnknownEngine
	switch {
	case errors.As(err, &unknown):
		return nil, nil
	case err != nil:
		return nil, err
	}
	return &family, nil
}

// circuitQuestion puts what the log says of one circuit into the question of a
// top-off, and returns the fillings of that circuit.
func (s *Shop) circuitQuestion(ctx context.Context, v *sqlite.View, car catalog.Vehicle, circuit string, fills []catalog.Fill) (q coolant.Question, here []catalog.Fill, err error) {
	q = coolant.Question{Coldest: s.Settings.Coldest, Show: s.Settings.Units, Altitude: s.Settings.Altitude}
	if q.Engine, err = familyOf(ctx, v, car.Engine); err != nil {
		return q, nil, err
	}
	if q.Engine != nil {
		if _, ok := q.Engine.Circuit(circuit); ok {
			q.Circuit = circuit
		}
	}
	for _, f := range fills {
		if catalog.Fold(circuitOf(f)) == catalog.Fold(circuit) {
			here = append(here, f)
		}
	}
	q.Fill, err = s.fillOfVehicle(ctx, v, car, here, &q)
	return q, here, err
}

// circuitNow works out what the log says of one circuit.
func (s *Shop) circuitNow(ctx context.Context, v *sqlite.View, car catalog.Vehicle, circuit string, fills []catalog.Fill) (CircuitNow, error) {
	n := CircuitNow{Circuit: circuit, Before: coolant.Before{Outcome: compat.Yes}}
	q, here, err := s.circuitQuestion(ctx, v, car, circuit, fills)
	if err != nil {
		return n, err
	}
	expansion := ""
	if q.Engine != nil {
		expansion = q.Engine.Expansion.Value
		if loop, ok := q.Engine.Circuit(circuit); ok {
			n.Asks = asksFor(loop, s.coolant().Name)
		}
	}
	if len(here) > 0 {
		last := fillLine(here[len(here)-1])
		n.Last = &last
		if _, says, ok := s.coolant().Refill(last.fill.Drained, last.fill.Volume, q.Show); ok {
			n.Refill = says
		}
	}
	if l, ok := s.coolant().Loss(here, expansion, q.Show); ok {
		n.Loss = &l
	}
	n.Holds = q.Fill.Mixed
	if len(n.Holds) == 0 && len(q.Fill.Chemistries) == 1 {
		n.Holds = []coolant.Share{{Chemistry: q.Fill.Chemistries[0], Percent: units.Percents(100)}}
	}
	if a := s.pourNothing(q); a.Ask == "" {
		n.Before, n.Strength, n.Freeze = a.Before, a.Before.Strength, a.Before.Freeze
	}
	n.State = s.state(n)
	return n, nil
}

// pourNothing judges a fill as it is.
func (s *Shop) pourNothing(q coolant.Question) coolant.Answer {
	q.Add = coolant.Fluid{Said: "nothing", Chemistries: []string{"water"}}
	q.AddVolume = catalog.Say(units.Volume{}, "", catalog.Origin{})
	return s.coolant().Mix(q)
}

// asksFor words what a circuit takes by the garage's own sheet.
func asksFor(c catalog.Circuit, name func(string) string) string {
	var parts []string
	if c.CoolantChem.Known {
		parts = append(parts, name(c.CoolantChem.Value))
	}
	if c.CoolantApproval.Known {
		parts = append(parts, c.CoolantApproval.Value)
	}
	if c.Strength.Known {
		parts = append(parts, fmt.Sprintf("%.0f %%", c.Strength.Value.Percents()))
	}
	return strings.Join(parts, ", ")
}
