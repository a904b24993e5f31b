package app

import (
	"context"
	"errors"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
)

// ForgottenAgain is what restoring did so that no vehicle comes back that was
// forgotten after the backup was made.
type ForgottenAgain struct {
	Vehicles []string `json:"vehicles"` // the names that their histories are kept under
	Dropped  []string `json:"dropped"`  // sheets that waited for a decision and named one
	Known    int      `json:"known"`    // forgotten vehicles that the list now knows
	Unread   bool     `json:"unread"`   // the list could not be read: the catalogue there was damaged
	Remarks  bool     `json:"remarks"`  // remarks were searched for all of them too
}

// forgetAgain forgets in this catalogue what another one has forgotten.
func (s *Shop) forgetAgain(ctx context.Context, was sqlite.ForgottenMarks) (a ForgottenAgain, err error) {
	a = ForgottenAgain{Vehicles: []string{}, Dropped: []string{}, Remarks: true}
	lock, err := s.store.LockImports()
	if err != nil {
		return a, err
	}
	defer func() { err = errors.Join(err, lock.Unlock()) }()
	var have sqlite.ForgottenMarks
	as := map[string]string{}
	found := map[string]*forgetting{}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		if have, err = v.Forgotten(ctx); err != nil {
			return err
		}
		missing := was.Missing(have)
		if missing.None() {
			return nil
		}
		if as, err = namesAgain(ctx, v, was, have); err != nil {
			return err
		}
		found, err = s.namedIn(ctx, v, missing)
		return err
	})
	if err != nil {
		return a, err
	}
	if len(as) > 0 { // before anything is forgotten: its digests are then the other's own
		if err := s.store.TakeOver(ctx, lock, was, as); err != nil {
			return a, err
		}
	}
	for _, name := range was.Names() {
		f := found[name]
		if f == nil {
			continue
		}
		f.as = as[name]
		if err := s.dropWaiting(ctx, f, &a); err != nil {
			return a, err
		}
		if _, err := s.forget(ctx, lock, f); err != nil {
			return a, err
		}
		a.Vehicles = append(a.Vehicles, f.as)
		a.Remarks = a.Remarks && f.inText != nil
	}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		have, err = v.Forgotten(ctx)
		return err
	})
	a.Known = len(have.Names())
	return a, err
}

// namesAgain says under which name this catalogue keeps the history of each
// vehicle that the other one has forgotten: the one that it has already, else
// the other's, else a free one, so that no two histories become one.
func namesAgain(ctx context.Context, v *sqlite.View, was, have sqlite.ForgottenMarks) (map[string]string, error) {
	as, used := map[string]string{}, map[string]bool{}
	for _, name := range was.Names() {
		if theirs, ok := was.NameIn(have, name); ok {
			as[name], used[theirs] = theirs, true
		}
	}
	taken := func(name string) bool { return used[name] || have.Taken(name) }
	for _, name := range was.Names() {
		if as[name] != "" {
			continue
		}
		to := name
		_, err := vehicleNamed(ctx, v, name)
		if _, unknown := IsUnknown(err); err != nil && !unknown {
			return nil, err
		} else if err == nil || taken(name) {
			// Names of the other list are left free: they may be needed as they are.
			if to, err = freeName(ctx, v, func(n string) bool { return taken(n) || slices.Contains(was.Names(), n) }); err != nil {
				return nil, err
			}
		}
		as[name], used[to] = to, true
	}
	return as, nil
}

// namedIn finds the forgotten vehicles that this catalogue names, by the other's
// name for each.
func (s *Shop) namedIn(ctx context.Context, v *sqlite.View, missing sqlite.ForgottenMarks) (map[string]*forgetting, error) {
	found := map[string]*forgetting{}
	add := func(name string, keys ...string) {
		if found[name] == nil {
			found[name] = &forgetting{keys: map[string]bool{}}
		}
		for _, key := range keys {
			found[name].keys[key] = true
		}
	}
	look := func(text string) {
		for _, key := range append(keysIn(text), catalog.Key(text)) {
			if name, ok := missing.Name(key); ok {
				add(name, key)
			}
		}
	}
	if err := v.EachText(ctx, look); err != nil {
		return nil, err
	}
	sheets, err := v.OwnSheets(ctx)
	if err != nil {
		return nil, err
	}
	for _, r := range sheets {
		sheet, err := s.reopen(ctx, r)
		if err != nil {
			return nil, err
		}
		for name, f := range forgottenIn(sheet.Sheet, sheet.mapping, missing) {
			for key := range f.keys {
				add(name, key)
			}
		}
		if err := sheet.Close(); err != nil {
			return nil, err
		}
	}
	// A sheet that waits may be the only one to name it.
	_, err = s.waitingThat(ctx, v, func(cell string) bool { look(cell); return false })
	if err != nil {
		return nil, err
	}
	for _, f := range found {
		if err := wholeVehicle(ctx, v, f); err != nil {
			return nil, err
		}
		f.lookInTexts()
	}
	return found, nil
}

// wholeVehicle adds the mark and the VIN that this catalogue has for what is
// found: the other one may have known the vehicle by one of them alone.
func wholeVehicle(ctx context.Context, v *sqlite.View, f *forgetting) error {
	cars, err := v.Vehicles(ctx)
	if err != nil {
		return err
	}
	for _, car := range cars {
		mark, vin := catalog.Key(car.Mark), catalog.Key(car.VIN)
		if !f.keys[mark] && (vin == "" || !f.keys[vin]) {
			continue
		}
		for _, key := range []string{mark, vin} {
			if key != "" {
				f.keys[key] = true
			}
		}
	}
	return nil
}

// dropWaiting drops the sheets that wait for a decision and name the vehicle:
// nobody can decide about a sheet in a backup.
func (s *Shop) dropWaiting(ctx context.Context, f *forgetting, a *ForgottenAgain) error {
	var waiting []sqlite.Staged
	err := s.store.View(ctx, func(v *sqlite.View) (err error) {
		waiting, err = s.waitingThat(ctx, v, func(cell string) bool { return f.is(cell) || f.clean(cell) != cell })
		return err
	})
	if err != nil {
		return err
	}
	for _, w := range waiting {
		if err := s.store.DropStaged(ctx, w.ID, s.timestamp()); err != nil {
			return err
		}
		a.Dropped = append(a.Dropped, w.Name)
	}
	return nil
}
