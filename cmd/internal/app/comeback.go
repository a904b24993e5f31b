package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/fit"
	"fitfill/compat/returns"
)

// ComebackSaid is a part that came back, as it is told at the counter.
type ComebackSaid struct {
	Number   string
	Reason   string
	Vehicle  string // empty: not said
	Supplier string // empty: by the records
	Date     string // empty: today
	Quantity string // empty: one
	Bath     string // ok or faulty: what a test of the part said
	Note     string
}

// ComebackLogged is a return that was logged, with what was told that day.
type ComebackLogged struct {
	Vehicle string `json:"vehicle"`
	ComebackLine
	Again string `json:"again,omitempty"`
}

const (
	onePiece   = 1000 // thousandths
	mostPieces = 1_000_000
)

// AddComeback logs one return. The answer says what was told about the part
// before it was fitted, and against whom the return counts.
func (s *Shop) AddComeback(ctx context.Context, said ComebackSaid) (ComebackLogged, error) {
	r := catalog.Return{Reason: strings.TrimSpace(said.Reason), Note: strings.TrimSpace(said.Note), Bath: catalog.Fold(said.Bath)}
	var a ComebackLogged
	switch {
	case r.Reason == "":
		return a, &UsageError{Problem: "not said why it came back", Hint: `add --reason, such as --reason "did not fit"`}
	case r.Bath != "" && r.Bath != catalog.BathOK && r.Bath != catalog.BathFaulty:
		return a, &UsageError{Problem: fmt.Sprintf("--bath %s is no result of a test", said.Bath), Hint: "it is ok (it did what it should) or faulty"}
	}
	r.Quantity = catalog.CountOf(onePiece)
	if said.Quantity != "" {
		n, err := strconv.Atoi(said.Quantity)
		if err != nil || n < 1 || n > mostPieces {
			return a, &UsageError{Problem: fmt.Sprintf("--quantity %s is no number of pieces", said.Quantity), Hint: "such as --quantity 2"}
		}
		r.Quantity = catalog.CountOf(onePiece * int64(n))
	}
	_, reasons, err := s.returnTables(SuppliersQuestion{})
	if err != nil {
		return a, err
	}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		if said.Vehicle != "" {
			car, err := vehicleNamed(ctx, v, said.Vehicle)
			if err != nil {
				return err
			}
			r.Vehicle = car.Mark
		}
		if r.Date, err = s.day("--date", said.Date); err != nil {
			return err
		}
		if r.Number, r.Supplier, err = s.partOf(ctx, v, said.Number, said.Supplier, r.Vehicle); err != nil {
			return err
		}
		told, err := toldAbout(ctx, v, r)
		if err != nil {
			return err
		}
		r.Followed = followed(told)
		a.ComebackLine, err = comebackLine(ctx, v, reasons, r, told)
		return err
	})
	if err != nil {
		return a, err
	}
	entry := catalog.Logged{At: s.timestamp(), Return: &r}
	if entry.ID, err = s.store.Log(ctx, entry); err != nil {
		return a, err
	}
	a.Vehicle, a.Entry, a.Origin = r.Vehicle, entry.ID, compat.From(entry.Origin())
	if r.Vehicle == "" {
		return a, nil
	}
	card, err := s.Vehicle(ctx, r.Vehicle)
	a.Again = card.Again
	return a, err
}

// toldAbout returns what was said about the part of a return up to that day: for
// its vehicle, or, where none is named, for the only one that the number was
// asked for.
func toldAbout(ctx context.Context, v *sqlite.View, r catalog.Return) ([]catalog.Said, error) {
	all, err := v.Said(ctx, r.Number, r.Vehicle)
	if err != nil {
		return nil, err
	}
	var told []catalog.Said
	for _, d := range all {
		ofAnother := d.Supplier != "" && r.Supplier != "" && catalog.Fold(d.Supplier) != catalog.Fold(r.Supplier)
		if d.Date > r.Date || ofAnother {
			continue
		}
		if len(told) > 0 && catalog.Key(told[0].Vehicle) != catalog.Key(d.Vehicle) {
			return nil, nil
		}
		told = append(told, d)
	}
	return told, nil
}

// followed says whether a part was fitted as it had been told last.
func followed(told []catalog.Said) catalog.Told {
	if len(told) == 0 {
		return catalog.ToldNothing
	}
	switch told[len(told)-1].Outcome {
	case compat.Yes.String(), compat.Caution.String():
		return catalog.ToldFits
	}
	return catalog.ToldNot
}

// partOf finds the part that is meant by a number, as the records write it, and
// from whom it came: as said, else from whom it was fitted or bought for the
// vehicle, else from the only supplier that lists or sold it.
func (s *Shop) partOf(ctx context.Context, v *sqlite.View, number, supplier, vehicle string) (string, string, error) {
	suppliers, err := v.Suppliers(ctx)
	if err != nil {
		return "", "", err
	}
	if supplier, err = supplierName(supplier, suppliers); err != nil {
		return "", "", err
	}
	ids, err := v.PartIDs(ctx, catalog.Key(number))
	if err != nil {
		return "", "", err
	}
	parts, err := v.Parts(ctx, ids)
	if err != nil {
		return "", "", err
	}
	written := map[string]string{} // supplier -> its number
	for _, p := range parts {
		written[p.Supplier] = p.Number
	}
	if supplier == "" && vehicle != "" {
		if supplier, err = supplierFor(ctx, v, number, vehicle, suppliers); err != nil {
			return "", "", err
		}
	}
	if supplier != "" {
		if catalog.Key(number) == "" {
			return "", "", unknownPart(ctx, v, "", number)
		}
		return cmp.Or(written[supplier], strings.TrimSpace(number)), supplier, nil
	}
	switch len(written) {
	case 0:
		return "", "", unknownPart(ctx, v, "", number)
	case 1:
		return parts[0].Number, parts[0].Supplier, nil
	}
	var names []string
	for name := range written {
		names = append(names, name)
	}
	slices.Sort(names)
	return "", "", &UsageError{Problem: fmt.Sprintf("%s is sold by %s: whose was it?", parts[0].Number, strings.Join(names, " and by ")), Hint: "add --supplier NAME"}
}

// supplierFor returns from whom a number was fitted to a vehicle last, else
// bought for it; empty where no record says.
func supplierFor(ctx context.Context, v *sqlite.View, number, vehicle string, known []sqlite.Supplier) (string, error) {
	name := ""
	take := func(of, n string) {
		if of == "" || catalog.Key(n) != catalog.Key(number) {
			return
		}
		if canonical, err := supplierName(of, known); err == nil {
			name = canonical
		}
	}
	bought, err := v.PurchasesFor(ctx, vehicle)
	if err != nil {
		return "", err
	}
	for _, p := range bought {
		take(p.Supplier, p.Number)
	}
	fitted, err := v.Fitted(ctx, vehicle)
	for _, f := range fitted {
		take(f.Supplier, f.Number)
	}
	return name, err
}

// readMeasured checks that sizes noted at fitting can be read, each as a fit
// question takes it; several stand with a semicolon between.
func (s *Shop) readMeasured(text string) error {
	var m fit.Measured
	for _, one := range strings.Split(text, ";") {
		if err := s.fit().Measure(&m, one, cmp.Or(s.Settings.Units.Length, units.UnitMillimetre), toldNow(one)); err != nil {
			return &UsageError{Problem: "--measured: " + err.Error(), Hint: `write it such as --measured "flange 53.9 mm; bore 54.8 mm"`}
		}
	}
	return nil
}

// aboutListing is set in the table of reasons where a reason blames the list that
// a part was sold by.
const aboutListing = "yes"

// returnClass says what a return comes to. One that blames the listing is charged
// to it only where the listing was followed, as far as the garage's own log
// tells; what a sheet says alone stands. One that was returned as faulty and
// passed a test is not confirmed.
func returnClass(reasons sorting, r catalog.Return) returns.Class {
	class, row, _ := reasons.Class(r.Reason)
	if class == returns.SupplyError && row.Get("listing") == aboutListing && !listingBlamed(r) {
		return returns.Neutral
	}
	sound := r.Bath == catalog.BathOK || r.Bath == "" && reasons.tests.FoundSound(r.Note)
	if sound && (class == returns.QualityFailure || class == returns.DeadOnArrival) {
		return returns.NotConfirmed
	}
	return class
}

func listingBlamed(r catalog.Return) bool {
	byHand := r.Origin.ByHand() || !r.Origin.Known()
	return r.Followed == catalog.ToldFits || r.Followed == catalog.ToldNothing && !byHand
}

// countsAs words against whom a return counts.
func countsAs(reasons sorting, r catalog.Return) string {
	class, row, known := reasons.Class(r.Reason)
	switch {
	case !known && catalog.Fold(r.Reason) == "":
		return "no reason is stated: left out of the figures"
	case !known:
		return "nobody has sorted the reason \"" + r.Reason + "\" yet: left out of the figures"
	case returnClass(reasons, r) == returns.NotConfirmed:
		return "not confirmed: the test found it sound, so it is counted apart from the failures of " + r.Supplier
	case class == returns.QualityFailure || class == returns.DeadOnArrival:
		return "a failure of " + r.Supplier + "'s part"
	case class == returns.SupplyError && row.Get("listing") == aboutListing:
		switch {
		case r.Followed == catalog.ToldNot:
			return "not charged to " + r.Supplier + "'s listing: it was fitted against what was told"
		case !listingBlamed(r):
			return "not charged to " + r.Supplier + "'s listing: nothing is on record of what was told about it"
		}
		return "charged to " + r.Supplier + "'s listing, and not to the part"
	case class == returns.SupplyError:
		return "a supply error of " + r.Supplier + "'s, and not the part"
	case class == returns.Core:
		return "an old part going back: counts against nobody"
	}
	return "not the part's fault: counts against nobody"
}
