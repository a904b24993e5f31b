package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat/coolant"
)

// FluidSaid is a fluid as the user names it, with what is known of it. Texts
// carry their units; empty means not known.
type FluidSaid struct {
	What     string // chemistry id, colour, product or approval number, factory, water or unknown; several chemistries with +
	Strength string // vol % as poured
	Volume   string
	Glycol   string // ethylene or propylene
}

// fluid works out what the user means by a fluid.
func (s *Shop) fluid(ctx context.Context, v *sqlite.View, flag string, said FluidSaid, engine *catalog.EngineFamily, circuit string) (coolant.Fluid, catalog.Stated[units.Volume], error) {
	var volume catalog.Stated[units.Volume]
	f := coolant.Fluid{Said: said.What}
	if said.Strength != "" {
		p, err := units.ParsePercent(said.Strength)
		if err != nil {
			return f, volume, &UsageError{Problem: fmt.Sprintf("--%s-strength: %v", flag, err), Hint: "write it like --" + flag + "-strength 50%"}
		}
		f.Strength = catalog.Say(p, said.Strength, catalog.Origin{})
	}
	if said.Volume != "" {
		amount, err := units.ParseVolume(said.Volume, s.Settings.Units.Volume)
		if err != nil {
			return f, volume, &UsageError{Problem: fmt.Sprintf("--%s-volume: %v", flag, err), Hint: "write it like --" + flag + "-volume 0.5L"}
		}
		volume = catalog.Say(amount, said.Volume, catalog.Origin{})
	}
	switch glycol := strings.ToLower(said.Glycol); glycol {
	case "", "ethylene", "propylene":
		f.Glycol = glycol
	default:
		return f, volume, &UsageError{Problem: fmt.Sprintf("--%s-glycol %q is none that engines run on", flag, said.Glycol), Hint: "it is ethylene or propylene; leave it out if you do not know"}
	}
	return f, volume, s.identify(ctx, v, flag, &f, engine, circuit)
}

// identify reads what the user said as a chemistry, a colour, the factory
// fill, a product number or an approval number, in that order.
func (s *Shop) identify(ctx context.Context, v *sqlite.View, flag string, f *coolant.Fluid, engine *catalog.EngineFamily, circuit string) error {
	if f.Said == "" && flag == "add" {
		f.Said = s.Settings.HouseCoolant
	}
	word := strings.ToLower(strings.TrimSpace(f.Said))
	if means, ok := s.coolant().Said(word); ok {
		word = means
	}
	if word == coolant.SaidHouse {
		if s.Settings.HouseCoolant == "" {
			return &UsageError{Problem: "no house coolant is set", Hint: `write its number into fitfill.toml, such as house_coolant = "BX-500", or name it here`}
		}
		f.Said = s.Settings.HouseCoolant
		word = strings.ToLower(f.Said)
	}
	switch {
	case word == "":
		return &UsageError{Problem: "--" + flag + " is missing", Hint: missingHint[flag]}
	case word == coolant.SaidUnknown:
		return nil
	case word == coolant.SaidFactory:
		return factoryFill(flag, f, engine, circuit)
	}
	// The first fill, and the colour that it shows.
	if a, b, two := strings.Cut(word, "+"); two {
		a, b = strings.TrimSpace(a), strings.TrimSpace(b)
		if b == "factory" {
			a, b = b, a
		}
		if a == "factory" && slices.Contains(s.coolant().Colours(), b) {
			f.ByColour = b
			return factoryFill(flag, f, engine, circuit)
		}
	}
	known := s.coolant().Chemistries()
	var several []string
	for _, part := range strings.Split(word, "+") {
		if !slices.Contains(known, strings.TrimSpace(part)) {
			several = nil
			break
		}
		several = append(several, strings.TrimSpace(part))
	}
	if several != nil {
		f.Chemistries = several
		return nil
	}
	if slices.Contains(s.coolant().Colours(), word) {
		f.ByColour = word
		return nil
	}
	part, err := s.coolantProduct(ctx, v, f.Said, flag == "add")
	if err != nil {
		return err
	}
	if part == nil {
		if ok, err := s.byApproval(ctx, v, f); ok || err != nil {
			return err
		}
		names := append(append(slices.Clone(known), s.coolant().Colours()...), coolant.SaidFactory, coolant.SaidUnknown)
		problem := fmt.Sprintf("--%s %q is no chemistry, colour, product or approval number on file", flag, f.Said)
		if look, ok := s.coolant().Condition(word); ok && flag == "fill" {
			return &UsageError{Problem: problem, Hint: "how it looks goes beside it: --" + flag + " unknown --look " + look}
		}
		return &UsageError{
			Problem: problem,
			Hint: nearestHint(word, names, "name a colour, factory (never opened), unknown, or a chemistry: "+strings.Join(known, ", ")) +
				"; for a product try: fitfill find " + f.Said + " --type coolant",
		}
	}
	*f = ofProduct(*f, part)
	return nil
}

// ofProduct is a fluid out of a bottle, with what is said of it besides.
func ofProduct(f coolant.Fluid, part *catalog.Part) coolant.Fluid {
	f.Product, f.Said = part, part.Supplier+" "+part.Number
	switch {
	case part.Type.Value == "water":
		f.Product, f.Chemistries = nil, []string{"water"}
	case part.Chemistry.Known:
		f.Chemistries = []string{part.Chemistry.Value}
	}
	return f
}

var missingHint = map[string]string{
	"fill": "name a chemistry, a colour, a product number, factory, water or unknown, or the --vehicle",
	"add":  "name a chemistry, a colour, a product number or water (an empty shelf: how far water gets home), or set house_coolant",
}

func factoryFill(flag string, f *coolant.Fluid, engine *catalog.EngineFamily, circuit string) error {
	if engine == nil {
		return &UsageError{Problem: "--" + flag + " factory needs to know the engine", Hint: "add --engine CODE"}
	}
	if circuit == "" && len(engine.Circuits) == 1 {
		circuit = engine.Circuits[0].Name
	}
	c, ok := engine.Circuit(circuit)
	f.Presumed = true
	switch {
	case !ok && len(engine.Circuits) > 1:
		return nil // the judgement asks for the circuit first
	case !ok || !c.CoolantChem.Known:
		return &UsageError{Problem: fmt.Sprintf("no sheet states the factory coolant of %s", engine.Family), Hint: "fill in coolant_chemistry in the engines sheet, or name the chemistry"}
	}
	f.Chemistries = []string{c.CoolantChem.Value}
	f.Strength = statedOr(f.Strength, c.Strength)
	if f.Glycol == "" {
		f.Glycol = c.CoolantGlycol.Value
	}
	return nil
}

// sameFluid reports whether two labels state the same of what counts for
// mixing and for strength.
func sameFluid(a, b *catalog.Part) bool {
	return a.Chemistry.Value == b.Chemistry.Value && a.Glycol.Value == b.Glycol.Value && a.Form.Value == b.Form.Value &&
		a.Strength.Value == b.Strength.Value && a.FilterCharge.Value == b.FilterCharge.Value && a.Approvals.Value == b.Approvals.Value && a.Type.Value == b.Type.Value
}

// filterType is the part type of coolant filters.
const filterType = "filter"

// coolantProduct returns the fluid with that number, or the filter. Several suppliers may
// sell the same number; if their labels state different chemistries the
// question cannot be answered before one is named.
func (s *Shop) coolantProduct(ctx context.Context, v *sqlite.View, number string, filters bool) (*catalog.Part, error) {
	ids, err := v.PartIDs(ctx, catalog.Key(number))
	if err != nil || len(ids) == 0 {
		return nil, err
	}
	parts, err := v.Parts(ctx, ids)
	if err != nil {
		return nil, err
	}
	var fluids []catalog.Part
	for _, p := range parts {
		if p.Type.Value == "coolant" || p.Type.Value == "water" || p.Chemistry.Known || filters && p.Type.Value == filterType {
			fluids = append(fluids, p)
		}
	}
	if len(fluids) == 0 {
		return nil, &UsageError{Problem: fmt.Sprintf("%s is no coolant but: %s", parts[0].Number, parts[0].Description.Value), Hint: "see: fitfill find " + number + " --type coolant"}
	}
	for _, p := range fluids[1:] {
		if !sameFluid(&fluids[0], &p) {
			return nil, &UsageError{
				Problem: fmt.Sprintf("%s is sold by %s and by %s as different fluids (%s line %d, %s line %d)", number, fluids[0].Supplier, p.Supplier,
					fluids[0].Chemistry.Origin.Sheet, fluids[0].Chemistry.Origin.Line, p.Chemistry.Origin.Sheet, p.Chemistry.Origin.Line),
				Hint: "read the label and name the chemistry instead",
			}
		}
	}
	return &fluids[0], nil
}
