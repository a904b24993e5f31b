package app

import (
	"context"
	"fmt"
	"path"

	"fitfill/data/demo"
)

// LoadDemo imports the sheets of the invented demo garage, as a user would
// import them one by one. Loading it again changes nothing. loaded is called
// after each sheet.
func (s *Shop) LoadDemo(ctx context.Context, loaded func(ImportAnswer)) error {
	for _, sheet := range demo.Sheets {
		raw, err := demo.FS.ReadFile(sheet.File)
		if err != nil {
			return err
		}
		q := ImportQuestion{Name: path.Base(sheet.File), Raw: raw, Supplier: sheet.Supplier, As: sheet.As, Ignore: sheet.Ignore, anyDay: true}
		if q.Maps, err = Pairs("--map", sheet.Maps); err != nil {
			return err
		}
		if q.Settings, err = Pairs("--set", sheet.Set); err != nil {
			return err
		}
		a, err := s.Import(ctx, q)
		if err != nil {
			return fmt.Errorf("demo sheet %s: %w", sheet.File, err)
		}
		if a.Status == Staged {
			return fmt.Errorf("demo sheet %s: %s", sheet.File, a.Open[0].Question)
		}
		loaded(a)
		for _, n := range demo.Aliases { // before the books, which use both names
			if n.Supplier == a.Supplier {
				if err := s.AddSupplierName(ctx, n.Supplier, n.Also); err != nil {
					return err
				}
			}
		}
	}
	return nil
}
