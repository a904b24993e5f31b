package fit

import (
	"strings"

	"fitfill/catalog/pattern"
	"fitfill/compat"
)

var onThermostat = pattern.New(`(?i)\b(?:on|for|with|under)\s+(?:thermostat\s+)?(\S*\d\S*(?:\s+\S*\d\S*)?)`).Needing("0123456789")

// set judges a seal against the thermostat that was chosen with it. Where none
// was, and the list names one, that is said: another thermostat's flange may
// take another ring.
func (t trial) set() []result {
	if t.q.On.Key == "" {
		return t.namedThermostat()
	}
	f, ok := t.SealOnThermostat(t.c.Part, t.c.Listings, &t.q.On, t.q.Others, t.q.Show)
	if !ok {
		return []result{unchecked(setCheck, "flange that the seal is made for", "Whether it goes on "+t.q.On.Number+" cannot be told from the sheets.")}
	}
	r := result{Finding: f, short: "not for " + t.q.On.Number}
	switch f.Outcome {
	case compat.No:
		r.role = against
	case compat.Caution:
		r.role, r.short, r.ask, r.flag = doubt, "compare the flange with "+t.q.On.Number, "Measure both flanges.", sizeFlag("flange thickness")
	}
	if in := t.q.On.SealIncluded; f.Outcome == compat.Yes && in.Known && in.Value {
		r.Says += " " + t.q.On.Number + " has its own in the bag: this is a spare."
		r.Origin = cite(r.Origin, from(in.Origin)...)
	}
	return []result{r}
}

// namedThermostat says which thermostat the list has the seal on.
func (t trial) namedThermostat() []result {
	for _, l := range t.c.Listings {
		if m := onThermostat.FindStringSubmatch(l.WhereFitted); m != nil {
			number := strings.TrimRight(m[1], ".,;)")
			return []result{{short: "on " + number, Finding: compat.Finding{
				Check: setCheck, Outcome: compat.Yes, Grade: compat.Listed, Origin: from(l.Origin),
				Says: "The list has it on thermostat " + number + ": with another one, name that with " + FlagOn + " NUMBER.",
			}}}
		}
	}
	return nil
}
