package app

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat/coolant"
)

// carrier is where an approval is found: on a product's label or in what an
// engine's maker asks for.
type carrier struct {
	name      string // of the product or the engine
	chemistry string
	origin    catalog.Origin
}

// byApproval reads what the user said as an approval number, such as
// "approved: TK 1140" or only "TK 1140". What is known of such a fluid is what
// the engine whose maker asks for it is filled with and what the products on
// file are that carry it; where the user says how the label stands to it, only
// products whose labels say no less count.
func (s *Shop) byApproval(ctx context.Context, v *sqlite.View, f *coolant.Fluid) (bool, error) {
	said, ok := coolant.ReadApproval(f.Said)
	if !ok {
		return false, nil
	}
	ids, err := v.PartIDsOfType(ctx, "coolant")
	if err != nil {
		return false, err
	}
	parts, err := v.Parts(ctx, ids)
	if err != nil {
		return false, err
	}
	families, err := v.Families(ctx)
	if err != nil {
		return false, err
	}
	var found []carrier
	for _, e := range families {
		for _, c := range e.Circuits {
			if said.AskedBy(c.CoolantApproval.Value) {
				found = append(found, carrier{e.Family, c.CoolantChem.Value, c.CoolantApproval.Origin})
			}
		}
	}
	for _, p := range parts {
		if said.CarriedBy(p.Approvals.Value) {
			found = append(found, carrier{p.Supplier + " " + p.Number, p.Chemistry.Value, p.Approvals.Origin})
		}
	}
	if len(found) == 0 {
		return false, nil
	}
	f.ByApproval = f.Said
	var of []string
	for _, c := range found {
		for _, id := range strings.FieldsFunc(c.chemistry, func(r rune) bool { return strings.ContainsRune(" ,;|+", r) }) {
			if !slices.Contains(f.Chemistries, id) && slices.Contains(s.coolant().Chemistries(), id) {
				f.Chemistries = append(f.Chemistries, id)
				of = append(of, fmt.Sprintf("%s by %s", id, c.name))
			}
		}
	}
	f.Origins = []catalog.Origin{found[0].origin}
	if len(of) == 0 {
		of = []string{"chemistry not on file"}
	}
	f.Said = "approval " + said.Name() + " (" + strings.Join(of, ", ") + ")"
	return true, nil
}
