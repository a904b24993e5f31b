package app

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"strings"
	"time"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// Tag is what hangs under the bonnet: what is in the circuit, since when, and
// what it may be topped with. It names neither the vehicle nor anybody.
type Tag struct {
	Engine   string   `json:"engine"`
	Circuit  string   `json:"circuit"`
	Fluid    string   `json:"fluid"`
	Approval string   `json:"approval"` // that the engine's maker asks for
	Strength string   `json:"strength"`
	Freezes  string   `json:"freezes"`
	Filled   string   `json:"filled"`    // day of the last change, empty where none is on file
	Topped   string   `json:"topped"`    // day of the last top-off since
	ChangeBy string   `json:"change_by"` // year and month; empty: by the label
	TopWith  string   `json:"top_with"`  // what was judged to mix in any amount; empty: nothing is sure
	Else     string   `json:"else"`      // what to do otherwise
	Printed  string   `json:"printed"`
	Cautions []string `json:"cautions"`
}

// Tag builds the tag of one circuit of a vehicle. What it says to top with was
// judged against what is in there by the log: the coolant that was poured last,
// else the house coolant. Where neither surely mixes it names none.
func (s *Shop) Tag(ctx context.Context, vehicle, circuit string) (Tag, error) {
	var t Tag
	err := s.store.View(ctx, func(v *sqlite.View) error {
		car, err := vehicleNamed(ctx, v, vehicle)
		if err != nil {
			return err
		}
		fills, err := v.Fills(ctx, car.Mark)
		if err != nil {
			return err
		}
		if circuit, err = s.tagCircuit(ctx, v, car, circuit, fills); err != nil {
			return err
		}
		n, err := s.circuitNow(ctx, v, car, circuit, fills)
		if err != nil {
			return err
		}
		q, here, err := s.circuitQuestion(ctx, v, car, circuit, fills)
		if err != nil {
			return err
		}
		today, _ := s.day("", "")
		t = Tag{Engine: car.Engine, Circuit: circuit, Fluid: s.holds(n), Printed: today.String()}
		if q.Engine != nil {
			loop, _ := q.Engine.Circuit(circuit)
			t.Approval = loop.CoolantApproval.Value
		}
		if n.Strength != nil {
			t.Strength = fmt.Sprintf("%.0f %%", n.Strength.Percents())
		}
		if n.Freeze != nil {
			t.Freezes = s.Settings.Units.FormatTemperature(*n.Freeze)
		}
		q.Fill.ChangedMonths = catalog.Stated[float64]{} // the tag counts from the day of the change, not from today
		as := s.pourNothing(q)
		t.Cautions = as.Cautions
		if _, since := firstFillOf(car); since.Known {
			t.Filled = since.Value.String()
		}
		t.dates(here, as.Result.Months)
		return s.topWith(ctx, v, q, here, &t)
	})
	return t, err
}

// tagCircuit is the circuit that is meant: as said, else the only one that was
// ever filled or that the engine has.
func (s *Shop) tagCircuit(ctx context.Context, v *sqlite.View, car catalog.Vehicle, said string, fills []catalog.Fill) (string, error) {
	all, err := s.circuitsNow(ctx, v, car, fills)
	if err != nil {
		return "", err
	}
	var names, filled []string
	for _, n := range all {
		if catalog.Fold(n.Circuit) == catalog.Fold(said) {
			return n.Circuit, nil
		}
		names = append(names, n.Circuit)
		if n.Last != nil {
			filled = append(filled, n.Circuit)
		}
	}
	switch {
	case said == "" && len(filled) == 1:
		return filled[0], nil
	case said == "" && len(names) == 1:
		return names[0], nil
	case len(names) == 0:
		return "", &UsageError{Problem: "neither the engine nor a filling of " + car.Mark + " is on file", Hint: fmt.Sprintf("log what is in it: fitfill fill add %q --number NUMBER --volume 5L", car.Mark)}
	}
	return "", &UsageError{Problem: "not said which circuit the tag is for", Hint: "add --circuit " + strings.Join(names, ", --circuit ")}
}

// holds names what is in a circuit.
func (s *Shop) holds(n CircuitNow) string {
	var parts []string
	for _, h := range n.Holds {
		name := cmp.Or(map[string]string{"unknown": "not known"}[h.Chemistry], s.coolant().Name(h.Chemistry))
		if len(n.Holds) > 1 {
			name = fmt.Sprintf("%.0f %% %s", h.Percent.Percents(), name)
		}
		parts = append(parts, name)
	}
	return cmp.Or(strings.Join(parts, ", "), "not known")
}

// dates takes from the log when the circuit was filled and topped, and from that
// and the months that the fill lasts when it is due.
func (t *Tag) dates(here []catalog.Fill, months int) {
	for _, f := range here {
		if isChange(f) {
			t.Filled, t.Topped = f.Date.String(), ""
			continue
		}
		t.Topped = f.Date.String()
	}
	if day, err := time.Parse(time.DateOnly, t.Filled); err == nil && months > 0 {
		t.ChangeBy = day.AddDate(0, months, 0).Format("2006-01")
	}
}

// topWith judges what the circuit may be topped with.
func (s *Shop) topWith(ctx context.Context, v *sqlite.View, q coolant.Question, here []catalog.Fill, t *Tag) error {
	var numbers []string
	for i := len(here) - 1; i >= 0; i-- {
		if here[i].Number != "" {
			numbers = append(numbers, here[i].Number)
			break
		}
	}
	if s.Settings.HouseCoolant != "" {
		numbers = append(numbers, s.Settings.HouseCoolant)
	}
	for _, number := range numbers {
		part, err := s.coolantProduct(ctx, v, number, false)
		var usage *UsageError
		switch {
		case errors.As(err, &usage):
			continue
		case err != nil:
			return err
		case part == nil:
			continue
		}
		q.Add = coolant.Fluid{Said: part.Supplier + " " + part.Number, Product: part}
		if part.Chemistry.Known {
			q.Add.Chemistries = []string{part.Chemistry.Value}
		}
		if a := s.coolant().Mix(q); a.Outcome != compat.Yes {
			continue
		}
		what := part.Number
		if part.Form.Value == "concentrate" {
			what += " mixed with distilled water first"
		}
		t.TopWith = what + " (" + s.coolant().Name(part.Chemistry.Value) + ")"
		t.Else = "Nothing else." + s.water(q)
		return nil
	}
	t.Else = "Ask the garage before anything goes on top." + s.water(q)
	return nil
}

// water says whether water gets it home: not where it is never to be poured, as
// into a low-conductivity or a waterless system, or where nobody can say.
func (s *Shop) water(q coolant.Question) string {
	q.Add = coolant.Fluid{Said: "water", Chemistries: []string{"water"}}
	switch a := s.coolant().Mix(q); a.Outcome {
	case compat.Yes, compat.Caution:
		return " To get home: distilled water, engine cold; then tell the garage."
	}
	return " No water either."
}
