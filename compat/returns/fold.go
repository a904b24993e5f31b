package returns

import (
	"slices"
	"strings"

	"fitfill/catalog"
)

// partKey folds a part number. A number with letters beyond the Latin alphabet
// keeps them, since dropping them could make two parts one.
func partKey(number string) string {
	k := catalog.Key(number)
	beyond := strings.ContainsFunc(number, func(r rune) bool { return r > 127 && r != '\u00a0' })
	if k == "" || beyond {
		return catalog.Fold(number)
	}
	return k
}

// isCore reports whether a part type stands for a core or a deposit. A core
// plug or a heater core is a part like any other.
func isCore(partType string) bool {
	switch catalog.Fold(partType) {
	case "core", "cores", "deposit", "core deposit", "core charge":
		return true
	}
	return false
}

// spellings finds the one spelling that stands for all that fold alike: the
// first by byte order, whatever order the rows came in.
type spellings map[string]string

func (s spellings) add(key, text string) {
	if have, ok := s[key]; !ok || text < have {
		s[key] = text
	}
}

// names returns the keys and their spellings in the order of the keys.
func (s spellings) names() (index map[string]int, names []string) {
	keys := make([]string, 0, len(s))
	for k := range s {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	index = make(map[string]int, len(keys))
	for i, k := range keys {
		index[k] = i
		names = append(names, s[k])
	}
	return index, names
}

// fold gives every row its supplier, part and part type, and flags rows that
// are spelled unlike others that mean the same.
func (m *matcher) fold() {
	suppliers, types := spellings{}, spellings{}
	for _, s := range m.sales {
		suppliers.add(catalog.Fold(s.Supplier), strings.TrimSpace(s.Supplier))
		if s.PartType != "" {
			types.add(catalog.Fold(s.PartType), strings.TrimSpace(s.PartType))
		}
	}
	for _, r := range m.returns {
		suppliers.add(catalog.Fold(r.Supplier), strings.TrimSpace(r.Supplier))
	}
	index, names := suppliers.names()
	m.ledger.Suppliers = names
	parts := map[lot]string{}
	see := func(supplier, part string) lot {
		l, text := lot{index[catalog.Fold(supplier)], partKey(part)}, strings.TrimSpace(part)
		if have, ok := parts[l]; !ok || text < have {
			parts[l] = text
		}
		return l
	}
	for _, s := range m.sales {
		s.lot = see(s.Supplier, s.Part)
	}
	for _, r := range m.returns {
		r.lot = see(r.Supplier, r.Part)
	}
	unlike := func(l lot, supplier, part string) bool {
		return strings.TrimSpace(supplier) != names[l.supplier] || strings.TrimSpace(part) != parts[l]
	}
	for _, s := range m.sales {
		if unlike(s.lot, s.Supplier, s.Part) {
			s.fate.flag(KeyFolded)
		}
	}
	for _, r := range m.returns {
		if unlike(r.lot, r.Supplier, r.Part) {
			r.fate.flag(KeyFolded)
		}
	}
	m.classify(types)
}

// classify gives every row its part type: its own, else the one that another
// line of the lot, or for a return another supplier's line of the same number,
// states.
func (m *matcher) classify(types spellings) {
	ofLot, ofPart := map[lot]string{}, map[string]string{}
	for _, s := range m.sales {
		if k := catalog.Fold(s.PartType); k != "" {
			if have, ok := ofLot[s.lot]; !ok || k < have {
				ofLot[s.lot] = k
			}
			if have, ok := ofPart[s.lot.part]; !ok || k < have {
				ofPart[s.lot.part] = k
			}
		}
	}
	saleKey := func(s *saleLine) string {
		if k := catalog.Fold(s.PartType); k != "" {
			return k
		}
		if k := ofLot[s.lot]; k != "" {
			return k
		}
		s.fate.flag(PartTypeMissing)
		types.add(Unclassified, Unclassified)
		return Unclassified
	}
	sold := map[lot]bool{}
	keys := make([]string, len(m.sales))
	for i, s := range m.sales {
		keys[i], sold[s.lot] = saleKey(s), true
	}
	returnKeys := make([]string, len(m.returns))
	for i, r := range m.returns {
		k := ofLot[r.lot]
		if k == "" && !sold[r.lot] {
			k = ofPart[r.lot.part]
		}
		if k == "" {
			k = Unclassified
			types.add(Unclassified, Unclassified)
		}
		returnKeys[i] = k
	}
	index, names := types.names()
	m.ledger.PartTypes = names
	for i, s := range m.sales {
		s.partType = index[keys[i]]
		s.fate.Supplier, s.fate.PartType = s.lot.supplier, s.partType
	}
	for i, r := range m.returns {
		r.partType = index[returnKeys[i]]
		r.fate.Supplier, r.fate.PartType = r.lot.supplier, r.partType
	}
	m.tallies = make([][]Tally, len(m.ledger.Suppliers))
	for s := range m.tallies {
		m.tallies[s] = make([]Tally, len(names))
		for g := range names {
			m.tallies[s][g] = Tally{Supplier: s, PartType: g}
		}
	}
}
