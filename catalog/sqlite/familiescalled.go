package sqlite

import (
	"context"
	"slices"

	"fitfill/catalog"
)

// tellingFields are the facts that tell which engine a text means.
const tellingFields = nameFields + ", 'years', 'displacement', 'cylinders', 'fuel', 'vin8', 'electrified'"

// FamiliesCalled returns, by name, the families of which a sheet says one of the
// folded keys as a name, a make or a model: with all that is known of them, or,
// where telling says so, with no more than the facts that tell which engine is
// meant and the names of their circuits. There may be others among them, and
// facts beyond those.
func (v *View) FamiliesCalled(ctx context.Context, keys []string, telling bool) ([]catalog.EngineFamily, error) {
	if v.families != nil {
		return slices.Clone(v.families), nil
	}
	only := ""
	if telling {
		only = "e.field IN (" + tellingFields + ") AND "
	}
	// Spellings of one name are one family, whichever of them is meant.
	return v.readFamilies(ctx, "WHERE "+only+`e.family IN (SELECT family FROM family_key WHERE key IN (
		SELECT trade_key(family) FROM family_key WHERE key`+inList+"))", list(keys))
}
