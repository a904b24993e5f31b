package fit

import (
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/compat"
)

const (
	typeCheck   = "kind of thermostat"
	bypassCheck = "bypass disc"
)

// The kinds of thermostat that never stand in for each other.
const (
	plain         = "plain"
	mapControlled = "map-controlled"
	integrated    = "integrated"
)

// build is what somebody says of how a thermostat is made, and where.
type build struct {
	kind   string
	origin catalog.Origin
}

// buildOf reads the kind of thermostat: as a sheet states it, or else from the
// words of its other texts.
func (t trial) buildOf(stated catalog.Stated[string], texts ...catalog.Stated[string]) build {
	if stated.Known {
		tokens := t.phrase(stated.Value)
		for _, k := range []string{mapControlled, integrated, plain} {
			if within(tokens, t.phrase(k)) || t.built.has(k, tokens) {
				return build{k, stated.Origin}
			}
		}
	}
	for _, s := range texts {
		tokens := t.phrase(s.Value)
		if len(tokens) == 0 {
			continue
		}
		if t.built.has(plain, tokens) { // "not map-controlled" names the other kind as well
			return build{plain, s.Origin}
		}
		for _, k := range []string{mapControlled, integrated} {
			if t.built.has(k, tokens) {
				return build{k, s.Origin}
			}
		}
	}
	return build{}
}

// thermostatType compares how the thermostat is made with what the engine
// takes. A map-controlled one and a plain one look alike and are not; one that
// is built into its housing is known by its number only.
func (t trial) thermostatType() []result {
	e, p := &t.q.Engine, t.c.Part
	wants, has := t.buildOf(e.ThermostatType, e.Notes), t.buildOf(p.ThermostatType, p.Description, p.Notes)
	f := compat.Finding{Check: typeCheck, Outcome: compat.Yes, Grade: compat.Listed, Origin: from(has.origin, wants.origin)}
	switch {
	case wants.kind == "" && (has.kind == "" || has.kind == plain):
		return nil
	case wants.kind == "" && has.kind == mapControlled:
		return []result{unchecked(typeCheck, "kind of thermostat of the engine", "This one is map-controlled; whether the engine takes that is not on file.")}
	case has.kind == "":
		return []result{unchecked(typeCheck, "kind of thermostat of the part", "The engine takes a thermostat that is "+wants.kind+"; the sheet does not say which kind this is.")}
	case wants.kind != "" && has.kind != wants.kind:
		f.Outcome, f.Says = compat.No, "Is "+has.kind+"; the engine takes a thermostat that is "+wants.kind+"."
		return []result{{Finding: f, role: fails, sure: true, own: garage(wants.origin), check: "kind of thermostat", short: has.kind + ", engine takes " + wants.kind, ask: "Has the old one a connector, and is it built into its housing?"}}
	case has.kind == integrated:
		f.Grade, f.Says = compat.CommonPractice, "Built into its housing: bolt pattern, neck and ports are known by the part number only. Lay it beside the old one."
	default:
		f.Says = "Is " + has.kind + ", as the engine takes it."
		if has.kind == mapControlled {
			f.Says += " Its stamp says little: the engine heats it to open earlier. Compare the connector."
		}
	}
	return []result{{Finding: f}}
}

// bypassDisc compares the disc that closes the bypass. Without it water runs
// past the radiator; one that is not wanted closes what has to stay open.
func (t trial) bypassDisc() []result {
	need, has := t.q.Engine.BypassDisc, t.c.Part.BypassDisc
	if !has.Known {
		has = t.discOf(t.c.Part.Description, t.c.Part.Notes)
	}
	switch {
	case !need.Known && !has.Known:
		return nil
	case !need.Known:
		return []result{unchecked(bypassCheck, "bypass disc of the engine's thermostat", "Whether the engine's thermostat closes a bypass is not on file.")}
	case !has.Known:
		return []result{unchecked(bypassCheck, "bypass disc of the part", "The sheet does not say whether this part has a bypass disc.")}
	}
	f := compat.Finding{Check: bypassCheck, Outcome: compat.Yes, Grade: compat.Listed, Origin: from(has.Origin, need.Origin)}
	r := result{role: fails, sure: true, own: garage(need.Origin), check: "bypass disc", ask: "Has the old thermostat a disc below the wax?"}
	switch {
	case need.Value && !has.Value:
		f.Outcome, f.Says, r.short = compat.No, "No bypass disc, and the engine's bypass needs closing: hot water runs past the radiator.", "no bypass disc, engine needs one"
	case has.Value && !need.Value:
		f.Outcome, f.Says, r.short = compat.No, "Has a bypass disc, and the engine's has none: it closes what stays open.", "bypass disc, engine takes none"
	case need.Value:
		f.Says, r = "Has the bypass disc that the engine needs. Compare its length with the old one's.", result{}
	default:
		f.Says, r = "No bypass disc, as the engine takes it.", result{}
	}
	r.Finding = f
	return []result{r}
}

func (t trial) discOf(texts ...catalog.Stated[string]) catalog.Stated[bool] {
	for _, s := range texts {
		tokens := t.phrase(s.Value)
		switch {
		case t.built.has("no-bypass", tokens):
			return catalog.Say(false, s.Text, s.Origin)
		case t.built.has("bypass", tokens):
			return catalog.Say(true, s.Text, s.Origin)
		}
	}
	return catalog.Stated[bool]{}
}

// builtWords are the words by which texts tell kinds of thermostat apart.
type builtWords map[string][][]string

func newBuiltWords(ref catalog.Tables) (builtWords, error) {
	rows, err := ref.Table("fit_thermostat_words")
	if err != nil {
		return nil, err
	}
	w := builtWords{}
	for _, row := range rows {
		for _, words := range strings.Split(row.Get("words"), "|") {
			w[row.Get("kind")] = append(w[row.Get("kind")], strings.Fields(catalog.Fold(words)))
		}
	}
	return w, nil
}

func (w builtWords) has(kind string, tokens []string) bool {
	return slices.ContainsFunc(w[kind], func(p []string) bool { return within(tokens, p) })
}
