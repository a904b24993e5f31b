package app

import (
	"context"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat/fit"
	"fitfill/compat/returns"
)

// usedIn returns what the garage put into vehicles of an engine, oldest first,
// with what was measured at that and what came back. numbers are the part
// numbers that are asked about: one that came back because it did not fit may
// never have been logged as fitted.
func (s *Shop) usedIn(ctx context.Context, v *sqlite.View, family *catalog.EngineFamily, numbers map[string]bool) ([]fit.Used, error) {
	var keys []string
	for _, n := range family.Names() {
		keys = append(keys, catalog.Key(n))
	}
	vehicles, err := v.VehiclesWith(ctx, keys)
	if err != nil {
		return nil, err
	}
	marks := map[string]bool{}
	for _, c := range vehicles {
		marks[catalog.Key(c.Mark)] = true
	}
	if len(marks) == 0 {
		return nil, nil
	}
	fitted, err := v.FittedIn(ctx, marks)
	if err != nil {
		return nil, err
	}
	names, err := supplierNames(ctx, v)
	if err != nil {
		return nil, err
	}
	asked := maps.Clone(numbers)
	var used []fit.Used
	for _, f := range fitted {
		u := fit.Used{Supplier: canonical(names, f.Supplier), Key: catalog.Key(f.Number), Vehicle: f.Vehicle, Day: f.Date, Measured: s.measuredAt(f), Origin: f.Origin}
		asked[u.Key] = true
		used = append(used, u)
	}
	byKey := map[string][]int{}
	for i, u := range used {
		byKey[u.Key] = append(byKey[u.Key], i)
	}
	back, err := s.backOf(ctx, v, asked, byKey)
	if err != nil {
		return nil, err
	}
	bought, err := s.vehiclesByDocument(ctx, v, back)
	if err != nil {
		return nil, err
	}
	for _, r := range back {
		vehicle := r.Vehicle
		if vehicle == "" {
			vehicle = bought[r.Document]
		}
		c := &fit.Comeback{Day: r.Date, Reason: r.Reason, NoFit: s.noFit(r), Origin: r.Origin}
		if u := cameBack(used, byKey[catalog.Key(r.Number)], r, canonical(names, r.Supplier), vehicle); u != nil {
			u.Back = c
		} else if c.NoFit && marks[catalog.Key(vehicle)] {
			used = append(used, fit.Used{Supplier: canonical(names, r.Supplier), Key: catalog.Key(r.Number), Vehicle: vehicle, Day: r.Date, Back: c, Origin: r.Origin})
		}
	}
	return used, nil
}

// backOf returns the returns of those numbers that may speak of a fit: those
// that say that the part did not fit, and those of parts that were fitted to
// the engine and did not merely change hands (old units, changed minds).
func (s *Shop) backOf(ctx context.Context, v *sqlite.View, numbers map[string]bool, used map[string][]int) ([]catalog.Return, error) {
	back, err := v.ReturnsOf(ctx, numbers)
	if err != nil {
		return nil, err
	}
	rows, err := s.ref.Table("returns_reasons")
	if err != nil {
		return nil, err
	}
	reasons, err := returns.NewReasons(rows)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(back, func(r catalog.Return) bool {
		if s.noFit(r) {
			return false
		}
		class, _, _ := reasons.Class(r.Reason)
		return class == returns.Core || class == returns.Neutral || len(used[catalog.Key(r.Number)]) == 0
	}), nil
}

// cameBack finds the fitting that a return is about, among those of that part:
// not after the return, and by what the return names: the vehicle, or the day
// of fitting.
func cameBack(used []fit.Used, ofPart []int, r catalog.Return, supplier, vehicle string) *fit.Used {
	var found *fit.Used
	for _, i := range ofPart {
		u := &used[i]
		switch {
		case u.Back != nil || u.Day > r.Date,
			u.Supplier != "" && supplier != "" && catalog.Fold(u.Supplier) != catalog.Fold(supplier),
			vehicle != "" && catalog.Key(vehicle) != catalog.Key(u.Vehicle),
			r.FittedDate.Known && r.FittedDate.Value != u.Day,
			vehicle == "" && !r.FittedDate.Known:
			continue
		}
		found = u // the last one before the return
	}
	return found
}

// vehiclesByDocument returns, by the document of a purchase, the vehicle that
// it was bought for, for returns that name none.
func (s *Shop) vehiclesByDocument(ctx context.Context, v *sqlite.View, back []catalog.Return) (map[string]string, error) {
	var documents []string
	for _, r := range back {
		if r.Vehicle == "" && catalog.Key(r.Document) != "" && (!r.FittedDate.Known || s.noFit(r)) {
			documents = append(documents, r.Document)
		}
	}
	purchases, err := v.PurchasesUnder(ctx, documents)
	if err != nil {
		return nil, err
	}
	by := map[string]string{}
	for _, p := range purchases {
		if p.Vehicle != "" {
			by[p.Document] = p.Vehicle
		}
	}
	return by, nil
}

func (s *Shop) noFit(r catalog.Return) bool { return s.fit().NoFit(r.Reason) || s.fit().NoFit(r.Note) }

func canonical(names map[string]string, supplier string) string {
	if n, ok := names[catalog.Fold(supplier)]; ok {
		return n
	}
	return supplier
}

// measuredAt reads what was measured when a part was fitted: "bore 54.8; flange
// 53.9". What cannot be read is a remark and no measurement. Bare figures are in
// the unit of the settings, unless only another one gives a housing's size.
func (s *Shop) measuredAt(f catalog.Fitted) *fit.Measured {
	if strings.TrimSpace(f.Measured) == "" {
		return nil
	}
	for _, bare := range []units.Unit{s.lengthUnit(), units.UnitMillimetre, units.UnitInch} {
		m := &fit.Measured{}
		for _, text := range strings.FieldsFunc(f.Measured, func(r rune) bool { return r == ';' || r == '|' }) {
			if err := s.fit().Measure(m, text, bare, f.Origin); err != nil {
				continue
			}
		}
		if s.fit().Plausible(m) {
			return m
		}
	}
	return nil
}
