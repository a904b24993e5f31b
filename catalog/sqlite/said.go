package sqlite

import (
	"context"

	"fitfill/catalog"
)

// Say keeps answers as said. An answer that was given that day in the same words
// is kept once.
func (s *Store) Say(ctx context.Context, list []catalog.Said) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return busy(err)
	}
	defer tx.Rollback()
	insert, err := tx.PrepareContext(ctx, `INSERT INTO said (at, day, how, vehicle, question, number, key, supplier, outcome, first, sheet, sha256, line)
		SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13 WHERE NOT EXISTS (SELECT 1 FROM said WHERE
			key = ?7 AND day = ?2 AND how = ?3 AND vehicle = ?4 AND supplier = ?8 AND outcome = ?9 AND first = ?10)`)
	if err != nil {
		return err
	}
	defer insert.Close()
	for _, d := range list {
		if _, err := insert.ExecContext(ctx, d.At, d.Date, d.How, d.Vehicle, d.Question, d.Number, catalog.Key(d.Number), d.Supplier,
			d.Outcome, d.First, d.Listing.Sheet, d.Listing.SHA256, d.Listing.Line); err != nil {
			return busy(err)
		}
	}
	return busy(tx.Commit())
}

// Said returns what was said about a number (empty: about all) for a vehicle
// (empty: for all), oldest first.
func (v *View) Said(ctx context.Context, number, mark string) ([]catalog.Said, error) {
	var list []catalog.Said
	err := v.each(ctx, `SELECT at, day, how, vehicle, question, number, supplier, outcome, first, sheet, sha256, line FROM said
		WHERE ?1 = '' OR key = ?1 ORDER BY id`, []any{catalog.Key(number)}, func(r record) error {
		var d catalog.Said
		if err := r.Scan(&d.At, &d.Date, &d.How, &d.Vehicle, &d.Question, &d.Number, &d.Supplier, &d.Outcome, &d.First,
			&d.Listing.Sheet, &d.Listing.SHA256, &d.Listing.Line); err != nil {
			return err
		}
		if mark == "" || catalog.Key(d.Vehicle) == catalog.Key(mark) {
			list = append(list, d)
		}
		return nil
	})
	return list, err
}
