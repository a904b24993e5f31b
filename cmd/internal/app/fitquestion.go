package app

import (
	"context"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat/fit"
)

// knownOf is what the garage itself knows of an engine and was told, for every
// type of part that is judged for it.
type knownOf struct {
	shop   *Shop
	ask    asked
	family *catalog.EngineFamily
	used   []fit.Used
	on     catalog.Part
	others []*catalog.Part // thermostats of the engine
}

// knownOf collects the garage's history of an engine for the candidates, and
// the thermostat that a seal is to go on.
func (s *Shop) knownOf(ctx context.Context, v *sqlite.View, ask asked, family *catalog.EngineFamily, byType map[string][]fit.Candidate) (*knownOf, error) {
	k := &knownOf{shop: s, ask: ask, family: family}
	numbers := map[string]bool{}
	for _, cands := range byType {
		for i := range cands {
			numbers[cands[i].Part.Key] = true
		}
	}
	k.have(byType[fit.Thermostat])
	var err error
	if k.used, err = s.usedIn(ctx, v, family, numbers); err != nil {
		return nil, err
	}
	return k, k.setOn(ctx, v)
}

// have takes the thermostats of the engine.
func (k *knownOf) have(thermostats []fit.Candidate) {
	k.others = make([]*catalog.Part, len(thermostats))
	for i := range thermostats {
		k.others[i] = thermostats[i].Part
	}
}

// setOn finds the thermostat that a seal is to go on, and those that it could
// be mistaken for.
func (k *knownOf) setOn(ctx context.Context, v *sqlite.View) error {
	if k.ask.On == "" {
		return nil
	}
	if len(k.others) == 0 {
		ask := k.ask
		ask.Type, ask.Part, ask.On = fit.Thermostat, "", ""
		keys := make([]string, 0, 1)
		for _, n := range k.family.Names() {
			keys = append(keys, catalog.Key(n))
		}
		byType, _, err := k.shop.candidates(ctx, v, ask, keys, k.family)
		if err != nil {
			return err
		}
		k.have(byType[fit.Thermostat])
	}
	is := func(p *catalog.Part) bool { return p.Key == catalog.Key(k.ask.On) }
	if i := slices.IndexFunc(k.others, is); i >= 0 {
		k.on = *k.others[i]
		return nil
	}
	ids, err := v.PartIDs(ctx, catalog.Key(k.ask.On))
	if err != nil {
		return err
	}
	parts, err := v.Parts(ctx, ids)
	if err != nil {
		return err
	}
	parts = slices.DeleteFunc(parts, func(p catalog.Part) bool { return p.Type.Value != fit.Thermostat })
	if len(parts) == 0 {
		return &UsageError{Problem: "no sheet has a thermostat " + k.ask.On, Hint: "the thermostats for this engine: fitfill fit " + k.family.Family + " --type thermostat"}
	}
	k.on = parts[0]
	return nil
}

// question is the question about one type of part. What was measured on the
// candidates, told now or when they were fitted, is put beside what the sheets
// print of them.
func (k *knownOf) question(partType string, cands []fit.Candidate) fit.Question {
	q := k.shop.question(k.ask, *k.family, partType)
	q.Used, q.Today, q.On, q.Others = k.used, k.shop.today(), k.on, k.others
	q = k.shop.fit().Learn(q)
	for i := range cands {
		c := &cands[i]
		if k.ask.Part != "" && c.Part.Key == catalog.Key(k.ask.Part) {
			c.InHand(&k.ask.measured)
		}
		if own := fit.MeasuredParts(&q, c.Part); len(own) > 0 {
			c.OtherSizes = append(slices.Clone(c.OtherSizes), own...)
		}
	}
	return q
}
