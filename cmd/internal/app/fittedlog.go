package app

import (
	"context"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
)

// FittedLine is a part that was put into a vehicle.
type FittedLine struct {
	Date     string          `json:"date"`
	Number   string          `json:"number"`
	Supplier string          `json:"supplier"`
	Type     string          `json:"type"`
	Measured string          `json:"measured"`
	Origin   compat.Evidence `json:"origin"`
	Entry    int64           `json:"entry,omitempty"`
}

func (s *Shop) fittedInto(ctx context.Context, v *sqlite.View, mark string, c *VehicleCard) error {
	fitted, err := v.Fitted(ctx, mark)
	if err != nil {
		return err
	}
	for _, f := range fitted {
		l := FittedLine{Date: f.Date.String(), Number: f.Number, Supplier: f.Supplier, Measured: f.Measured, Origin: compat.From(f.Origin)}
		if f.Origin.ByHand() {
			l.Entry = int64(f.Origin.Line)
		}
		if l.Type, err = typeOf(ctx, v, f.Number, f.Supplier); err != nil {
			return err
		}
		c.Fitted = append(c.Fitted, l)
		c.LastSeen = max(c.LastSeen, l.Date)
	}
	return nil
}

// typeOf returns what kind of part a number is by the lists, of that supplier
// first; empty where none says.
func typeOf(ctx context.Context, v *sqlite.View, number, supplier string) (string, error) {
	ids, err := v.PartIDs(ctx, catalog.Key(number))
	if err != nil || len(ids) == 0 {
		return "", err
	}
	parts, err := v.Parts(ctx, ids)
	if err != nil {
		return "", err
	}
	kind := ""
	for _, p := range parts {
		if p.Type.Known && (kind == "" || catalog.Fold(p.Supplier) == catalog.Fold(supplier)) {
			kind = p.Type.Value
		}
	}
	return kind, nil
}

// FittedSaid is a part that was put in, as it is told.
type FittedSaid struct{ Vehicle, Number, Supplier, Date, Measured string }

// AddFitted logs a part that was put into a vehicle.
func (s *Shop) AddFitted(ctx context.Context, said FittedSaid) (FittedLine, error) {
	f := catalog.Fitted{Measured: strings.TrimSpace(said.Measured)}
	var l FittedLine
	err := s.store.View(ctx, func(v *sqlite.View) error {
		car, err := vehicleNamed(ctx, v, said.Vehicle)
		if err != nil {
			return err
		}
		f.Vehicle = car.Mark
		if f.Date, err = s.day("--date", said.Date); err != nil {
			return err
		}
		if f.Measured != "" {
			if err := s.readMeasured(f.Measured); err != nil {
				return err
			}
		}
		f.Number, f.Supplier, err = s.partOf(ctx, v, said.Number, said.Supplier, car.Mark)
		if err != nil {
			return err
		}
		l.Type, err = typeOf(ctx, v, f.Number, f.Supplier)
		return err
	})
	if err != nil {
		return l, err
	}
	entry := catalog.Logged{At: s.timestamp(), Fitted: &f}
	if entry.ID, err = s.store.Log(ctx, entry); err != nil {
		return l, err
	}
	l.Date, l.Number, l.Supplier, l.Measured, l.Origin, l.Entry = f.Date.String(), f.Number, f.Supplier, f.Measured, compat.From(entry.Origin()), entry.ID
	return l, nil
}
